#include "fadewright/film/layer.h"

#include <cmath>

namespace fadewright::film {

Layer layer(double K, double S, double X) noexcept { return kernels::two_flux(K, S, X); }

double reflectance_over(Layer coat, double R_g) noexcept { return kernels::over_ground(coat, R_g); }

// a - b written as S / (K + S + g): no difference of nearly equal numbers, and S may be 0.
double r_infinity(double K, double S) noexcept {
    if (S <= 0) return 0;
    return S / (K + S + std::sqrt(K * (K + 2 * S)));
}

double ks_ratio(double R_inf) noexcept { return (1 - R_inf) * (1 - R_inf) / (2 * R_inf); }

Layer combine(Layer top, Layer bottom) noexcept {
    const double remaining = 1 - top.R0 * bottom.R0;
    if (remaining <= 0) return {1, 0};  // perfect white on perfect white
    return {reflectance_over(top, bottom.R0), top.T * bottom.T / remaining};
}

}  // namespace fadewright::film
