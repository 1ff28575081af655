#include "mix_selection.h"

#include "fadewright/app/requests_schema.h"
#include "fadewright/plan/mix_resolver.h"
#include "fadewright/plan/plan_schema.h"
#include "fadewright/planner/resolve.h"
#include "outcome.h"

#include <fmt/core.h>

#include <algorithm>
#include <charconv>

namespace fadewright::app {
namespace {

struct MixPart {
    std::string name;
    double amount = 1;
    std::string unit;  // "", "%" or "g"
};

// "plum", "plum=2", "plum=25%", "plum=12.5g"
std::optional<MixPart> parse_part(const std::string& text, Diagnostics& diagnostics) {
    const std::size_t equals = text.find('=');
    MixPart part{text.substr(0, equals), 1, ""};
    if (equals == std::string::npos) return part;
    const char* begin = text.data() + equals + 1;
    const auto [end, error] = std::from_chars(begin, text.data() + text.size(), part.amount);
    part.unit = std::string(end, static_cast<std::size_t>(text.data() + text.size() - end));
    part.unit.erase(0, std::min(part.unit.find_first_not_of(' '), part.unit.size()));
    if (error == std::errc{} && part.amount >= 0 && part.amount <= 1e6 &&
        (part.unit.empty() || part.unit == "%" || part.unit == "g"))
        return part;
    diagnostics.error("P010", command_line_span(text), fmt::format("cannot read the part '{}'", text),
                      "write paint=number for parts by volume, paint=25% or paint=12.5g");
    return std::nullopt;
}

// The mix typed on the command line.
std::optional<plan::Mix> parse_mix(const MixSelection& selection, Diagnostics& diagnostics) {
    plan::Mix mix;
    std::string unit;
    double sum = 0;
    for (const std::string& text : selection.parts) {
        const std::optional<MixPart> part = parse_part(text, diagnostics);
        if (!part) continue;
        if (!mix.parts.empty() && part->unit != unit)
            diagnostics.error("P010", command_line_span(text), "parts, per cent and grams in one mix",
                              "give all parts in the same unit");
        unit = part->unit;
        sum += part->amount;
        mix.parts.push_back({part->name, part->amount, command_line_span(text)});
    }
    if (unit == "%" && std::abs(sum - 100) > 0.05 && !diagnostics.has_errors())
        diagnostics.error("P010", command_line_span(detail::join_text(selection.parts, " ")),
                          fmt::format("the shares add up to {:.4g} %", sum), "make them add up to 100 %");
    if (mix.parts.size() > 12)
        diagnostics.error("T024", command_line_span(selection.parts[12]), "more than 12 paints in one mix",
                          "a mix may have 1 to 12 parts");
    mix.by = unit == "g" ? plan::PartsBy::weight : plan::PartsBy::volume;
    mix.extend = selection.extend.value_or(0);
    mix.reduce = selection.reduce.value_or(Share{});
    mix.white_cut = selection.white_cut.value_or(Share{});
    return diagnostics.has_errors() ? std::nullopt : std::optional(mix);
}

Check add_plan_of_mix(Session& session, const MixSelection& selection, SelectedMix& selected) {
    const auto opened = open_job(session, selection.plan, output_options(selection));
    if (!opened) return opened.error();
    const PreparedPlan& prepared = *opened.value();
    selected.library = prepared.library;
    selected.plan = *prepared.plan;
    selected.ground = prepared.job->ground;
    selected.ground_name = prepared.job->ground_name;
    selected.light = prepared.job->light;
    selected.units = prepared.plan->units;
    return Success{};
}

Failure unknown_item(const std::string& name, plan::LibraryKind kind, const plan::Library& library) {
    std::string thing(plan::folder_of(kind));
    thing.pop_back();
    return usage_failure(fmt::format("no {} is called '{}'", thing, name),
                         fmt::format("{}s: {}", thing, detail::join_text(library.names(kind), ", ")));
}

Check select_ground_and_light(const MixSelection& selection, SelectedMix& selected) {
    Diagnostics diagnostics;
    if (!selection.ground.empty() || selection.plan.empty()) {
        const std::string name = selection.ground.empty() ? plan::kDefaultGround : selection.ground;
        const plan::Ground* ground = selected.library.ground(name, diagnostics);
        if (!ground) return unknown_item(name, plan::LibraryKind::grounds, selected.library);
        selected.ground = ground->inside;
        selected.ground_name = name;
    }
    if (!selection.light.empty() || selection.plan.empty()) {
        const std::string name = selection.light.empty() ? plan::kDefaultLight : selection.light;
        const colour::Illuminant* light = selected.library.light(name, diagnostics);
        if (!light) return unknown_item(name, plan::LibraryKind::lights, selected.library);
        selected.light = *light;
    }
    return Success{};
}

Check select_mix_of_plan(const MixSelection& selection, SelectedMix& selected) {
    for (const auto& mix : selected.plan.mixes)
        if (mix.name == selection.mix) {
            selected.mix = mix.value;
            selected.name = mix.name;
            if (selection.extend) selected.mix.extend = *selection.extend;
            if (selection.reduce) selected.mix.reduce = *selection.reduce;
            if (selection.white_cut) selected.mix.white_cut = *selection.white_cut;
            return Success{};
        }
    std::vector<std::string> names;
    for (const auto& mix : selected.plan.mixes) names.push_back(mix.name);
    return usage_failure(fmt::format("the plan has no mix called '{}'", selection.mix),
                         fmt::format("mixes: {}", detail::join_text(names, ", ")));
}

}  // namespace

Attempt<SelectedMix> select_mix(Session& session, const MixSelection& selection) {
    Result<plan::Library> library = session.library();
    if (!library) return system_failure(library.error());
    SelectedMix selected{
        std::move(library).value(), {}, {}, {}, {}, {}, {}, output_options(selection).display_units()};
    if (selection.parts.empty() == selection.mix.empty())
        return option_failure("no mix given", "give paint=parts, or --plan PLAN --mix NAME");
    if (!selection.plan.empty())
        if (const Check done = add_plan_of_mix(session, selection, selected); !done) return done.error();
    if (const Check done = select_ground_and_light(selection, selected); !done) return done.error();
    if (!selection.mix.empty()) {
        if (selection.plan.empty())
            return option_failure("--mix needs the plan that has this mix", "add --plan PLAN");
        if (const Check done = select_mix_of_plan(selection, selected); !done) return done.error();
    } else {
        Diagnostics diagnostics;
        const std::optional<plan::Mix> mix = parse_mix(selection, diagnostics);
        if (!mix) return data_failure(diagnostics);
        selected.mix = *mix;
        selected.name = "this mix";
    }
    Diagnostics diagnostics;
    const auto parts = resolve_parts(selected, selected.mix, diagnostics);
    const bool leaves_film = parts && std::any_of(parts->begin(), parts->end(), [](const paint::Part& p) {
                                 return p.parts > 0 && p.paint->solids.value > 0;
                             });
    if (parts && !leaves_film)
        diagnostics.error("P009", selected.mix.parts.front().span, "this mix leaves no dry film",
                          "add a paint or clear base to it");
    if (!parts || !leaves_film) return data_failure(diagnostics);
    return selected;
}

std::optional<std::vector<paint::Part>> resolve_parts(SelectedMix& selected, const plan::Mix& mix,
                                                      Diagnostics& diagnostics) {
    // Under a name no plan can hold, so that it cannot clash with the plan's own.
    const std::string name = "\nasked";
    plan::Plan plan = selected.plan;
    plan.mixes.push_back({name, mix, {}});
    return plan::parts_of(plan, {name, {}}, selected.library, diagnostics);
}

std::string mix_label(const plan::Mix& mix) {
    std::vector<std::string> names, numbers;
    for (const auto& part : mix.parts) {
        names.push_back(part.name);
        numbers.push_back(number_text(part.value));
    }
    constexpr std::size_t kNamed = 4;  // more make a title unreadable
    const std::size_t omitted = names.size() > kNamed ? names.size() - (kNamed - 1) : 0;
    if (omitted > 0) names.resize(kNamed - 1);
    std::string text = detail::join_text(names, " + ");
    if (omitted > 0)
        text += fmt::format(" and {} more", omitted);
    else if (names.size() > 1)
        text +=
            " " + detail::join_text(numbers, " : ") + (mix.by == plan::PartsBy::weight ? " by weight" : "");
    if (mix.white_cut.value > 0) text += fmt::format(", cut with {} white", to_text(mix.white_cut));
    if (mix.extend > 0) text += fmt::format(", extended {} : 1", number_text(mix.extend));
    if (mix.reduce.value > 0) text += fmt::format(", reduced {}", to_text(mix.reduce));
    return text;
}

}  // namespace fadewright::app
