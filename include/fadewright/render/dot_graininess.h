// Graininess of a job by its dots, point by point.
//
// For every coat that dries as dots the noise power over the colour below (film/graininess.h) is taken at
// colour::kGreenBand, where the eye is most sensitive. In a partly coalesced coat (kernels/layer_stack.h) the
// deviations scale with the share of isolated splats. Coats above transmit
//
//     dR_above / dR_below = T^2 / (1 - R0 R)^2,
//
// and the powers of the coats add up, since their droplets are independent.
//
// Source: [matheron1975], [dooley1979], [kubelka1948].
// Holds for  lightness noise; chromatic noise is neglected. One splat size per coat
// Accuracy   the power of one coat is interpolated in a table over load and ground, within 3 %
// Checks     tests/render/dot_graininess_test.cpp
#pragma once

#include "fadewright/plan/job.h"

#include <array>
#include <cstddef>
#include <span>
#include <vector>

namespace fadewright::render {

// Visible graininess, L*, of that root power from that distance, at a luminance Y (1 for white).
[[nodiscard]] double visible_grain_L(double root_mm, double Y, Millimetres viewing_distance);

class DotGraininess {
public:
    DotGraininess(const plan::Job& job, std::size_t coats);

    [[nodiscard]] bool has_dots() const noexcept { return has_dots_; }
    // Root of the noise power of the relative luminance, mm: over A mm2 the relative standard deviation is
    // root / sqrt(A). For dry films, coat by coat, over grounds (PanelShader::Samples,
    // render/panel_shader.h).
    void graininess_mm(std::span<const double> films_um, std::span<const colour::Reflectance* const> grounds,
                       std::span<double> roots) const;

private:
    static constexpr std::size_t kLoads = 33, kGrounds = 9;

    // Noise power of one coat's dots in reflectance, mm2, over load and ground.
    struct Table {
        bool dots = false;
        std::array<std::array<double, kGrounds>, kLoads> power{};
        [[nodiscard]] double at(double splats, double ground) const noexcept;
    };
    static double load_at(std::size_t i) noexcept;

    const plan::Job& job_;
    std::vector<Table> tables_;  // one for each coat that is sprayed
    bool has_dots_ = false;
};

}  // namespace fadewright::render
