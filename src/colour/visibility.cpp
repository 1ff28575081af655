#include "fadewright/colour/visibility.h"

#include "fadewright/base/contract.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>

namespace fadewright::colour {
namespace {

// Symbols as in the source. Source: [barten1999].
constexpr double kSigma_0_deg = 0.5 / 60;       // blur of the eye with a small pupil
constexpr double kC_ab_deg_per_mm = 0.08 / 60;  // its increase with the pupil
constexpr double k = 3;                         // signal-to-noise ratio at the threshold
constexpr double kT_s = 0.1;                    // integration time of the eye
constexpr double kX_max_deg = 12;               // integration area
constexpr double kN_max = 15;                   // largest number of cycles integrated
constexpr double kEta = 0.03;                   // quantum efficiency
constexpr double kP = 1.2274e6;                 // quanta per second, square degree and troland
constexpr double kPhi_0_s_deg2 = 3e-8;          // neural noise
constexpr double kU_0_per_deg = 7;              // lateral inhibition below it

constexpr double kSquareFirstHarmonic = 1.27;  // ITU-R BT.2246: 4 / pi as rounded in the source

// End of the linear part of L*. Source: [iso11664-4].
constexpr double kLinearBelow_L = 8;

double square(double v) noexcept { return v * v; }

void expect_field(const VisualField& field) {
    FW_EXPECTS(field.luminance_cd_per_m2 > 0);
    FW_EXPECTS(field.across.value > 0);
}

// L* per dY / Y.
double lightness_per_contrast(double L) noexcept { return L > kLinearBelow_L ? (L + 16) / 3 : L; }

constexpr double kFitPasses = 5;  // the fit is applied again to the residual

}  // namespace

// Diameter of the pupil, and the field of view. Source: [degroot1952], [barten1999].
Millimetres pupil_diameter(const VisualField& field) {
    expect_field(field);
    constexpr double kReferenceField_deg2 = 40 * 40;
    const double L = field.luminance_cd_per_m2;
    return Millimetres{5 -
                       3 * std::tanh(0.4 * std::log(L * square(field.across.value) / kReferenceField_deg2))};
}

// Light near the edge of the pupil is less effective (Stiles & Crawford).
double retinal_illuminance_td(double luminance_cd_per_m2, Millimetres pupil_mm) {
    FW_EXPECTS(luminance_cd_per_m2 > 0);
    FW_EXPECTS(pupil_mm.value > 0);
    const double d = pupil_mm.value;
    const double efficiency = 1 - square(d / 9.7) + square(square(d / 12.4));
    return std::numbers::pi * d * d / 4 * luminance_cd_per_m2 * efficiency;
}

double contrast_sensitivity(double cycles_per_deg, const VisualField& field) {
    const Millimetres d = pupil_diameter(field);
    return contrast_sensitivity(cycles_per_deg, d, retinal_illuminance_td(field.luminance_cd_per_m2, d),
                                field.across);
}

double contrast_sensitivity(double cycles_per_deg, Millimetres pupil_mm, double retinal_illuminance_td,
                            Degrees across) {
    FW_EXPECTS(cycles_per_deg >= 0);
    FW_EXPECTS(retinal_illuminance_td > 0);
    FW_EXPECTS(across.value > 0);
    const double u = cycles_per_deg;
    if (u == 0) return 0;
    const double sigma = std::hypot(kSigma_0_deg, kC_ab_deg_per_mm * pupil_mm.value);
    const double M_opt = std::exp(-2 * square(std::numbers::pi * sigma * u));
    const double one_over_XY = 1 / square(across.value) + 1 / square(kX_max_deg) + square(u / kN_max);
    const double photon_noise = 1 / (kEta * kP * retinal_illuminance_td);
    const double nerve_noise = kPhi_0_s_deg2 / -std::expm1(-square(u / kU_0_per_deg));
    return M_opt / k / std::sqrt(2 / kT_s * one_over_XY * (photon_noise + nerve_noise));
}

double threshold_modulation(double cycles_per_deg, const VisualField& field) {
    FW_EXPECTS(cycles_per_deg > 0);
    return 1 / contrast_sensitivity(cycles_per_deg, field);
}

double step_from_modulation(double modulation) noexcept { return 2 * modulation / kSquareFirstHarmonic; }

// Golden-section search in log u for the single peak of the sensitivity.
double threshold_step(const VisualField& field) {
    constexpr double kShrink = 0.6180339887498949;
    double low = std::log(0.05), high = std::log(40.0);
    const auto at = [&field](double log_u) { return contrast_sensitivity(std::exp(log_u), field); };
    while (high - low > 1e-6) {
        const double low_probe = high - kShrink * (high - low), high_probe = low + kShrink * (high - low);
        (at(low_probe) < at(high_probe) ? low : high) =
            at(low_probe) < at(high_probe) ? low_probe : high_probe;
    }
    return step_from_modulation(1 / at((low + high) / 2));
}

double threshold_ramp(Degrees width, const VisualField& field) {
    FW_EXPECTS(width.value >= 0);
    return threshold_step(field) * std::max(1.0, width / kRampAsStepWidth);
}

double threshold_slope_per_deg(const VisualField& field) {
    return threshold_step(field) / kRampAsStepWidth.value;
}

double lightness_step(double L, double contrast) {
    FW_EXPECTS(L >= 0);
    return lightness_per_contrast(L) * contrast;
}

double contrast_of_lightness_step(double L, double lightness_step) {
    FW_EXPECTS(L > 0);
    return lightness_step / lightness_per_contrast(L);
}

Millimetres millimetres_per_degree(Millimetres viewing_distance) {
    FW_EXPECTS(viewing_distance.value > 0);
    return kRadiansPerDegree * viewing_distance;
}

double cycles_per_degree(Millimetres viewing_distance, Millimetres spacing) {
    FW_EXPECTS(spacing.value > 0);
    return millimetres_per_degree(viewing_distance) / spacing;
}

Visibility visibility(double times_threshold) noexcept {
    if (times_threshold < kTrainedThreshold) return Visibility::invisible;
    if (times_threshold <= 1 / kTrainedThreshold) return Visibility::just_visible;
    return Visibility::visible;
}

// Weights of the response to the residual: the cosine transform of S(u) (1 - G(u))^5.
std::vector<double> banding_filter(double fit_deg, double step_deg, const VisualField& field) {
    constexpr double kFitReach = 10, kEyeReach_deg = 2, kStepsAcrossReach = 4;
    const double reach_deg = kFitReach * fit_deg + kEyeReach_deg;
    const auto reach = static_cast<std::size_t>(std::ceil(reach_deg / step_deg));
    const double max_frequency = std::min(kMaxFrequency_per_deg, 0.5 / step_deg);
    const auto waves = static_cast<std::size_t>(std::ceil(max_frequency * kStepsAcrossReach * reach_deg));
    const double du = max_frequency / static_cast<double>(waves);

    std::vector<double> response(waves);
    for (std::size_t j = 0; j < waves; ++j) {
        const double u = (static_cast<double>(j) + 0.5) * du;
        const double angle_u = std::numbers::pi * fit_deg * u;
        const double residue = -std::expm1(-2 * angle_u * angle_u);
        response[j] = contrast_sensitivity(u, field) * std::pow(residue, kFitPasses);
    }
    std::vector<double> weights(reach + 1);
    double other_sum = 0;
    for (std::size_t i = 0; i <= reach; ++i) {
        const double x = static_cast<double>(i) * step_deg;
        // cos of (j + 1/2) angles, by rotation from the previous one.
        const double angle = 2 * std::numbers::pi * du * x;
        const double step_cos = std::cos(angle), step_sin = std::sin(angle);
        double c = std::cos(angle / 2), s = std::sin(angle / 2), sum = 0;
        for (std::size_t j = 0; j < waves; ++j) {
            sum += response[j] * c;
            const double next = c * step_cos - s * step_sin;
            s = s * step_cos + c * step_sin;
            c = next;
        }
        weights[i] = 2 * sum * du * step_deg;
        if (i > 0) other_sum += 2 * weights[i];
    }
    weights[0] = -other_sum;  // no response to a uniform colour
    return weights;
}

}  // namespace fadewright::colour
