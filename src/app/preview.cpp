// The picture of a plan, as a PNG file.

#include "fadewright/render/preview.h"

#include "fadewright/app/commands.h"
#include "fadewright/base/parallel.h"
#include "fadewright/render/png.h"
#include "fadewright/report/shown.h"
#include "outcome.h"
#include "show.h"
#include "views.h"

#include <fmt/core.h>

#include <nlohmann/json.hpp>

namespace fadewright::app {
namespace {

Result<colour::OutputProfile> profile_of(const std::string& path) {
    if (path.empty()) return colour::OutputProfile::srgb();
    Result<std::string> bytes = read_whole(path, kBinaryFileLimit_bytes);
    if (!bytes) return bytes.refusal();
    return colour::OutputProfile::from_icc(std::move(bytes).value(), path);
}

render::PngNotes notes_of(const plan::Job& job, const colour::OutputProfile& profile,
                          double pixels_per_metre) {
    render::PngNotes notes;
    notes.icc = profile.icc_bytes();
    notes.icc_name = profile.name() == "sRGB" ? "sRGB" : "output profile";
    notes.pixels_per_metre = pixels_per_metre;
    notes.texts = {
        {"Title", job.title},
        {"Plan", "sha256 " + job.hash},
        {"Comment", "Preview, not a colour approval. Paint data: " + report::origin_words(job.origin) + "."}};
    return notes;
}

std::string words(const PreviewRequest& request, const plan::Job& job, const render::Preview& preview,
                  const colour::Light& light, double exposure) {
    std::string out = fmt::format("wrote {}: {} x {} px, seen in {}\n", request.out, preview.picture.width,
                                  preview.picture.height, light.title);
    if (job.origin == paint::Origin::estimated)
        out += "colours are predicted from estimated paint data; spray a card before you trust them\n";
    if (exposure < 1)
        out += fmt::format("the flakes outshine a white: shown {:.2f} times as bright as it is\n", exposure);
    if (preview.outside_px > 0)
        out += fmt::format(
            "{:.1f} % of the panel is more colourful than the picture's profile can show\n",
            100.0 * static_cast<double>(preview.outside_px) / static_cast<double>(preview.panel_px));
    return out;
}

std::string json(const PreviewRequest& request, const plan::Job& job, const render::Preview& preview,
                 const colour::Light& light, double exposure) {
    nlohmann::ordered_json json;
    json["picture"] = request.out;
    json["width_px"] = preview.picture.width;
    json["height_px"] = preview.picture.height;
    json["pixels_per_metre"] = preview.pixels_per_metre;
    json["plan_sha256"] = job.hash;
    json["light"] = light.title;
    if (exposure < 1) json["exposure"] = exposure;
    json["paint_data"] = report::origin_words(job.origin);
    json["panel_px"] = preview.panel_px;
    json["outside_profile_px"] = preview.outside_px;
    json["places_worked_out"] = preview.places;
    return json.dump(2) + "\n";
}

Outcome shown(const PreviewRequest& request, Opened& opened, const colour::OutputProfile& profile,
              const render::PreviewSettings& settings) {
    const plan::Job& job = *opened.job;
    const std::variant<ShowChoice, Outcome> choice = show_choice(request.show, job);
    if (const Outcome* wrong = std::get_if<Outcome>(&choice)) return *wrong;
    const ThreadLimit threads(request.threads);
    const ShowSheet sheet = show_sheet(std::get<ShowChoice>(choice), job, *opened.light, profile, settings);
    const Result<Done> written = write_whole(
        request.out, render::png_bytes(sheet.picture, notes_of(job, profile, sheet.pixels_per_metre)));
    if (!written) return refused(written.refusal());
    const bool faults = std::get<ShowChoice>(choice).what == Show::faults;
    Outcome outcome = std::move(opened.outcome);
    if (request.json) {
        nlohmann::ordered_json json;
        json["picture"] = request.out;
        json["show"] = request.show;
        json["width_px"] = sheet.picture.width;
        json["height_px"] = sheet.picture.height;
        json["pixels_per_metre"] = sheet.pixels_per_metre;
        json["plan_sha256"] = job.hash;
        json["paint_data"] = report::origin_words(job.origin);
        if (faults) json["faults"] = faults_json(sheet.faults);
        outcome.out = json.dump(2) + "\n";
        return outcome;
    }
    outcome.out =
        fmt::format("wrote {}: {} x {} px\n", request.out, sheet.picture.width, sheet.picture.height);
    if (faults) outcome.out += faults_words(sheet.faults);
    return outcome;
}

// Options of which only one can be meant.
std::optional<Outcome> at_odds(const PreviewRequest& request) {
    std::vector<std::string> sheets;
    if (!request.show.empty()) sheets.emplace_back("--show");
    if (request.angles) sheets.emplace_back("--angles");
    if (request.lights) sheets.emplace_back("--lights");
    if (request.turn) sheets.emplace_back("--turn");
    if (sheets.size() > 1)
        return wrong_command(fmt::format("{} and {} are two different pictures", sheets[0], sheets[1]),
                             "ask for one at a time");
    const bool on_form = request.form != render::Form::panel;
    if (on_form && (request.angle || request.angles))
        return wrong_command("a form has places at every angle", "leave out --form or the angle");
    if (request.turn && request.angle)
        return wrong_command("turning goes through the angles", "leave out --turn or --angle");
    if (request.show.empty() || !on_form) return std::nullopt;
    return wrong_command("--show is about the panel itself", "leave out --form or --show");
}

Outcome several_views(const PreviewRequest& request, Opened& opened, const Looked& looked) {
    Outcome outcome = std::move(opened.outcome);
    const render::PngNotes notes = notes_of(looked.job, looked.profile, 0);
    NewFiles files;
    if (request.turn) {
        files = turning_files(looked, *request.turn, request.out, notes);
    } else {
        const Result<Picture> sheet =
            request.angles ? Result<Picture>(angles_sheet(looked)) : lights_sheet(looked, *opened.shelf);
        if (!sheet) return refused(sheet.refusal());
        files = {{request.out, render::png_bytes(sheet.value(), notes)}};
    }
    constexpr bool silently = true;  // what was written is told below
    if (const std::optional<Outcome> wrong = write_all(files, outcome, silently)) return *wrong;
    std::vector<std::string> written;
    for (const auto& [name, bytes] : files) written.push_back(name);
    if (request.json) {
        nlohmann::ordered_json json;
        json["pictures"] = written;
        json["plan_sha256"] = looked.job.hash;
        json["paint_data"] = report::origin_words(looked.job.origin);
        outcome.out = json.dump(2) + "\n";
    } else if (written.size() > 1) {
        outcome.out = fmt::format("wrote {} and the {} pictures it is made of, {} to {}\n", request.out,
                                  written.size() - 1, written.front(), written[written.size() - 2]);
    } else {
        outcome.out = fmt::format("wrote {}\n", request.out);
    }
    return outcome;
}

}  // namespace

Outcome preview(const PreviewRequest& request) {
    if (is_the_plan(request.out, request.plan)) return would_lose_plan(request.plan);
    Opened opened = open_job(request.plan, request.shelf, request.light, answer_of(request));
    if (!opened.ready()) return opened.outcome;
    const Result<colour::OutputProfile> profile = profile_of(request.profile);
    if (!profile) return refused(profile.refusal());
    if (const std::optional<Outcome> wrong = at_odds(request)) return *wrong;
    plan::Job& job = *opened.job;
    if (request.before_clear) job = render::before_clear(std::move(job));
    render::PreviewSettings settings;
    settings.longest_px = request.size;
    settings.margin = request.margin;
    settings.work = request.exact ? render::Work::every_pixel : render::Work::refined;
    if (request.after_coat) {
        if (*request.after_coat > static_cast<int>(job.coats.size()))
            return wrong_command(
                fmt::format("the plan has {} coats, not {}", job.coats.size(), *request.after_coat),
                fmt::format("--after-coat takes 0 to {}", job.coats.size()));
        settings.coats = static_cast<std::size_t>(*request.after_coat);
    }
    if (!request.show.empty()) return shown(request, opened, profile.value(), settings);
    const ThreadLimit threads(request.threads);
    if (request.form != render::Form::panel) {
        job = render::on_form(job, request.form);
        settings.viewing = render::on_body();
    }
    if (request.angle) settings.viewing = render::instrument(*request.angle);
    const Looked looked{job, *opened.light, profile.value(), settings};
    if (request.angles || request.lights || request.turn) return several_views(request, opened, looked);
    settings.exposure = render::exposure_without_glare(job, *opened.light, settings);
    const render::Preview preview = render::preview(job, *opened.light, profile.value(), settings);
    const std::string png =
        render::png_bytes(preview.picture, notes_of(job, profile.value(), preview.pixels_per_metre));
    const Result<Done> written = write_whole(request.out, png);
    if (!written) return refused(written.refusal());
    Outcome outcome = std::move(opened.outcome);
    outcome.out = request.json ? json(request, job, preview, *opened.light, settings.exposure)
                               : words(request, job, preview, *opened.light, settings.exposure);
    return outcome;
}

}  // namespace fadewright::app
