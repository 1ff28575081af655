#include "fadewright/colour/reconstruct.h"

#include "fadewright/base/contract.h"
#include "linear.h"
#include "matrix.h"

#include <algorithm>
#include <cmath>

namespace fadewright::colour {
namespace {

constexpr std::size_t kUnknowns = kBandCount + 3;  // z of every band, and a multiplier for each response
constexpr double kMet = 1e-10;                     // largest miss of a response, white being 1
constexpr int kMostSteps = 60;                     // ordinary colours take 4 to 12
constexpr double kFarthest = 15;                   // |z| beyond which r is 0 or 1 in all but name
constexpr double kEdge = 1e-5;                     // how near to black or white a grey may come
constexpr int kHalvings = 30;                      // of the way to grey

// Responses to the target and to each band, white being 1.
struct Problem {
    Vector target{};
    std::array<Vector, kBandCount> response{};
};

using Angles = std::array<double, kBandCount>;

double of_angle(double z) noexcept { return 1 / (1 + std::exp(-2 * z)); }

// How much the slope of z turns at band i, the ends being free: half the derivative of the sum.
double turn(const Angles& z, std::size_t i) noexcept {
    double sum = 0;
    if (i > 0) sum += z[i] - z[i - 1];
    if (i + 1 < kBandCount) sum += z[i] - z[i + 1];
    return 2 * sum;
}

struct Solved {
    Angles z{};
    int steps = 0;
    bool met = false;
};

// One Newton step towards the conditions for the least slope. False if it leads nowhere.
bool newton_step(const Problem& problem, Angles& z, Vector& multipliers) {
    Square<kUnknowns> J{};
    std::array<double, kUnknowns> F{};
    for (std::size_t c = 0; c < 3; ++c) F[kBandCount + c] = -problem.target[c];
    for (std::size_t i = 0; i < kBandCount; ++i) {
        const double r = of_angle(z[i]);
        const double slope = 2 * r * (1 - r);  // dr/dz
        double pull = 0;
        for (std::size_t c = 0; c < 3; ++c) {
            pull += problem.response[i][c] * multipliers[c];
            F[kBandCount + c] += problem.response[i][c] * r;
            J[i][kBandCount + c] = J[kBandCount + c][i] = slope * problem.response[i][c];
        }
        F[i] = turn(z, i) + slope * pull;
        const bool end = i == 0 || i + 1 == kBandCount;
        J[i][i] = (end ? 2 : 4) + 2 * slope * (1 - 2 * r) * pull;
        if (i > 0) J[i][i - 1] = -2;
        if (i + 1 < kBandCount) J[i][i + 1] = -2;
    }
    if (!solve(J, F)) return false;
    double longest = 0;
    for (std::size_t i = 0; i < kBandCount; ++i) longest = std::max(longest, std::abs(F[i]));
    if (!std::isfinite(longest)) return false;
    const double share = longest > kLongestStep ? kLongestStep / longest : 1;
    for (std::size_t i = 0; i < kBandCount; ++i) z[i] -= share * F[i];
    for (std::size_t c = 0; c < 3; ++c) multipliers[c] -= share * F[kBandCount + c];
    return std::all_of(z.begin(), z.end(), [](double v) { return std::abs(v) < kFarthest; });
}

// The largest unmet condition: response off its target, or slope not yet least.
double unmet(const Problem& problem, const Angles& z, const Vector& multipliers) {
    Vector miss{-problem.target[0], -problem.target[1], -problem.target[2]};
    double worst = 0;
    for (std::size_t i = 0; i < kBandCount; ++i) {
        const double r = of_angle(z[i]);
        double pull = 0;
        for (std::size_t c = 0; c < 3; ++c) {
            miss[c] += problem.response[i][c] * r;
            pull += problem.response[i][c] * multipliers[c];
        }
        worst = std::max(worst, std::abs(turn(z, i) + 2 * r * (1 - r) * pull));
    }
    for (const double m : miss) worst = std::max(worst, std::abs(m));
    return worst;
}

Solved solved(const Problem& problem) {
    const double mean = (problem.target[0] + problem.target[1] + problem.target[2]) / 3;
    const double grey = std::clamp(mean, kEdge, 1 - kEdge);
    Solved out;
    out.z.fill(std::atanh(2 * grey - 1));
    Vector multipliers{};
    for (; out.steps < kMostSteps; ++out.steps) {
        if (unmet(problem, out.z, multipliers) < kMet) {
            out.met = true;
            return out;
        }
        if (!newton_step(problem, out.z, multipliers)) return out;
    }
    return out;
}

Smoothest result(const Solved& solved, bool reached) {
    Smoothest out;
    for (std::size_t i = 0; i < kBandCount; ++i) out.reflectance[i] = of_angle(solved.z[i]);
    out.reached = reached;
    out.steps = solved.steps;
    return out;
}

Smoothest led_to_grey(Problem problem) {
    const Vector asked = problem.target;
    const double grey = std::clamp(asked[1], kEdge, 1 - kEdge);
    double fits = 0, fails = 1;
    Solved best;
    best.z.fill(std::atanh(2 * grey - 1));
    for (int halving = 0; halving < kHalvings; ++halving) {
        const double middle = (fits + fails) / 2;
        for (std::size_t c = 0; c < 3; ++c) problem.target[c] = grey + middle * (asked[c] - grey);
        const Solved tried = solved(problem);
        (tried.met ? fits : fails) = middle;
        if (tried.met) best = tried;
    }
    return result(best, false);
}

}  // namespace

Smoothest smoothest(const XYZ& target, const Weights& weights) {
    const XYZ& white = weights.white;
    FW_EXPECTS(white.X > 0 && white.Y > 0 && white.Z > 0);
    FW_EXPECTS(std::isfinite(target.X) && std::isfinite(target.Y) && std::isfinite(target.Z));
    Problem problem;
    problem.target = {target.X / white.X, target.Y / white.Y, target.Z / white.Z};
    for (std::size_t i = 0; i < kBandCount; ++i)
        problem.response[i] = {weights.w[i][0] / white.X, weights.w[i][1] / white.Y,
                               weights.w[i][2] / white.Z};
    const Solved direct = solved(problem);
    return direct.met ? result(direct, true) : led_to_grey(problem);
}

Smoothest smoothest(const Lab& target, const Weights& weights) {
    return smoothest(to_xyz(target, weights.white), weights);
}

Smoothest smoothest(const Rgb& linear_srgb) {
    static const Weights daylight = weights(standard_light(StandardLight::D65), Observer::two_degree);
    const auto inward = [](double v) { return std::clamp(v, kSrgbEdge, 1 - kSrgbEdge); };
    const Rgb moved{inward(linear_srgb.r), inward(linear_srgb.g), inward(linear_srgb.b)};
    return smoothest(from_linear_srgb(moved, daylight.white), daylight);
}

Smoothest smoothest(const std::array<std::uint8_t, 3>& srgb) {
    const auto linear = [](std::uint8_t code) { return srgb_decoded(code / 255.0); };
    return smoothest(Rgb{linear(srgb[0]), linear(srgb[1]), linear(srgb[2])});
}

}  // namespace fadewright::colour
