#include "record_entry.h"

#include "fadewright/plan/plan_schema.h"
#include "outcome.h"

#include <fmt/core.h>

#include <algorithm>

namespace fadewright::app {
namespace {

using plan::RecordEntry;

std::string trimmed(const std::string& text) {
    const std::size_t begin = text.find_first_not_of(' ');
    if (begin == std::string::npos) return "";
    return text.substr(begin, text.find_last_not_of(' ') + 1 - begin);
}

struct TypedPair {
    std::string name, value;
};

Outcome no_such(const std::string& thing, const std::string& name, const std::vector<std::string>& known) {
    const std::string_view close = closest_name(name, known);
    return wrong_command(fmt::format("no {} is called '{}'", thing, name),
                         close.empty() ? fmt::format("there are: {}", reading::joined(known, ", "))
                                       : fmt::format("did you mean '{}'?", close));
}

class Typed {
public:
    Typed(const RecordRequest& request, const plan::Plan& plan, plan::Shelf& shelf)
        : request_(request), plan_(plan), shelf_(shelf) {}

    std::variant<RecordEntry, Outcome> entry() {
        RecordEntry entry;
        const bool taken = belongs() && names(entry) && pours(entry) && bottles(entry) && gun(entry);
        if (!taken) return wrong_;
        entry.film = request_.film;
        if (request_.film) entry.at = place_read();
        entry.temperature = request_.temperature;
        entry.humidity = request_.humidity;
        if (!request_.note.empty()) entry.note = request_.note;
        return entry;
    }

private:
    bool wrong(Outcome outcome) {
        wrong_ = std::move(outcome);
        return false;
    }

    [[nodiscard]] bool sets_gun() const {
        return !request_.gun.empty() || request_.flow || request_.speed || request_.distance ||
               request_.needle || request_.air;
    }

    bool belongs() {
        if (request_.mix.empty() && !(request_.grams.empty() && request_.bottles.empty()))
            return wrong(wrong_command("paints are given but no mix", "add  --mix NAME"));
        if (request_.coat.empty() && (request_.film || sets_gun()))
            return wrong(wrong_command("a film or the gun is given but no coat", "add  --coat NAME"));
        if (request_.at && !request_.film)
            return wrong(wrong_command("a place is given but no film", "add  --film \"14 um\""));
        return true;
    }

    bool names(RecordEntry& entry) {
        std::vector<std::string> mixes = mix_names(), coats;
        for (const plan::Coat& coat : plan_.coats) {
            coats.push_back(coat.name);
            mixes.push_back(coat.mix.value);
        }
        const auto known = [](const std::vector<std::string>& list, const std::string& name) {
            return name.empty() || std::find(list.begin(), list.end(), name) != list.end();
        };
        if (!known(mixes, request_.mix)) return wrong(no_such("mix of the plan", request_.mix, mixes));
        if (!known(coats, request_.coat)) return wrong(no_such("coat of the plan", request_.coat, coats));
        if (!request_.mix.empty()) entry.mix = Placed<std::string>{request_.mix, {}};
        if (!request_.coat.empty()) entry.coat = Placed<std::string>{request_.coat, {}};
        return true;
    }

    [[nodiscard]] std::vector<std::string> mix_names() const {
        std::vector<std::string> names;
        for (const Named<plan::Mix>& mix : plan_.mixes) names.push_back(mix.name);
        return names;
    }

    // "paint=12.3 g, other=4 g": pieces whose names are paints of the shelf or mixes of the plan.
    bool pairs(const std::vector<std::string>& typed, const std::string& example,
               std::vector<TypedPair>& found) {
        std::vector<std::string> known = shelf_.names(plan::ShelfKind::paints);
        for (const std::string& mix : mix_names()) known.push_back(mix);
        for (const std::string& list : typed)
            for (std::size_t begin = 0; begin <= list.size();) {
                const std::size_t end = std::min(list.find(',', begin), list.size());
                const std::string piece = trimmed(list.substr(begin, end - begin));
                begin = end + 1;
                const std::size_t equals = piece.find('=');
                if (equals == std::string::npos || trimmed(piece.substr(equals + 1)).empty())
                    return wrong(wrong_command(fmt::format("cannot read '{}'", piece), "write  " + example));
                found.push_back({trimmed(piece.substr(0, equals)), trimmed(piece.substr(equals + 1))});
                if (std::find(known.begin(), known.end(), found.back().name) == known.end())
                    return wrong(no_such("paint of the shelf or mix of the plan", found.back().name, known));
            }
        return true;
    }

    bool pours(RecordEntry& entry) {
        std::vector<TypedPair> typed;
        if (!pairs(request_.grams, "--grams \"paint=12.3 g, other=4.1 g\"", typed)) return false;
        for (const TypedPair& one : typed) {
            Diagnostics diagnostics;
            const auto source = std::make_shared<Source>("command line", one.name + "=" + one.value);
            const Place place{source, one.name.size() + 1, source->text().size()};
            const auto grams = read_quantity(one.value, place, units_of<Grams>(), diagnostics);
            if (!grams) return wrong({Exit::wrong_command, "", to_text(diagnostics)});
            if (*grams < 0 || *grams > 1e6)
                return wrong(wrong_command(fmt::format("nobody pours {} of '{}'", one.value, one.name),
                                           "write what the scale showed"));
            const auto same = std::find_if(entry.poured.begin(), entry.poured.end(),
                                           [&](const auto& p) { return p.name == one.name; });
            if (same != entry.poured.end()) {
                same->value = same->value + Grams{*grams};  // poured in two goes
            } else {
                entry.poured.push_back({one.name, Grams{*grams}, {}});
            }
        }
        return true;
    }

    bool bottles(RecordEntry& entry) {
        std::vector<TypedPair> typed;
        if (!pairs(request_.bottles, "--bottles \"paint=B1207, other=77\"", typed)) return false;
        for (const TypedPair& one : typed) {
            const auto same = std::find_if(entry.bottles.begin(), entry.bottles.end(),
                                           [&](const auto& b) { return b.name == one.name; });
            if (same != entry.bottles.end()) {
                same->value += " and " + one.value;
            } else {
                entry.bottles.push_back({one.name, one.value, {}});
            }
        }
        return true;
    }

    bool gun(RecordEntry& entry) {
        if (!sets_gun()) return true;
        const std::vector<std::string> known = shelf_.names(plan::ShelfKind::guns);
        if (!request_.gun.empty() && std::find(known.begin(), known.end(), request_.gun) == known.end())
            return wrong(no_such("gun of the shelf", request_.gun, known));
        plan::GunSet set{std::nullopt,      request_.flow,   request_.speed,
                         request_.distance, request_.needle, request_.air};
        if (!request_.gun.empty()) set.gun = request_.gun;
        entry.gun = set;
        return true;
    }

    // Where it was said, else the middle of the panel.
    [[nodiscard]] plan::Point place_read() const {
        if (request_.at) return {request_.at->x, request_.at->y};
        Diagnostics unsaid;
        const auto job = plan::ready_job(plan_, "", shelf_, unsaid);
        return job ? plan::Point{0.5 * job->panel.width, 0.5 * job->panel.height} : plan::Point{};
    }

    const RecordRequest& request_;
    const plan::Plan& plan_;
    plan::Shelf& shelf_;
    Outcome wrong_;
};

}  // namespace

bool says_what_was_done(const RecordRequest& r) {
    return !(r.mix.empty() && r.grams.empty() && r.bottles.empty() && r.coat.empty() && r.gun.empty() &&
             r.note.empty()) ||
           r.film || r.at || r.flow || r.speed || r.distance || r.needle || r.air || r.temperature ||
           r.humidity;
}

std::variant<RecordEntry, Outcome> entry_of(const RecordRequest& request, const plan::Plan& plan,
                                            plan::Shelf& shelf) {
    return Typed(request, plan, shelf).entry();
}

}  // namespace fadewright::app
