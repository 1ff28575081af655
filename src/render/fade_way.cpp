#include "fadewright/render/fade_way.h"

#include "fadewright/film/looker.h"
#include "fadewright/film/outlook.h"
#include "fadewright/plan/fade.h"
#include "fadewright/render/spectra.h"
#include "fadewright/spray/drying.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace fadewright::render {
namespace {

// What each figure must reach to matter; starting values.
constexpr double kCornerMatters = 0.4, kDipMatters = 10, kSwingMatters = 30, kGrainMatters = 1;

plan::Point along(const plan::Point& p, double dx, double dy, double mm) {
    return {Millimetres{p.x.value + mm * dx}, Millimetres{p.y.value + mm * dy}};
}

// Shortens the way from `p` so that it ends on the panel.
double room(const spray::Panel& panel, const plan::Point& p, double dx, double dy, double wanted_mm) {
    double mm = 0;
    for (double at = 0; at <= wanted_mm; at += 0.5)
        if (panel.inside(p.x.value + at * dx, p.y.value + at * dy)) mm = at;
    return mm;
}

struct Middle {
    plan::Point at;
    double dx, dy;  // towards `to`
    double width_mm;
};

std::optional<Middle> middle_of(const plan::Fade& fade, const spray::Panel& panel) {
    if (fade.start && fade.end) {
        const double dx = (fade.end->x - fade.start->x).value, dy = (fade.end->y - fade.start->y).value;
        const double length = std::hypot(dx, dy);
        if (!(length > 0)) return std::nullopt;
        return Middle{along(*fade.start, dx / length, dy / length, length / 2), dx / length, dy / length,
                      length};
    }
    if (!fade.width) return std::nullopt;
    if (fade.path.size() >= 2) {
        const std::size_t i = (fade.path.size() - 1) / 2;
        const plan::Point &a = fade.path[i], &b = fade.path[i + 1];
        const double dx = (b.x - a.x).value, dy = (b.y - a.y).value, length = std::hypot(dx, dy);
        if (!(length > 0)) return std::nullopt;
        return Middle{along(a, dx / length, dy / length, length / 2), -dy / length, dx / length,
                      fade.width->value};
    }
    if (!fade.inward) return std::nullopt;
    // From the leftmost place of the rim inwards.
    const spray::Outline rim = panel.drawn_outline();
    spray::Corner left{1e12, 0};
    for (const spray::Ring& ring : rim.offset_rings(-*fade.inward))
        for (const spray::Corner& c : ring)
            if (c.x_mm < left.x_mm) left = c;
    if (left.x_mm > 1e11) return std::nullopt;
    const spray::Away away = rim.away(left.x_mm, left.y_mm);
    const double out = fade.inside ? -1 : 1;
    return Middle{
        {Millimetres{left.x_mm}, Millimetres{left.y_mm}}, out * away.dx, out * away.dy, fade.width->value};
}

}  // namespace

double colour_points(const FadeFigures& f) {
    return std::log2(1 + f.band_times_threshold) + f.corner / kCornerMatters +
           std::max(0.0, f.steepest_over_mean - 1) + f.chroma_dip / kDipMatters +
           f.hue_swing.value / kSwingMatters;
}

std::optional<std::size_t> faded_coat(const plan::Plan& plan) {
    for (std::size_t c = 0; c < plan.coats.size(); ++c)
        if (plan.coats[c].fade) return c;
    return std::nullopt;
}

std::vector<plan::Point> JudgedLine::places(std::size_t count) const {
    std::vector<plan::Point> out;
    for (std::size_t i = 0; i < count; ++i) {
        const double t = static_cast<double>(i) / static_cast<double>(count - 1);
        out.push_back({Millimetres{from.x.value + t * (to.x - from.x).value},
                       Millimetres{from.y.value + t * (to.y - from.y).value}});
    }
    return out;
}

double JudgedLine::length_mm() const { return std::hypot((to.x - from.x).value, (to.y - from.y).value); }

JudgedLine judged_line(const plan::Plan& plan, const spray::Panel& panel) {
    const std::optional<std::size_t> faded = faded_coat(plan);
    const plan::Fade* fade = faded ? &*plan.coats[*faded].fade : nullptr;
    const std::optional<Middle> middle = fade ? middle_of(*fade, panel) : std::nullopt;
    if (!middle) {
        const Millimetres x = 0.5 * panel.width;
        return {{x, Millimetres{0}}, {x, panel.height}, std::nullopt, std::nullopt};
    }
    const double half = middle->width_mm;  // half the width, and half a width more
    const double back = room(panel, middle->at, -middle->dx, -middle->dy, half);
    const double on = room(panel, middle->at, middle->dx, middle->dy, half);
    const double of_width = fade->ramp == plan::Ramp::soft ? 0.5903 : 0.8;  // from 10 to 90 % of the ramp
    return {along(middle->at, middle->dx, middle->dy, -back), along(middle->at, middle->dx, middle->dy, on),
            Millimetres{of_width * middle->width_mm}, Millimetres{back}};
}

std::vector<FadePlace> fade_places(const plan::Job& job, const JudgedLine& line, std::size_t count) {
    const SeenJob seen(job, job.light, job.coats.size());
    std::vector<double> x, y;
    for (const plan::Point& p : line.places(count)) {
        x.push_back(p.x.value);
        y.push_back(p.y.value);
    }
    std::vector<colour::XYZ> xyz(count);
    seen.xyz(x, y, xyz);
    std::vector<FadePlace> places(count);
    for (std::size_t i = 0; i < count; ++i)
        places[i] = {line.length_mm() * static_cast<double>(i) / static_cast<double>(count - 1),
                     colour::to_lab(xyz[i], seen.white())};
    return places;
}

namespace {

double points_of(const FadeWay& way, const JudgedLine& line) {
    double points = way.cost.grain_L / kGrainMatters + way.cost.dry.figure / spray::kDrySpray.value +
                    0.5 * way.cost.sag.figure + way.cost.passes / kPassesMatter;
    if (!way.figures) return points + 10;
    const FadeFigures& f = *way.figures;
    points += colour_points(f);
    if (line.wanted) points += std::abs(f.width / *line.wanted - 1);
    return points;
}

}  // namespace

std::optional<FadeWay> judged_way(std::string name, const plan::Plan& plan, const JudgedLine& line,
                                  plan::Shelf& shelf, Diagnostics& diagnostics) {
    std::optional<plan::Job> job = plan::ready_job(plan, "", shelf, diagnostics);
    if (!job) return std::nullopt;
    FadeWay way;
    way.name = std::move(name);
    way.plan = plan;
    way.job = std::move(*job);
    way.places = fade_places(way.job, line, kFadePlaces);
    way.figures = fade_figures(way.places, {way.job.view_distance, {}});
    way.cost = fade_cost(way.job, line.places(kFadePlaces));
    way.points = points_of(way, line);
    return way;
}

std::optional<std::string> halfway_words(const FadeWay& way, const JudgedLine& line, ShownUnits units) {
    const std::optional<std::size_t> c = faded_coat(way.plan);
    if (!c || !way.figures || !line.halfway || !line.wanted) return std::nullopt;
    const plan::Fade& fade = *way.plan.coats[*c].fade;
    const double off = (way.figures->at_half - *line.halfway).value;
    if (std::abs(off) <= kOffHalfway * line.wanted->value) return std::nullopt;
    // Past the halfway line there is still `from` to be seen.
    const std::string& much = off > 0 ? fade.from.value : fade.to.value;
    const std::string& little = off > 0 ? fade.to.value : fade.from.value;
    return fmt::format(
        "The middle that is seen lies {} off the planned halfway line, on the side of '{}': '{}' "
        "shows "
        "late. Move the fade so far towards '{}', or let tune vary place.",
        units.text(Millimetres{std::abs(off)}), little, little, much);
}

namespace {

struct Variation {
    std::string name;
    plan::Fade fade;
};

// The measures that go with some methods only.
plan::Fade bare(plan::Fade fade, plan::FadeMethod method) {
    fade.method = method;
    fade.middles.reset();
    fade.middle_ratio.reset();
    fade.steps.reset();
    fade.step_down.reset();
    fade.extend.reset();
    fade.reduce.reset();
    fade.mist.reset();
    fade.tilt.reset();
    return fade;
}

// Parts of `to` to one of `from` that look half way between them; nothing if they look alike.
std::optional<double> seen_half(const plan::Plan& plan, const plan::Fade& fade, const plan::Job& job,
                                plan::Shelf& shelf) {
    Diagnostics unheard;
    const auto a = plan::parts_of(plan, fade.from, shelf, unheard),
               b = plan::parts_of(plan, fade.to, shelf, unheard);
    if (!a || !b) return std::nullopt;
    const auto half = film::halfway(*a, *b, film::Looker(job.light, job.observer, film::Specular::excluded));
    return half ? std::optional<double>(half->parts_of_b) : std::nullopt;
}

std::vector<Variation> variations(const plan::Fade& own, std::optional<double> half) {
    using M = plan::FadeMethod;
    std::vector<Variation> out;
    out.push_back({fmt::format("{} straight over {}", own.to.value, own.from.value), bare(own, M::over)});
    out.push_back({fmt::format("{} straight over {}", own.from.value, own.to.value), bare(own, M::under)});
    out.push_back({"fogged from both sides", bare(own, M::two_sided)});
    const auto middle = [&](std::string name, int count, double extend, Share reduce) {
        plan::Fade fade = bare(own, M::middles);
        fade.middles = count;
        fade.extend = extend;
        fade.reduce = reduce;
        out.push_back({std::move(name), fade});
    };
    middle("one middle, as it is", 1, 0, Share{0.10});
    middle("one middle, extended 2:1", 1, 2, Share{0.12});
    middle("one middle, reduced 2:1 instead", 1, 0, Share{2.0});
    if (half && *half > 0.02 && *half < 50) {
        middle(fmt::format("one middle, {:.2f}:1 for the eye's half", *half), 1, 2, Share{0.12});
        out.back().fade.middle_ratio = std::round(*half * 100) / 100;
    }
    middle("two middles, extended 2:1", 2, 2, Share{0.12});
    out.push_back({"stepped into the ground", bare(own, M::stepped)});
    out.push_back({"thin transparent layers", bare(own, M::transparent)});
    if (own.inward && !own.inside) out.push_back({"burst from outside the rim", bare(own, M::burst)});
    return out;
}

// Why the best is best: the figure in which it leads the plain overlap, or the next best, by most.
std::string reason_for(const FadeWay& best, const FadeWay& other) {
    struct Lead {
        double points;
        std::string words;
    };
    std::vector<Lead> leads;
    const auto lead = [&](double mine, double theirs, double matters, const std::string& words) {
        leads.push_back({(theirs - mine) / matters, words});
    };
    if (best.figures && other.figures) {
        const FadeFigures &a = *best.figures, &b = *other.figures;
        lead(a.band_times_threshold, b.band_times_threshold, 1,
             fmt::format("stripes at {:.1f} times what can just be seen against {:.1f}",
                         a.band_times_threshold, b.band_times_threshold));
        lead(a.corner, b.corner, kCornerMatters,
             fmt::format("softer corners ({:.2f} against {:.2f})", a.corner, b.corner));
        lead(a.steepest_over_mean, b.steepest_over_mean, 1,
             fmt::format("a more even slope (steepest {:.2f} times the mean against {:.2f})",
                         a.steepest_over_mean, b.steepest_over_mean));
        lead(a.chroma_dip, b.chroma_dip, kDipMatters,
             fmt::format("a cleaner middle (chroma {:.0f} below the straight road against {:.0f})",
                         a.chroma_dip, b.chroma_dip));
        lead(a.hue_swing.value, b.hue_swing.value, kSwingMatters,
             fmt::format("a hue that strays less ({:.0f} degrees against {:.0f})", a.hue_swing.value,
                         b.hue_swing.value));
    }
    lead(best.cost.grain_L, other.cost.grain_L, kGrainMatters,
         fmt::format("less grain ({:.1f} L* against {:.1f})", best.cost.grain_L, other.cost.grain_L));
    lead(best.cost.dry.figure, other.cost.dry.figure, spray::kDrySpray.value,
         fmt::format("wetter landing (dryness {:.2f} against {:.2f})", best.cost.dry.figure,
                     other.cost.dry.figure));
    lead(best.cost.passes, other.cost.passes, kPassesMatter,
         fmt::format("fewer passes ({} against {})", best.cost.passes, other.cost.passes));
    const auto most = std::max_element(leads.begin(), leads.end(),
                                       [](const Lead& a, const Lead& b) { return a.points < b.points; });
    return most->points > 0 ? most->words : "no figure stands out; all are about even";
}

void advise(FadeWays& out) {
    std::vector<std::size_t> order(out.ways.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return out.ways[a].points < out.ways[b].points; });
    out.best = order.front();
    out.runner_up = order.size() > 1 ? order[1] : order.front();
    const FadeWay& best = out.ways[out.best];
    if (order.size() < 2) {
        out.advice = fmt::format("{}: the only way that can be made", best.name);
        return;
    }
    const FadeWay& next = out.ways[out.runner_up];
    out.advice = fmt::format("{}: {}. Next: {}", best.name, reason_for(best, next), next.name);
}

}  // namespace

std::optional<FadeWays> fade_ways(const plan::Plan& plan, const std::string& plan_text, plan::Shelf& shelf,
                                  Diagnostics& diagnostics, const Watched& watched) {
    const std::optional<plan::Job> job = plan::ready_job(plan, plan_text, shelf, diagnostics);
    if (!job) return std::nullopt;
    FadeWays out;
    out.line = judged_line(plan, job->panel);
    std::optional<FadeWay> own = judged_way("as planned", plan, out.line, shelf, diagnostics);
    if (!own) return std::nullopt;
    out.ways.push_back(std::move(*own));
    if (const std::optional<std::size_t> c = faded_coat(plan)) {
        const std::vector<Variation> others =
            variations(*plan.coats[*c].fade, seen_half(plan, *plan.coats[*c].fade, *job, shelf));
        double done = 1;  // the plan's own
        for (const Variation& variation : others) {
            if (watched.over()) return std::nullopt;
            watched.tell(done++ / static_cast<double>(others.size() + 1));
            if (variation.fade == *plan.coats[*c].fade) {
                out.ways.front().name = "planned: " + variation.name;
                continue;
            }
            plan::Plan other = plan;
            other.coats[*c].fade = variation.fade;
            Diagnostics reasons;
            std::optional<FadeWay> way = judged_way(variation.name, other, out.line, shelf, reasons);
            if (way) {
                out.ways.push_back(std::move(*way));
            } else {
                out.not_made.push_back(
                    {variation.name, reasons.empty() ? "" : reasons.sorted().front().message});
            }
        }
    }
    advise(out);
    return out;
}

}  // namespace fadewright::render
