// Fits a gun to the photo of one pass or one spot on white card.

#include "fadewright/calibration/gun_calibration.h"

#include "card_files.h"
#include "fadewright/app/commands.h"
#include "fadewright/app/requests_schema.h"
#include "fadewright/render/png.h"
#include "fadewright/report/gun_calibration_report.h"
#include "outcome.h"

#include <fmt/core.h>

#include <filesystem>

namespace fadewright::app {
namespace {

// An output file must not be the card's own picture.
Check check_picture_overwrite(const FitGunRequest& request, const calibration::SprayPatternCard& card) {
    namespace fs = std::filesystem;
    const fs::path folder = plan_file(request.card).folder;
    for (const std::string& path : {request.out, request.plot}) {
        std::error_code error;
        if (!path.empty() && fs::equivalent(path, folder / card.picture.value, error))
            return usage_failure(fmt::format("this would overwrite the picture of the card: {}", path),
                                 "choose another output name");
    }
    return Success{};
}

Check check_files(const FitGunRequest& request) {
    if (!request.out.empty() && !request.out.ends_with(".toml"))
        return usage_failure(fmt::format("cannot write a gun to '{}'", request.out),
                             "give a name that ends in .toml");
    if (!request.plot.empty() && !request.plot.ends_with(".png"))
        return usage_failure(fmt::format("cannot write a plot to '{}'", request.plot),
                             "give a name that ends in .png");
    for (const std::string& path : {request.out, request.plot})
        if (Check done = check_overwrite(path, plan_file(request.card)); !done) return done;
    return Success{};
}

std::string plot_bytes(const calibration::GunCalibration& calibration, DisplayUnits units) {
    render::PngMetadata notes;
    notes.texts = {{"Title", calibration.gun.title}};
    return render::png_bytes(report::gun_calibration_plot(calibration, units), notes);
}

}  // namespace

Outcome fit_gun(Session& session, const FitGunRequest& request) {
    if (const Check done = check_files(request); !done) return failed(done.error(), request);
    Result<plan::Library> opened = session.library();
    if (!opened) return failed(system_failure(opened.error()), request);
    plan::Library library = std::move(opened).value();
    const Result<std::shared_ptr<const Source>> source = read_source(request.card);
    if (!source) return failed(system_failure(source.error()), request);
    const DisplayUnits units = output_options(request).display_units();
    Diagnostics diagnostics;
    diagnostics.set_units(units.system());
    const std::optional<calibration::SprayPatternCard> card =
        calibration::read_spray_pattern_card(source.value(), diagnostics);
    if (card)
        if (const Check done = check_picture_overwrite(request, *card); !done)
            return failed(done.error(), request);
    const auto calibration =
        card ? calibration::fit_gun(*card, library, card_files(request.card), diagnostics) : std::nullopt;
    if (!calibration) return failed(data_failure(diagnostics), request);
    Outcome outcome;
    outcome.err = to_text(diagnostics);
    outcome.out = request.json ? report::gun_calibration_json(*calibration)
                               : report::gun_calibration_text(*calibration, units);
    if (!request.out.empty())
        add_artefact(outcome, request.out, calibration::gun_text(*calibration), request.json);
    if (!request.plot.empty())
        add_artefact(outcome, request.plot, plot_bytes(*calibration, units), request.json);
    return outcome;
}

}  // namespace fadewright::app
