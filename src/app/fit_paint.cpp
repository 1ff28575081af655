// Fits a paint to a spray-out card, or prints a blank card to spray on.

#include "card_files.h"
#include "fadewright/app/commands.h"
#include "fadewright/app/requests_schema.h"
#include "fadewright/calibration/paint_calibration.h"
#include "fadewright/report/blank_card.h"
#include "fadewright/report/paint_calibration_report.h"
#include "fadewright/report/scale_bar.h"
#include "outcome.h"

#include <fmt/core.h>

#include <nlohmann/json.hpp>

namespace fadewright::app {
namespace {

Outcome blank_card(const FitPaintRequest& request) {
    if (request.out.empty())
        return failed(option_failure("no output file for the blank card", "add  -o card.pdf"), request);
    if (!request.out.ends_with(".pdf"))
        return failed(usage_failure(fmt::format("cannot write a blank card to '{}'", request.out),
                                    "give a name that ends in .pdf"),
                      request);
    const DisplayUnits units = output_options(request).display_units();
    Outcome outcome;
    add_artefact(outcome, request.out, report::blank_card_pdf(request.paper, units), request.json);
    if (request.json)
        outcome.out = json_text({{"file", request.out}});
    else
        outcome.written +=
            fmt::format("print it at actual size and measure the bar: {}\n", report::bar_label(units));
    return outcome;
}

}  // namespace

Outcome fit_paint(Session& session, const FitPaintRequest& request) {
    if (request.blank) return blank_card(request);
    if (request.card.empty())
        return failed(
            option_failure("no card file given", "give one, or print a blank card with  --blank -o card.pdf"),
            request);
    if (const Check done = check_overwrite(request.out, plan_file(request.card)); !done)
        return failed(done.error(), request);
    Result<plan::Library> opened = session.library();
    if (!opened) return failed(system_failure(opened.error()), request);
    plan::Library library = std::move(opened).value();
    const Result<std::shared_ptr<const Source>> source = read_source(request.card);
    if (!source) return failed(system_failure(source.error()), request);
    Diagnostics diagnostics;
    diagnostics.set_units(output_options(request).display_units().system());
    const std::optional<calibration::SprayOutCard> file =
        calibration::read_spray_out_card(source.value(), diagnostics);
    const auto ready = file ? calibration::prepare_card(*file, library, card_files(request.card), diagnostics)
                            : std::nullopt;
    const auto calibration = ready ? calibration::fit_paint(*ready, file->span, diagnostics) : std::nullopt;
    if (!calibration) return failed(data_failure(diagnostics), request);
    Outcome outcome;
    outcome.err = to_text(diagnostics);
    outcome.out = request.json
                      ? report::paint_calibration_json(*calibration)
                      : report::paint_calibration_text(*calibration, output_options(request).display_units());
    if (!request.out.empty())
        add_artefact(outcome, request.out, calibration::paint_text(calibration->paint), request.json);
    return outcome;
}

}  // namespace fadewright::app
