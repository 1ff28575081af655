#include "fadewright/assess/fade_methods.h"

#include "fadewright/base/contract.h"
#include "fadewright/film/colorimeter.h"
#include "fadewright/formulation/drawdown.h"
#include "fadewright/plan/mix_resolver.h"
#include "fadewright/planner/fade.h"
#include "fadewright/render/panel_shader.h"
#include "fadewright/spray/drying.h"

#include <algorithm>
#include <cmath>

namespace fadewright::assess {
namespace {

// The size from which each figure matters; starting values, uncalibrated.
constexpr double kAbruptnessScale = 0.4, kChromaLossScale = 10, kHueShiftScale = 30, kGrainScale = 1;

plan::Point offset_point(const plan::Point& p, double dx, double dy, double mm) {
    return {Millimetres{p.x.value + mm * dx}, Millimetres{p.y.value + mm * dy}};
}

// Distance from `p` along the direction, cut where it leaves the panel.
double length_on_panel(const spray::Panel& panel, const plan::Point& p, double dx, double dy,
                       double target_mm) {
    double mm = 0;
    for (double at = 0; at <= target_mm; at += 0.5)
        if (panel.inside(p.x.value + at * dx, p.y.value + at * dy)) mm = at;
    return mm;
}

struct FadeCentre {
    plan::Point at;
    double dx, dy;  // towards `to`
    double width_mm;
};

std::optional<FadeCentre> fade_centre(const plan::Fade& fade, const spray::Panel& panel) {
    if (fade.start && fade.end) {
        const double dx = (fade.end->x - fade.start->x).value, dy = (fade.end->y - fade.start->y).value;
        const double length = std::hypot(dx, dy);
        if (!(length > 0)) return std::nullopt;
        return FadeCentre{offset_point(*fade.start, dx / length, dy / length, length / 2), dx / length,
                          dy / length, length};
    }
    if (!fade.width) return std::nullopt;
    if (fade.path.size() >= 2) {
        const std::size_t i = (fade.path.size() - 1) / 2;
        const plan::Point &a = fade.path[i], &b = fade.path[i + 1];
        const double dx = (b.x - a.x).value, dy = (b.y - a.y).value, length = std::hypot(dx, dy);
        if (!(length > 0)) return std::nullopt;
        return FadeCentre{offset_point(a, dx / length, dy / length, length / 2), -dy / length, dx / length,
                          fade.width->value};
    }
    if (!fade.inward) return std::nullopt;
    // From the leftmost point of the edge inwards.
    const geometry::Outline outline = panel.outline_or_rectangle();
    geometry::PlanePoint left{1e12, 0};
    for (const geometry::Ring& ring : outline.offset_rings(-*fade.inward))
        for (const geometry::PlanePoint& c : ring)
            if (c.x_mm < left.x_mm) left = c;
    if (left.x_mm > 1e11) return std::nullopt;
    const geometry::DistanceGradient gradient = outline.distance_gradient(left.x_mm, left.y_mm);
    const double out = fade.inside ? -1 : 1;
    return FadeCentre{{Millimetres{left.x_mm}, Millimetres{left.y_mm}},
                      out * gradient.dx,
                      out * gradient.dy,
                      fade.width->value};
}

}  // namespace

double colour_penalty(const FadeMetrics& metrics) {
    return std::log2(1 + metrics.banding_over_threshold) + metrics.abruptness / kAbruptnessScale +
           std::max(0.0, metrics.steepest_over_mean - 1) + metrics.chroma_loss / kChromaLossScale +
           metrics.hue_shift.value / kHueShiftScale;
}

std::optional<std::size_t> fade_coat_index(const plan::Plan& plan) {
    for (std::size_t c = 0; c < plan.coats.size(); ++c)
        if (plan.coats[c].fade) return c;
    return std::nullopt;
}

std::vector<plan::Point> AssessmentLine::points(std::size_t count) const {
    std::vector<plan::Point> out;
    for (std::size_t i = 0; i < count; ++i) {
        const double t = static_cast<double>(i) / static_cast<double>(count - 1);
        out.push_back({Millimetres{from.x.value + t * (to.x - from.x).value},
                       Millimetres{from.y.value + t * (to.y - from.y).value}});
    }
    return out;
}

double AssessmentLine::length_mm() const { return std::hypot((to.x - from.x).value, (to.y - from.y).value); }

AssessmentLine assessment_line(const plan::Plan& plan, const spray::Panel& panel) {
    const std::optional<std::size_t> coat_index = fade_coat_index(plan);
    const plan::Fade* fade = coat_index ? &*plan.coats[*coat_index].fade : nullptr;
    const std::optional<FadeCentre> centre = fade ? fade_centre(*fade, panel) : std::nullopt;
    if (!centre) {
        const Millimetres x = 0.5 * panel.width;
        return {{x, Millimetres{0}}, {x, panel.height}, std::nullopt, std::nullopt};
    }
    const double half = centre->width_mm;  // half of the width, and as much again beyond the fade
    const double before = length_on_panel(panel, centre->at, -centre->dx, -centre->dy, half);
    const double after = length_on_panel(panel, centre->at, centre->dx, centre->dy, half);
    const double width_share = planner::ten_to_ninety_share(fade->ramp);
    return {offset_point(centre->at, centre->dx, centre->dy, -before),
            offset_point(centre->at, centre->dx, centre->dy, after),
            Millimetres{width_share * centre->width_mm}, Millimetres{before}};
}

std::vector<FadeSample> fade_samples(const plan::Job& job, const AssessmentLine& line, std::size_t count) {
    const render::PanelShader shader(job, job.light, job.coats.size());
    std::vector<double> x, y;
    for (const plan::Point& p : line.points(count)) {
        x.push_back(p.x.value);
        y.push_back(p.y.value);
    }
    std::vector<colour::XYZ> xyz(count);
    shader.xyz(x, y, xyz);
    std::vector<FadeSample> samples(count);
    for (std::size_t i = 0; i < count; ++i)
        samples[i] = {line.length_mm() * static_cast<double>(i) / static_cast<double>(count - 1),
                      colour::to_lab(xyz[i], shader.white())};
    return samples;
}

namespace {

double total_penalty(const FadeMethodResult& result, const AssessmentLine& line) {
    double penalty = result.cost.grain_L / kGrainScale +
                     result.cost.dry_spray.value / spray::kDrySpray.value + 0.5 * result.cost.sag.value +
                     result.cost.passes / kPassesScale;
    if (!result.metrics) return penalty + 10;
    const FadeMetrics& f = *result.metrics;
    penalty += colour_penalty(f);
    if (line.target_width) penalty += std::abs(f.width / *line.target_width - 1);
    return penalty;
}

}  // namespace

FadeMethodResult assess_method(const FadeMethodId& id, plan::Plan plan, plan::Job job,
                               const AssessmentLine& line) {
    FadeMethodResult result;
    result.id = id;
    result.plan = std::move(plan);
    result.job = std::move(job);
    result.samples = fade_samples(result.job, line, kFadeSamples);
    result.metrics = fade_metrics(result.samples, {result.job.view_distance, {}});
    result.cost = fade_cost(result.job, line.points(kFadeSamples));
    result.penalty = total_penalty(result, line);
    return result;
}

std::optional<MidpointOffset> midpoint_offset(const plan::Plan& plan,
                                              const std::optional<FadeMetrics>& metrics,
                                              const AssessmentLine& line) {
    const std::optional<std::size_t> c = fade_coat_index(plan);
    if (!c || !metrics || !line.midline || !line.target_width) return std::nullopt;
    const plan::Fade& fade = *plan.coats[*c].fade;
    const double offset = (metrics->at_half - *line.midline).value;
    if (std::abs(offset) <= kMaxMidpointOffset * line.target_width->value) return std::nullopt;
    const std::string &from = fade.from.value, &to = fade.to.value;
    return MidpointOffset{Millimetres{std::abs(offset)}, offset > 0 ? to : from, offset > 0 ? from : to};
}

double ramp_width_mm(const plan::Fade& fade) {
    if (fade.start && fade.end)
        return std::hypot((fade.end->x - fade.start->x).value, (fade.end->y - fade.start->y).value);
    return fade.width ? fade.width->value : 0;
}

namespace {

struct Variation {
    FadeVariation id;
    plan::Fade fade;
};

// Resets the settings that belong to some methods only.
plan::Fade switch_method(plan::Fade fade, plan::FadeMethod method) {
    fade.method = method;
    fade.mid_colours.reset();
    fade.mid_ratio.reset();
    fade.steps.reset();
    fade.step_down.reset();
    fade.extend.reset();
    fade.reduce.reset();
    fade.fog.reset();
    fade.heel_angle.reset();
    return fade;
}

// Parts of `to` per part of `from` at the visual midpoint; nothing if the two look alike.
std::optional<double> visual_midpoint_ratio(const plan::Plan& plan, const plan::Fade& fade,
                                            const plan::Job& job, plan::Library& library) {
    const auto a = plan::parts_of(plan, fade.from, library), b = plan::parts_of(plan, fade.to, library);
    if (!a || !b) return std::nullopt;
    const auto half = formulation::visual_midpoint(
        *a, *b, film::Colorimeter(job.light, job.observer, film::Specular::excluded));
    return half ? std::optional<double>(half->parts_of_b) : std::nullopt;
}

std::vector<Variation> method_variations(const plan::Fade& own, std::optional<double> half) {
    using M = plan::FadeMethod;
    using V = FadeVariation;
    std::vector<Variation> out;
    const auto add = [&](V id, M method) { out.push_back({id, switch_method(own, method)}); };
    const auto add_mid_colours = [&](V id, int count, double extend, Share reduce) {
        add(id, M::mid_colours);
        plan::Fade& fade = out.back().fade;
        fade.mid_colours = count;
        fade.extend = extend;
        fade.reduce = reduce;
    };
    add(V::over, M::over);
    add(V::under, M::under);
    add(V::fogged, M::fogged);
    add_mid_colours(V::mid_colour, 1, 0, Share{0.10});
    add_mid_colours(V::mid_colour_extended, 1, 2, Share{0.12});
    add_mid_colours(V::mid_colour_reduced, 1, 0, Share{2.0});
    if (half && *half > 0.02 && *half < 50) {
        add_mid_colours(V::mid_colour_at_midpoint, 1, 2, Share{0.12});
        out.back().fade.mid_ratio = std::round(*half * 100) / 100;
    }
    add_mid_colours(V::two_mid_colours_extended, 2, 2, Share{0.12});
    add(V::stepped, M::stepped);
    add(V::glazed, M::glazed);
    if (own.inward && !own.inside) add(V::burst, M::burst);
    return out;
}

// Why the recommended method is better than the runner-up: the figure with the largest advantage.
std::optional<FadeAdvantage> largest_advantage(const FadeMethodResult& best, const FadeMethodResult& other) {
    std::optional<FadeAdvantage> largest;
    double largest_gain = 0;
    const auto compare = [&](FadeCriterion criterion, double mine, double theirs, double scale) {
        const double gain = (theirs - mine) / scale;
        if (gain <= largest_gain) return;
        largest_gain = gain;
        largest = FadeAdvantage{criterion, mine, theirs};
    };
    if (best.metrics && other.metrics) {
        const FadeMetrics &a = *best.metrics, &b = *other.metrics;
        compare(FadeCriterion::banding, a.banding_over_threshold, b.banding_over_threshold, 1);
        compare(FadeCriterion::abruptness, a.abruptness, b.abruptness, kAbruptnessScale);
        compare(FadeCriterion::evenness, a.steepest_over_mean, b.steepest_over_mean, 1);
        compare(FadeCriterion::chroma_loss, a.chroma_loss, b.chroma_loss, kChromaLossScale);
        compare(FadeCriterion::hue_shift, a.hue_shift.value, b.hue_shift.value, kHueShiftScale);
    }
    compare(FadeCriterion::graininess, best.cost.grain_L, other.cost.grain_L, kGrainScale);
    compare(FadeCriterion::dry_spray, best.cost.dry_spray.value, other.cost.dry_spray.value,
            spray::kDrySpray.value);
    compare(FadeCriterion::passes, best.cost.passes, other.cost.passes, kPassesScale);
    return largest;
}

void rank_methods(FadeMethodComparison& out) {
    std::vector<std::size_t> order(out.results.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        return out.results[a].penalty < out.results[b].penalty;
    });
    out.best = order.front();
    out.runner_up = order.size() > 1 ? order[1] : order.front();
    if (order.size() > 1)
        out.advantage = largest_advantage(out.results[out.best], out.results[out.runner_up]);
}

}  // namespace

std::optional<FadeMethodComparison> compare_fade_methods(const planner::ResolvedPlan& resolved,
                                                         plan::Library& library, const Progress& progress) {
    FW_EXPECTS(resolved.job);
    const plan::Plan& plan = *resolved.plan;
    FadeMethodComparison out;
    out.line = assessment_line(plan, resolved.job->panel);
    out.results.push_back(assess_method({}, plan, *resolved.job, out.line));
    if (const std::optional<std::size_t> c = fade_coat_index(plan)) {
        const std::vector<Variation> others = method_variations(
            *plan.coats[*c].fade, visual_midpoint_ratio(plan, *plan.coats[*c].fade, *resolved.job, library));
        double done = 1;  // the plan's own
        for (const Variation& variation : others) {
            if (progress.is_cancelled()) return std::nullopt;
            progress.report(done++ / static_cast<double>(others.size() + 1));
            if (variation.fade == *plan.coats[*c].fade) {
                out.results.front().id.variation = variation.id;
                continue;
            }
            plan::Plan other = plan;
            other.coats[*c].fade = variation.fade;
            planner::ResolvedPlan tried = planner::resolve(std::move(other), library);
            if (tried.job) {
                out.results.push_back(assess_method({FadeSource::variation, variation.id},
                                                    std::move(*tried.plan), std::move(*tried.job), out.line));
            } else {
                out.infeasible.push_back(
                    {variation.id, variation.fade, tried.diagnostics.sorted_list().front().message});
            }
        }
    }
    rank_methods(out);
    return out;
}

}  // namespace fadewright::assess
