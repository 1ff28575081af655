#include "fadewright/spray/sag_levelling.h"

#include "fadewright/base/contract.h"

#include <cmath>
#include <limits>
#include <numbers>

namespace fadewright::spray {
namespace {

constexpr double kGravity_m_per_s2 = 9.81;  // middle latitudes

// Force along the slope, N/m3.
double gravity_Pa_per_m(const WetPaint& paint, Degrees inclination) {
    FW_EXPECTS(inclination.value >= 0);
    FW_EXPECTS(inclination.value <= 180);
    const double slope = std::sin(radians(inclination));
    return 1e3 * paint.density.value * kGravity_m_per_s2 * slope;
}

double viscosity_Pa_s(const WetPaint& paint) {
    FW_EXPECTS(paint.viscosity_mPa_s > 0);
    return paint.viscosity_mPa_s / 1e3;
}

// Cups: mm2/s = a t - b / t and a t - b, with t in seconds. Source: [din53211], [astmD1200].
constexpr double kDin4_a = 4.57;
constexpr double kDin4_b = 452;
constexpr double kAstm4_a = 3.846;
constexpr double kAstm4_b = 17.30;

}  // namespace

Sag sag(const WetPaint& paint, Micrometres wet_film, Degrees inclination) {
    FW_EXPECTS(wet_film.value >= 0);
    const double T = wet_film.value / 1e6;
    const double surface = gravity_Pa_per_m(paint, inclination) * T * T / (2 * viscosity_Pa_s(paint));
    const double mean = 2 * surface / 3;
    return {1e3 * surface, 1e3 * mean, 1e6 * mean * T};
}

double yield_to_hold_Pa(const WetPaint& paint, Micrometres wet_film, Degrees inclination) {
    FW_EXPECTS(wet_film.value >= 0);
    return gravity_Pa_per_m(paint, inclination) * wet_film.value / 1e6;
}

Micrometres static_sag_limit(const WetPaint& paint, double yield_Pa, Degrees inclination) {
    FW_EXPECTS(yield_Pa >= 0);
    const double force = gravity_Pa_per_m(paint, inclination);
    if (force <= 0) return Micrometres{std::numeric_limits<double>::infinity()};
    return Micrometres{1e6 * yield_Pa / force};
}

Micrometres sag_limit(const WetPaint& paint, Seconds thickening, Millimetres slide, Degrees inclination) {
    FW_EXPECTS(thickening.value > 0);
    FW_EXPECTS(slide.value >= 0);
    const double force = gravity_Pa_per_m(paint, inclination);
    if (force <= 0) return Micrometres{std::numeric_limits<double>::infinity()};
    const double L = slide.value / 1e3;
    return Micrometres{1e6 * std::sqrt(2 * viscosity_Pa_s(paint) * L / (force * thickening.value))};
}

Seconds levelling_time(const WetPaint& paint, Millimetres wavelength, Micrometres wet_film) {
    FW_EXPECTS(wavelength.value >= 0);
    FW_EXPECTS(wet_film.value > 0);
    const double lambda = wavelength.value / 1e3;
    const double T = wet_film.value / 1e6;
    const double gamma = paint.tension_mN_per_m / 1e3;
    const double pi4 = std::pow(std::numbers::pi, 4);
    return Seconds{3 * viscosity_Pa_s(paint) * std::pow(lambda, 4) / (16 * pi4 * gamma * T * T * T)};
}

double din4_mm2_per_s(Seconds efflux_time) {
    FW_EXPECTS(efflux_time.value >= kMinDin4Time.value);
    return kDin4_a * efflux_time.value - kDin4_b / efflux_time.value;
}

// The positive root of a t^2 - nu t - b = 0.
Seconds din4_seconds(double mm2_per_s) {
    FW_EXPECTS(mm2_per_s > 0);
    const double nu = mm2_per_s;
    return Seconds{(nu + std::sqrt(nu * nu + 4 * kDin4_a * kDin4_b)) / (2 * kDin4_a)};
}

double astm4_mm2_per_s(Seconds efflux_time) {
    FW_EXPECTS(efflux_time.value * kAstm4_a > kAstm4_b);
    return kAstm4_a * efflux_time.value - kAstm4_b;
}

double thinned_viscosity(double viscosity, double added, double slope) {
    FW_EXPECTS(viscosity > 0);
    FW_EXPECTS(added >= 0);
    return viscosity * std::exp(-slope * added);
}

}  // namespace fadewright::spray
