// The search from one starting fade.
#pragma once

#include "tune_parameters.h"

#include <atomic>
#include <chrono>

namespace fadewright::assess {

// Time limit and cancellation of the searches. Used by several searches at once.
class TuneBudget {
public:
    explicit TuneBudget(const TuneOptions& options)
        : options_(options), begin_(std::chrono::steady_clock::now()) {}

    [[nodiscard]] bool exhausted();
    [[nodiscard]] bool stopped() const noexcept { return stopped_; }
    void count_trial() noexcept { ++trials_; }
    [[nodiscard]] int trials() const noexcept { return trials_; }

private:
    const TuneOptions& options_;
    std::chrono::steady_clock::time_point begin_;
    std::atomic<int> trials_{0};
    std::atomic<bool> stopped_{false};
};

struct SearchResult {
    FadeSetting setting;
    double penalty = TuneObjective::kInfeasible;
};

class TuneSearch {
public:
    // A library of its own, which caches the files that it reads.
    TuneSearch(const plan::Plan& plan, const TuneObjective& objective, const TuneOptions& options,
               plan::Library library, double default_distance_mm, TuneBudget& budget);

    // The starting fade with its width corrected.
    [[nodiscard]] SearchResult evaluate_start(const FadeSetting& origin);
    // The best fade of that many trials from there.
    [[nodiscard]] SearchResult find_best(const FadeSetting& origin, int trials);

private:
    struct SearchContext;
    [[nodiscard]] std::vector<double> fit_width(const FadeSetting& origin,
                                                const std::vector<TuneParameter>& parameters,
                                                SearchResult& result);
    [[nodiscard]] TuneObjective::Evaluation evaluate(const FadeSetting& setting);

    const plan::Plan& plan_;
    const TuneObjective& objective_;
    const TuneOptions& options_;
    plan::Library library_;
    double default_distance_mm_;
    std::size_t coat_;
    TuneBudget& budget_;
};

}  // namespace fadewright::assess
