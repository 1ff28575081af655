#include "fadewright/paint/nominal_film_build.h"

namespace fadewright::paint {

Micrometres nominal_film_build(std::span<const Part> parts) noexcept {
    double dry = 0, film = 0;
    for (const Part& part : parts) {
        const double share = part.parts * part.paint->solids.value;
        dry += share;
        film += share * part.paint->coat_film.value;
    }
    return Micrometres{dry > 0 ? film / dry : 0};
}

}  // namespace fadewright::paint
