// Full-size outlines of a plan, as PDF over several pages.

#include "fadewright/report/outline_template.h"

#include "fadewright/app/commands.h"
#include "fadewright/text/schema.h"
#include "outcome.h"

#include <fmt/core.h>

#include <algorithm>
#include <nlohmann/json.hpp>

namespace fadewright::app {
namespace {

// The masks of the coats, each once.
std::vector<report::NamedOutline> masks_of(const plan::Job& job) {
    std::vector<report::NamedOutline> masks;
    for (const plan::ResolvedCoat& coat : job.coats)
        for (const plan::ResolvedMask& mask : coat.masks) {
            const bool known = std::any_of(masks.begin(), masks.end(),
                                           [&](const auto& other) { return other.name == mask.name; });
            if (!known) masks.push_back({mask.name, report::OutlineKind::mask, mask.mask.outline});
        }
    return masks;
}

Check check_mask_name(const std::string& name, const std::vector<report::NamedOutline>& masks) {
    std::vector<std::string> names;
    for (const report::NamedOutline& mask : masks) names.push_back(mask.name);
    if (name.empty() || std::find(names.begin(), names.end(), name) != names.end()) return Success{};
    return usage_failure(
        fmt::format("no coat of the plan uses a mask called '{}'", name),
        names.empty() ? "the coats have no masks" : fmt::format("masks: {}", detail::join_text(names, ", ")));
}

geometry::Box union_of(const geometry::Box& a, const geometry::Box& b) {
    return {std::min(a.x0, b.x0), std::min(a.y0, b.y0), std::max(a.x1, b.x1), std::max(a.y1, b.y1)};
}

// The panel with its regions and masks, or the one mask requested.
report::OutlineTemplate outlines_of(const TemplateRequest& request, const plan::Job& job,
                                    const std::vector<report::NamedOutline>& masks) {
    report::OutlineTemplate outlines;
    outlines.title = job.title;
    outlines.units = job.units;
    outlines.facing = request.mirror ? report::Facing::mirrored : report::Facing::as_seen;
    outlines.mirror_about_mm = 0.5 * job.panel.width.value;
    outlines.outlines.push_back({"", report::OutlineKind::panel, job.panel.outline_or_rectangle()});
    outlines.area = outlines.outlines.front().outline.bounds();
    if (request.mask.empty())
        for (const plan::ResolvedRegion& region : job.regions)
            outlines.outlines.push_back({region.ground_name, report::OutlineKind::region, region.outline});
    for (const report::NamedOutline& mask : masks) {
        if (!request.mask.empty() && mask.name != request.mask) continue;
        outlines.outlines.push_back(mask);
        outlines.area =
            request.mask.empty() ? union_of(outlines.area, mask.outline.bounds()) : mask.outline.bounds();
    }
    return outlines;
}

}  // namespace

Outcome outline_template(Session& session, const TemplateRequest& request) {
    if (!request.out.ends_with(".pdf"))
        return failed(usage_failure(fmt::format("cannot write a template to '{}'", request.out),
                                    "give a name that ends in .pdf"),
                      request);
    if (const Check done = check_overwrite(request.out, request.plan); !done)
        return failed(done.error(), request);
    const auto opened = open_job(session, request.plan, output_options(request));
    if (!opened) return failed(opened.error(), request);
    const plan::Job& job = *opened.value()->job;
    const std::vector<report::NamedOutline> masks = masks_of(job);
    if (const Check done = check_mask_name(request.mask, masks); !done) return failed(done.error(), request);
    const report::OutlineTemplate outlines = outlines_of(request, job, masks);
    const report::PageGrid grid = report::page_grid(outlines, request.paper);
    if (grid.pages() > report::kMaxPages)
        return failed(option_failure(fmt::format("this needs {} pages", grid.pages()),
                                     "print one mask alone with --mask"),
                      request);
    Outcome outcome;
    outcome.err = to_text(opened.value()->diagnostics);
    outcome.artefacts = {artefact(request.out, report::template_pdf(outlines, request.paper))};
    if (request.json)
        outcome.out = json_text({{"template", request.out},
                                 {"rows", grid.rows},
                                 {"columns", grid.columns},
                                 {"overlap_mm", report::kOverlap_mm}});
    else
        outcome.written = fmt::format("wrote {}: {} × {} pages, overlapping by {}\n", request.out, grid.rows,
                                      grid.columns, job.units.text(Millimetres{report::kOverlap_mm}));
    return outcome;
}

}  // namespace fadewright::app
