// The booth sheet: printed, and written as PDF, HTML, CSV or JSON; and cup labels.

#include "fadewright/app/commands.h"
#include "fadewright/app/requests_schema.h"
#include "fadewright/planner/resolve.h"
#include "fadewright/report/booth_sheet.h"
#include "outcome.h"

#include <fmt/core.h>

#include <array>

namespace fadewright::app {
namespace {

// Content by the ending of the file name, one of kEndings.
constexpr std::array<std::string_view, 4> kEndings{".pdf", ".html", ".csv", ".json"};

std::string file_content(const std::string& path, const report::BoothSheet& sheet, report::Paper paper) {
    if (path.ends_with(".pdf")) return report::booth_sheet_pdf(sheet, paper);
    if (path.ends_with(".html")) return report::booth_sheet_html(sheet);
    return report::booth_sheet_csv(sheet);
}

// JSON is always metric.
bool is_json(const std::string& path) { return path.ends_with(".json"); }

Check check_files(const SheetRequest& request) {
    for (const std::string& path : request.out) {
        bool known = false;
        for (const std::string_view ending : kEndings) known = known || path.ends_with(ending);
        if (!known)
            return usage_failure(fmt::format("unknown file type: {}", path),
                                 "give a name that ends in .pdf, .html, .csv or .json");
        if (Check done = check_overwrite(path, request.plan); !done) return done;
    }
    if (!request.labels.empty() && !request.labels.ends_with(".pdf"))
        return usage_failure(fmt::format("cannot write labels to '{}'", request.labels),
                             "give a name that ends in .pdf");
    return check_overwrite(request.labels, request.plan);
}

}  // namespace

Outcome sheet(Session& session, const SheetRequest& request) {
    if (const Check done = check_files(request); !done) return failed(done.error(), request);
    const auto opened = open_job(session, request.plan, output_options(request));
    if (!opened) return failed(opened.error(), request);
    const PreparedPlan& prepared = *opened.value();
    if (prepared.job->coats.empty())
        return failed(data_failure("the plan has no coats", "add [[coats]]"), request);
    plan::Library library = prepared.library;
    const auto sheet_in_units = [&](DisplayUnits units) {
        plan::Job job = *prepared.job;
        job.units = units;
        report::BoothSheet sheet = report::make_booth_sheet(*prepared.expanded, std::move(job), library);
        if (sheet.title.empty()) sheet.title = request.plan.name;
        return sheet;
    };
    const report::BoothSheet sheet = sheet_in_units(prepared.job->units);
    const auto json = [&] {
        const bool metric = sheet.job.units.system() == UnitSystem::metric;
        return report::booth_sheet_json(metric ? sheet : sheet_in_units(UnitSystem::metric));
    };
    Outcome outcome;
    outcome.err = to_text(prepared.diagnostics);
    outcome.out = request.json ? json() : report::booth_sheet_text(sheet);
    for (const std::string& path : request.out)
        add_artefact(outcome, path, is_json(path) ? json() : file_content(path, sheet, request.paper),
                     request.json);
    if (!request.labels.empty())
        add_artefact(outcome, request.labels, report::cup_labels_pdf(sheet, request.paper), request.json);
    return outcome;
}

}  // namespace fadewright::app
