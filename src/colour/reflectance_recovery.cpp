#include "fadewright/colour/reflectance_recovery.h"

#include "fadewright/base/contract.h"
#include "linear_solve.h"
#include "matrix3.h"

#include <algorithm>
#include <cmath>

namespace fadewright::colour {
namespace {

constexpr std::size_t kUnknowns = kBandCount + 3;  // z of every band, and one multiplier per response
constexpr double kTolerance = 1e-10;               // largest error of a response; white is 1
constexpr int kMaxSteps = 60;                      // ordinary colours take 4 to 12
constexpr double kMaxAngle = 15;                   // |z| beyond which r is practically 0 or 1
constexpr double kGreyMargin = 1e-5;               // minimum distance of a grey from black and white
constexpr int kBisections = 30;                    // on the way to grey

// Responses to the target and to each band; white is 1.
struct Problem {
    Vector target{};
    std::array<Vector, kBandCount> response{};
};

using Angles = std::array<double, kBandCount>;

double from_angle(double z) noexcept { return 1 / (1 + std::exp(-2 * z)); }

// Second difference of z at band i, with free ends: half the derivative of the sum.
double roughness_gradient(const Angles& z, std::size_t i) noexcept {
    double sum = 0;
    if (i > 0) sum += z[i] - z[i - 1];
    if (i + 1 < kBandCount) sum += z[i] - z[i + 1];
    return 2 * sum;
}

struct Solution {
    Angles z{};
    int steps = 0;
    bool converged = false;
};

// One Newton step towards the conditions for the minimal slope. False if the step is singular.
bool newton_step(const Problem& problem, Angles& z, Vector& multipliers) {
    SquareMatrix<kUnknowns> J{};
    std::array<double, kUnknowns> F{};
    for (std::size_t c = 0; c < 3; ++c) F[kBandCount + c] = -problem.target[c];
    for (std::size_t i = 0; i < kBandCount; ++i) {
        const double r = from_angle(z[i]);
        const double slope = 2 * r * (1 - r);  // dr/dz
        double constraint = 0;
        for (std::size_t c = 0; c < 3; ++c) {
            constraint += problem.response[i][c] * multipliers[c];
            F[kBandCount + c] += problem.response[i][c] * r;
            J[i][kBandCount + c] = J[kBandCount + c][i] = slope * problem.response[i][c];
        }
        F[i] = roughness_gradient(z, i) + slope * constraint;
        const bool end = i == 0 || i + 1 == kBandCount;
        J[i][i] = (end ? 2 : 4) + 2 * slope * (1 - 2 * r) * constraint;
        if (i > 0) J[i][i - 1] = -2;
        if (i + 1 < kBandCount) J[i][i + 1] = -2;
    }
    if (!solve(J, F)) return false;
    double longest = 0;
    for (std::size_t i = 0; i < kBandCount; ++i) longest = std::max(longest, std::abs(F[i]));
    if (!std::isfinite(longest)) return false;
    const double share = longest > kMaxNewtonStep ? kMaxNewtonStep / longest : 1;
    for (std::size_t i = 0; i < kBandCount; ++i) z[i] -= share * F[i];
    for (std::size_t c = 0; c < 3; ++c) multipliers[c] -= share * F[kBandCount + c];
    return std::all_of(z.begin(), z.end(), [](double v) { return std::abs(v) < kMaxAngle; });
}

// The largest residual of the conditions on response and slope.
double residual(const Problem& problem, const Angles& z, const Vector& multipliers) {
    Vector errors{-problem.target[0], -problem.target[1], -problem.target[2]};
    double largest_error = 0;
    for (std::size_t i = 0; i < kBandCount; ++i) {
        const double r = from_angle(z[i]);
        double constraint = 0;
        for (std::size_t c = 0; c < 3; ++c) {
            errors[c] += problem.response[i][c] * r;
            constraint += problem.response[i][c] * multipliers[c];
        }
        largest_error =
            std::max(largest_error, std::abs(roughness_gradient(z, i) + 2 * r * (1 - r) * constraint));
    }
    for (const double m : errors) largest_error = std::max(largest_error, std::abs(m));
    return largest_error;
}

Solution solve_problem(const Problem& problem) {
    const double mean = (problem.target[0] + problem.target[1] + problem.target[2]) / 3;
    const double grey = std::clamp(mean, kGreyMargin, 1 - kGreyMargin);
    Solution out;
    out.z.fill(std::atanh(2 * grey - 1));
    Vector multipliers{};
    for (; out.steps < kMaxSteps; ++out.steps) {
        if (residual(problem, out.z, multipliers) < kTolerance) {
            out.converged = true;
            return out;
        }
        if (!newton_step(problem, out.z, multipliers)) return out;
    }
    return out;
}

RecoveredReflectance make_result(const Solution& solution, bool exact) {
    RecoveredReflectance out;
    for (std::size_t i = 0; i < kBandCount; ++i) out.reflectance[i] = from_angle(solution.z[i]);
    out.exact = exact;
    out.steps = solution.steps;
    return out;
}

RecoveredReflectance desaturate_to_fit(Problem problem) {
    const Vector requested = problem.target;
    const double grey = std::clamp(requested[1], kGreyMargin, 1 - kGreyMargin);
    double low_share = 0, high_share = 1;
    Solution best;
    best.z.fill(std::atanh(2 * grey - 1));
    for (int bisection = 0; bisection < kBisections; ++bisection) {
        const double mid = (low_share + high_share) / 2;
        for (std::size_t c = 0; c < 3; ++c) problem.target[c] = grey + mid * (requested[c] - grey);
        const Solution attempt = solve_problem(problem);
        (attempt.converged ? low_share : high_share) = mid;
        if (attempt.converged) best = attempt;
    }
    return make_result(best, false);
}

}  // namespace

RecoveredReflectance recover_reflectance(const XYZ& target, const TristimulusWeights& weights) {
    const XYZ& white = weights.white;
    FW_EXPECTS(white.X > 0 && white.Y > 0 && white.Z > 0);
    FW_EXPECTS(std::isfinite(target.X) && std::isfinite(target.Y) && std::isfinite(target.Z));
    Problem problem;
    problem.target = {target.X / white.X, target.Y / white.Y, target.Z / white.Z};
    for (std::size_t i = 0; i < kBandCount; ++i)
        problem.response[i] = {weights.w[i][0] / white.X, weights.w[i][1] / white.Y,
                               weights.w[i][2] / white.Z};
    const Solution full_solution = solve_problem(problem);
    return full_solution.converged ? make_result(full_solution, true) : desaturate_to_fit(problem);
}

RecoveredReflectance recover_reflectance(const Lab& target, const TristimulusWeights& weights) {
    return recover_reflectance(to_xyz(target, weights.white), weights);
}

RecoveredReflectance recover_reflectance(const Rgb& linear_srgb) {
    static const TristimulusWeights daylight =
        tristimulus_weights(standard_illuminant(StandardIlluminant::D65), Observer::two_degree);
    const auto clamp_inward = [](double v) { return std::clamp(v, kSrgbMargin, 1 - kSrgbMargin); };
    const Rgb clamped{clamp_inward(linear_srgb.r), clamp_inward(linear_srgb.g), clamp_inward(linear_srgb.b)};
    return recover_reflectance(from_linear_srgb(clamped, daylight.white), daylight);
}

RecoveredReflectance recover_reflectance(const std::array<std::uint8_t, 3>& srgb) {
    const auto linear = [](std::uint8_t code) { return linear_from_srgb(code / 255.0); };
    return recover_reflectance(Rgb{linear(srgb[0]), linear(srgb[1]), linear(srgb[2])});
}

}  // namespace fadewright::colour
