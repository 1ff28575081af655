// The search over one way of making a fade.
#pragma once

#include "tune_knobs.h"

#include <atomic>
#include <chrono>

namespace fadewright::render {

// When a search must end: time, or the painter's word. May be asked by several searches at once.
class TuneClock {
public:
    explicit TuneClock(const TuneWish& wish) : wish_(wish), begin_(std::chrono::steady_clock::now()) {}

    [[nodiscard]] bool over();
    [[nodiscard]] bool stopped() const noexcept { return stopped_; }
    void looked() noexcept { ++looks_; }
    [[nodiscard]] int looks() const noexcept { return looks_; }

private:
    const TuneWish& wish_;
    std::chrono::steady_clock::time_point begin_;
    std::atomic<int> looks_{0};
    std::atomic<bool> stopped_{false};
};

struct Found {
    Setting setting;
    double points = TuneGoal::kHopeless;
};

class TuneSearch {
public:
    // A shelf of its own: what is read from it is kept.
    TuneSearch(const plan::Plan& plan, const TuneGoal& goal, const TuneWish& wish, plan::Shelf shelf,
               double usual_distance_mm, TuneClock& clock);

    // The base where its search would begin, once the width has been put right.
    [[nodiscard]] Found first_look(const Setting& base);
    // The best that so many looks find from there.
    [[nodiscard]] Found best(const Setting& base, int looks);

private:
    struct Looking;
    [[nodiscard]] std::vector<double> start(const Setting& base, const std::vector<Knob>& knobs,
                                            Found& found);
    [[nodiscard]] TuneGoal::Points look(const Setting& setting);

    const plan::Plan& plan_;
    const TuneGoal& goal_;
    const TuneWish& wish_;
    plan::Shelf shelf_;
    double usual_mm_;
    std::size_t coat_;
    TuneClock& clock_;
};

}  // namespace fadewright::render
