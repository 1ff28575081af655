// Film build and colour along a line: printed, and written as CSV, JSON or a plot.

#include "fadewright/assess/section.h"

#include "fadewright/app/commands.h"
#include "fadewright/app/requests_schema.h"
#include "fadewright/render/png.h"
#include "fadewright/report/section_report.h"
#include "outcome.h"

#include <fmt/core.h>

namespace fadewright {

bool Codec<app::PanelPoint>::read(const Node& node, const FieldContext& field, ReadContext& r,
                                  app::PanelPoint& out) {
    const std::size_t comma = node.text.find(',');
    if (node.kind != Node::Kind::text || comma == std::string::npos)
        return detail::report_wrong_kind(node, field, "a point \"x,y\" such as \"450 mm,80 mm\"", r);
    const auto units = units_of<Millimetres>();
    const auto x =
        read_quantity(std::string_view(node.text).substr(0, comma), node.span, units, r.diagnostics);
    const auto y =
        read_quantity(std::string_view(node.text).substr(comma + 1), node.span, units, r.diagnostics);
    if (!x || !y) return false;
    out = {Millimetres{*x}, Millimetres{*y}};
    return true;
}

bool Codec<app::PlanInput>::read(const Node& node, const FieldContext& field, ReadContext& r,
                                 app::PlanInput& out) {
    std::string path;
    if (!detail::read_text(node, field, r, path)) return false;
    out = app::plan_file(path);
    return true;
}

}  // namespace fadewright

namespace fadewright::app {
namespace {

Check check_files(const SectionRequest& request) {
    for (const std::string& path : request.out)
        if (!path.ends_with(".csv") && !path.ends_with(".json") && !path.ends_with(".png"))
            return usage_failure(fmt::format("unknown file type: {}", path),
                                 "give a name that ends in .csv, .json or .png");
    for (const std::string& path : request.out)
        if (Check done = check_overwrite(path, request.plan); !done) return done;
    return Success{};
}

// Content by the ending of the file name, one of those that are checked above.
std::string file_content(const std::string& path, const assess::Section& section, const plan::Job& job) {
    if (path.ends_with(".csv")) return report::section_csv(section);
    if (path.ends_with(".json")) return report::section_json(section);
    render::PngMetadata notes;
    notes.texts = {{"Title", job.title}, {"Plan", "sha256 " + job.hash}};
    return render::png_bytes(report::section_plot(section, job.title, job.units), notes);
}

}  // namespace

Outcome section(Session& session, const SectionRequest& request) {
    if (const Check done = check_files(request); !done) return failed(done.error(), request);
    const auto opened = open_job(session, request.plan, output_options(request));
    if (!opened) return failed(opened.error(), request);
    const plan::Job& job = *opened.value()->job;
    const Attempt<colour::Illuminant> light = find_light(*opened.value(), request.light);
    if (!light) return failed(light.error(), request);
    const PanelPoint bottom{0.5 * job.panel.width, Millimetres{0.0}},
        top{0.5 * job.panel.width, job.panel.height};
    const PanelPoint from = request.from.value_or(bottom), to = request.to.value_or(top);
    if (from.x == to.x && from.y == to.y)
        return failed(
            option_failure("the line has no length", "give two different points in --from and --to"),
            request);
    const assess::Section section = assess::section(job, light.value(), {from.x, from.y}, {to.x, to.y},
                                                    static_cast<std::size_t>(request.samples));
    Outcome outcome;
    outcome.err = to_text(opened.value()->diagnostics);
    outcome.out = request.json ? report::section_json(section) : report::section_text(section, job.units);
    for (const std::string& path : request.out)
        add_artefact(outcome, path, file_content(path, section, job), request.json);
    return outcome;
}

}  // namespace fadewright::app
