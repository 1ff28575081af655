// The booth sheet: printed, and written as PDF, HTML, CSV or JSON; and cup labels.

#include "fadewright/app/commands.h"
#include "fadewright/app/requests_schema.h"
#include "fadewright/plan/resolve.h"
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

std::optional<Outcome> check_files(const SheetRequest& request) {
    for (const std::string& path : request.out) {
        bool known = false;
        for (const std::string_view ending : kEndings) known = known || path.ends_with(ending);
        if (!known)
            return usage_error(fmt::format("unknown file type: {}", path),
                               "give a name that ends in .pdf, .html, .csv or .json");
        if (overwrites_plan(path, request.plan)) return refuse_overwrite(request.plan);
    }
    if (!request.labels.empty() && !request.labels.ends_with(".pdf"))
        return usage_error(fmt::format("cannot write labels to '{}'", request.labels),
                           "give a name that ends in .pdf");
    if (overwrites_plan(request.labels, request.plan)) return refuse_overwrite(request.plan);
    return std::nullopt;
}

}  // namespace

Outcome sheet(const SheetRequest& request) {
    if (const std::optional<Outcome> failure = check_files(request)) return *failure;
    OpenedPlan opened = open_plan(request.plan, request.library, output_options(request));
    if (!opened.ready()) return opened.outcome;
    const plan::ResolvedPlan resolved = plan::resolve(std::move(*opened.plan), *opened.library);
    if (!resolved.job) return data_error(resolved.diagnostics, request.json);
    Outcome outcome;
    outcome.err = to_text(resolved.diagnostics);
    if (resolved.job->coats.empty())
        return {Exit::data_error, "", "error: the plan has no coats\nhint: add [[coats]]\n"};
    const auto sheet_in_units = [&](DisplayUnits units) {
        plan::Job job = *resolved.job;
        job.units = units;
        report::BoothSheet sheet =
            report::make_booth_sheet(*resolved.expanded, std::move(job), *opened.library);
        if (sheet.title.empty()) sheet.title = request.plan;
        return sheet;
    };
    const report::BoothSheet sheet = sheet_in_units(resolved.job->units);
    const auto json = [&] {
        const bool metric = sheet.job.units.system() == UnitSystem::metric;
        return report::booth_sheet_json(metric ? sheet : sheet_in_units(UnitSystem::metric));
    };
    outcome.out = request.json ? json() : report::booth_sheet_text(sheet);
    OutputFiles files;
    for (const std::string& path : request.out)
        files.emplace_back(path, is_json(path) ? json() : file_content(path, sheet, request.paper));
    if (!request.labels.empty())
        files.emplace_back(request.labels, report::cup_labels_pdf(sheet, request.paper));
    const std::optional<Outcome> failure = write_files(files, outcome, request.json);
    return failure ? *failure : outcome;
}

}  // namespace fadewright::app
