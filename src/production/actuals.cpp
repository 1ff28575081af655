#include "fadewright/production/actuals.h"

#include "fadewright/plan/mix_resolver.h"

#include <algorithm>

namespace fadewright::production {
namespace {

class ActualMixResolver {
public:
    ActualMixResolver(const JobLog& job_log, const plan::Plan& plan, plan::Library& library,
                      std::vector<UnknownPart>& unknown)
        : log_(job_log), plan_(plan), library_(library), unknown_(unknown) {}

    std::optional<ActualMix> resolve(const std::string& name) {
        const LogEntry* last = nullptr;
        for (const LogEntry& entry : log_.entries)
            if (entry.mix && entry.mix->value == name && weight(entry) > 0) last = &entry;
        if (!last || std::find(in_progress_.begin(), in_progress_.end(), name) != in_progress_.end())
            return std::nullopt;
        in_progress_.push_back(name);
        ActualMix out{last->date.value, {}, false};
        bool known = true;
        for (const Named<Grams>& entry_part : last->grams)
            if (entry_part.value.value > 0) known = add_weighed(name, entry_part, out.parts) && known;
        in_progress_.pop_back();
        if (!known) return std::nullopt;
        add_planned_reducer(name, out);
        return out;
    }

private:
    static double weight(const LogEntry& entry) {
        double sum = 0;
        for (const Named<Grams>& entry_part : entry.grams) sum += entry_part.value.value;
        return sum;
    }

    bool is_mix(const std::string& name) const {
        return std::any_of(plan_.mixes.begin(), plan_.mixes.end(),
                           [&](const Named<plan::Mix>& mix) { return mix.name == name; });
    }

    std::optional<std::vector<paint::Part>> planned_parts(const std::string& name) {
        return plan::parts_of(plan_, {name, {}}, library_);
    }

    bool add_weighed(const std::string& mix_name, const Named<Grams>& entry_part,
                     std::vector<paint::Part>& parts) {
        if (!is_mix(entry_part.name)) {
            if (const paint::Paint* paint = library_.paint(entry_part.name)) {
                plan::add_to_parts(parts, paint, paint::volume_of(*paint, entry_part.value).value);
                return true;
            }
        } else if (entry_part.name != mix_name) {
            const std::optional<ActualMix> recorded = resolve(entry_part.name);
            const auto sub_parts = recorded ? recorded->parts : planned_parts(entry_part.name);
            if (sub_parts) {
                const double volume =
                    entry_part.value.value / paint::mix_paints(*sub_parts).wet_density.value;
                for (const paint::Part& part : *sub_parts)
                    plan::add_to_parts(parts, part.paint,
                                       part.parts * volume / plan::total_volume(*sub_parts));
                return true;
            }
        }
        unknown_.push_back({entry_part.name, mix_name});
        return false;
    }

    void add_planned_reducer(const std::string& name, ActualMix& out) {
        const auto planned = planned_parts(name);
        if (!planned || std::any_of(out.parts.begin(), out.parts.end(), plan::is_reducer)) return;
        double paint = 0;
        for (const paint::Part& part : *planned) paint += plan::is_reducer(part) ? 0 : part.parts;
        const double entry_part = plan::total_volume(out.parts);
        for (const paint::Part& part : *planned) {
            if (!plan::is_reducer(part) || part.parts <= 0 || paint <= 0) continue;
            plan::add_to_parts(out.parts, part.paint, entry_part * part.parts / paint);
            out.reducer_as_planned = true;
        }
    }

    const JobLog& log_;
    const plan::Plan& plan_;
    plan::Library& library_;
    std::vector<UnknownPart>& unknown_;
    std::vector<std::string> in_progress_;  // mixes being resolved, outermost first
};

}  // namespace

std::optional<ActualMix> actual_mix(const JobLog& job_log, const plan::Plan& plan, const std::string& mix,
                                    plan::Library& library, std::vector<UnknownPart>& unknown) {
    return ActualMixResolver(job_log, plan, library, unknown).resolve(mix);
}

std::optional<ActualFilm> actual_film(const JobLog& job_log, const plan::Job& job,
                                      const plan::ResolvedCoat& coat) {
    ActualFilm out{0, 0};
    for (const LogEntry& entry : job_log.entries) {
        if (!entry.coat || entry.coat->value != coat.name || !entry.film || !entry.at) continue;
        if (entry.plan.value != job.hash) continue;
        const double planned = coat.film_um(entry.at->x.value, entry.at->y.value);
        if (planned < kMinComparedFilm.value) continue;
        out.share_of_planned += entry.film->value / planned;
        ++out.readings;
    }
    if (out.readings == 0) return std::nullopt;
    out.share_of_planned /= out.readings;
    return out;
}

const PlanSnapshot* last_used_plan(const JobLog& job_log) {
    const LogEntry* last = nullptr;
    for (const LogEntry& entry : job_log.entries)
        if (entry.mix || entry.coat || !last || !(last->mix || last->coat)) last = &entry;
    return last ? find_snapshot(job_log, last->plan.value) : nullptr;
}

}  // namespace fadewright::production
