#include "tune_search.h"

#include <nlopt.hpp>

#include <cmath>
#include <map>
#include <utility>

namespace fadewright::assess {
namespace {

constexpr int kWidthTrials = 2;          // that correct the width before the search
constexpr double kWidthIsRight = 0.02;   // of the target
constexpr double kFirstStep = 0.25;      // of the range of a parameter
constexpr int kEvaluationsPerTrial = 6;  // rounding makes many evaluations equal

}  // namespace

bool TuneBudget::exhausted() {
    const std::chrono::duration<double> spent = std::chrono::steady_clock::now() - begin_;
    if (spent.count() > options_.time_limit.value || options_.progress.is_cancelled()) stopped_ = true;
    return stopped_;
}

// The objective for NLopt: settings are rounded as a shop would, and each is evaluated only once.
struct TuneSearch::SearchContext {
    TuneSearch& search;
    const FadeSetting& origin;
    const std::vector<TuneParameter>& parameters;
    SearchResult& result;
    int trials_left;
    std::map<std::vector<double>, double> known_penalties;

    static double objective(const std::vector<double>& values, std::vector<double>&, void* data) {
        auto& self = *static_cast<SearchContext*>(data);
        std::vector<double> rounded;
        for (std::size_t i = 0; i < values.size(); ++i)
            rounded.push_back(self.parameters[i].round_value(values[i]));
        const auto existing = self.known_penalties.find(rounded);
        if (existing != self.known_penalties.end()) return existing->second;
        if (self.trials_left-- <= 0 || self.search.budget_.exhausted()) throw nlopt::forced_stop();
        const FadeSetting setting = apply_values(self.origin, self.parameters, rounded);
        const double outcome = self.search.evaluate(setting).penalty;
        self.known_penalties.emplace(std::move(rounded), outcome);
        if (outcome < self.result.penalty) self.result = {setting, outcome};
        return outcome;
    }
};

TuneSearch::TuneSearch(const plan::Plan& plan, const TuneObjective& objective, const TuneOptions& options,
                       plan::Library library, double default_distance_mm, TuneBudget& budget)
    : plan_(plan),
      objective_(objective),
      options_(options),
      library_(std::move(library)),
      default_distance_mm_(default_distance_mm),
      coat_(fade_coat_index(plan).value()),
      budget_(budget) {}

TuneObjective::Evaluation TuneSearch::evaluate(const FadeSetting& setting) {
    budget_.count_trial();
    return objective_.evaluate(setting.apply_to(plan_, coat_), library_);
}

std::vector<double> TuneSearch::fit_width(const FadeSetting& origin,
                                          const std::vector<TuneParameter>& parameters,
                                          SearchResult& result) {
    std::vector<double> values;
    for (const TuneParameter& parameter : parameters)
        values.push_back(parameter.round_value(parameter.start));
    for (int i = 0; i <= kWidthTrials; ++i) {
        const FadeSetting setting = apply_values(origin, parameters, values);
        const TuneObjective::Evaluation outcome = evaluate(setting);
        if (outcome.penalty < result.penalty) result = {setting, outcome.penalty};
        if (!outcome.width || !objective_.line().target_width || budget_.exhausted()) break;
        const double wider = *objective_.line().target_width / *outcome.width;
        bool changed = false;
        for (std::size_t k = 0; k < parameters.size(); ++k) {
            if (parameters[k].vary != Vary::width) continue;
            const double next = parameters[k].round_value(values[k] * wider);
            changed = next != values[k] && std::abs(wider - 1) > kWidthIsRight;
            if (changed) values[k] = next;
        }
        if (!changed) break;
    }
    return values;
}

SearchResult TuneSearch::evaluate_start(const FadeSetting& origin) {
    SearchResult result{origin, TuneObjective::kInfeasible};
    (void)fit_width(origin, tune_parameters(origin, default_distance_mm_, options_), result);
    return result;
}

SearchResult TuneSearch::find_best(const FadeSetting& origin, int trials) {
    const std::vector<TuneParameter> parameters = tune_parameters(origin, default_distance_mm_, options_);
    SearchResult result{origin, TuneObjective::kInfeasible};
    std::vector<double> values = fit_width(origin, parameters, result);
    if (parameters.empty()) return result;
    SearchContext context{*this, origin, parameters, result, trials, {}};
    nlopt::opt search(nlopt::LN_SBPLX, static_cast<unsigned>(parameters.size()));
    std::vector<double> lower, upper, step;
    for (const TuneParameter& parameter : parameters) {
        lower.push_back(parameter.min);
        upper.push_back(parameter.max);
        step.push_back(std::max(parameter.step, kFirstStep * (parameter.max - parameter.min)));
    }
    search.set_lower_bounds(lower);
    search.set_upper_bounds(upper);
    search.set_initial_step(step);
    search.set_maxeval(kEvaluationsPerTrial * trials);
    search.set_min_objective(&SearchContext::objective, &context);
    double value = 0;
    try {
        search.optimize(values, value);
    } catch (const nlopt::forced_stop&) {
    } catch (const nlopt::roundoff_limited&) {
    }
    return result;
}

}  // namespace fadewright::assess
