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
// Source     the sizes are starting values of ours, uncalibrated; what holds spray/flow.h
// Holds for  flat panels; the sag along the line
// Checks     tests/render/tune_test.cpp
#pragma once

#include "fadewright/render/fade_way.h"

#include <array>
#include <cstdint>
#include <functional>
#include <optional>
#include <vector>

namespace fadewright::render {

// passes: found together along the road of the colours (plan/fade.h); order: which end is laid first.
enum class Vary { method, order, middles, middle_ratio, extend, passes, width, place, overlap, distance };

struct TuneWish {
    std::vector<Vary> vary{Vary::method, Vary::middles, Vary::middle_ratio, Vary::extend,
                           Vary::passes, Vary::width,   Vary::overlap};
    std::optional<Millimetres> width;      // 10 to 90 %; none: as planned
    std::optional<Millimetres> tolerance;  // none: 5 % of the width
    Micrometres most_film{150};            // dry, all coats
    std::uint64_t seed = 1;
    Seconds within{60};
    int looks = 14;                        // at each of the ways that are searched
    std::function<bool()> stop;            // asked between looks
    std::function<void(double)> progress;  // share done; called from any thread, one at a time

    [[nodiscard]] bool may(Vary what) const;
};

inline constexpr double kBandsShow = 0.8;  // from here on they count as faults of their own

class TuneGoal {
public:
    // The plan must hold a fade (contract).
    TuneGoal(const plan::Plan& plan, const plan::Job& job, const TuneWish& wish);

    [[nodiscard]] const JudgedLine& line() const noexcept { return line_; }

    struct Points {
        double sum = kHopeless;
        std::optional<Millimetres> width;  // none: it cannot be made, or both ends look the same
    };
    [[nodiscard]] Points of(const plan::Plan& plan, plan::Shelf& shelf) const;

    static constexpr double kHopeless = 1e3;

private:
    [[nodiscard]] double width_points(Millimetres width) const;
    [[nodiscard]] double film_points(const plan::Job& job) const;

    JudgedLine line_;
    std::array<colour::Lab, 2> ends_{};
    std::optional<Millimetres> tolerance_;
    Micrometres most_film_;
};

}  // namespace fadewright::render
