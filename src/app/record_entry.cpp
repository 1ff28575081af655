#include "record_entry.h"

#include "fadewright/base/strings.h"
#include "fadewright/plan/plan_schema.h"
#include "outcome.h"

#include <fmt/core.h>

#include <algorithm>

namespace fadewright::app {
namespace {

using production::LogEntry;

struct NameAndValue {
    std::string name, value;
};

Failure unknown_name(const std::string& thing, const std::string& name,
                     const std::vector<std::string>& known) {
    const std::string_view close = closest_name(name, known);
    return usage_failure(fmt::format("no {} is called '{}'", thing, name),
                         close.empty() ? fmt::format("known: {}", detail::join_text(known, ", "))
                                       : fmt::format("did you mean '{}'?", close));
}

class EntryParser {
public:
    EntryParser(const RecordRequest& request, const PreparedPlan& prepared)
        : request_(request), plan_(*prepared.expanded), job_(*prepared.job), library_(prepared.library) {}

    Attempt<LogEntry> entry() {
        LogEntry entry;
        if (const Check done = check_combination(); !done) return done.error();
        for (const auto read : {&EntryParser::read_names, &EntryParser::read_weights,
                                &EntryParser::read_batch_numbers, &EntryParser::read_gun})
            if (const Check done = (this->*read)(entry); !done) return done.error();
        entry.film = request_.film;
        if (request_.film) entry.at = measured_point();
        entry.temperature = request_.temperature;
        entry.humidity = request_.humidity;
        if (!request_.note.empty()) entry.note = request_.note;
        return entry;
    }

private:
    [[nodiscard]] bool sets_gun() const {
        return !request_.gun.empty() || request_.flow || request_.speed || request_.distance ||
               request_.needle_opening || request_.air;
    }

    [[nodiscard]] Check check_combination() const {
        if (request_.mix.empty() && !(request_.weights.empty() && request_.batch_numbers.empty()))
            return option_failure("weights or batch numbers without a mix", "add  --mix NAME");
        if (request_.coat.empty() && (request_.film || sets_gun()))
            return option_failure("film or gun settings without a coat", "add  --coat NAME");
        if (request_.at && !request_.film)
            return option_failure("--at without a film", "add  --film \"14 um\"");
        return Success{};
    }

    Check read_names(LogEntry& entry) {
        std::vector<std::string> mixes = mix_names(), coats;
        for (const plan::Coat& coat : plan_.coats) {
            coats.push_back(coat.name);
            mixes.push_back(coat.mix.value);
        }
        const auto known = [](const std::vector<std::string>& list, const std::string& name) {
            return name.empty() || std::find(list.begin(), list.end(), name) != list.end();
        };
        if (!known(mixes, request_.mix)) return unknown_name("mix of the plan", request_.mix, mixes);
        if (!known(coats, request_.coat)) return unknown_name("coat of the plan", request_.coat, coats);
        if (!request_.mix.empty()) entry.mix = Located<std::string>{request_.mix, {}};
        if (!request_.coat.empty()) entry.coat = Located<std::string>{request_.coat, {}};
        return Success{};
    }

    [[nodiscard]] std::vector<std::string> mix_names() const {
        std::vector<std::string> names;
        for (const Named<plan::Mix>& mix : plan_.mixes) names.push_back(mix.name);
        return names;
    }

    // "paint=12.3 g, other=4 g": the names are paints from the library or mixes of the plan.
    Attempt<std::vector<NameAndValue>> parse_pairs(const std::vector<std::string>& typed,
                                                   const std::string& example) {
        std::vector<NameAndValue> found;
        std::vector<std::string> known = library_.names(plan::LibraryKind::paints);
        for (const std::string& mix : mix_names()) known.push_back(mix);
        for (const std::string_view list : typed)
            for (std::size_t begin = 0; begin <= list.size();) {
                const std::size_t end = std::min(list.find(',', begin), list.size());
                const std::string_view item = trim(list.substr(begin, end - begin));
                begin = end + 1;
                const std::size_t equals = item.find('=');
                if (equals == std::string::npos || trim(item.substr(equals + 1)).empty())
                    return option_failure(fmt::format("cannot read '{}'", item), "write  " + example);
                found.push_back(
                    {std::string(trim(item.substr(0, equals))), std::string(trim(item.substr(equals + 1)))});
                if (std::find(known.begin(), known.end(), found.back().name) == known.end())
                    return unknown_name("paint or mix", found.back().name, known);
            }
        return found;
    }

    Check read_weights(LogEntry& entry) {
        const auto typed = parse_pairs(request_.weights, "--weights \"paint=12.3 g, other=4.1 g\"");
        if (!typed) return typed.error();
        for (const NameAndValue& pair : typed.value()) {
            Diagnostics diagnostics;
            const auto source = std::make_shared<Source>("command line", pair.name + "=" + pair.value);
            const SourceSpan span{source, pair.name.size() + 1, source->text().size()};
            const auto grams = read_quantity(pair.value, span, units_of<Grams>(), diagnostics);
            if (!grams) {
                Failure failure = data_failure(diagnostics);
                failure.exit = Exit::usage_error;
                return failure;
            }
            if (*grams < 0 || *grams > 1e6)
                return usage_failure(fmt::format("{}={}: weight must be positive", pair.name, pair.value),
                                     "give grams from 0 to 1000000");
            const auto same = std::find_if(entry.grams.begin(), entry.grams.end(),
                                           [&](const auto& p) { return p.name == pair.name; });
            if (same != entry.grams.end()) {
                same->value = same->value + Grams{*grams};  // added in two portions
            } else {
                entry.grams.push_back({pair.name, Grams{*grams}, {}});
            }
        }
        return Success{};
    }

    Check read_batch_numbers(LogEntry& entry) {
        const auto typed = parse_pairs(request_.batch_numbers, "--batch-numbers \"paint=B1207, other=77\"");
        if (!typed) return typed.error();
        for (const NameAndValue& pair : typed.value()) {
            const auto same = std::find_if(entry.batches.begin(), entry.batches.end(),
                                           [&](const auto& b) { return b.name == pair.name; });
            if (same != entry.batches.end()) {
                same->value += " and " + pair.value;
            } else {
                entry.batches.push_back({pair.name, pair.value, {}});
            }
        }
        return Success{};
    }

    Check read_gun(LogEntry& entry) {
        if (!sets_gun()) return Success{};
        const std::vector<std::string> known = library_.names(plan::LibraryKind::guns);
        if (!request_.gun.empty() && std::find(known.begin(), known.end(), request_.gun) == known.end())
            return unknown_name("gun", request_.gun, known);
        production::GunSettings settings{std::nullopt,      request_.flow,           request_.speed,
                                         request_.distance, request_.needle_opening, request_.air};
        if (!request_.gun.empty()) settings.gun = request_.gun;
        entry.gun = settings;
        return Success{};
    }

    // The given point; default: centre of the panel.
    [[nodiscard]] plan::Point measured_point() const {
        if (request_.at) return {request_.at->x, request_.at->y};
        return {0.5 * job_.panel.width, 0.5 * job_.panel.height};
    }

    const RecordRequest& request_;
    const plan::Plan& plan_;  // with coats and passes instead of fades
    const plan::Job& job_;
    const plan::Library& library_;
};

}  // namespace

bool has_entry(const RecordRequest& r) {
    return !(r.mix.empty() && r.weights.empty() && r.batch_numbers.empty() && r.coat.empty() &&
             r.gun.empty() && r.note.empty()) ||
           r.film || r.at || r.flow || r.speed || r.distance || r.needle_opening || r.air || r.temperature ||
           r.humidity;
}

Attempt<LogEntry> parse_entry(const RecordRequest& request, const PreparedPlan& prepared) {
    return EntryParser(request, prepared).entry();
}

}  // namespace fadewright::app
