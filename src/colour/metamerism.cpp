#include "fadewright/colour/metamerism.h"

#include "fadewright/base/contract.h"
#include "fadewright/colour/delta_e.h"
#include "linear_solve.h"

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
    // N' = N_batch + A c  with  (A'A) c = A' (N_standard - N_batch)
    SquareMatrix<3> AtA{};
    Three c{};
    for (std::size_t i = 0; i < reference.size(); ++i)
        for (std::size_t row = 0; row < 3; ++row) {
            c[row] += reference[i][row] * (standard[i] - batch[i]);
            for (std::size_t column = 0; column < 3; ++column)
                AtA[row][column] += reference[i][row] * reference[i][column];
        }
    const bool is_regular = solve(AtA, c);
    FW_EXPECTS(is_regular);
    std::vector<double> out(batch.begin(), batch.end());
    for (std::size_t i = 0; i < reference.size(); ++i)
        for (std::size_t k = 0; k < 3; ++k) out[i] += reference[i][k] * c[k];
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
