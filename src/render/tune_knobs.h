// The fade's measures that a search may turn, the fades it may start from, and what differs in the end.
#pragma once

#include "fadewright/render/tune_goal.h"

#include <string>
#include <vector>

namespace fadewright::render {

// A fade and, with it, how far off its gun is held.
struct Setting {
    plan::Fade fade;
    std::optional<Millimetres> distance;  // the gun's own, if absent

    [[nodiscard]] plan::Plan in(const plan::Plan& plan, std::size_t coat) const;
};

// From where all is one mix to where all is the other.
[[nodiscard]] double ramp_width_mm(const plan::Fade& fade);

// One measure: how far it goes, how it is rounded, and where the search begins.
struct Knob {
    Vary vary;
    double low, high, round_to, start;

    [[nodiscard]] double rounded(double value) const noexcept;
};

// The knobs that the fade has, with the wish's leave. `usual_mm`: the distance that is the gun's own.
[[nodiscard]] std::vector<Knob> knobs_of(const Setting& base, double usual_mm, const TuneWish& wish);
// Values are of the knobs, in their order.
[[nodiscard]] Setting turned(Setting base, const std::vector<Knob>& knobs, const std::vector<double>& values);

// The fades to search from, each with what may not be turned but only chosen: method, order, number of middles, how
// passes are found. The plan's own first.
[[nodiscard]] std::vector<plan::Fade> bases_of(const plan::Fade& own, const TuneWish& wish);

// A measure that differs, and the setting with it put back.
struct Undone {
    std::string what, before, after;
    Setting setting;
};
[[nodiscard]] std::vector<Undone> undone(const Setting& before, const Setting& after, ShownUnits units);

}  // namespace fadewright::render
