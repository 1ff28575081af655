#include "tune_search.h"

#include <nlopt.hpp>

#include <cmath>
#include <map>
#include <utility>

namespace fadewright::render {
namespace {

constexpr int kWidthLooks = 2;          // that put the width right before the search
constexpr double kWidthIsRight = 0.02;  // of the wanted
constexpr double kFirstStep = 0.25;     // of a knob's range
constexpr int kTriesToALook = 6;        // between rounded settings there is nothing new to see

}  // namespace

bool TuneClock::over() {
    const std::chrono::duration<double> spent = std::chrono::steady_clock::now() - begin_;
    if (spent.count() > wish_.within.value || (wish_.stop && wish_.stop())) stopped_ = true;
    return stopped_;
}

// NLopt asks; settings are looked at rounded as a shop would, and each but once.
struct TuneSearch::Looking {
    TuneSearch& search;
    const Setting& base;
    const std::vector<Knob>& knobs;
    Found& found;
    int left;
    std::map<std::vector<double>, double> seen;

    static double look(const std::vector<double>& at, std::vector<double>&, void* data) {
        auto& self = *static_cast<Looking*>(data);
        std::vector<double> rounded;
        for (std::size_t i = 0; i < at.size(); ++i) rounded.push_back(self.knobs[i].rounded(at[i]));
        const auto known = self.seen.find(rounded);
        if (known != self.seen.end()) return known->second;
        if (self.left-- <= 0 || self.search.clock_.over()) throw nlopt::forced_stop();
        const Setting setting = turned(self.base, self.knobs, rounded);
        const double points = self.search.look(setting).sum;
        self.seen.emplace(std::move(rounded), points);
        if (points < self.found.points) self.found = {setting, points};
        return points;
    }
};

TuneSearch::TuneSearch(const plan::Plan& plan, const TuneGoal& goal, const TuneWish& wish, plan::Shelf shelf,
                       double usual_distance_mm, TuneClock& clock)
    : plan_(plan),
      goal_(goal),
      wish_(wish),
      shelf_(std::move(shelf)),
      usual_mm_(usual_distance_mm),
      coat_(faded_coat(plan).value()),
      clock_(clock) {}

TuneGoal::Points TuneSearch::look(const Setting& setting) {
    clock_.looked();
    return goal_.of(setting.in(plan_, coat_), shelf_);
}

std::vector<double> TuneSearch::start(const Setting& base, const std::vector<Knob>& knobs, Found& found) {
    std::vector<double> at;
    for (const Knob& knob : knobs) at.push_back(knob.rounded(knob.start));
    for (int i = 0; i <= kWidthLooks; ++i) {
        const Setting setting = turned(base, knobs, at);
        const TuneGoal::Points points = look(setting);
        if (points.sum < found.points) found = {setting, points.sum};
        if (!points.width || !goal_.line().wanted || clock_.over()) break;
        const double wider = *goal_.line().wanted / *points.width;
        bool turned_on = false;
        for (std::size_t k = 0; k < knobs.size(); ++k) {
            if (knobs[k].vary != Vary::width) continue;
            const double next = knobs[k].rounded(at[k] * wider);
            turned_on = next != at[k] && std::abs(wider - 1) > kWidthIsRight;
            if (turned_on) at[k] = next;
        }
        if (!turned_on) break;
    }
    return at;
}

Found TuneSearch::first_look(const Setting& base) {
    Found found{base, TuneGoal::kHopeless};
    (void)start(base, knobs_of(base, usual_mm_, wish_), found);
    return found;
}

Found TuneSearch::best(const Setting& base, int looks) {
    const std::vector<Knob> knobs = knobs_of(base, usual_mm_, wish_);
    Found found{base, TuneGoal::kHopeless};
    std::vector<double> at = start(base, knobs, found);
    if (knobs.empty()) return found;
    Looking looking{*this, base, knobs, found, looks, {}};
    nlopt::opt search(nlopt::LN_SBPLX, static_cast<unsigned>(knobs.size()));
    std::vector<double> low, high, step;
    for (const Knob& knob : knobs) {
        low.push_back(knob.low);
        high.push_back(knob.high);
        step.push_back(std::max(knob.round_to, kFirstStep * (knob.high - knob.low)));
    }
    search.set_lower_bounds(low);
    search.set_upper_bounds(high);
    search.set_initial_step(step);
    search.set_maxeval(kTriesToALook * looks);
    search.set_min_objective(&Looking::look, &looking);
    double value = 0;
    try {
        search.optimize(at, value);
    } catch (const nlopt::forced_stop&) {
    } catch (const nlopt::roundoff_limited&) {
    }
    return found;
}

}  // namespace fadewright::render
