#include "fadewright/kernels/flake_reflection_fast.h"

#include "exp2_fast.h"
#include "simd_clones.h"

#include <algorithm>

namespace fadewright::kernels::fast {
namespace {

// Rows with one value per band: of a coat (extinctions as base-2 exponents per micrometre, their inverses in
// natural units), and of a sum.
enum CoatRow : std::size_t {
    kDiffuse,
    kDiffuseExtinction,
    kPerDiffuse,
    kLamp,
    kLampExtinction,
    kPerLamp,
    kTrapped,
    kView,
    kViewExtinction,
    kPerView,
    kCoatRows
};
enum SumRow : std::size_t {
    kSingleScatter,
    kMirrored,
    kTrappedSum,
    kFlakeReflection,
    kDiffuseDepth,
    kLampDepth,
    kViewDepth,
    kSumRows
};

constexpr float kMaxSingleScatter = 0.5f;  // as in film/flake_reflection.cpp
constexpr float kMinLoss = 1e-12f;         // extinction per micrometre: negligible, but safe to divide by
constexpr float kMaxExponent = Exp2Traits<float>::kMaxExponent;

[[gnu::always_inline]] inline float transmitted(float exponent) {
    return exp2_neg(std::min(exponent, kMaxExponent));
}

[[gnu::always_inline]] inline float effective_depth(float exponent_per_um, float per_extinction, float X) {
    return one_minus_exp2_neg(std::min(exponent_per_um * X, kMaxExponent)) * per_extinction;
}

FW_SIMD_CLONES void add_flakes(const float* __restrict coat, const float* __restrict depth, float X,
                               std::size_t bands, float* __restrict removed_sum,
                               float* __restrict mirrored_sum, float* __restrict trapped_sum,
                               float* __restrict flake_reflection) {
    for (std::size_t i = 0; i < bands; ++i) {
        const auto coat_value = [&](CoatRow row) { return coat[row * bands + i]; };
        const auto transmitted_of = [&](SumRow row) {
            return transmitted(depth[(row - kDiffuseDepth) * bands + i]);
        };
        const float diffuse = transmitted_of(kDiffuseDepth) *
                              effective_depth(coat_value(kDiffuseExtinction), coat_value(kPerDiffuse), X);
        const float lamp = effective_depth(coat_value(kLampExtinction), coat_value(kPerLamp), X);
        const float view = transmitted_of(kViewDepth) *
                           effective_depth(coat_value(kViewExtinction), coat_value(kPerView), X);
        const float single_scatter = coat_value(kLamp) * lamp;
        const float cap = std::min(1.0f, kMaxSingleScatter / std::max(single_scatter, kMinLoss));
        const float weight = transmitted_of(kLampDepth) * cap;
        removed_sum[i] += coat_value(kDiffuse) * diffuse;
        mirrored_sum[i] += weight * single_scatter;
        trapped_sum[i] += weight * coat_value(kTrapped) * lamp;
        flake_reflection[i] += cap * coat_value(kView) * view;
    }
}

FW_SIMD_CLONES void add_depth(const float* __restrict coat, float X, std::size_t bands,
                              float* __restrict sum) {
    for (std::size_t i = 0; i < bands; ++i) {
        sum[kDiffuseDepth * bands + i] += coat[kDiffuseExtinction * bands + i] * X;
        sum[kLampDepth * bands + i] += coat[kLampExtinction * bands + i] * X;
        sum[kViewDepth * bands + i] += coat[kViewExtinction * bands + i] * X;
    }
}

FW_SIMD_CLONES void apply_all(const float* __restrict sum, float diffuse_light, float beam, float gloss,
                              float surface_transmittance, float internal_reflectance, std::size_t bands,
                              float* __restrict reflectance) {
    for (std::size_t i = 0; i < bands; ++i) {
        const auto sum_value = [&](SumRow row) { return sum[row * bands + i]; };
        const float R = reflectance[i];
        const float out = surface_transmittance / (1 - internal_reflectance * R);
        const float rest = (1 - sum_value(kMirrored)) * std::max(0.0f, R - sum_value(kSingleScatter)) /
                           (1 - sum_value(kSingleScatter));
        const float emergent = rest + sum_value(kTrappedSum) * R;
        reflectance[i] =
            out * (diffuse_light * R + beam * emergent) + beam * sum_value(kFlakeReflection) + gloss;
    }
}

}  // namespace

FlakeReflectionCoat::FlakeReflectionCoat(bool has_flakes, const FlakeReflectionBands& coat)
    : has_flakes_(has_flakes), bands_(coat.reflectance_factor.size()), numbers_(kCoatRows * bands_) {
    const auto store_row = [&](CoatRow row, std::span<const double> values) {
        for (std::size_t i = 0; i < bands_; ++i) numbers_[row * bands_ + i] = static_cast<float>(values[i]);
    };
    const auto store_extinction = [&](CoatRow row, CoatRow per, std::span<const double> values) {
        for (std::size_t i = 0; i < bands_; ++i) {
            const float extinction = std::max(kMinLoss, static_cast<float>(values[i]));
            numbers_[row * bands_ + i] = static_cast<float>(static_cast<double>(extinction) / kLn2);
            numbers_[per * bands_ + i] = 1 / extinction;
        }
    };
    store_row(kDiffuse, coat.diffuse);
    store_extinction(kDiffuseExtinction, kPerDiffuse, coat.diffuse_extinction);
    store_row(kLamp, coat.lamp);
    store_extinction(kLampExtinction, kPerLamp, coat.lamp_extinction);
    store_row(kTrapped, coat.trapped);
    store_row(kView, coat.reflectance_factor);
    store_extinction(kViewExtinction, kPerView, coat.view_extinction);
}

FlakeReflection::FlakeReflection(std::size_t bands) : bands_(bands), numbers_(kSumRows * bands) {}

void FlakeReflection::clear() { std::fill(numbers_.begin(), numbers_.end(), 0.0f); }

void FlakeReflection::add(const FlakeReflectionCoat& coat, double film_um) {
    if (film_um <= 0) return;
    const float X = static_cast<float>(std::min(film_um, 1e9));
    float* const sum = numbers_.data();
    if (coat.has_flakes_)
        add_flakes(coat.numbers_.data(), sum + kDiffuseDepth * bands_, X, bands_,
                   sum + kSingleScatter * bands_, sum + kMirrored * bands_, sum + kTrappedSum * bands_,
                   sum + kFlakeReflection * bands_);
    add_depth(coat.numbers_.data(), X, bands_, sum);
}

void FlakeReflection::apply(const FlakeReflectionLight& light, std::span<float> reflectance) const {
    apply_all(numbers_.data(), static_cast<float>(light.diffuse), static_cast<float>(light.beam),
              static_cast<float>(light.gloss), static_cast<float>(light.surface_transmittance),
              static_cast<float>(light.internal_reflectance), bands_, reflectance.data());
}

}  // namespace fadewright::kernels::fast
