#include "preview_sheets.h"

#include "fadewright/assess/maps.h"
#include "fadewright/report/overlay.h"
#include "fadewright/report/phrases_defects.h"
#include "outcome.h"

#include <fmt/core.h>

#include <algorithm>
#include <charconv>
#include <nlohmann/json.hpp>

namespace fadewright::app {
namespace {

constexpr double kMaxMargin = 0.35;  // of the longer side, for passes that start beside the panel

std::string sheet_choices(const plan::Job& job) {
    std::string hint =
        "--show takes coats, passes, defects, graininess, or film: with a coat's name or number";
    for (std::size_t i = 0; i < job.coats.size(); ++i)
        hint += fmt::format("{} film:{} ({})", i == 0 ? ":" : ",", i + 1, job.coats[i].name);
    return hint;
}

std::optional<std::size_t> find_coat(std::string_view name, const plan::Job& job) {
    for (std::size_t i = 0; i < job.coats.size(); ++i)
        if (job.coats[i].name == name) return i;
    std::size_t number = 0;
    const auto [end, error] = std::from_chars(name.data(), name.data() + name.size(), number);
    if (error != std::errc{} || end != name.data() + name.size() || number < 1 || number > job.coats.size())
        return std::nullopt;
    return number - 1;
}

// Wide enough to show where passes beside the panel start.
Millimetres margin_for_passes(const std::vector<assess::PassLine>& lines, const plan::Job& job,
                              Millimetres requested) {
    const double w = job.panel.width.value, h = job.panel.height.value;
    double beyond = 0;
    for (const assess::PassLine& line : lines)
        for (std::size_t i = 0; i < line.x_mm.size(); ++i)
            beyond = std::max({beyond, -line.x_mm[i], line.x_mm[i] - w, -line.y_mm[i], line.y_mm[i] - h});
    const double longer = std::max(w, h);
    return Millimetres{std::max(requested.value, std::min(beyond + 0.02 * longer, kMaxMargin * longer))};
}

}  // namespace

Attempt<PreviewSheetSelection> parse_sheet_selection(const std::string& text, const plan::Job& job) {
    constexpr std::string_view film = "film:";
    if (text == "coats") return PreviewSheetSelection{PreviewSheetKind::coats, 0};
    if (text == "passes") return PreviewSheetSelection{PreviewSheetKind::passes, 0};
    if (text == "defects") return PreviewSheetSelection{PreviewSheetKind::defects, 0};
    if (text == "graininess") return PreviewSheetSelection{PreviewSheetKind::graininess, 0};
    if (!text.starts_with(film))
        return option_failure(fmt::format("cannot show '{}'", text), sheet_choices(job));
    const std::string_view name = std::string_view(text).substr(film.size());
    if (const auto coat = find_coat(name, job)) return PreviewSheetSelection{PreviewSheetKind::film, *coat};
    return option_failure(fmt::format("the plan has no coat '{}'", name), sheet_choices(job));
}

namespace {

// The panel after no coat, after the first, and so on.
PreviewSheet coats_sheet(const plan::Job& job, const colour::Illuminant& light,
                         const colour::OutputProfile& profile, render::PreviewSettings settings) {
    const std::size_t last_coat = std::min(settings.coats, job.coats.size());
    std::vector<Picture> pictures;
    std::vector<std::string> names{"ground"};
    for (std::size_t coats = 0; coats <= last_coat; ++coats) {
        settings.coats = coats;
        pictures.push_back(render::preview(job, light, profile, settings).picture);
        if (coats < last_coat) names.push_back(job.coats[coats].name);
    }
    return {report::coats_sheet(pictures, names, job.title), 0, {}};
}

}  // namespace

PreviewSheet draw_preview_sheet(const PreviewSheetSelection& choice, const plan::Job& job,
                                const colour::Illuminant& light, const colour::OutputProfile& profile,
                                render::PreviewSettings settings) {
    if (choice.kind == PreviewSheetKind::coats) {
        settings.longest_px = std::max(16, settings.longest_px / 3);
        return coats_sheet(job, light, profile, settings);
    }
    // Coats after --after-coat are left out.
    plan::Job painted_job = job;
    if (choice.kind != PreviewSheetKind::film)
        painted_job.coats.resize(std::min(settings.coats, painted_job.coats.size()));
    const std::vector<assess::PassLine> lines = assess::pass_lines(painted_job);
    if (choice.kind == PreviewSheetKind::passes)
        settings.margin = margin_for_passes(lines, painted_job, settings.margin);
    const render::Frame frame = render::panel_frame(painted_job.panel, settings.longest_px, settings.margin);
    PreviewSheet sheet;
    sheet.pixels_per_metre = 1000 / frame.mm_per_px;
    const std::string& title = job.title;
    if (choice.kind == PreviewSheetKind::film) {
        sheet.picture = report::film_sheet(assess::film_map(painted_job, choice.coat, frame),
                                           painted_job.coats[choice.coat].name, title, job.units);
        return sheet;
    }
    if (choice.kind == PreviewSheetKind::graininess) {
        sheet.picture = report::graininess_sheet(assess::grain_map(painted_job, light, frame),
                                                 painted_job.view_distance, title, job.units);
        return sheet;
    }
    const render::Preview preview = render::preview(painted_job, light, profile, settings);
    if (choice.kind == PreviewSheetKind::passes) {
        std::vector<std::string> names;
        for (const plan::ResolvedCoat& coat : painted_job.coats) names.push_back(coat.name);
        sheet.picture = report::passes_sheet(preview.picture, frame, lines, names, title, job.units);
        return sheet;
    }
    assess::Defects found = assess::find_defects(painted_job);
    sheet.picture = report::defects_sheet(preview.picture, frame, found, painted_job.panel, title, job.units);
    sheet.defects = std::move(found.list);
    return sheet;
}

std::string defects_text(const std::vector<assess::Defect>& defects, DisplayUnits units) {
    const std::vector<assess::Defect> listed = report::significant_defects(defects);
    std::string out;
    for (const assess::Defect& defect : listed) out += report::defect_text(defect, units) + "\n";
    out += fmt::format("{} of {} checks found no problem\n", defects.size() - listed.size(), defects.size());
    return out;
}

nlohmann::ordered_json defects_json(const std::vector<assess::Defect>& defects, DisplayUnits units) {
    nlohmann::ordered_json list = nlohmann::ordered_json::array();
    for (const assess::Defect& defect : defects) {
        nlohmann::ordered_json entry;
        entry["kind"] = assess::defect_name(defect.kind);
        if (!defect.coat.empty()) entry["coat"] = defect.coat;
        entry["severity"] = assess::severity_name(defect.severity);
        entry["figure"] = defect.value;
        entry["limit"] = defect.limit;
        entry["x_mm"] = defect.x.value;
        entry["y_mm"] = defect.y.value;
        entry["share_of_panel"] = defect.panel_share.value;
        entry["description"] = report::defect_details(defect, units);
        list.push_back(std::move(entry));
    }
    return list;
}

}  // namespace fadewright::app
