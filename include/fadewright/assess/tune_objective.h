// The objective of tuning a fade, and the settings that may be varied.
//
// The objective is a sum computed from the section alone, that is from the colours along the assessment line
// (fade_methods.h), without pictures:
//
//     colour penalty (fade_methods.h)
//     + 3 (banding - 0.8) above 0.8 of the visible threshold: banding should not show at all
//     + ((|width - target| - 0.8 tolerance) / (0.2 tolerance))^2 beyond 0.8 tolerance
//     + 10 (film / maximum - 1) above the maximum
//     + 10 (wet film / sag limit - 1) of the coat nearest to a sag
//     + passes / 40
//     + dE00 / 2 of both ends of the line from their planned colours: a fade must not run off its line
//
// Source: own derivation: the sizes are starting values, uncalibrated.
// Holds for  flat panels; the sag along the line
// Checks     tests/assess/tune_test.cpp
#pragma once

#include "fadewright/assess/fade_methods.h"
#include "fadewright/base/progress.h"

#include <array>
#include <cstdint>
#include <optional>
#include <vector>

namespace fadewright::assess {

// What a plan's fade that leaves them open is compared as.
inline constexpr int kDefaultMidColours = 1;
inline constexpr double kDefaultMidRatio = 1, kAssumedExtend = 2;

// passes: solved jointly along the colour path (planner/fade.h); order: the end that is sprayed first.
enum class Vary { method, order, mid_colours, mid_ratio, extend, passes, width, position, overlap, distance };

struct TuneOptions {
    std::vector<Vary> vary{Vary::method, Vary::mid_colours, Vary::mid_ratio, Vary::extend,
                           Vary::passes, Vary::width,       Vary::overlap};
    std::optional<Millimetres> width;      // 10 to 90 %; default: as planned
    std::optional<Millimetres> tolerance;  // default: 5 % of the width
    Micrometres max_film{150};             // dry, all coats
    std::uint64_t seed = 1;
    Seconds time_limit{60};
    int trials = 14;    // for each search
    Progress progress;  // polled between trials; reports come one at a time

    [[nodiscard]] bool varies(Vary item) const;
};

inline constexpr double kBandingLimit = 0.8;  // over the threshold; above it banding is penalised more

class TuneObjective {
public:
    // The plan must have a fade (contract).
    TuneObjective(const plan::Plan& plan, const plan::Job& job, const TuneOptions& options);

    [[nodiscard]] const AssessmentLine& line() const noexcept { return line_; }

    struct Evaluation {
        double penalty = kInfeasible;
        std::optional<Millimetres> width;  // nothing if not possible, or if both ends look the same
    };
    [[nodiscard]] Evaluation evaluate(const plan::Plan& plan, plan::Library& library) const;

    static constexpr double kInfeasible = 1e3;

private:
    [[nodiscard]] double width_penalty(Millimetres width) const;
    [[nodiscard]] double film_penalty(const plan::Job& job) const;

    AssessmentLine line_;
    std::array<colour::Lab, 2> end_colours_{};
    std::optional<Millimetres> tolerance_;
    Micrometres max_film_;
};

}  // namespace fadewright::assess
