#include "fadewright/colour/reflectance_recovery.h"

#include "fadewright/base/contract.h"

#include <Eigen/LU>

#include <algorithm>
#include <cmath>

namespace fadewright::colour {
namespace {

constexpr int kBands = static_cast<int>(kBandCount);
constexpr int kUnknowns = kBands + 3;  // z of every band, and one multiplier per response
constexpr double kTolerance = 1e-10;   // largest error of a response; white is 1
constexpr int kMaxSteps = 60;          // ordinary colours take 4 to 12
constexpr double kMaxAngle = 15;       // |z| beyond which r is practically 0 or 1
constexpr double kGreyMargin = 1e-5;   // minimum distance of a grey from black and white
constexpr int kBisections = 30;        // on the way to grey

using Angles = Eigen::Vector<double, kBands>;
using Unknowns = Eigen::Vector<double, kUnknowns>;
using BandMatrix = Eigen::Matrix<double, kBands, kBands>;

// Responses to the target and to each band; white is 1.
struct Problem {
    Eigen::Vector3d target;
    Eigen::Matrix<double, kBands, 3> response;
};

double from_angle(double z) noexcept { return 1 / (1 + std::exp(-2 * z)); }

// Second differences of z, with free ends: half of the derivative of the sum of squared slopes.
BandMatrix make_roughness() {
    BandMatrix roughness = BandMatrix::Zero();
    roughness.diagonal().setConstant(4);
    roughness.diagonal<1>().setConstant(-2);
    roughness.diagonal<-1>().setConstant(-2);
    roughness(0, 0) = roughness(kBands - 1, kBands - 1) = 2;
    return roughness;
}

struct Solution {
    Angles z;
    int steps = 0;
    bool converged = false;
};

// Residuals of the conditions for the minimal slope, and their derivatives with z and the multipliers.
struct Conditions {
    Unknowns residual;
    Eigen::Matrix<double, kUnknowns, kUnknowns> slopes;
};

Conditions conditions_at(const Problem& problem, const Angles& z, const Eigen::Vector3d& multipliers) {
    static const BandMatrix roughness = make_roughness();
    const Angles r = z.unaryExpr(&from_angle);
    const Angles slope = 2 * r.cwiseProduct(Angles::Ones() - r);  // dr/dz
    const Angles constraint = problem.response * multipliers;
    Conditions out;
    out.residual << roughness * z + slope.cwiseProduct(constraint),
        problem.response.transpose() * r - problem.target;
    out.slopes.setZero();
    out.slopes.topLeftCorner<kBands, kBands>() = roughness;
    out.slopes.diagonal().head<kBands>() +=
        2 * slope.cwiseProduct(Angles::Ones() - 2 * r).cwiseProduct(constraint);
    out.slopes.topRightCorner<kBands, 3>() = slope.asDiagonal() * problem.response;
    out.slopes.bottomLeftCorner<3, kBands>() = out.slopes.topRightCorner<kBands, 3>().transpose();
    return out;
}

// Newton's method; it ends where a step is singular or leaves the range of z.
Solution solve_problem(const Problem& problem) {
    const double grey = std::clamp(problem.target.mean(), kGreyMargin, 1 - kGreyMargin);
    Solution out;
    out.z.setConstant(std::atanh(2 * grey - 1));
    Eigen::Vector3d multipliers = Eigen::Vector3d::Zero();
    for (; out.steps < kMaxSteps; ++out.steps) {
        const Conditions at = conditions_at(problem, out.z, multipliers);
        out.converged = at.residual.cwiseAbs().maxCoeff() < kTolerance;
        if (out.converged) return out;
        const Unknowns step = at.slopes.partialPivLu().solve(at.residual);
        if (!step.allFinite()) return out;
        const double longest = step.head<kBands>().cwiseAbs().maxCoeff();
        const double share = longest > kMaxNewtonStep ? kMaxNewtonStep / longest : 1;
        out.z -= share * step.head<kBands>();
        multipliers -= share * step.tail<3>();
        if (out.z.cwiseAbs().maxCoeff() >= kMaxAngle) return out;
    }
    return out;
}

RecoveredReflectance make_result(const Solution& solution, bool exact) {
    RecoveredReflectance out;
    std::transform(solution.z.begin(), solution.z.end(), out.reflectance.values.begin(), from_angle);
    out.exact = exact;
    out.steps = solution.steps;
    return out;
}

RecoveredReflectance desaturate_to_fit(Problem problem) {
    const Eigen::Vector3d requested = problem.target;
    const double grey = std::clamp(requested[1], kGreyMargin, 1 - kGreyMargin);
    double low_share = 0, high_share = 1;
    Solution best;
    best.z.setConstant(std::atanh(2 * grey - 1));
    for (int bisection = 0; bisection < kBisections; ++bisection) {
        const double mid = (low_share + high_share) / 2;
        problem.target = (1 - mid) * Eigen::Vector3d::Constant(grey) + mid * requested;
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
        problem.response.row(static_cast<Eigen::Index>(i)) << weights.w[i][0] / white.X,
            weights.w[i][1] / white.Y, weights.w[i][2] / white.Z;
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
