#include "fadewright/plan/recorded.h"

#include "mixes.h"

#include <fmt/core.h>

#include <algorithm>

namespace fadewright::plan {
namespace {

class Pouring {
public:
    Pouring(const RecordFile& record, const Plan& plan, Shelf& shelf, std::vector<std::string>& remarks)
        : record_(record), plan_(plan), shelf_(shelf), remarks_(remarks) {}

    std::optional<RecordedMix> mix(const std::string& name) {
        const RecordEntry* last = nullptr;
        for (const RecordEntry& entry : record_.entries)
            if (entry.mix && entry.mix->value == name && weight(entry) > 0) last = &entry;
        if (!last || std::find(open_.begin(), open_.end(), name) != open_.end()) return std::nullopt;
        open_.push_back(name);
        RecordedMix out{last->date.value, {}, false};
        bool known = true;
        for (const Named<Grams>& poured : last->poured)
            if (poured.value.value > 0) known = pour(name, poured, out.parts) && known;
        open_.pop_back();
        if (!known) return std::nullopt;
        thin_as_planned(name, out);
        return out;
    }

private:
    static double weight(const RecordEntry& entry) {
        double sum = 0;
        for (const Named<Grams>& poured : entry.poured) sum += poured.value.value;
        return sum;
    }

    bool is_mix(const std::string& name) const {
        return std::any_of(plan_.mixes.begin(), plan_.mixes.end(),
                           [&](const Named<Mix>& mix) { return mix.name == name; });
    }

    std::optional<std::vector<paint::Part>> planned(const std::string& name) {
        Diagnostics unsaid;
        return parts_of(plan_, {name, {}}, shelf_, unsaid);
    }

    bool pour(const std::string& mix_name, const Named<Grams>& poured, std::vector<paint::Part>& parts) {
        Diagnostics unsaid;
        if (!is_mix(poured.name)) {
            if (const paint::Paint* paint = shelf_.paint(poured.name, unsaid)) {
                add(parts, paint, paint::volume_of(*paint, poured.value).value);
                return true;
            }
        } else if (poured.name != mix_name) {
            const std::optional<RecordedMix> recorded = mix(poured.name);
            const auto inner = recorded ? recorded->parts : planned(poured.name);
            if (inner) {
                const double wanted = poured.value.value / paint::mixed(*inner).wet_density.value;
                for (const paint::Part& part : *inner)
                    add(parts, part.paint, part.parts * wanted / total(*inner));
                return true;
            }
        }
        remarks_.push_back(
            fmt::format("'{}' was poured into '{}' but is not on the shelf: the mix is taken as planned",
                        poured.name, mix_name));
        return false;
    }

    void thin_as_planned(const std::string& name, RecordedMix& out) {
        const auto recipe = planned(name);
        if (!recipe || std::any_of(out.parts.begin(), out.parts.end(), thins)) return;
        double paint = 0;
        for (const paint::Part& part : *recipe) paint += thins(part) ? 0 : part.parts;
        const double poured = total(out.parts);
        for (const paint::Part& part : *recipe) {
            if (!thins(part) || part.parts <= 0 || paint <= 0) continue;
            add(out.parts, part.paint, poured * part.parts / paint);
            out.reducer_as_planned = true;
        }
    }

    const RecordFile& record_;
    const Plan& plan_;
    Shelf& shelf_;
    std::vector<std::string>& remarks_;
    std::vector<std::string> open_;  // the mixes being worked out, outermost first
};

}  // namespace

std::optional<RecordedMix> recorded_mix(const RecordFile& record, const Plan& plan, const std::string& mix,
                                        Shelf& shelf, std::vector<std::string>& remarks) {
    return Pouring(record, plan, shelf, remarks).mix(mix);
}

std::optional<RecordedFilm> recorded_film(const RecordFile& record, const Job& job, const ReadyCoat& coat) {
    RecordedFilm out{0, 0};
    for (const RecordEntry& entry : record.entries) {
        if (!entry.coat || entry.coat->value != coat.name || !entry.film || !entry.at) continue;
        if (entry.plan.value != job.hash) continue;
        const double planned = coat.film_um(entry.at->x.value, entry.at->y.value);
        if (planned < kLeastCompared.value) continue;
        out.of_planned += entry.film->value / planned;
        ++out.readings;
    }
    if (out.readings == 0) return std::nullopt;
    out.of_planned /= out.readings;
    return out;
}

const KeptPlan* last_worked_by(const RecordFile& record) {
    const RecordEntry* last = nullptr;
    for (const RecordEntry& entry : record.entries)
        if (entry.mix || entry.coat || !last || !(last->mix || last->coat)) last = &entry;
    return last ? kept_plan(record, last->plan.value) : nullptr;
}

}  // namespace fadewright::plan
