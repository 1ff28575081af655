// The booth sheet: printed, and written as PDF, HTML, CSV or JSON; and labels for the cups.

#include "fadewright/app/commands.h"
#include "fadewright/app/requests_schema.h"
#include "fadewright/report/booth_sheet.h"
#include "outcome.h"

#include <fmt/core.h>

#include <array>

namespace fadewright::app {
namespace {

// What a file's ending asks for; the endings that mean something are those of kEndings.
constexpr std::array<std::string_view, 4> kEndings{".pdf", ".html", ".csv", ".json"};

std::string content(const std::string& path, const report::BoothSheet& sheet, report::Paper paper) {
    if (path.ends_with(".pdf")) return report::sheet_pdf(sheet, paper);
    if (path.ends_with(".html")) return report::sheet_html(sheet);
    return report::sheet_csv(sheet);
}

// JSON is metric, whatever the other files are.
bool is_json(const std::string& path) { return path.ends_with(".json"); }

std::optional<Outcome> wrong_files(const SheetRequest& request) {
    for (const std::string& path : request.out) {
        bool known = false;
        for (const std::string_view ending : kEndings) known = known || path.ends_with(ending);
        if (!known)
            return wrong_command(fmt::format("cannot tell what to write to '{}'", path),
                                 "give a name that ends in .pdf, .html, .csv or .json");
        if (is_the_plan(path, request.plan)) return would_lose_plan(request.plan);
    }
    if (!request.labels.empty() && !request.labels.ends_with(".pdf"))
        return wrong_command(fmt::format("cannot write labels to '{}'", request.labels),
                             "give a name that ends in .pdf");
    if (is_the_plan(request.labels, request.plan)) return would_lose_plan(request.plan);
    return std::nullopt;
}

}  // namespace

Outcome sheet(const SheetRequest& request) {
    if (const std::optional<Outcome> wrong = wrong_files(request)) return *wrong;
    OpenedPlan opened = open_plan(request.plan, request.shelf, answer_of(request));
    if (!opened.ready()) return opened.outcome;
    const std::optional<plan::LaidPlan> laid =
        plan::laid_plan(*opened.plan, opened.source->text(), *opened.shelf, opened.diagnostics);
    if (!laid) return wrong_data(opened.diagnostics, request.json);
    Outcome outcome;
    outcome.talk = to_text(opened.diagnostics);
    if (laid->job.coats.empty())
        return {Exit::wrong_data, "", "error: the plan has no coats\n       = hint: add [[coats]]\n"};
    const auto sheet_in = [&](ShownUnits units) {
        plan::Job job = laid->job;
        job.units = units;
        report::BoothSheet sheet = report::booth_sheet(laid->plan, std::move(job), *opened.shelf);
        if (sheet.title.empty()) sheet.title = request.plan;
        return sheet;
    };
    const report::BoothSheet sheet = sheet_in(laid->job.units);
    const auto json = [&] {
        const bool metric = sheet.job.units.system() == UnitSystem::metric;
        return report::sheet_json(metric ? sheet : sheet_in(UnitSystem::metric));
    };
    outcome.out = request.json ? json() : report::sheet_text(sheet);
    NewFiles files;
    for (const std::string& path : request.out)
        files.emplace_back(path, is_json(path) ? json() : content(path, sheet, request.paper));
    if (!request.labels.empty()) files.emplace_back(request.labels, report::labels_pdf(sheet, request.paper));
    const std::optional<Outcome> wrong = write_all(files, outcome, request.json);
    return wrong ? *wrong : outcome;
}

}  // namespace fadewright::app
