// Sag and levelling of wet films (rheology), flow-cup viscosity and thinning.
//
// On a panel inclined by alpha from the horizontal a film of thickness T flows down under its own weight:
//
//     surface speed   rho g T^2 sin(alpha) / (2 eta)        mean speed two thirds of it
//     flow per width  rho g T^3 sin(alpha) / (3 eta)        twice the film, eight times the flow
//
// Paint with a yield stress tau_y does not move up to T = tau_y / (rho g sin(alpha)). Paint that thickens as
// eta = eta0 exp(t / tau) slides by L in total, so the thickest film that slides no further than L is
//
//     T_max = sqrt(2 eta0 L / (rho g sin(alpha) tau)).
//
// Surface tension gamma levels a ripple of wavelength lambda, by a factor e in
//
//     t_L = 3 eta lambda^4 / (16 pi^4 gamma T^3).
//
// Symbols    T, lambda as in the names; eta viscosity, mPa s; rho density; gamma mN/m; speeds mm/s
// Source: [orchard1962] (levelling), [din53211] and [astmD1200] (cups); sag: laminar film under gravity, the
//            thickening film our own derivation.
// Holds for  Newtonian paint; wavelengths much longer than the film is thick; cup times within the stated
//            ranges
// Accuracy   1e-12 for the formulas; cups within a few per cent; thinning see thinned_viscosity()
// Checks     tests/spray/sag_levelling_test.cpp, tests/published/{sagging,levelling,din_cup,thinning}.csv
#pragma once

#include "fadewright/base/quantity.h"

namespace fadewright::spray {

struct WetPaint {
    double viscosity_mPa_s = 100;
    GramsPerMillilitre density{1.1};
    double tension_mN_per_m = 30;
};

inline constexpr Degrees kUpright{90};  // inclination from the horizontal

struct Sag {
    double surface_mm_per_s;
    double mean_mm_per_s;
    double flow_mm2_per_s;  // per width
};

[[nodiscard]] Sag sag(const WetPaint& paint, Micrometres wet_film, Degrees inclination = kUpright);

// Yield stress that a film needs so as not to move, and the inverse. A level panel holds any film.
[[nodiscard]] double yield_to_hold_Pa(const WetPaint& paint, Micrometres wet_film,
                                      Degrees inclination = kUpright);
[[nodiscard]] Micrometres static_sag_limit(const WetPaint& paint, double yield_Pa,
                                           Degrees inclination = kUpright);

// T_max; thickening is tau, in which the viscosity grows by a factor e.
[[nodiscard]] Micrometres sag_limit(const WetPaint& paint, Seconds thickening, Millimetres slide,
                                    Degrees inclination = kUpright);

// t_L; half the ripple is gone after t_L ln 2.
[[nodiscard]] Seconds levelling_time(const WetPaint& paint, Millimetres wavelength, Micrometres wet_film);

// Kinematic viscosity, mm2/s, from the efflux time of a flow cup, and the inverse.
inline constexpr Seconds kMinDin4Time{11};  // below: no reading; reliable from 14 to 30 s
[[nodiscard]] double din4_mm2_per_s(Seconds efflux_time);
[[nodiscard]] Seconds din4_seconds(double mm2_per_s);
[[nodiscard]] double astm4_mm2_per_s(Seconds efflux_time);  // 20 to 100 s

// Viscosity after `added` volumes of thinner per volume of paint: exponential. The default slope is the
// centre of measurements on ready paints of 80 to 135 mm2/s with a tenth of water, within 10 %; thin paints
// fall less, and no mix falls below the thinner itself.
inline constexpr double kThinningSlope = 5.2;  // of ln(viscosity) per volume added
[[nodiscard]] double thinned_viscosity(double viscosity, double added, double slope = kThinningSlope);

}  // namespace fadewright::spray
