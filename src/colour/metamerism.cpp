#include "fadewright/colour/metamerism.h"

#include "fadewright/base/contract.h"
#include "fadewright/colour/delta_e.h"

#include <Eigen/QR>

#include <array>

namespace fadewright::colour {
namespace {

using Three = std::array<double, 3>;

Three tristimulus(std::span<const double> reflectance, GridWeights weights) {
    Three sums{};
    for (std::size_t i = 0; i < weights.size(); ++i)
        for (std::size_t c = 0; c < 3; ++c) sums[c] += weights[i][c] * reflectance[i];
    return sums;
}

XYZ as_xyz(const Three& t) { return {t[0], t[1], t[2]}; }

// The batch in the test light, corrected for the difference of the pair in the reference light.
Three corrected_batch(std::span<const double> standard, std::span<const double> batch, GridWeights reference,
                      GridWeights test, Correction correction) {
    if (correction == Correction::parameric)
        return tristimulus(parameric_batch(standard, batch, reference), test);
    Three out = tristimulus(batch, test);
    const Three target = tristimulus(standard, reference), achieved = tristimulus(batch, reference);
    for (std::size_t c = 0; c < 3; ++c) {
        if (correction == Correction::multiplicative) out[c] *= target[c] / achieved[c];
        if (correction == Correction::additive) out[c] += target[c] - achieved[c];
    }
    return out;
}

}  // namespace

std::vector<double> parameric_batch(std::span<const double> standard, std::span<const double> batch,
                                    GridWeights reference) {
    FW_EXPECTS(standard.size() == reference.size() && batch.size() == reference.size());
    // N' = N_batch + A c  with  A c nearest to N_standard - N_batch in the sum of squares
    const auto bands = static_cast<Eigen::Index>(reference.size());
    const Eigen::Map<const Eigen::Matrix<double, Eigen::Dynamic, 3, Eigen::RowMajor>> A(
        reference.front().data(), bands, 3);
    const Eigen::Map<const Eigen::VectorXd> first(standard.data(), bands), second(batch.data(), bands);
    const Eigen::ColPivHouseholderQR<Eigen::MatrixX3d> qr(A);
    FW_EXPECTS(qr.rank() == 3);
    std::vector<double> out(reference.size());
    Eigen::Map<Eigen::VectorXd>(out.data(), bands) = second + A * qr.solve(first - second);
    return out;
}

PairDifference metamerism(std::span<const double> standard, std::span<const double> batch,
                          GridWeights reference, GridWeights test, Correction correction) {
    FW_EXPECTS(standard.size() == reference.size() && batch.size() == reference.size() &&
               test.size() == reference.size());
    const XYZ white = as_xyz(tristimulus(std::vector<double>(test.size(), 1.0), test));
    const Lab first = to_lab(as_xyz(tristimulus(standard, test)), white);
    const Lab second = to_lab(as_xyz(corrected_batch(standard, batch, reference, test, correction)), white);
    return {delta_e_76(first, second), delta_e_2000(first, second)};
}

PairDifference metamerism(const Reflectance& standard, const Reflectance& batch,
                          const TristimulusWeights& reference, const TristimulusWeights& test,
                          Correction correction) {
    return metamerism(standard.values, batch.values, reference.w, test.w, correction);
}

}  // namespace fadewright::colour
