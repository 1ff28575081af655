#include "fadewright/film/dots.h"

#include "fadewright/base/contract.h"
#include "fadewright/film/layer.h"

#include <algorithm>
#include <cmath>

namespace fadewright::film {
namespace {

// Beyond the mean plus this many standard deviations plus this many terms, probabilities are below rounding.
constexpr double kDeviations = 9;
constexpr double kExtraTerms = 20;

double probability_weighted_mean(std::span<const double> reflectances, double mean_splats, auto&& value) {
    FW_EXPECTS(!reflectances.empty());
    const std::vector<double> chances = splat_probabilities(mean_splats, reflectances.size());
    double sum = 0;
    for (std::size_t k = 0; k < reflectances.size(); ++k) sum += chances[k] * value(reflectances[k]);
    return sum;
}

}  // namespace

std::size_t significant_splats(double mean_splats) {
    FW_EXPECTS(mean_splats >= 0);
    return static_cast<std::size_t>(
               std::ceil(mean_splats + kDeviations * std::sqrt(mean_splats) + kExtraTerms)) +
           1;
}

// Weights from 1 at the mode both ways, P(k+1) = P(k) mean / (k+1), which neither overflows
// nor underflows; divided by their own sum.
std::vector<double> splat_probabilities(double mean_splats, std::size_t count) {
    FW_EXPECTS(count > 0);
    std::vector<double> weights(significant_splats(mean_splats), 0.0);
    const auto likeliest = static_cast<std::size_t>(mean_splats);
    weights[likeliest] = 1;
    for (std::size_t k = likeliest + 1; k < weights.size(); ++k)
        weights[k] = weights[k - 1] * mean_splats / static_cast<double>(k);
    for (std::size_t k = likeliest; k > 0; --k)
        weights[k - 1] = weights[k] * static_cast<double>(k) / mean_splats;

    std::vector<double> chances(count, 0.0);
    double sum = 0;
    for (std::size_t k = weights.size(); k-- > 0;) {
        sum += weights[k];
        chances[std::min(k, count - 1)] += weights[k];
    }
    for (double& chance : chances) chance /= sum;
    return chances;
}

std::vector<double> reflectance_by_splat_count(double K, double S, double splat_um, double ground,
                                               double mean_splats) {
    FW_EXPECTS(splat_um >= 0);
    std::vector<double> R(significant_splats(mean_splats));
    for (std::size_t k = 0; k < R.size(); ++k)
        R[k] = reflectance_over(layer(K, S, static_cast<double>(k) * splat_um), ground);
    return R;
}

DotStatistics dot_statistics(std::span<const double> reflectances, double mean_splats) {
    const double mean = probability_weighted_mean(reflectances, mean_splats, [](double R) { return R; });
    return {mean, probability_weighted_mean(reflectances, mean_splats,
                                            [&](double R) { return (R - mean) * (R - mean); })};
}

double yule_nielsen_mean(std::span<const double> reflectances, double mean_splats, double n) {
    FW_EXPECTS(n >= 1);
    return std::pow(
        probability_weighted_mean(reflectances, mean_splats, [&](double R) { return std::pow(R, 1 / n); }),
        n);
}

}  // namespace fadewright::film
