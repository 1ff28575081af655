// One property of a mix varied. The wet film of a coat is fixed: a painter who extends or reduces sprays
// the same wet coat; its dry film and its hiding change.

#include "fadewright/report/ladder.h"
#include "fadewright/paint/mix.h"

#include "fadewright/app/commands.h"
#include "fadewright/base/strings.h"
#include "fadewright/render/png.h"
#include "mix_selection.h"
#include "outcome.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <memory>
#include <span>

namespace fadewright::app {
namespace {

constexpr std::size_t kMaxRungs = 24;
constexpr std::array kPercent{Unit{"%"}};  // percentages stay percentages

// One variable of the ladder: its values, and how one of them changes a mix or a coat.
struct Variable {
    std::string option;  // as typed, without dashes
    std::string label;   // what is varied
    std::vector<std::string> texts;
    std::vector<double> values;
};

struct Setting {
    plan::Mix mix;
    double film_um = 0;  // dry film of one coat before extending and reducing; 0: the paints'
    int coats = 1;
    std::optional<GramsPerLitre> loading;  // of the one paint with flakes; default: its file's
};

std::vector<std::string> split(std::string_view list) {
    std::vector<std::string> out;
    for (std::size_t at = 0; at <= list.size();) {
        const std::size_t comma = std::min(list.find(',', at), list.size());
        out.emplace_back(trim(list.substr(at, comma - at)));
        at = comma + 1;
    }
    return out;
}

// Allowed values of a list: unit of plain numbers, units that may be written, bounds.
struct AllowedValues {
    std::string_view unit;
    double lowest, highest;
    std::span<const Unit> units;
};

// A number with an optional unit ("10 um", "0.4 mil"), in the internal unit, which is that of plain
// numbers.
std::optional<double> parse_value(std::string_view text, std::span<const Unit> units) {
    double value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc{} || !std::isfinite(value)) return std::nullopt;
    const std::string_view written = trim({end, text.data() + text.size()});
    if (written.empty()) return value;
    for (const Unit& unit : units)
        if (unit.name == written) return unit.to_internal(value);
    return std::nullopt;
}

// "2:1" as parts of the second to one of the first.
std::optional<double> parse_ratio(const std::string& text) {
    const std::size_t colon = text.find(':');
    if (colon == std::string::npos) return std::nullopt;
    const std::string_view all = text;
    const auto a = parse_value(trim(all.substr(0, colon)), {}),
               b = parse_value(trim(all.substr(colon + 1)), {});
    if (!a || !b || *a < 0 || *b < 0 || *a + *b <= 0) return std::nullopt;
    return *a > 0 ? *b / *a : 1e9;
}

// The variable with the values of the list.
Attempt<Variable> read_variable(const std::string& list, Variable variable, const AllowedValues& allowed) {
    if (list.empty()) return variable;
    variable.texts = split(list);
    for (const std::string& text : variable.texts) {
        const auto value = variable.option == "ratio" ? parse_ratio(text) : parse_value(text, allowed.units);
        if (!value || *value < allowed.lowest || *value > allowed.highest)
            return usage_failure(
                fmt::format("--{} cannot take '{}'", variable.option, text),
                variable.option == "ratio"
                    ? std::string("write ratios such as 4:1,2:1,1:1")
                    : fmt::format("write numbers from {:g} to {:g}{}{} between commas", allowed.lowest,
                                  allowed.highest, allowed.unit.empty() ? "" : " ", allowed.unit));
        variable.values.push_back(*value);
    }
    return variable;
}

void apply(const Variable& variable, std::size_t i, Setting& setting) {
    const double v = variable.values[i];
    if (variable.option == "ratio" && setting.mix.parts.size() == 2) {
        setting.mix.parts[0].value = v >= 1e9 ? 0 : 1;
        setting.mix.parts[1].value = v >= 1e9 ? 1 : v;
    }
    if (variable.option == "extend") setting.mix.extend = v;
    if (variable.option == "reduce") setting.mix.reduce = Share{v / 100};
    if (variable.option == "white-cut") setting.mix.white_cut = Share{v / 100};
    if (variable.option == "film") setting.film_um = v;
    if (variable.option == "coats") setting.coats = static_cast<int>(std::lround(v));
    if (variable.option == "loading") setting.loading = GramsPerLitre{v};
}

std::string step_label(const Variable& variable, std::size_t i, DisplayUnits units) {
    const std::string number = number_text(variable.values[i]);
    if (variable.option == "ratio") {
        const std::string_view text = variable.texts[i];
        const std::size_t colon = text.find(':');
        return fmt::format("{} : {}", trim(text.substr(0, colon)), trim(text.substr(colon + 1)));
    }
    if (variable.option == "extend")
        return variable.values[i] == 0 ? "not extended" : number + " : 1 extended";
    if (variable.option == "reduce") return variable.values[i] == 0 ? "not reduced" : number + " % reduced";
    if (variable.option == "white-cut") return variable.values[i] == 0 ? "no white" : number + " % white";
    if (variable.option == "film") return units.input_text(Micrometres{variable.values[i]});
    if (variable.option == "loading") return units.input_text(GramsPerLitre{variable.values[i]});
    return number + (variable.values[i] == 1 ? " coat" : " coats");
}

// The variables with values, exactly one of them with several.
Attempt<std::vector<Variable>> read_variables(const LadderRequest& request) {
    std::vector<Variable> variables;
    const std::tuple<const std::string&, Variable, AllowedValues> all[] = {
        {request.ratio_steps, {"ratio", "ratio of the two parts", {}, {}}, {"", 0, 1e9, {}}},
        {request.extend_steps, {"extend", "clear base to 1 part of colour", {}, {}}, {"", 0, 50, {}}},
        {request.reduce_steps, {"reduce", "reducer, % of paint", {}, {}}, {"%", 0, 300, kPercent}},
        {request.white_cut_steps, {"white-cut", "white in the colour part", {}, {}}, {"%", 0, 99, kPercent}},
        {request.film_steps,
         {"film", "dry film of one coat", {}, {}},
         {"um", 0.1, 500, units_of<Micrometres>()}},
        {request.coats_steps, {"coats", "coats", {}, {}}, {"", 1, 50, {}}},
        {request.loading_steps,
         {"loading", "loading of the paint with flakes", {}, {}},
         {"g/L", 0, 500, units_of<GramsPerLitre>()}}};
    for (const auto& [list, empty, allowed] : all) {
        Attempt<Variable> variable = read_variable(list, empty, allowed);
        if (!variable) return variable.error();
        if (!variable.value().values.empty()) variables.push_back(std::move(variable).value());
    }
    const auto varied = std::count_if(variables.begin(), variables.end(),
                                      [](const Variable& v) { return v.values.size() > 1; });
    if (varied != 1)
        return option_failure(
            varied == 0 ? "nothing is varied" : "more than one property is varied",
            "give several values to exactly one of --ratio, --extend, --reduce, --white-cut, --film, "
            "--coats and --loading");
    for (const Variable& v : variables)
        if (v.values.size() > kMaxRungs)
            return usage_failure(fmt::format("{} steps are too many", v.values.size()),
                                 fmt::format("at most {}", kMaxRungs));
    return variables;
}

// Paints of a rung and their flake content; owns the paint whose loading was changed.
struct RungMix {
    std::vector<paint::Part> parts;
    std::unique_ptr<const paint::Paint> loaded_paint;
    std::optional<plan::FlakeContent> flakes;
};

// Replaces the one paint with flakes by the same paint at this loading.
Check set_loading(RungMix& rung, GramsPerLitre loading, SelectedMix& selected) {
    std::vector<paint::Part*> with_flakes;
    for (paint::Part& part : rung.parts)
        if (!part.paint->flakes.empty()) with_flakes.push_back(&part);
    if (with_flakes.size() != 1)
        return usage_failure(fmt::format("--loading needs a mix with exactly one paint that has flakes; "
                                         "this one has {}",
                                         with_flakes.size()),
                             "give one pearl, interference or metallic paint, alone or with others");
    Diagnostics diagnostics;
    auto paint = selected.library.paint_with_loading(with_flakes[0]->paint->id, loading, diagnostics);
    if (!paint) return data_failure(diagnostics);
    rung.loaded_paint = std::make_unique<const paint::Paint>(std::move(*paint));
    with_flakes[0]->paint = rung.loaded_paint.get();
    return Success{};
}

Attempt<RungMix> read_rung(SelectedMix& selected, const Setting& setting) {
    Diagnostics diagnostics;
    const auto parts = resolve_parts(selected, setting.mix, diagnostics);
    if (!parts) return data_failure(diagnostics);
    RungMix rung;
    rung.parts = *parts;
    std::optional<plan::LoadingOverride> other;
    if (setting.loading) {
        if (const Check done = set_loading(rung, *setting.loading, selected); !done) return done.error();
        other = plan::LoadingOverride{rung.loaded_paint->id, *setting.loading};
    }
    rung.flakes = plan::flake_content(rung.parts, selected.library, other);
    return rung;
}

// The wet film of one coat: that of the colour part alone for its dry film.
Micrometres wet_coat(SelectedMix& selected, const Setting& setting) {
    plan::Mix bare = setting.mix;
    bare.extend = 0;
    bare.reduce = {};
    Diagnostics diagnostics;
    const auto parts = resolve_parts(selected, bare, diagnostics).value();
    const Micrometres dry =
        setting.film_um > 0 ? Micrometres{setting.film_um} : paint::nominal_film_build(parts);
    return paint::wet_film(paint::mix_paints(parts), dry);
}

std::string fixed_label(const Setting& setting, const Variable& varied, Micrometres wet, DisplayUnits units) {
    std::string text = "wet film " + units.text(wet);
    if (varied.option == "film") text = "all but the film";
    if (varied.option != "coats")
        text += fmt::format(", {} {}", setting.coats, setting.coats == 1 ? "coat" : "coats");
    if (setting.loading) text += fmt::format(", loading {}", units.input_text(*setting.loading));
    return text;
}

// The mix in words, without the varied property.
std::string title_of(plan::Mix mix, const Variable& varied) {
    if (varied.option == "ratio") return mix.parts[0].name + " to " + mix.parts[1].name;
    if (varied.option == "extend") mix.extend = 0;
    if (varied.option == "reduce") mix.reduce = {};
    if (varied.option == "white-cut") mix.white_cut = {};
    return mix_label(mix);
}

// All rungs if one of them has flakes, so that they can be compared.
void add_flake_appearances(report::Ladder& ladder,
                           const std::vector<std::optional<plan::FlakeContent>>& flakes,
                           const colour::Reflectance& ground, const film::Colorimeter& colorimeter) {
    if (std::none_of(flakes.begin(), flakes.end(), [](const auto& content) { return content.has_value(); }))
        return;
    for (std::size_t i = 0; i < flakes.size(); ++i) {
        report::Rung& rung = ladder.rungs[i];
        rung.content = flakes[i].value_or(plan::FlakeContent{});
        rung.flakes = formulation::flake_appearance(rung.mix, rung.film, ground, colorimeter);
    }
}

Check add_rungs(SelectedMix& selected, const Setting& base, const Variable& varied, Micrometres fixed_wet,
                report::Ladder& ladder) {
    const film::Colorimeter colorimeter(selected.light);
    std::vector<std::optional<plan::FlakeContent>> flakes;
    for (std::size_t i = 0; i < varied.values.size(); ++i) {
        Setting setting = base;
        apply(varied, i, setting);
        Attempt<RungMix> rung = read_rung(selected, setting);
        if (!rung) return rung.error();
        const RungMix mix = std::move(rung).value();
        const Micrometres wet = varied.option == "film" ? wet_coat(selected, setting) : fixed_wet;
        ladder.rungs.push_back(
            {formulation::make_rung(step_label(varied, i, selected.units), mix.parts,
                                    static_cast<double>(setting.coats) * wet, selected.ground, colorimeter),
             {}});
        if (i > 0) ladder.rungs[i].step = formulation::step_between(ladder.rungs[i - 1], ladder.rungs[i]);
        flakes.push_back(mix.flakes);
    }
    add_flake_appearances(ladder, flakes, selected.ground, colorimeter);
    return Success{};
}

}  // namespace

Outcome ladder(Session& session, const LadderRequest& request) {
    const Attempt<std::vector<Variable>> read = read_variables(request);
    if (!read) return failed(read.error(), request);
    const std::vector<Variable>& variables = read.value();
    Attempt<SelectedMix> selection = select_mix(session, request);
    if (!selection) return failed(selection.error(), request);
    std::optional<SelectedMix> selected = std::move(selection).value();
    Setting base;
    base.mix = selected->mix;
    const Variable* varied = nullptr;
    for (const Variable& v : variables) {
        if (v.values.size() > 1) varied = &v;
        if (v.values.size() == 1) apply(v, 0, base);
        if (v.option == "ratio" && base.mix.parts.size() != 2)
            return failed(
                usage_failure("--ratio needs a mix of exactly two parts", "give two paints or mixes"),
                request);
    }
    report::Ladder ladder;
    ladder.units = selected->units;
    ladder.title = title_of(base.mix, *varied);
    ladder.varied = varied->label;
    ladder.ground_name = selected->ground_name;
    ladder.ground = film::Colorimeter(selected->light).lab(selected->ground);
    ladder.light = selected->light.title;
    ladder.varies_film_or_loading =
        varied->option == "coats" || varied->option == "film" || varied->option == "loading";
    Micrometres fixed_wet = wet_coat(*selected, base);
    if (const Check done = add_rungs(*selected, base, *varied, fixed_wet, ladder); !done)
        return failed(done.error(), request);
    ladder.fixed = fixed_label(base, *varied, fixed_wet, ladder.units);
    Outcome outcome;
    outcome.out = request.json ? report::ladder_json(ladder) : report::ladder_text(ladder);
    if (!request.out.empty()) {
        render::PngMetadata notes;
        notes.texts = {{"Title", ladder.title}};
        add_artefact(outcome, request.out, render::png_bytes(report::ladder_sheet(ladder), notes),
                     request.json);
    }
    return outcome;
}

}  // namespace fadewright::app
