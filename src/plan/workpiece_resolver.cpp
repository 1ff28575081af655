#include "workpiece_resolver.h"

#include "fadewright/plan/names.h"
#include "fadewright/spray/mask.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <utility>
#include <variant>

namespace fadewright::plan {
namespace {

Edge edge_of(const geometry::Outline& outline, Millimetres softness) {
    return {[outline](double x, double y) { return std::abs(outline.signed_distance_mm(x, y)); }, softness,
            4 * softness};
}

// Relief changes film and light within its own width, so pictures need that resolution there.
void note_relief_detail(const spray::ReliefPart& part, Job& job) {
    if (const auto* bevel = std::get_if<spray::Bevel>(&part)) {
        Edge edge = edge_of(bevel->outline, 0.25 * bevel->width);
        edge.reach = 1.25 * bevel->width;
        job.edges.push_back(std::move(edge));
    } else if (const auto* groove = std::get_if<spray::Groove>(&part)) {
        const spray::PolylineSet lines = groove->lines;
        job.edges.push_back(
            {[lines](double x, double y) { return lines.distance_gradient(x, y).distance_mm; },
             0.125 * groove->width, 0.75 * groove->width});
    } else if (const auto* cylinder = std::get_if<spray::Cylinder>(&part)) {
        note_finest_detail(0.1 * cylinder->radius, job);
    } else if (const auto* sphere = std::get_if<spray::Sphere>(&part)) {
        note_finest_detail(0.1 * sphere->radius, job);
    } else {
        note_finest_detail(0.01 * std::min(job.panel.width, job.panel.height), job);
    }
}

class PanelResolver {
public:
    PanelResolver(const Panel& panel, const PlanContext& context, Diagnostics& diagnostics, Job& job)
        : panel_(panel), context_(context), diagnostics_(diagnostics), job_(job) {}

    bool resolve() {
        const bool sized = resolve_size();
        if (const Ground* ground = ground_of(panel_.ground)) job_.ground = ground->inside;
        for (const Region& region : panel_.regions) {
            const std::optional<DrawnOutline> drawn = context_.shapes.read(region.shape);
            const Ground* ground = ground_of(region.ground);
            if (!drawn || !ground) continue;
            job_.regions.push_back({drawn->outline, region.ground.value, ground->inside});
            job_.edges.push_back(edge_of(drawn->outline, {}));
        }
        if (sized) resolve_relief();
        return sized;
    }

private:
    const Ground* ground_of(const Located<std::string>& name) {
        const Ground* ground = find_ground("P004", name, context_.library, diagnostics_);
        if (ground) job_.origin = std::max(job_.origin, ground->origin);
        return ground;
    }

    bool resolve_size() {
        const bool sized = panel_.width && panel_.height;
        const bool any = panel_.width || panel_.height || panel_.corner_radius.value > 0;
        if (panel_.outline ? any : !sized)
            diagnostics_.error(
                "P018", panel_.span,
                panel_.outline ? "the outline already gives the size of the panel" : "the panel has no size",
                panel_.outline ? "remove width, height and corner_radius"
                               : "give either width and height or an outline");
        if (panel_.outline) {
            const std::optional<DrawnOutline> drawn = context_.shapes.read(*panel_.outline);
            if (!drawn) return false;
            job_.panel = {drawn->width,
                          drawn->height,
                          {},
                          std::make_shared<geometry::Outline>(drawn->outline),
                          nullptr};
            return true;
        }
        if (!sized) return false;
        const Millimetres half_side = 0.5 * std::min(*panel_.width, *panel_.height);
        const DisplayUnits units = diagnostics_.units();
        if (panel_.corner_radius > half_side)
            diagnostics_.error(
                "P013", panel_.span,
                fmt::format("a corner radius of {} does not fit", units.input_text(panel_.corner_radius)),
                fmt::format("at most {}, half the shorter side", units.input_text(half_side)));
        job_.panel = {*panel_.width, *panel_.height, std::min(panel_.corner_radius, half_side), nullptr,
                      nullptr};
        return true;
    }

    void resolve_relief() {
        std::vector<spray::ReliefPart> parts;
        bool complete = true;
        for (const Relief& feature : panel_.relief) {
            std::optional<spray::ReliefPart> part = context_.shapes.read(feature, job_.panel);
            complete = complete && part;
            if (part) parts.push_back(std::move(*part));
        }
        if (parts.empty() || !complete) return;
        parts = merge_grooves(parts);
        for (const spray::ReliefPart& part : parts) note_relief_detail(part, job_);
        const geometry::Box bounds{0, 0, job_.panel.width.value, job_.panel.height.value};
        job_.panel.relief = std::make_shared<spray::Relief>(std::move(parts), bounds);
    }

    const Panel& panel_;
    const PlanContext& context_;
    Diagnostics& diagnostics_;
    Job& job_;
};

const Named<Mask>* find_mask(const Plan& plan, const std::string& name) {
    const auto mask = std::find_if(plan.masks.begin(), plan.masks.end(),
                                   [&](const Named<Mask>& m) { return m.name == name; });
    return mask == plan.masks.end() ? nullptr : &*mask;
}

}  // namespace

void note_finest_detail(Millimetres width, Job& job) {
    if (job.finest_detail.value == 0 || width < job.finest_detail) job.finest_detail = width;
}

bool resolve_panel(const Plan& plan, const PlanContext& context, Diagnostics& diagnostics, Job& job) {
    job.booth = plan.booth;
    job.angle_while_sprayed = plan.panel.angle_while_sprayed;
    job.ground_name = plan.panel.ground.value;
    if (context.unread.has_field(plan.span, "panel")) return false;
    return PanelResolver(plan.panel, context, diagnostics, job).resolve();
}

MaskOutlines read_masks(const Plan& plan, ShapeReader& shapes) {
    MaskOutlines outlines;
    for (const Named<Mask>& mask : plan.masks)
        if (const std::optional<DrawnOutline> drawn = shapes.read(mask.value.shape))
            outlines.emplace(mask.name, drawn->outline);
    return outlines;
}

void check_mask_names(const Coat& coat, const Plan& plan, const UnreadFields& unread,
                      Diagnostics& diagnostics) {
    if (unread.has_field(plan.span, "masks")) return;
    for (const Located<std::string>& name : coat.masks) {
        if (find_mask(plan, name.value)) continue;
        std::vector<std::string> known;
        for (const Named<Mask>& mask : plan.masks) known.push_back(mask.name);
        report_unknown("P022", "mask", name, known, diagnostics);
    }
}

void add_masks(const Coat& coat, const Plan& plan, const MaskOutlines& outlines, ResolvedCoat& resolved,
               Job& job) {
    for (const Located<std::string>& name : coat.masks) {
        const Named<Mask>* mask = find_mask(plan, name.value);
        const auto outline = outlines.find(name.value);
        if (!mask || outline == outlines.end()) continue;  // already reported
        const spray::Covers covers =
            mask->value.covers == Covers::inside ? spray::Covers::inside : spray::Covers::outside;
        const Millimetres gap = mask->value.gap;
        const Millimetres softness = resolved.gun ? spray::edge_softness(*resolved.gun, gap) : Millimetres{};
        job.edges.push_back(edge_of(outline->second, softness));
        resolved.masks.push_back({name.value, {outline->second, covers, gap}, softness});
    }
}

}  // namespace fadewright::plan
