#include "plan_cache.h"

#include "fadewright/plan/resolve.h"

#include <algorithm>

namespace fadewright::serve {
// The expanded coats of a fade carry its position in the text.
PreparedPlan::CoatRange PreparedPlan::expanded_coats(std::size_t coat) const {
    const std::size_t position = plan->coats[coat].span.begin;
    const auto belongs = [&](const plan::Coat& candidate) { return candidate.span.begin == position; };
    const auto first = std::find_if(expanded->coats.begin(), expanded->coats.end(), belongs);
    const auto last = std::find_if_not(first, expanded->coats.end(), belongs);
    return {static_cast<std::size_t>(first - expanded->coats.begin()),
            static_cast<std::size_t>(last - expanded->coats.begin())};
}

std::size_t PreparedPlan::plan_coat(std::size_t expanded_coat) const {
    for (std::size_t i = 0; i < plan->coats.size(); ++i)
        if (plan->coats[i].span.begin == expanded->coats[expanded_coat].span.begin) return i;
    return 0;
}

plan::Library PlanCache::library() const {
    const std::lock_guard lock(mutex_);
    return library_;
}

std::shared_ptr<const PreparedPlan> PlanCache::prepare(const ApiRequest& api_request) {
    const std::string file = api_request.text("file", "plan.toml"), text = api_request.text("text");
    const std::optional<UnitSystem> units = requested_units(api_request);
    {
        const std::lock_guard lock(mutex_);
        const auto found = std::find_if(plans_.begin(), plans_.end(), [&](const auto& candidate) {
            return candidate->file == file && candidate->text == text && candidate->units == units;
        });
        if (found != plans_.end()) return *found;
    }
    auto prepared = std::make_shared<PreparedPlan>(PreparedPlan{
        file, text, units, std::make_shared<const Source>(file, text), {}, {}, {}, {}, library()});
    plan::ResolvedPlan resolved = plan::resolve(prepared->source, prepared->library, units);
    prepared->diagnostics = std::move(resolved.diagnostics);
    prepared->plan = std::move(resolved.plan);
    prepared->expanded = std::move(resolved.expanded);
    prepared->job = std::move(resolved.job);
    const std::lock_guard lock(mutex_);
    if (prepared->job) library_ = prepared->library;
    plans_.push_front(prepared);
    if (plans_.size() > kMaxPlans) plans_.pop_back();
    return prepared;
}

std::optional<UnitSystem> requested_units(const ApiRequest& api_request) {
    const std::string units = api_request.text("units");
    for (const auto& [system, name] : Names<UnitSystem>::list)
        if (name == units) return system;
    return std::nullopt;
}

ApiResponse invalid_plan_response(const PreparedPlan& prepared) {
    return json_response(
        {{"error", "the plan has errors"}, {"diagnostics", Json::parse(to_json(prepared.diagnostics))}}, 422);
}

std::optional<colour::Illuminant> light_for(const PreparedPlan& prepared, const std::string& name) {
    if (name.empty()) return prepared.job->light;
    Diagnostics ignored;
    plan::Library library = prepared.library;
    const colour::Illuminant* light = library.light(name, ignored);
    return light ? std::optional(*light) : std::nullopt;
}

}  // namespace fadewright::serve
