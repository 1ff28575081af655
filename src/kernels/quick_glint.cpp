#include "fadewright/kernels/quick_glint.h"

#include "quick_exp.h"
#include "wide.h"

#include <algorithm>

namespace fadewright::kernels::quick {
namespace {

// Rows of numbers, one for each band: of a coat, with the inverse of what is lost, and of a sum.
enum CoatRow : std::size_t {
    kDiffuse,
    kLostDiffuse,
    kPerDiffuse,
    kLamp,
    kLostLamp,
    kPerLamp,
    kTurned,
    kSeen,
    kLostSeen,
    kPerSeen,
    kCoatRows
};
enum SumRow : std::size_t {
    kRemoved,
    kMirrored,
    kTurnedBack,
    kGlint,
    kFadedDiffuse,
    kFadedLamp,
    kFadedSeen,
    kSumRows
};

constexpr float kMostOnce = 0.5f;  // as in film/glint.cpp
constexpr float kDeepest = 80;     // exp of minus that is still a normal number
constexpr float kLeast = 1e-12f;   // lost per micrometre: as good as nothing, but may divide

[[gnu::always_inline]] inline float left(float depth) { return exp_of(-std::min(depth, kDeepest)); }

[[gnu::always_inline]] inline float depth_seen(float lost, float per_lost, float X) {
    return -expm1_of_minus(std::min(lost * X, kDeepest)) * per_lost;
}

FW_WIDE void add_flakes(const float* __restrict coat, const float* __restrict faded, float X,
                        std::size_t bands, float* __restrict removed, float* __restrict mirrored,
                        float* __restrict turned_back, float* __restrict glint) {
    for (std::size_t i = 0; i < bands; ++i) {
        const auto of = [&](CoatRow row) { return coat[row * bands + i]; };
        const auto left_of = [&](SumRow row) { return left(faded[(row - kFadedDiffuse) * bands + i]); };
        const float diffuse = left_of(kFadedDiffuse) * depth_seen(of(kLostDiffuse), of(kPerDiffuse), X);
        const float lamp = depth_seen(of(kLostLamp), of(kPerLamp), X);
        const float seen = left_of(kFadedSeen) * depth_seen(of(kLostSeen), of(kPerSeen), X);
        const float once = of(kLamp) * lamp;
        const float held = std::min(1.0f, kMostOnce / std::max(once, kLeast));
        const float kept = left_of(kFadedLamp) * held;
        removed[i] += of(kDiffuse) * diffuse;
        mirrored[i] += kept * once;
        turned_back[i] += kept * of(kTurned) * lamp;
        glint[i] += held * of(kSeen) * seen;
    }
}

FW_WIDE void fade(const float* __restrict coat, float X, std::size_t bands, float* __restrict sum) {
    for (std::size_t i = 0; i < bands; ++i) {
        sum[kFadedDiffuse * bands + i] += coat[kLostDiffuse * bands + i] * X;
        sum[kFadedLamp * bands + i] += coat[kLostLamp * bands + i] * X;
        sum[kFadedSeen * bands + i] += coat[kLostSeen * bands + i] * X;
    }
}

FW_WIDE void see_all(const float* __restrict sum, float even, float beam, float shine, float let_through,
                     float turned_back, std::size_t bands, float* __restrict reflectance) {
    for (std::size_t i = 0; i < bands; ++i) {
        const auto at = [&](SumRow row) { return sum[row * bands + i]; };
        const float R = reflectance[i];
        const float out = let_through / (1 - turned_back * R);
        const float rest = (1 - at(kMirrored)) * std::max(0.0f, R - at(kRemoved)) / (1 - at(kRemoved));
        const float risen = rest + at(kTurnedBack) * R;
        reflectance[i] = out * (even * R + beam * risen) + beam * at(kGlint) + shine;
    }
}

}  // namespace

GlintCoat::GlintCoat(bool has_flakes, const GlintBands& coat)
    : has_flakes_(has_flakes), bands_(coat.seen.size()), numbers_(kCoatRows * bands_) {
    const auto put = [&](CoatRow row, std::span<const double> values) {
        for (std::size_t i = 0; i < bands_; ++i) numbers_[row * bands_ + i] = static_cast<float>(values[i]);
    };
    const auto put_lost = [&](CoatRow row, CoatRow per, std::span<const double> values) {
        for (std::size_t i = 0; i < bands_; ++i) {
            const float lost = std::max(kLeast, static_cast<float>(values[i]));
            numbers_[row * bands_ + i] = lost;
            numbers_[per * bands_ + i] = 1 / lost;
        }
    };
    put(kDiffuse, coat.diffuse);
    put_lost(kLostDiffuse, kPerDiffuse, coat.lost_diffuse);
    put(kLamp, coat.lamp);
    put_lost(kLostLamp, kPerLamp, coat.lost_lamp);
    put(kTurned, coat.turned);
    put(kSeen, coat.seen);
    put_lost(kLostSeen, kPerSeen, coat.lost_seen);
}

GlintSum::GlintSum(std::size_t bands) : bands_(bands), numbers_(kSumRows * bands) {}

void GlintSum::clear() { std::fill(numbers_.begin(), numbers_.end(), 0.0f); }

void GlintSum::add(const GlintCoat& coat, double film_um) {
    if (film_um <= 0) return;
    const float X = static_cast<float>(std::min(film_um, 1e9));
    float* const sum = numbers_.data();
    if (coat.has_flakes_)
        add_flakes(coat.numbers_.data(), sum + kFadedDiffuse * bands_, X, bands_, sum + kRemoved * bands_,
                   sum + kMirrored * bands_, sum + kTurnedBack * bands_, sum + kGlint * bands_);
    fade(coat.numbers_.data(), X, bands_, sum);
}

void GlintSum::see(const GlintLight& light, std::span<float> reflectance) const {
    see_all(numbers_.data(), static_cast<float>(light.even), static_cast<float>(light.beam),
            static_cast<float>(light.shine), static_cast<float>(light.let_through),
            static_cast<float>(light.turned_back), bands_, reflectance.data());
}

}  // namespace fadewright::kernels::quick
