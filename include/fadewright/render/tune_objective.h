// What a tuned fade is searched for, and what may be changed for it.
//
// The goal is the sum, all from the section alone: colours along the judged line (fade_way.h), without pictures,
//
//     fault points of the colours (fade_way.h)
//     + 3 (bands - 0.8) beyond 0.8 of the contrast that an eye just sees: they are not to show at all
//     + ((|width - wanted| - 0.8 tolerance) / (0.2 tolerance))^2 beyond 0.8 tolerance
//     + 10 (film / most - 1) beyond most, and 10 (wet film / what holds - 1) of the coat that comes nearest to a sag
//     + passes / 40
//     + dE00 / 2 of both ends of the line from what they are as planned: a fade may not run off its line
//
// Source: own derivation: the sizes are starting values, uncalibrated.
// Holds for  flat panels; the sag along the line
// Checks     tests/render/tune_test.cpp
#pragma once

#include "fadewright/render/fade_methods.h"

#include <array>
#include <cstdint>
#include <functional>
#include <optional>
#include <vector>

namespace fadewright::render {

// passes: found together along the road of the colours (plan/fade.h); order: which end is laid first.
enum class Vary { method, order, mid_colours, mid_ratio, extend, passes, width, position, overlap, distance };

struct TuneOptions {
    std::vector<Vary> vary{Vary::method, Vary::mid_colours, Vary::mid_ratio, Vary::extend,
                           Vary::passes, Vary::width,       Vary::overlap};
    std::optional<Millimetres> width;      // 10 to 90 %; none: as planned
    std::optional<Millimetres> tolerance;  // none: 5 % of the width
    Micrometres max_film{150};             // dry, all coats
    std::uint64_t seed = 1;
    Seconds time_limit{60};
    int trials = 14;                         // at each of the ways that are searched
    std::function<bool()> cancel_requested;  // asked between looks
    std::function<void(double)> on_report;   // share done; called from any thread, one at a time

    [[nodiscard]] bool varies(Vary item) const;
};

inline constexpr double kBandingLimit = 0.8;  // from here on they count as faults of their own

class TuneObjective {
public:
    // The plan must hold a fade (contract).
    TuneObjective(const plan::Plan& plan, const plan::Job& job, const TuneOptions& options);

    [[nodiscard]] const AssessmentLine& line() const noexcept { return line_; }

    struct Evaluation {
        double penalty = kInfeasible;
        std::optional<Millimetres> width;  // none: it cannot be made, or both ends look the same
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

}  // namespace fadewright::render
