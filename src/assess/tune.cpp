#include "fadewright/assess/tune.h"

#include "fadewright/base/contract.h"
#include "fadewright/base/parallel.h"
#include "tune_search.h"

#include <algorithm>
#include <mutex>
#include <numeric>

namespace fadewright::assess {
namespace {

constexpr int kOperatorRuns = 60;

class Tuner {
public:
    Tuner(const plan::Plan& plan, const TuneOptions& options, const plan::Library& library,
          const plan::Job& job)
        : plan_(plan),
          options_(options),
          library_(library),
          objective_(plan, job, options),
          budget_(options) {
        for (const plan::ResolvedCoat& coat : job.coats)
            if (coat.gun) default_distance_mm_ = coat.gun->distance.value;
    }

    // The best fade found; a penalty of kInfeasible if none was evaluated.
    SearchResult best() {
        const plan::Coat& coat = plan_.coats[*fade_coat_index(plan_)];
        std::vector<FadeSetting> origins;
        for (plan::Fade& fade : starting_points(*coat.fade, options_))
            origins.push_back({std::move(fade), coat.distance});
        total_trials_ = origins.size() +
                        std::min(origins.size(), kMaxSearches) * static_cast<std::size_t>(options_.trials);
        std::vector<SearchResult> results = run_searches(
            origins,
            [&](TuneSearch& search, const FadeSetting& origin) { return search.evaluate_start(origin); });
        std::vector<std::size_t> order(origins.size());
        std::iota(order.begin(), order.end(), std::size_t{0});
        std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
            return results[a].penalty < results[b].penalty;
        });
        order.resize(std::min(order.size(), kMaxSearches));
        std::vector<FadeSetting> promising;
        for (const std::size_t i : order) promising.push_back(origins[i]);
        for (SearchResult& result : run_searches(promising, [&](TuneSearch&search, const FadeSetting&origin) {
                 return search.find_best(origin, options_.trials);
             }))
            results.push_back(std::move(result));
        return *std::min_element(
            results.begin(), results.end(),
            [](const SearchResult& a, const SearchResult& b) { return a.penalty < b.penalty; });
    }

    [[nodiscard]] double penalty(const FadeSetting& setting) {
        budget_.count_trial();
        return objective_.evaluate(setting.apply_to(plan_, *fade_coat_index(plan_)), library_).penalty;
    }

    [[nodiscard]] const TuneObjective& objective() const { return objective_; }
    [[nodiscard]] const TuneBudget& budget() const { return budget_; }

private:
    template <class Search>
    std::vector<SearchResult> run_searches(const std::vector<FadeSetting>& origins,
                                           const Search& search_from) {
        std::vector<SearchResult> results(origins.size());
        parallel_for(origins.size(), [&](std::size_t i) {
            if (budget_.exhausted()) return;
            TuneSearch search(plan_, objective_, options_, library_, default_distance_mm_, budget_);
            results[i] = search_from(search, origins[i]);
            const std::lock_guard<std::mutex> lock(report_mutex_);
            const double done = std::min(1.0, budget_.trials() / static_cast<double>(total_trials_));
            options_.progress.report(done);
        });
        return results;
    }

    const plan::Plan& plan_;
    const TuneOptions& options_;
    plan::Library library_;
    TuneObjective objective_;
    TuneBudget budget_;
    double default_distance_mm_ = 150;
    std::size_t total_trials_ = 1;
    std::mutex report_mutex_;
};

}  // namespace

TuneResult tune_fade(const planner::ResolvedPlan& resolved, const TuneOptions& options,
                     const plan::Library& library) {
    FW_EXPECTS(resolved.job && fade_coat_index(*resolved.plan));
    const plan::Plan& plan = *resolved.plan;
    const std::size_t c = *fade_coat_index(plan);
    plan::Library own_library = library;
    Tuner tuner(plan, options, library, *resolved.job);
    const FadeSetting before{*plan.coats[c].fade, plan.coats[c].distance};
    const SearchResult best = tuner.best();

    TuneResult out;
    out.penalty_before = tuner.penalty(before);
    const bool better = best.penalty < out.penalty_before;
    const FadeSetting after = better ? best.setting : before;
    out.penalty_after = better ? best.penalty : out.penalty_before;
    out.stopped = tuner.budget().stopped();
    const AssessmentLine& line = tuner.objective().line();
    out.before = assess_method({}, plan, *resolved.job, line);
    planner::ResolvedPlan tuned = planner::resolve(after.apply_to(plan, c), own_library);
    FW_EXPECTS(tuned.job);  // evaluated before
    out.after =
        assess_method({FadeSource::tuned, std::nullopt}, std::move(*tuned.plan), std::move(*tuned.job), line);
    for (const Ablation& ablation : ablations(before, after))
        out.changes.push_back({ablation.vary, tuner.penalty(ablation.setting) - out.penalty_after});
    out.variability = operator_variability(out.after.job, line, options.seed, kOperatorRuns);
    out.trials = tuner.budget().trials();
    return out;
}

}  // namespace fadewright::assess
