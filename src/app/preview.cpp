// The picture of a plan, as a PNG file.

#include "fadewright/render/preview.h"

#include "fadewright/app/commands.h"
#include "fadewright/base/parallel.h"
#include "fadewright/render/png.h"
#include "fadewright/report/format.h"
#include "outcome.h"
#include "preview_sheets.h"
#include "preview_views.h"

#include <fmt/core.h>

#include <nlohmann/json.hpp>

namespace fadewright::app {
namespace {

Result<colour::OutputProfile> profile_of(const std::string& path) {
    if (path.empty()) return colour::OutputProfile::srgb();
    Result<std::string> bytes = read_file_bytes(path, kBinaryFileLimit_bytes);
    if (!bytes) return bytes.error();
    return colour::OutputProfile::from_icc(std::move(bytes).value(), path);
}

render::PngMetadata notes_of(const plan::Job& job, const colour::OutputProfile& profile,
                             double pixels_per_metre) {
    render::PngMetadata notes;
    notes.icc = profile.icc_bytes();
    notes.icc_name = profile.name() == "sRGB" ? "sRGB" : "output profile";
    notes.pixels_per_metre = pixels_per_metre;
    notes.texts = {{"Title", job.title},
                   {"Plan", "sha256 " + job.hash},
                   {"Comment", "Preview, not a colour approval. Paint data: " +
                                   report::provenance_label(job.origin) + "."}};
    return notes;
}

std::string preview_text(const PreviewRequest& request, const plan::Job& job, const render::Preview& preview,
                         const colour::Illuminant& light, double exposure) {
    std::string out = fmt::format("wrote {}: {} × {} px, in {}\n", request.out, preview.picture.width,
                                  preview.picture.height, light.title);
    if (job.origin == paint::Provenance::estimated)
        out += "colours are predicted from estimated paint data; spray a card before you trust them\n";
    if (exposure < 1)
        out +=
            fmt::format("flakes are brighter than white paper here: darkened to {:.0f} % to fit the screen\n",
                        100 * exposure);
    if (preview.out_of_gamut_px > 0)
        out += fmt::format(
            "{:.1f} % of the panel is outside the gamut of the profile\n",
            100.0 * static_cast<double>(preview.out_of_gamut_px) / static_cast<double>(preview.panel_px));
    return out;
}

std::string preview_json(const PreviewRequest& request, const plan::Job& job, const render::Preview& preview,
                         const colour::Illuminant& light, double exposure) {
    nlohmann::ordered_json json;
    json["picture"] = request.out;
    json["width_px"] = preview.picture.width;
    json["height_px"] = preview.picture.height;
    json["pixels_per_metre"] = preview.pixels_per_metre;
    json["plan_sha256"] = job.hash;
    json["light"] = light.title;
    if (exposure < 1) json["exposure"] = exposure;
    json["paint_data"] = report::provenance_label(job.origin);
    json["panel_px"] = preview.panel_px;
    json["outside_profile_px"] = preview.out_of_gamut_px;
    json["points_computed"] = preview.samples;
    return json_text(json);
}

Artefact picture_artefact(const PreviewRequest& request, std::string png) {
    return {request.out, "image/png", std::move(png)};
}

Attempt<Outcome> preview_sheet(const PreviewRequest& request, const ViewContext& context) {
    const plan::Job& job = context.job;
    const Attempt<PreviewSheetSelection> choice = parse_sheet_selection(request.show, job);
    if (!choice) return choice.error();
    const ThreadLimit threads(request.threads);
    const PreviewSheet sheet =
        draw_preview_sheet(choice.value(), job, context.light, context.profile, context.settings);
    const bool shows_defects = choice.value().kind == PreviewSheetKind::defects;
    Outcome outcome;
    outcome.artefacts = {picture_artefact(
        request, render::png_bytes(sheet.picture, notes_of(job, context.profile, sheet.pixels_per_metre)))};
    if (request.json) {
        nlohmann::ordered_json json;
        json["picture"] = request.out;
        json["show"] = request.show;
        json["width_px"] = sheet.picture.width;
        json["height_px"] = sheet.picture.height;
        json["pixels_per_metre"] = sheet.pixels_per_metre;
        json["plan_sha256"] = job.hash;
        json["paint_data"] = report::provenance_label(job.origin);
        if (shows_defects) json["defects"] = defects_json(sheet.defects, job.units);
        outcome.out = json_text(json);
        return outcome;
    }
    outcome.written =
        fmt::format("wrote {}: {} × {} px\n", request.out, sheet.picture.width, sheet.picture.height);
    if (shows_defects) outcome.written += defects_text(sheet.defects, job.units);
    return outcome;
}

// Options that exclude each other.
Check check_conflicting_options(const PreviewRequest& request) {
    std::vector<std::string> sheets;
    if (!request.show.empty()) sheets.emplace_back("--show");
    if (request.angles) sheets.emplace_back("--angles");
    if (request.lights) sheets.emplace_back("--lights");
    if (request.turn) sheets.emplace_back("--turn");
    if (sheets.size() > 1)
        return usage_failure(fmt::format("{} cannot be combined with {}", sheets[0], sheets[1]),
                             "give one of them");
    const bool on_shape = request.shape != render::DisplayShape::panel;
    if (on_shape && (request.angle || request.angles))
        return usage_failure(
            fmt::format("--shape cannot be combined with {}", request.angles ? "--angles" : "--angle"),
            "a shape has points at every angle");
    if (request.turn && request.angle)
        return usage_failure("--turn cannot be combined with --angle", "give one of them");
    if (request.show.empty() || !on_shape) return Success{};
    return usage_failure("--shape cannot be combined with --show", "give one of them");
}

Attempt<Outcome> several_views(const PreviewRequest& request, const ViewContext& context,
                               const plan::Library& library) {
    Outcome outcome;
    const render::PngMetadata notes = notes_of(context.job, context.profile, 0);
    if (request.turn) {
        outcome.artefacts = turntable_files(context, *request.turn, request.out, notes);
    } else {
        const Attempt<Picture> sheet =
            request.angles ? Attempt<Picture>(angles_sheet(context)) : lights_sheet(context, library);
        if (!sheet) return sheet.error();
        outcome.artefacts = {picture_artefact(request, render::png_bytes(sheet.value(), notes))};
    }
    std::vector<std::string> result;
    for (const Artefact& file : outcome.artefacts) result.push_back(file.name);
    if (request.json) {
        nlohmann::ordered_json json;
        json["pictures"] = result;
        json["plan_sha256"] = context.job.hash;
        json["paint_data"] = report::provenance_label(context.job.origin);
        outcome.out = json_text(json);
    } else if (result.size() > 1) {
        outcome.written = fmt::format("wrote {} and its {} frames, {} to {}\n", request.out,
                                      result.size() - 1, result.front(), result[result.size() - 2]);
    } else {
        outcome.written = fmt::format("wrote {}\n", request.out);
    }
    return outcome;
}

Attempt<Outcome> single_view(const PreviewRequest& request, ViewContext context) {
    render::PreviewSettings& settings = context.settings;
    settings.exposure = render::max_exposure_without_clipping(context.job, context.light, settings);
    const render::Preview preview = render::preview(context.job, context.light, context.profile, settings);
    Outcome outcome;
    outcome.artefacts = {picture_artefact(
        request, render::png_bytes(preview.picture,
                                   notes_of(context.job, context.profile, preview.pixels_per_metre)))};
    if (request.json)
        outcome.out = preview_json(request, context.job, preview, context.light, settings.exposure);
    else
        outcome.written = preview_text(request, context.job, preview, context.light, settings.exposure);
    return outcome;
}

Attempt<Outcome> draw(const PreviewRequest& request, const PreparedPlan& prepared) {
    const Attempt<colour::Illuminant> light = find_light(prepared, request.light);
    if (!light) return light.error();
    const Result<colour::OutputProfile> profile = profile_of(request.profile);
    if (!profile) return system_failure(profile.error());
    if (const Check done = check_conflicting_options(request); !done) return done.error();
    plan::Job job = *prepared.job;
    if (request.without_clear) job = render::without_clear(std::move(job));
    render::PreviewSettings settings;
    settings.longest_px = request.size;
    settings.margin = request.margin;
    settings.sampling = request.exact ? render::Sampling::every_pixel : render::Sampling::adaptive;
    if (request.after_coat) {
        if (*request.after_coat > static_cast<int>(job.coats.size()))
            return option_failure(
                fmt::format("the plan has {} coats, not {}", job.coats.size(), *request.after_coat),
                fmt::format("--after-coat takes 0 to {}", job.coats.size()));
        settings.coats = static_cast<std::size_t>(*request.after_coat);
    }
    if (!request.show.empty()) return preview_sheet(request, {job, light.value(), profile.value(), settings});
    const ThreadLimit threads(request.threads);
    if (request.shape != render::DisplayShape::panel) {
        job = render::with_shape(job, request.shape);
        settings.viewing = render::shape_viewing();
    }
    if (request.angle) settings.viewing = render::goniometer_viewing(*request.angle);
    const ViewContext context{job, light.value(), profile.value(), settings};
    if (request.angles || request.lights || request.turn)
        return several_views(request, context, prepared.library);
    return single_view(request, context);
}

}  // namespace

Outcome preview(Session& session, const PreviewRequest& request) {
    if (const Check done = check_overwrite(request.out, request.plan); !done)
        return failed(done.error(), request);
    const auto opened = open_job(session, request.plan, output_options(request));
    if (!opened) return failed(opened.error(), request);
    Attempt<Outcome> drawn = draw(request, *opened.value());
    if (!drawn) return failed(drawn.error(), request);
    Outcome outcome = std::move(drawn).value();
    outcome.err = to_text(opened.value()->diagnostics);
    return outcome;
}

}  // namespace fadewright::app
