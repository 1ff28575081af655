// Guns and integrals for several tests of the spray layer.
#pragma once

#include "fadewright/spray/deposit.h"

#include <cmath>
#include <numbers>
#include <vector>

namespace fadewright::test {

inline spray::Gun round_gun(double sigma_mm) {
    spray::Gun gun;
    gun.pattern = spray::Pattern::round;
    gun.sigma = Millimetres{sigma_mm};
    gun.flow = MillilitresPerMinute{30};
    gun.transfer_efficiency = Share{0.6};
    return gun;
}

inline spray::Gun fan_gun(double width_mm, double thickness_mm, double beta_across, double beta_along) {
    spray::Gun gun;
    gun.pattern = spray::Pattern::fan;
    gun.fan_width = Millimetres{width_mm};
    gun.fan_thickness = Millimetres{thickness_mm};
    gun.beta_across = beta_across;
    gun.beta_along = beta_along;
    gun.flow = MillilitresPerMinute{90};
    gun.transfer_efficiency = Share{0.7};
    return gun;
}

inline geometry::Point at(double x_mm, double y_mm) { return {Millimetres{x_mm}, Millimetres{y_mm}}; }

inline spray::Pass straight(geometry::Point from, geometry::Point to, double speed_mm_s = 250) {
    spray::Pass pass;
    pass.points = {from, to};
    pass.speed = MillimetresPerSecond{speed_mm_s};
    return pass;
}

inline spray::Deposit deposit(const spray::Gun& gun, const std::vector<spray::Pass>& passes) {
    return spray::Deposit(gun, passes);
}

// Trapezoidal rule over an angle whose sine is the variable: ends like roots or fractional powers are
// harmless.
template <class Integrand>
double integral(double from, double to, Integrand f, int steps = 2000) {
    const double half = (to - from) / 2;
    const double h = std::numbers::pi / steps;
    double sum = 0;
    for (int i = 1; i < steps; ++i) {
        const double angle = h * i - std::numbers::pi / 2;
        sum += f(from + half * (1 + std::sin(angle))) * std::cos(angle);
    }
    return sum * half * h;
}

// Paint on a rectangle, by the trapezoidal rule on a square grid, in millilitres.
inline double paint_mL(const spray::Deposit& deposit, double x0, double y0, double x1, double y1,
                       double step_mm) {
    std::vector<double> x;
    for (double at = x0; at <= x1; at += step_mm) x.push_back(at);
    double sum_um = 0;
    std::vector<double> row(x.size());
    for (double y = y0; y <= y1; y += step_mm) {
        std::fill(row.begin(), row.end(), 0.0);
        deposit.add_wet_um(x, y, row);
        for (const double film : row) sum_um += film;
    }
    return sum_um * step_mm * step_mm * 1e-6;
}

}  // namespace fadewright::test
