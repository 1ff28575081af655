#include "fadewright/colour/delta_e.h"

#include "fadewright/base/quantity.h"

#include <cmath>
#include <numbers>

namespace fadewright::colour {
namespace {

constexpr double k25To7 = 6103515625.0;  // 25^7

double to_the_7(double v) noexcept { return v * v * v * v * v * v * v; }

double cosine(double degrees) noexcept { return std::cos(degrees * kRadiansPerDegree); }

double hue(double a, double b) noexcept {
    if (a == 0 && b == 0) return 0;
    const double h = std::atan2(b, a) / kRadiansPerDegree;
    return h < 0 ? h + 360 : h;
}

double mean_hue(double h1, double h2, double chroma_product) noexcept {
    if (chroma_product == 0) return h1 + h2;
    if (std::abs(h1 - h2) <= 180) return (h1 + h2) / 2;
    return h1 + h2 < 360 ? (h1 + h2 + 360) / 2 : (h1 + h2 - 360) / 2;
}

double hue_difference(double h1, double h2, double chroma_product) noexcept {
    if (chroma_product == 0) return 0;
    const double d = h2 - h1;
    if (d > 180) return d - 360;
    if (d < -180) return d + 360;
    return d;
}

}  // namespace

// Symbols and equations 2 to 22 as in the source; k_L = k_C = k_H = 1. Source: [sharma2005].
double delta_e_2000(const Lab& first, const Lab& second) noexcept {
    const double C_bar = (std::hypot(first.a, first.b) + std::hypot(second.a, second.b)) / 2;
    const double G = 0.5 * (1 - std::sqrt(to_the_7(C_bar) / (to_the_7(C_bar) + k25To7)));
    const double a1 = (1 + G) * first.a, a2 = (1 + G) * second.a;
    const double C1 = std::hypot(a1, first.b), C2 = std::hypot(a2, second.b);
    const double h1 = hue(a1, first.b), h2 = hue(a2, second.b);

    const double dL = second.L - first.L;
    const double dC = C2 - C1;
    const double dh = hue_difference(h1, h2, C1 * C2);
    const double dH = 2 * std::sqrt(C1 * C2) * std::sin(dh / 2 * kRadiansPerDegree);

    const double L = (first.L + second.L) / 2;
    const double C = (C1 + C2) / 2;
    const double h = mean_hue(h1, h2, C1 * C2);
    const double T = 1 - 0.17 * cosine(h - 30) + 0.24 * cosine(2 * h) + 0.32 * cosine(3 * h + 6) -
                     0.20 * cosine(4 * h - 63);
    const double d_theta = 30 * std::exp(-((h - 275) / 25) * ((h - 275) / 25));
    const double R_C = 2 * std::sqrt(to_the_7(C) / (to_the_7(C) + k25To7));
    const double S_L = 1 + 0.015 * (L - 50) * (L - 50) / std::sqrt(20 + (L - 50) * (L - 50));
    const double S_C = 1 + 0.045 * C;
    const double S_H = 1 + 0.015 * C * T;
    const double R_T = -std::sin(2 * d_theta * kRadiansPerDegree) * R_C;

    const double l = dL / S_L, c = dC / S_C, hh = dH / S_H;
    return std::sqrt(std::fmax(0.0, l * l + c * c + hh * hh + R_T * c * hh));
}

}  // namespace fadewright::colour
