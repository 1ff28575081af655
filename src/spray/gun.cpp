#include "fadewright/spray/gun.h"

namespace fadewright::spray {

Micrometres wet_splat(const Gun& gun) noexcept {
    const double d = gun.droplet.value;
    const double beta_s = gun.splat_spread;
    return Micrometres{2 * d / (3 * beta_s * beta_s)};
}

}  // namespace fadewright::spray
