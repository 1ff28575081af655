// How grainy a job is from place to place: the noise of its dots as it reaches the eye.
//
// Of every coat that dries as dots the power of the grain over the colour below (film/grain.h) is taken
// at kGrainBand, where the eye sees best. A coat that lies as it lands (kernels/layer_stack.h) keeps of the
// deviations the share of its splats that stayed alone. Coats above pass on
//
//     dR_above / dR_below = T^2 / (1 - R0 R)^2,
//
// and the powers of the coats add up, their droplets knowing nothing of each other.
//
// Source: [matheron1975], [dooley1979], [kubelka1948].
// Holds for  grain of lightness; that of colour is left out. One size of splat for a coat
// Accuracy   the power of one coat is read from a table over load and ground, within 3 %
// Checks     tests/render/dot_grain_test.cpp
#pragma once

#include "fadewright/plan/job.h"

#include <array>
#include <cstddef>
#include <span>
#include <vector>

namespace fadewright::render {

inline constexpr std::size_t kGrainBand = 17;  // 550 nm

// That root as the grain an eye sees from there, L*, where the luminance is Y (1 for white).
[[nodiscard]] double visible_grain_L(double root_mm, double Y, Millimetres viewing_distance);

class DotGraininess {
public:
    DotGraininess(const plan::Job& job, std::size_t coats);

    [[nodiscard]] bool has_dots() const noexcept { return has_dots_; }
    // Root of the power of the relative luminance, mm: over A mm2 the luminance deviates by root / sqrt(A) of
    // itself. Of dry films, coat by coat, over grounds (SeenJob::Laid, render/spectra.h).
    void graininess_mm(std::span<const double> films_um, std::span<const colour::Reflectance* const> grounds,
                       std::span<double> roots) const;

private:
    static constexpr std::size_t kLoads = 33, kGrounds = 9;

    // Power of one coat's dots in reflectance, mm2, over load and ground.
    struct Table {
        bool dots = false;
        std::array<std::array<double, kGrounds>, kLoads> power{};
        [[nodiscard]] double at(double splats, double ground) const noexcept;
    };
    static double load_at(std::size_t i) noexcept;

    const plan::Job& job_;
    std::vector<Table> tables_;  // one for each coat that is on
    bool has_dots_ = false;
};

}  // namespace fadewright::render
