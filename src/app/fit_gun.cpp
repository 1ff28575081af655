// Fits a gun to the photo of one pass or one spot on white card.

#include "fadewright/plan/gun_calibration.h"

#include "card_files.h"
#include "embedded.h"
#include "fadewright/app/commands.h"
#include "fadewright/app/requests_schema.h"
#include "fadewright/render/png.h"
#include "fadewright/report/gun_calibration_report.h"
#include "outcome.h"

#include <fmt/core.h>

#include <filesystem>

namespace fadewright::app {
namespace {

// True if an output file is the card's own picture.
bool overwrites_card_picture(const std::string& out, const FitGunRequest& request,
                             const plan::SprayPatternCard& card) {
    namespace fs = std::filesystem;
    const fs::path folder = fs::path(request.card == "-" ? "" : request.card).parent_path();
    std::error_code error;
    return !out.empty() && fs::equivalent(out, folder / card.picture.value, error);
}

Outcome refuse_picture_overwrite(const std::string& path) {
    return usage_error(fmt::format("this would overwrite the picture of the card: {}", path),
                       "choose another output name");
}

std::optional<Outcome> write_outputs(const FitGunRequest& request, const plan::GunCalibration& calibration,
                                     Outcome& outcome) {
    if (!request.out.empty()) {
        const Result<Success> done = write_file_atomic(request.out, plan::gun_text(calibration));
        if (!done) return system_error(done.error());
        report_written(outcome, request.out, request.json);
    }
    if (!request.plot.empty()) {
        render::PngMetadata notes;
        notes.texts = {{"Title", calibration.gun.title}};
        const Result<Success> done = write_file_atomic(
            request.plot,
            render::png_bytes(
                report::gun_calibration_plot(calibration, output_options(request).display_units()), notes));
        if (!done) return system_error(done.error());
        report_written(outcome, request.plot, request.json);
    }
    return std::nullopt;
}

}  // namespace

Outcome fit_gun(const FitGunRequest& request) {
    if (!request.out.empty() && !request.out.ends_with(".toml"))
        return usage_error(fmt::format("cannot write a gun to '{}'", request.out),
                           "give a name that ends in .toml");
    if (!request.plot.empty() && !request.plot.ends_with(".png"))
        return usage_error(fmt::format("cannot write a plot to '{}'", request.plot),
                           "give a name that ends in .png");
    for (const std::string& path : {request.out, request.plot})
        if (overwrites_plan(path, request.card)) return refuse_overwrite(request.card);
    Result<plan::Library> opened = plan::Library::open(embedded_presets(), request.library);
    if (!opened) return system_error(opened.error());
    plan::Library library = std::move(opened).value();
    const Result<std::shared_ptr<const Source>> source = read_source(request.card);
    if (!source) return system_error(source.error());
    Diagnostics diagnostics;
    diagnostics.set_units(output_options(request).display_units().system());
    const std::optional<plan::SprayPatternCard> card =
        plan::read_spray_pattern_card(source.value(), diagnostics);
    if (card)
        for (const std::string& path : {request.out, request.plot})
            if (overwrites_card_picture(path, request, *card)) return refuse_picture_overwrite(path);
    const auto calibration =
        card ? plan::fit_gun(*card, library, card_files(request.card), diagnostics) : std::nullopt;
    if (!calibration) return data_error(diagnostics, request.json);
    Outcome outcome;
    outcome.err = to_text(diagnostics);
    outcome.out = request.json
                      ? report::gun_calibration_json(*calibration)
                      : report::gun_calibration_text(*calibration, output_options(request).display_units());
    if (auto refusal = write_outputs(request, *calibration, outcome)) return *refusal;
    return outcome;
}

}  // namespace fadewright::app
