#include "show.h"

#include "fadewright/render/maps.h"
#include "fadewright/report/overlay.h"
#include "outcome.h"

#include <fmt/core.h>

#include <algorithm>
#include <charconv>
#include <nlohmann/json.hpp>

namespace fadewright::app {
namespace {

constexpr double kMostMargin = 0.35;  // of the longer side, for passes that begin beside the panel

std::string what_there_is(const plan::Job& job) {
    std::string hint = "--show takes coats, passes, faults, grain, or film: with a coat's name or number";
    for (std::size_t i = 0; i < job.coats.size(); ++i)
        hint += fmt::format("{} film:{} ({})", i == 0 ? ":" : ",", i + 1, job.coats[i].name);
    return hint;
}

std::optional<std::size_t> coat_called(std::string_view name, const plan::Job& job) {
    for (std::size_t i = 0; i < job.coats.size(); ++i)
        if (job.coats[i].name == name) return i;
    std::size_t number = 0;
    const auto [end, fault] = std::from_chars(name.data(), name.data() + name.size(), number);
    if (fault != std::errc{} || end != name.data() + name.size() || number < 1 || number > job.coats.size())
        return std::nullopt;
    return number - 1;
}

// So wide that passes which begin beside the panel are seen to begin.
Millimetres margin_for(const std::vector<render::PassLine>& lines, const plan::Job& job, Millimetres asked) {
    const double w = job.panel.width.value, h = job.panel.height.value;
    double beyond = 0;
    for (const render::PassLine& line : lines)
        for (std::size_t i = 0; i < line.x_mm.size(); ++i)
            beyond = std::max({beyond, -line.x_mm[i], line.x_mm[i] - w, -line.y_mm[i], line.y_mm[i] - h});
    const double longer = std::max(w, h);
    return Millimetres{std::max(asked.value, std::min(beyond + 0.02 * longer, kMostMargin * longer))};
}

}  // namespace

std::variant<ShowChoice, Outcome> show_choice(const std::string& words, const plan::Job& job) {
    constexpr std::string_view film = "film:";
    if (words == "coats") return ShowChoice{Show::coats, 0};
    if (words == "passes") return ShowChoice{Show::passes, 0};
    if (words == "faults") return ShowChoice{Show::faults, 0};
    if (words == "grain") return ShowChoice{Show::grain, 0};
    if (!words.starts_with(film))
        return wrong_command(fmt::format("'{}' is nothing to show", words), what_there_is(job));
    const std::string_view name = std::string_view(words).substr(film.size());
    if (const auto coat = coat_called(name, job)) return ShowChoice{Show::film, *coat};
    return wrong_command(fmt::format("the plan has no coat '{}'", name), what_there_is(job));
}

namespace {

// The panel after no coat, after the first, and so on.
ShowSheet coats_sheet(const plan::Job& job, const colour::Light& light, const colour::OutputProfile& profile,
                      render::PreviewSettings settings) {
    const std::size_t most = std::min(settings.coats, job.coats.size());
    std::vector<Picture> pictures;
    std::vector<std::string> names{"the ground"};
    for (std::size_t coats = 0; coats <= most; ++coats) {
        settings.coats = coats;
        pictures.push_back(render::preview(job, light, profile, settings).picture);
        if (coats < most) names.push_back(job.coats[coats].name);
    }
    return {report::coats_sheet(pictures, names, job.title), 0, {}};
}

}  // namespace

ShowSheet show_sheet(const ShowChoice& choice, const plan::Job& job, const colour::Light& light,
                     const colour::OutputProfile& profile, render::PreviewSettings settings) {
    if (choice.what == Show::coats) {
        settings.longest_px = std::max(16, settings.longest_px / 3);
        return coats_sheet(job, light, profile, settings);
    }
    // What is not on yet after --after-coat plays no part.
    plan::Job laid = job;
    if (choice.what != Show::film) laid.coats.resize(std::min(settings.coats, laid.coats.size()));
    const std::vector<render::PassLine> lines = render::pass_lines(laid);
    if (choice.what == Show::passes) settings.margin = margin_for(lines, laid, settings.margin);
    const render::Frame frame = render::framed(laid.panel, settings.longest_px, settings.margin);
    ShowSheet sheet;
    sheet.pixels_per_metre = 1000 / frame.mm_per_px;
    const std::string& title = job.title;
    if (choice.what == Show::film) {
        sheet.picture = report::film_sheet(render::film_map(laid, choice.coat, frame),
                                           laid.coats[choice.coat].name, title, job.units);
        return sheet;
    }
    if (choice.what == Show::grain) {
        sheet.picture =
            report::grain_sheet(render::grain_map(laid, light, frame), laid.view_distance, title, job.units);
        return sheet;
    }
    const render::Preview painted = render::preview(laid, light, profile, settings);
    if (choice.what == Show::passes) {
        std::vector<std::string> names;
        for (const plan::ReadyCoat& coat : laid.coats) names.push_back(coat.name);
        sheet.picture = report::passes_sheet(painted.picture, frame, lines, names, title, job.units);
        return sheet;
    }
    render::Faults found = render::found_faults(laid);
    sheet.picture = report::faults_sheet(painted.picture, frame, found, laid.panel, title);
    sheet.faults = std::move(found.list);
    return sheet;
}

std::string faults_words(const std::vector<render::Fault>& faults) {
    const std::vector<render::Fault> listed = report::pressing(faults);
    std::string out;
    for (const render::Fault& fault : listed) out += report::fault_line(fault) + "\n";
    out +=
        fmt::format("{} of {} checks found nothing to watch\n", faults.size() - listed.size(), faults.size());
    return out;
}

nlohmann::ordered_json faults_json(const std::vector<render::Fault>& faults) {
    nlohmann::ordered_json list = nlohmann::ordered_json::array();
    for (const render::Fault& fault : faults) {
        nlohmann::ordered_json one;
        one["kind"] = render::kind_name(fault.kind);
        if (!fault.coat.empty()) one["coat"] = fault.coat;
        one["level"] = render::level_name(fault.level);
        one["figure"] = fault.figure;
        one["limit"] = fault.limit;
        one["x_mm"] = fault.x.value;
        one["y_mm"] = fault.y.value;
        one["share_of_panel"] = fault.of_panel.value;
        one["words"] = fault.words;
        list.push_back(std::move(one));
    }
    return list;
}

}  // namespace fadewright::app
