// Tuning a fade: the search for the measures that make it smoothest, under what the painter holds fast.
//
// Every method that may vary is tried with one to three middles (or steps); for each the measures that may
// vary (extension, middle ratio, width and place of the ramp, overlap, distance) are searched over the section
// alone: colours along the judged line (render/fade_way.h), without pictures. The goal of the search is
//
//     fault points of the colours (fade_way.h) + ((|width - wanted| - tolerance) / tolerance)^2 beyond tolerance
//     + 10 (film / most - 1) beyond most + passes / 40
//     + dE00 / 2 of both ends of the line from what they are as planned: a fade may not run off its line
//
// The best is rounded as a shop would (extension to halves, ratio to tenths, places to 5 mm, overlap to 5 %,
// distance to 10 mm), and the whole of it, faults and grain as well, is judged again beside the plan as it was.
//
// Searches of different methods run side by side; each has its own fixed number of looks, so that the result
// depends on the seed and the effort, not on the machine, unless time runs out.
//
// Source     subspace simplex search, Rowan 1990 (NLopt's SBPLX)
// Checks     tests/render/tune_test.cpp
#pragma once

#include "fadewright/render/fade_way.h"
#include "fadewright/render/unsteady_hand.h"

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace fadewright::render {

enum class Vary { method, middles, middle_ratio, extend, width, place, overlap, distance };

struct TuneWish {
    std::vector<Vary> vary{Vary::middles, Vary::middle_ratio, Vary::extend, Vary::width, Vary::overlap};
    std::optional<Millimetres> width;  // 10 to 90 %; none: as planned
    Millimetres tolerance{20};
    Micrometres most_film{150};  // dry, all coats
    std::uint64_t seed = 1;
    Seconds within{60};
    int looks = 60;                        // at each method and number of middles
    std::function<bool()> stop;            // asked between looks
    std::function<void(double)> progress;  // share done; called from any thread, one at a time
};

// One measure that differs, and what it bought: points lost if only it were put back.
struct Change {
    std::string what, before, after;
    double bought = 0;
};

// What an unsteady hand makes of it: of L* at each place the bounds of nine tries in ten, and of the width.
struct HandBand {
    std::vector<double> low_L, high_L;
    Millimetres narrowest, widest;
    int tries = 0;
};

struct Tuned {
    FadeWay before, after;
    std::vector<Change> changes;
    HandBand hand;
    int looks = 0;
    bool stopped = false;  // by time or by hand
};

// The plan must hold a fade (contract: judged_line of it has a width). Nothing if it cannot be made at all.
[[nodiscard]] std::optional<Tuned> tuned(const plan::Plan& plan, const TuneWish& wish,
                                         const plan::Shelf& shelf, Diagnostics& diagnostics);

[[nodiscard]] HandBand hand_band(const plan::Job& job, const JudgedLine& line, std::uint64_t seed, int tries);

}  // namespace fadewright::render
