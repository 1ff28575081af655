// Fits a paint to a spray-out card, or prints a blank card to spray on.

#include "card_files.h"
#include "embedded.h"
#include "fadewright/app/commands.h"
#include "fadewright/app/requests_schema.h"
#include "fadewright/plan/paint_calibration.h"
#include "fadewright/report/blank_card.h"
#include "fadewright/report/paint_calibration_report.h"
#include "fadewright/report/scale_bar.h"
#include "outcome.h"

#include <fmt/core.h>

namespace fadewright::app {
namespace {

Outcome write_blank_card(const FitPaintRequest& request) {
    if (request.out.empty()) return usage_error("no output file for the blank card", "add  -o card.pdf");
    if (!request.out.ends_with(".pdf"))
        return usage_error(fmt::format("cannot write a blank card to '{}'", request.out),
                           "give a name that ends in .pdf");
    const Result<Success> result = write_file_atomic(
        request.out, report::blank_card_pdf(request.paper, output_options(request).display_units()));
    if (!result) return system_error(result.error());
    Outcome outcome;
    if (request.json) {
        outcome.out = fmt::format("{{\n  \"file\": {}\n}}\n", detail::toml_string(request.out));
    } else {
        report_written(outcome, request.out, false);
        outcome.out += fmt::format("print it at actual size and measure the bar: {}\n",
                                   report::bar_label(output_options(request).display_units()));
    }
    return outcome;
}

}  // namespace

Outcome fit_paint(const FitPaintRequest& request) {
    if (request.blank) return write_blank_card(request);
    if (request.card.empty())
        return usage_error("no card file given", "give one, or print a blank card with  --blank -o card.pdf");
    if (overwrites_plan(request.out, request.card)) return refuse_overwrite(request.card);
    Result<plan::Library> opened = plan::Library::open(embedded_presets(), request.library);
    if (!opened) return system_error(opened.error());
    plan::Library library = std::move(opened).value();
    const Result<std::shared_ptr<const Source>> source = read_source(request.card);
    if (!source) return system_error(source.error());
    Diagnostics diagnostics;
    diagnostics.set_units(output_options(request).display_units().system());
    const std::optional<plan::SprayOutCard> file = plan::read_spray_out_card(source.value(), diagnostics);
    const auto ready =
        file ? plan::prepare_card(*file, library, card_files(request.card), diagnostics) : std::nullopt;
    const auto calibration = ready ? plan::fit_paint(*ready, file->span, diagnostics) : std::nullopt;
    if (!calibration) return data_error(diagnostics, request.json);
    Outcome outcome;
    outcome.err = to_text(diagnostics);
    outcome.out = request.json
                      ? report::paint_calibration_json(*calibration)
                      : report::paint_calibration_text(*calibration, output_options(request).display_units());
    if (request.out.empty()) return outcome;
    const Result<Success> result = write_file_atomic(request.out, plan::paint_text(calibration->paint));
    if (!result) return system_error(result.error());
    report_written(outcome, request.out, request.json);
    return outcome;
}

}  // namespace fadewright::app
