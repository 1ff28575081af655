#include "desk.h"

#include "fadewright/plan/fade.h"

#include <algorithm>

namespace fadewright::serve {
namespace {

void make_ready(InWork& work) {
    Diagnostics of_fades;
    if (work.units) work.plan->units = *work.units;
    work.laid = plan::expanded_plan(*work.plan, work.shelf, of_fades);
    if (!work.laid) {  // tells everything that is wrong
        (void)plan::ready_job(*work.plan, work.text, work.shelf, work.diagnostics);
        return;
    }
    work.job = plan::ready_job(*work.laid, work.text, work.shelf, work.diagnostics);
    if (!work.job) work.laid.reset();
}

}  // namespace

// Coats that a fade became remember where it was written.
InWork::Coats InWork::laid_for(std::size_t coat) const {
    const std::size_t place = plan->coats[coat].place.begin;
    const auto of_it = [&](const plan::Coat& one) { return one.place.begin == place; };
    const auto first = std::find_if(laid->coats.begin(), laid->coats.end(), of_it);
    const auto last = std::find_if_not(first, laid->coats.end(), of_it);
    return {static_cast<std::size_t>(first - laid->coats.begin()),
            static_cast<std::size_t>(last - laid->coats.begin())};
}

std::size_t InWork::written_for(std::size_t laid_coat) const {
    for (std::size_t i = 0; i < plan->coats.size(); ++i)
        if (plan->coats[i].place.begin == laid->coats[laid_coat].place.begin) return i;
    return 0;
}

plan::Shelf Desk::shelf() const {
    const std::lock_guard lock(lock_);
    return shelf_;
}

std::shared_ptr<const InWork> Desk::work(const Asked& asked) {
    const std::string file = asked.text("file", "plan.toml"), text = asked.text("text");
    const std::optional<UnitSystem> units = asked_units(asked);
    {
        const std::lock_guard lock(lock_);
        const auto found = std::find_if(kept_.begin(), kept_.end(), [&](const auto& work) {
            return work->file == file && work->text == text && work->units == units;
        });
        if (found != kept_.end()) return *found;
    }
    auto work = std::make_shared<InWork>(
        InWork{file, text, units, std::make_shared<const Source>(file, text), {}, {}, {}, {}, shelf()});
    work->plan = plan::read_plan(work->source, work->diagnostics);
    if (work->plan) make_ready(*work);
    const std::lock_guard lock(lock_);
    if (work->job) shelf_ = work->shelf;
    kept_.push_front(work);
    if (kept_.size() > kKept) kept_.pop_back();
    return work;
}

std::optional<UnitSystem> asked_units(const Asked& asked) {
    const std::string units = asked.text("units");
    for (const auto& [system, name] : Names<UnitSystem>::list)
        if (name == units) return system;
    return std::nullopt;
}

Answer not_in_order(const InWork& work) {
    return answer(
        {{"refused", "the plan is not in order"}, {"diagnostics", Json::parse(to_json(work.diagnostics))}},
        422);
}

std::optional<colour::Light> light_for(const InWork& work, const std::string& name) {
    if (name.empty()) return work.job->light;
    Diagnostics unheard;
    plan::Shelf shelf = work.shelf;
    const colour::Light* light = shelf.light(name, unheard);
    return light ? std::optional(*light) : std::nullopt;
}

}  // namespace fadewright::serve
