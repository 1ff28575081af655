#include "fadewright/report/phrases_defects.h"

#include <fmt/core.h>

#include <algorithm>
#include <iterator>
#include <variant>

namespace fadewright::report {
namespace {

using assess::Defect;
using assess::Severity;

std::string position_text(const Defect& defect, DisplayUnits units) {
    return fmt::format("at {} from the left, {} up", units.text(defect.x), units.text(defect.y));
}

// One function for the figures of each kind.
struct DefectDetails {
    const Defect& defect;
    DisplayUnits units;

    // Film build has no figures but its value.
    std::string operator()(std::monostate) const {
        return fmt::format("all coats together up to {} dry, {}; common practice: up to {}",
                           units.text(Micrometres{defect.value}), position_text(defect, units),
                           units.text(assess::kMaxFilmBuild));
    }

    std::string operator()(const assess::SagFigures& sag) const {
        std::string text = fmt::format("{} wet {}", units.text(sag.wet), position_text(defect, units));
        if (defect.value > 0)
            text += fmt::format("; up to about {} stays there without sagging",
                                units.text(Micrometres{sag.wet.value / defect.value}));
        if (defect.severity == Severity::check) text += "; let it flash off before the next coat";
        if (defect.severity == Severity::problem)
            text += fmt::format("; it will run ({} at first): spray more, thinner coats",
                                units.text(sag.speed, 2));
        if (sag.viscosity_assumed) text += " (viscosity assumed: check it with a flow cup)";
        return text;
    }

    std::string operator()(const assess::DrySprayFigures& spray) const {
        if (spray.dry_mm2 == 0)
            return fmt::format("lands wet everywhere (dry-spray index up to {:.2f})", defect.value);
        std::string text = fmt::format("about {}", units.area_from_mm2(spray.dry_mm2));
        if (spray.fringe_width)
            text += fmt::format(", a fringe about {} wide", units.text(*spray.fringe_width));
        text += fmt::format("; dry-spray index up to {:.2f}, gritty on {:.1f} % of the panel", defect.value,
                            100 * spray.gritty.value);
        text +=
            spray.laydown == plan::Laydown::dots
                ? "; meant as fog: lock it in with clear"
                : "; go closer or slower, or de-nib it (sand smooth) and lock it in with a wet coat or clear";
        return text;
    }

    std::string operator()(const assess::StripingFigures& striping) const {
        const std::string distance = units.viewing_distance(striping.viewing_distance);
        const std::string text =
            fmt::format("film varies ±{:.1f} % every {}", 100 * defect.value, units.text(striping.spacing));
        if (defect.severity == Severity::ok) return text + fmt::format("; not visible from {}", distance);
        return text +
               fmt::format(
                   "; may show from {}: overlap more, or spray a second coat offset by half the spacing",
                   distance);
    }

    std::string operator()(const assess::HolidayFigures& holidays) const {
        if (!holidays.thinnest) return "covers the panel without misses";
        return fmt::format("{:.1f} % of the panel gets less than half of the film; thinnest {}: {} of {} dry",
                           100 * defect.value, position_text(defect, units),
                           units.number(*holidays.thinnest, 1), units.text(holidays.full, 1));
    }

    std::string operator()(const assess::EdgeFigures& edge) const {
        const bool grooves = edge.part == assess::EdgePart::grooves;
        const std::string text = fmt::format("{} get {:.0f} % of the film of the level areas",
                                             grooves ? "grooves" : "edges", 100 * defect.value);
        if (grooves)
            return text +
                   (defect.value < 1 ? "; aim a pass along them" : "; wet paint gathers there as well");
        return text +
               fmt::format(
                   "; wet paint also draws back from edges rounded less than {} (common practice): break the "
                   "edges",
                   units.text(assess::kSharpEdgeRadius));
    }

    std::string operator()(const assess::FlakeFigures& flakes) const {
        const std::string position = position_text(defect, units);
        if (flakes.defect == assess::FlakeDefect::milky)
            return fmt::format(
                "turns milky {}: {:.1f} flakes deep on average; beyond about {:.1f}, more flakes add "
                "whiteness, not colour",
                position, flakes.layers, assess::kMaxPlateletHits);
        return fmt::format("{} {}: {:.2f} flakes deep on average",
                           flakes.defect == assess::FlakeDefect::patchy ? "looks patchy" : "barely covers",
                           position, flakes.layers);
    }
};

}  // namespace

std::string_view defect_label(assess::DefectKind kind) noexcept {
    switch (kind) {
        case assess::DefectKind::sag:
            return "runs and sags";
        case assess::DefectKind::dry_spray:
            return "dry spray";
        case assess::DefectKind::striping:
            return "striping";
        case assess::DefectKind::holidays:
            return "misses (holidays)";
        case assess::DefectKind::film_build:
            return "excess film build";
        case assess::DefectKind::edge:
            return "thin edges and grooves";
        case assess::DefectKind::flakes:
            break;
    }
    return "too few or too many flakes";
}

std::vector<Defect> significant_defects(const std::vector<Defect>& defects) {
    std::vector<Defect> out;
    std::copy_if(defects.begin(), defects.end(), std::back_inserter(out),
                 [](const Defect& defect) { return defect.severity != Severity::ok; });
    std::stable_sort(out.begin(), out.end(),
                     [](const Defect& a, const Defect& b) { return a.severity > b.severity; });
    return out;
}

std::string defect_details(const Defect& defect, DisplayUnits units) {
    return std::visit(DefectDetails{defect, units}, defect.figures);
}

std::string describe_defect(const Defect& defect, DisplayUnits units) {
    return fmt::format("{}{}: {}", defect_label(defect.kind),
                       defect.coat.empty() ? "" : " in '" + defect.coat + "'", defect_details(defect, units));
}

std::string defect_text(const Defect& defect, DisplayUnits units) {
    return fmt::format("{}: {}", assess::severity_name(defect.severity), describe_defect(defect, units));
}

}  // namespace fadewright::report
