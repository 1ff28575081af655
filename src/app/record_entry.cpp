#include "record_entry.h"

#include "fadewright/base/strings.h"
#include "fadewright/plan/plan_schema.h"
#include "outcome.h"

#include <fmt/core.h>

#include <algorithm>

namespace fadewright::app {
namespace {

using plan::LogEntry;

struct NameAndValue {
    std::string name, value;
};

Outcome unknown_name(const std::string& thing, const std::string& name,
                     const std::vector<std::string>& known) {
    const std::string_view close = closest_name(name, known);
    return usage_error(fmt::format("no {} is called '{}'", thing, name),
                       close.empty() ? fmt::format("known: {}", detail::join_text(known, ", "))
                                     : fmt::format("did you mean '{}'?", close));
}

class EntryParser {
public:
    EntryParser(const RecordRequest& request, const plan::Plan& plan, plan::Library& library)
        : request_(request), plan_(plan), library_(library) {}

    std::variant<LogEntry, Outcome> entry() {
        LogEntry entry;
        const bool complete = check_combination() && read_names(entry) && read_weights(entry) &&
                              read_batch_numbers(entry) && read_gun(entry);
        if (!complete) return failure_;
        entry.film = request_.film;
        if (request_.film) entry.at = measured_point();
        entry.temperature = request_.temperature;
        entry.humidity = request_.humidity;
        if (!request_.note.empty()) entry.note = request_.note;
        return entry;
    }

private:
    bool fail(Outcome outcome) {
        failure_ = std::move(outcome);
        return false;
    }

    [[nodiscard]] bool sets_gun() const {
        return !request_.gun.empty() || request_.flow || request_.speed || request_.distance ||
               request_.needle_opening || request_.air;
    }

    bool check_combination() {
        if (request_.mix.empty() && !(request_.weights.empty() && request_.batch_numbers.empty()))
            return fail(usage_error("weights or batch numbers without a mix", "add  --mix NAME"));
        if (request_.coat.empty() && (request_.film || sets_gun()))
            return fail(usage_error("film or gun settings without a coat", "add  --coat NAME"));
        if (request_.at && !request_.film)
            return fail(usage_error("--at without a film", "add  --film \"14 um\""));
        return true;
    }

    bool read_names(LogEntry& entry) {
        std::vector<std::string> mixes = mix_names(), coats;
        for (const plan::Coat& coat : plan_.coats) {
            coats.push_back(coat.name);
            mixes.push_back(coat.mix.value);
        }
        const auto known = [](const std::vector<std::string>& list, const std::string& name) {
            return name.empty() || std::find(list.begin(), list.end(), name) != list.end();
        };
        if (!known(mixes, request_.mix)) return fail(unknown_name("mix of the plan", request_.mix, mixes));
        if (!known(coats, request_.coat)) return fail(unknown_name("coat of the plan", request_.coat, coats));
        if (!request_.mix.empty()) entry.mix = Located<std::string>{request_.mix, {}};
        if (!request_.coat.empty()) entry.coat = Located<std::string>{request_.coat, {}};
        return true;
    }

    [[nodiscard]] std::vector<std::string> mix_names() const {
        std::vector<std::string> names;
        for (const Named<plan::Mix>& mix : plan_.mixes) names.push_back(mix.name);
        return names;
    }

    // "paint=12.3 g, other=4 g": the names are paints from the library or mixes of the plan.
    bool parse_pairs(const std::vector<std::string>& typed, const std::string& example,
                     std::vector<NameAndValue>& found) {
        std::vector<std::string> known = library_.names(plan::LibraryKind::paints);
        for (const std::string& mix : mix_names()) known.push_back(mix);
        for (const std::string_view list : typed)
            for (std::size_t begin = 0; begin <= list.size();) {
                const std::size_t end = std::min(list.find(',', begin), list.size());
                const std::string_view item = trim(list.substr(begin, end - begin));
                begin = end + 1;
                const std::size_t equals = item.find('=');
                if (equals == std::string::npos || trim(item.substr(equals + 1)).empty())
                    return fail(usage_error(fmt::format("cannot read '{}'", item), "write  " + example));
                found.push_back(
                    {std::string(trim(item.substr(0, equals))), std::string(trim(item.substr(equals + 1)))});
                if (std::find(known.begin(), known.end(), found.back().name) == known.end())
                    return fail(unknown_name("paint or mix", found.back().name, known));
            }
        return true;
    }

    bool read_weights(LogEntry& entry) {
        std::vector<NameAndValue> typed;
        if (!parse_pairs(request_.weights, "--weights \"paint=12.3 g, other=4.1 g\"", typed)) return false;
        for (const NameAndValue& pair : typed) {
            Diagnostics diagnostics;
            const auto source = std::make_shared<Source>("command line", pair.name + "=" + pair.value);
            const SourceSpan span{source, pair.name.size() + 1, source->text().size()};
            const auto grams = read_quantity(pair.value, span, units_of<Grams>(), diagnostics);
            if (!grams) return fail({Exit::usage_error, "", to_text(diagnostics)});
            if (*grams < 0 || *grams > 1e6)
                return fail(usage_error(fmt::format("{}={}: weight must be positive", pair.name, pair.value),
                                        "give grams from 0 to 1000000"));
            const auto same = std::find_if(entry.grams.begin(), entry.grams.end(),
                                           [&](const auto& p) { return p.name == pair.name; });
            if (same != entry.grams.end()) {
                same->value = same->value + Grams{*grams};  // added in two portions
            } else {
                entry.grams.push_back({pair.name, Grams{*grams}, {}});
            }
        }
        return true;
    }

    bool read_batch_numbers(LogEntry& entry) {
        std::vector<NameAndValue> typed;
        if (!parse_pairs(request_.batch_numbers, "--batch-numbers \"paint=B1207, other=77\"", typed))
            return false;
        for (const NameAndValue& pair : typed) {
            const auto same = std::find_if(entry.batches.begin(), entry.batches.end(),
                                           [&](const auto& b) { return b.name == pair.name; });
            if (same != entry.batches.end()) {
                same->value += " and " + pair.value;
            } else {
                entry.batches.push_back({pair.name, pair.value, {}});
            }
        }
        return true;
    }

    bool read_gun(LogEntry& entry) {
        if (!sets_gun()) return true;
        const std::vector<std::string> known = library_.names(plan::LibraryKind::guns);
        if (!request_.gun.empty() && std::find(known.begin(), known.end(), request_.gun) == known.end())
            return fail(unknown_name("gun", request_.gun, known));
        plan::GunSettings settings{std::nullopt,      request_.flow,           request_.speed,
                                   request_.distance, request_.needle_opening, request_.air};
        if (!request_.gun.empty()) settings.gun = request_.gun;
        entry.gun = settings;
        return true;
    }

    // The given point; default: centre of the panel.
    [[nodiscard]] plan::Point measured_point() const {
        if (request_.at) return {request_.at->x, request_.at->y};
        Diagnostics ignored;
        const auto job = plan::resolve_job(plan_, "", library_, ignored);
        return job ? plan::Point{0.5 * job->panel.width, 0.5 * job->panel.height} : plan::Point{};
    }

    const RecordRequest& request_;
    const plan::Plan& plan_;
    plan::Library& library_;
    Outcome failure_;
};

}  // namespace

bool has_entry(const RecordRequest& r) {
    return !(r.mix.empty() && r.weights.empty() && r.batch_numbers.empty() && r.coat.empty() &&
             r.gun.empty() && r.note.empty()) ||
           r.film || r.at || r.flow || r.speed || r.distance || r.needle_opening || r.air || r.temperature ||
           r.humidity;
}

std::variant<LogEntry, Outcome> parse_entry(const RecordRequest& request, const plan::Plan& plan,
                                            plan::Library& library) {
    return EntryParser(request, plan, library).entry();
}

}  // namespace fadewright::app
