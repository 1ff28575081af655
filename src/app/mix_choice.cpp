#include "mix_choice.h"

#include "embedded.h"
#include "fadewright/app/requests_schema.h"
#include "fadewright/plan/plan_schema.h"
#include "outcome.h"

#include <fmt/core.h>

#include <algorithm>
#include <charconv>

namespace fadewright::app {
namespace {

struct TypedPart {
    std::string name;
    double amount = 1;
    std::string unit;  // "", "%" or "g"
};

Place typed_place(const std::string& text) {
    return {std::make_shared<Source>("command line", text), 0, text.size()};
}

// "plum", "plum=2", "plum=25%", "plum=12.5g"
std::optional<TypedPart> typed_part(const std::string& text, Diagnostics& diagnostics) {
    const std::size_t equals = text.find('=');
    TypedPart part{text.substr(0, equals), 1, ""};
    if (equals == std::string::npos) return part;
    const char* begin = text.data() + equals + 1;
    const auto [end, fault] = std::from_chars(begin, text.data() + text.size(), part.amount);
    part.unit = std::string(end, static_cast<std::size_t>(text.data() + text.size() - end));
    part.unit.erase(0, std::min(part.unit.find_first_not_of(' '), part.unit.size()));
    if (fault == std::errc{} && part.amount >= 0 && part.amount <= 1e6 &&
        (part.unit.empty() || part.unit == "%" || part.unit == "g"))
        return part;
    diagnostics.error("P010", typed_place(text), fmt::format("cannot read the part '{}'", text),
                      "write paint=number for parts by volume, paint=25% or paint=12.5g");
    return std::nullopt;
}

// The mix typed on the command line.
std::optional<plan::Mix> typed_mix(const MixChoice& choice, Diagnostics& diagnostics) {
    plan::Mix mix;
    std::string unit;
    double sum = 0;
    for (const std::string& text : choice.parts) {
        const std::optional<TypedPart> part = typed_part(text, diagnostics);
        if (!part) continue;
        if (!mix.parts.empty() && part->unit != unit)
            diagnostics.error("P010", typed_place(text), "parts, per cent and grams cannot be mixed",
                              "give every part in the same way");
        unit = part->unit;
        sum += part->amount;
        mix.parts.push_back({part->name, part->amount, typed_place(text)});
    }
    if (unit == "%" && std::abs(sum - 100) > 0.05 && !diagnostics.has_errors())
        diagnostics.error("P010", typed_place(reading::joined(choice.parts, " ")),
                          fmt::format("the shares add up to {:.4g} %", sum), "make them add up to 100 %");
    if (mix.parts.size() > 12)
        diagnostics.error("T024", typed_place(choice.parts[12]), "more than 12 paints in one mix",
                          "a mix may have 1 to 12 parts");
    mix.by = unit == "g" ? plan::PartsBy::weight : plan::PartsBy::volume;
    mix.extend = choice.extend.value_or(0);
    mix.reduce = choice.reduce.value_or(Share{});
    mix.white_cut = choice.white_cut.value_or(Share{});
    return diagnostics.has_errors() ? std::nullopt : std::optional(mix);
}

bool take_plan(const MixChoice& choice, ChosenMix& chosen, Outcome& outcome) {
    Result<std::shared_ptr<const Source>> source = read_source(choice.plan);
    if (!source) {
        outcome = refused(source.refusal());
        return false;
    }
    Diagnostics diagnostics;
    const std::optional<UnitSystem> units = answer_of(choice).shown_in();
    const std::optional<plan::Plan> plan = plan::read_plan(source.value(), diagnostics, units);
    std::optional<plan::Job> job;
    if (plan) job = plan::ready_job(*plan, source.value()->text(), chosen.shelf, diagnostics);
    if (!job) {
        outcome = wrong_data(diagnostics, choice.json);
        return false;
    }
    chosen.plan = *plan;
    chosen.ground = job->ground;
    chosen.ground_name = job->ground_name;
    chosen.light = job->light;
    chosen.units = units.value_or(plan->units);
    return true;
}

template <class Find>
auto named_or_wrong(const std::string& name, plan::ShelfKind kind, ChosenMix& chosen, Outcome& outcome,
                    const Find& find) -> decltype(find()) {
    const auto found = find();
    if (!found) {
        std::string thing(plan::folder_of(kind));
        thing.pop_back();
        outcome =
            wrong_command(fmt::format("no {} is called '{}'", thing, name),
                          fmt::format("{}s: {}", thing, reading::joined(chosen.shelf.names(kind), ", ")));
    }
    return found;
}

bool take_ground_and_light(const MixChoice& choice, ChosenMix& chosen, Outcome& outcome) {
    Diagnostics diagnostics;
    if (!choice.ground.empty() || choice.plan.empty()) {
        const std::string name = choice.ground.empty() ? "grey-sealer" : choice.ground;
        const auto ground = named_or_wrong(name, plan::ShelfKind::grounds, chosen, outcome,
                                           [&] { return chosen.shelf.ground(name, diagnostics); });
        if (!ground) return false;
        chosen.ground = ground->inside;
        chosen.ground_name = name;
    }
    if (!choice.light.empty() || choice.plan.empty()) {
        const std::string name = choice.light.empty() ? "day" : choice.light;
        const auto light = named_or_wrong(name, plan::ShelfKind::lights, chosen, outcome,
                                          [&] { return chosen.shelf.light(name, diagnostics); });
        if (!light) return false;
        chosen.light = *light;
    }
    return true;
}

bool take_mix_of_plan(const MixChoice& choice, ChosenMix& chosen, Outcome& outcome) {
    for (const auto& mix : chosen.plan.mixes)
        if (mix.name == choice.mix) {
            chosen.mix = mix.value;
            chosen.name = mix.name;
            if (choice.extend) chosen.mix.extend = *choice.extend;
            if (choice.reduce) chosen.mix.reduce = *choice.reduce;
            if (choice.white_cut) chosen.mix.white_cut = *choice.white_cut;
            return true;
        }
    std::vector<std::string> names;
    for (const auto& mix : chosen.plan.mixes) names.push_back(mix.name);
    outcome = wrong_command(fmt::format("the plan has no mix called '{}'", choice.mix),
                            fmt::format("its mixes: {}", reading::joined(names, ", ")));
    return false;
}

}  // namespace

std::optional<ChosenMix> chosen_mix(const MixChoice& choice, Outcome& outcome) {
    Result<plan::Shelf> shelf = plan::Shelf::open(embedded_presets(), choice.shelf);
    if (!shelf) {
        outcome = refused(shelf.refusal());
        return std::nullopt;
    }
    ChosenMix chosen{std::move(shelf).value(), {}, {}, {}, {}, {}, {}, answer_of(choice).shown()};
    if (choice.parts.empty() == choice.mix.empty()) {
        outcome = wrong_command("which mix?", "give paint=parts, or --plan PLAN --mix NAME");
        return std::nullopt;
    }
    if (!choice.plan.empty() && !take_plan(choice, chosen, outcome)) return std::nullopt;
    if (!take_ground_and_light(choice, chosen, outcome)) return std::nullopt;
    if (!choice.mix.empty()) {
        if (choice.plan.empty()) {
            outcome = wrong_command("a mix by name needs its plan", "add --plan PLAN");
            return std::nullopt;
        }
        if (!take_mix_of_plan(choice, chosen, outcome)) return std::nullopt;
    } else {
        Diagnostics diagnostics;
        const std::optional<plan::Mix> mix = typed_mix(choice, diagnostics);
        if (!mix) {
            outcome = wrong_data(diagnostics, choice.json);
            return std::nullopt;
        }
        chosen.mix = *mix;
        chosen.name = "this mix";
    }
    Diagnostics diagnostics;
    const auto parts = resolved(chosen, chosen.mix, diagnostics);
    const bool leaves_film = parts && std::any_of(parts->begin(), parts->end(), [](const paint::Part& p) {
                                 return p.parts > 0 && p.paint->solids.value > 0;
                             });
    if (parts && !leaves_film)
        diagnostics.error("P009", chosen.mix.parts.front().place, "this mix leaves no dry film",
                          "add a paint or clear base to it");
    if (!parts || !leaves_film) {
        outcome = wrong_data(diagnostics, choice.json);
        return std::nullopt;
    }
    return chosen;
}

std::optional<std::vector<paint::Part>> resolved(ChosenMix& chosen, const plan::Mix& mix,
                                                 Diagnostics& diagnostics) {
    // Under a name no plan can hold, so that it cannot clash with the plan's own.
    const std::string name = "\nasked";
    plan::Plan plan = chosen.plan;
    plan.mixes.push_back({name, mix, {}});
    return plan::parts_of(plan, {name, {}}, chosen.shelf, diagnostics);
}

std::string mix_words(const plan::Mix& mix) {
    std::vector<std::string> names, numbers;
    for (const auto& part : mix.parts) {
        names.push_back(part.name);
        numbers.push_back(number_text(part.value));
    }
    constexpr std::size_t kNamed = 4;  // more than this and a title says nothing
    const std::size_t unnamed = names.size() > kNamed ? names.size() - (kNamed - 1) : 0;
    if (unnamed > 0) names.resize(kNamed - 1);
    std::string words = reading::joined(names, " + ");
    if (unnamed > 0)
        words += fmt::format(" and {} more", unnamed);
    else if (names.size() > 1)
        words +=
            " " + reading::joined(numbers, " : ") + (mix.by == plan::PartsBy::weight ? " by weight" : "");
    if (mix.white_cut.value > 0) words += fmt::format(", cut with {} white", to_text(mix.white_cut));
    if (mix.extend > 0) words += fmt::format(", extended {} : 1", number_text(mix.extend));
    if (mix.reduce.value > 0) words += fmt::format(", reduced {}", to_text(mix.reduce));
    return words;
}

}  // namespace fadewright::app
