#include "fadewright/report/fade_report.h"
#include "fadewright/spray/drying.h"

#include "edits_json.h"
#include "fade_brief.h"

#include <fmt/core.h>

#include <nlohmann/json.hpp>

namespace fadewright::report {
namespace {

using render::FadeWay;
using render::FadeWays;

constexpr std::size_t kPlacesToAColour = 10;  // of the JSON

std::string row(const FadeWay& way, const std::string& mark) {
    const ShownUnits units = way.job.units;
    const render::FadeCost& c = way.cost;
    std::string figures =
        fmt::format("{:>7} {:>6} {:>6} {:>6} {:>6} {:>6} {:>6}", "-", "-", "-", "-", "-", "-", "-");
    if (way.figures) {
        const render::FadeFigures& f = *way.figures;
        figures = fmt::format("{:>7} {:>6} {:>6.1f} {:>6.2f} {:>6.2f} {:>6.1f} {:>6.0f}",
                              units.figure(f.width), units.slope(f.steepest_per_mm), f.largest_step,
                              f.band_times_threshold, f.corner, f.chroma_dip, f.hue_swing.value);
    }
    return fmt::format("{:<2}{:<34} {} {:>6.1f} {:>6.2f} {:>5.2f} {:>6} {:>6} {:>6}\n", mark, way.name,
                       figures, c.grain_L, c.dry.figure, c.sag.figure, c.passes, minutes_at_gun(c.gun_time),
                       units.figure(c.most_film));
}

nlohmann::ordered_json figures_json(const FadeWay& way, const FadeWays& ways) {
    nlohmann::ordered_json json;
    json["name"] = way.name;
    json["points"] = way.points;
    if (way.figures) {
        const render::FadeFigures& f = *way.figures;
        json["width_mm"] = f.width.value;
        json["width_degrees"] = f.width_at_eye.value;
        json["halfway_mm"] = f.at_half.value;
        json["steepest_dE00_per_mm"] = f.steepest_per_mm;
        json["steepest_dE00_per_degree"] = f.steepest_per_deg;
        json["steepest_over_mean"] = f.steepest_over_mean;
        json["largest_step_dE00"] = f.largest_step;
        json["stripes_over_threshold"] = f.band_times_threshold;
        json["corner"] = f.corner;
        json["chroma_dip"] = f.chroma_dip;
        json["hue_swing_degrees"] = f.hue_swing.value;
        json["back_step_L"] = f.back_step;
        json["words"] = render::fade_words(f, way.job.units);
        if (const auto words = render::halfway_words(way, ways.line, way.job.units))
            json["words"].push_back(*words);
    }
    json["grain_L"] = way.cost.grain_L;
    json["dryness"] = way.cost.dry.figure;
    json["sag_over_limit"] = way.cost.sag.figure;
    json["passes"] = way.cost.passes;
    json["gun_seconds"] = way.cost.gun_time.value;
    json["most_film_um"] = way.cost.most_film.value;
    for (std::size_t i = 0; i < way.places.size(); i += kPlacesToAColour) {
        const render::FadePlace& place = way.places[i];
        json["colours"].push_back({{"at_mm", place.at_mm}, {"Lab", {place.lab.L, place.lab.a, place.lab.b}}});
    }
    for (const render::PaintUse& use : way.cost.paint) json["sprayed_mL"][use.mix] = use.sprayed.value;
    json["brief"] = fade_brief(way);
    json["edits"] = edits_json(ways.ways.front().plan, way.plan);
    return json;
}

// What extending does to a middle beside reducing it as much: same colour, other film.
std::string extension_words(const FadeWays& ways) {
    const auto named = [&](const std::string& part) -> const FadeWay* {
        for (const FadeWay& way : ways.ways)
            if (way.name.starts_with(part)) return &way;
        return nullptr;
    };
    const FadeWay* extended = named("one middle, extended");
    const FadeWay* reduced = named("one middle, reduced");
    if (!extended || !reduced) return "";
    const auto middle = [](const FadeWay& way) -> const plan::ReadyCoat* {
        for (const plan::ReadyCoat& coat : way.job.coats)
            if (coat.mix_name.find("middle") != std::string::npos) return &coat;
        return nullptr;
    };
    const plan::ReadyCoat *a = middle(*extended), *b = middle(*reduced);
    if (!a || !b) return "";
    const ShownUnits units = ways.ways.front().job.units;
    const auto binder = [units](const plan::ReadyCoat& coat) {
        return units.figure(GramsPerLitre{coat.mix.binder_g_per_litre});
    };
    return fmt::format(
        "The middle extended 2:1 with clear base keeps {} {} of binder in a {} as sprayed; reduced as "
        "much instead it keeps {}. Solids {:.0f} % against {:.0f} %, pigment to binder {:.2f} against "
        "{:.2f}.\n",
        binder(*a), units.grams(), units.litre(), binder(*b), 100 * a->mix.solids.value,
        100 * b->mix.solids.value, a->mix.pigment_binder, b->mix.pigment_binder);
}

}  // namespace

std::string fade_text(const FadeWays& ways, const std::string& title) {
    const ShownUnits units = ways.ways.front().job.units;
    const auto place = [units](const plan::Point& p) { return units.figure(p.x) + "," + units.figure(p.y); };
    std::string out = fmt::format("{}\nalong {} from {} to {} {}\n\n", title,
                                  units.text(Millimetres{ways.line.length_mm()}), place(ways.line.from),
                                  place(ways.line.to), units.name<Millimetres>());
    out +=
        fmt::format("{:<36} {:>7} {:>6} {:>6} {:>6} {:>6} {:>6} {:>6} {:>6} {:>6} {:>5} {:>6} {:>6} {:>6}\n",
                    "", "width", "steep", "step", "bands", "corner", "chroma", "hue", "grain", "dry", "sag",
                    "passes", "at gun", "film");
    out +=
        fmt::format("{:<36} {:>7} {:>6} {:>6} {:>6} {:>6} {:>6} {:>6} {:>6} {:>6} {:>5} {:>6} {:>6} {:>6}\n",
                    "", units.name<Millimetres>(), fmt::format("dE/{}", units.name<Millimetres>()), "dE",
                    "x seen", "", "dip", "swing", "L*", "", "/limit", "", "min:s", units.name<Micrometres>());
    for (std::size_t i = 0; i < ways.ways.size(); ++i)
        out += row(ways.ways[i], i == ways.best ? "> " : i == ways.runner_up ? "- " : "  ");
    for (const render::NoWay& no : ways.not_made)
        out += fmt::format("  {:<34} cannot be made: {}\n", no.name, no.reason);
    out += "\n" + ways.advice + ".\n";
    const FadeWay& own = ways.ways.front();
    if (own.figures) {
        out += fmt::format("\n{}:\n", own.name);
        for (const std::string& words : render::fade_words(*own.figures, units)) out += "  " + words + "\n";
        if (const auto words = render::halfway_words(own, ways.line, units)) out += "  " + *words + "\n";
    }
    for (const render::Fault* fault : {&own.cost.sag, &own.cost.dry, &own.cost.ripple})
        if (fault->level != render::Level::fine) out += "  " + fault->words + "\n";
    if (const std::string words = extension_words(ways); !words.empty()) out += "\n" + words;
    out += fmt::format("\n{} sprayed, as planned:", units.name<Millilitres>());
    for (const render::PaintUse& use : own.cost.paint)
        out += fmt::format("  {} {}", use.mix, units.figure(use.sprayed));
    out += "\n";
    return out;
}

std::string fade_json(const FadeWays& ways, const std::string& title) {
    nlohmann::ordered_json json;
    json["title"] = title;
    json["from_mm"] = {ways.line.from.x.value, ways.line.from.y.value};
    json["to_mm"] = {ways.line.to.x.value, ways.line.to.y.value};
    if (ways.line.wanted) json["wanted_width_mm"] = ways.line.wanted->value;
    if (ways.line.halfway) json["planned_halfway_mm"] = ways.line.halfway->value;
    for (const FadeWay& way : ways.ways) json["ways"].push_back(figures_json(way, ways));
    for (const render::NoWay& no : ways.not_made)
        json["not_made"].push_back({{"name", no.name}, {"reason", no.reason}});
    json["best"] = ways.ways[ways.best].name;
    json["runner_up"] = ways.ways[ways.runner_up].name;
    json["advice"] = ways.advice;
    return json.dump(2) + "\n";
}

}  // namespace fadewright::report
