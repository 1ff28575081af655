#include "fadewright/render/tune.h"

#include "fadewright/base/contract.h"
#include "fadewright/base/parallel.h"
#include "fadewright/colour/delta_e.h"
#include "fadewright/plan/plan_schema.h"

#include <fmt/format.h>

#include <nlopt.hpp>

#include <algorithm>
#include <array>
#include <atomic>
#include <chrono>
#include <cmath>
#include <limits>
#include <mutex>

namespace fadewright::render {
namespace {

constexpr std::size_t kQuickPlaces = 161;
constexpr double kHopeless = 1e3;
constexpr double kEndMatters = 2;  // dE00

bool has_middles(plan::FadeMethod method) {
    return method == plan::FadeMethod::middles || method == plan::FadeMethod::burst;
}

// One measure of a fade that may be turned: how it is read, set and rounded.
struct Knob {
    Vary vary;
    double low, high, round_to;
};

double ramp_width(const plan::Fade& f) {
    if (f.start && f.end) return std::hypot((f.end->x - f.start->x).value, (f.end->y - f.start->y).value);
    return f.width ? f.width->value : 0;
}

// Widens the ramp about its middle and moves it towards `to`.
void set_ramp(plan::Fade& f, double width, double moved) {
    if (f.start && f.end) {
        const double old = ramp_width(f);
        const double dx = (f.end->x - f.start->x).value / old, dy = (f.end->y - f.start->y).value / old;
        const double mx = (f.start->x + f.end->x).value / 2 + moved * dx,
                     my = (f.start->y + f.end->y).value / 2 + moved * dy;
        f.start = plan::Point{Millimetres{mx - width / 2 * dx}, Millimetres{my - width / 2 * dy}};
        f.end = plan::Point{Millimetres{mx + width / 2 * dx}, Millimetres{my + width / 2 * dy}};
        return;
    }
    f.width = Millimetres{width};
    if (f.inward) f.inward = Millimetres{f.inward->value + (f.inside ? moved : -moved)};
}

// The knobs that this fade has, with the wish's leave.
std::vector<Knob> knobs_of(const plan::Fade& fade, double usual_distance, const TuneWish& wish) {
    const auto may = [&](Vary v) {
        return std::find(wish.vary.begin(), wish.vary.end(), v) != wish.vary.end();
    };
    std::vector<Knob> knobs;
    const double width = ramp_width(fade);
    if (may(Vary::middle_ratio) && has_middles(fade.method))
        knobs.push_back({Vary::middle_ratio, 0.4, 2.5, 0.1});
    if (may(Vary::extend) && (has_middles(fade.method) || fade.method == plan::FadeMethod::transparent))
        knobs.push_back({Vary::extend, 0, 4, 0.5});
    if (may(Vary::width)) knobs.push_back({Vary::width, 0.6 * width, 1.7 * width, 5});
    if (may(Vary::place) && fade.path.empty()) knobs.push_back({Vary::place, -0.3 * width, 0.3 * width, 5});
    if (may(Vary::overlap)) knobs.push_back({Vary::overlap, 0.6, 0.85, 0.05});
    if (may(Vary::distance))
        knobs.push_back({Vary::distance, 0.75 * usual_distance, 1.4 * usual_distance, 10});
    return knobs;
}

struct Setting {
    plan::FadeMethod method;
    int middles = 1;
    std::vector<double> values;  // of the knobs
};

class Search {
public:
    Search(const plan::Plan& plan, const TuneWish& wish, const plan::Shelf& shelf, const JudgedLine& line,
           double usual_distance)
        : plan_(plan),
          wish_(wish),
          shelf_(shelf),
          line_(line),
          usual_distance_(usual_distance),
          coat_(faded_coat(plan).value()),
          begin_(std::chrono::steady_clock::now()) {
        line_.wanted = wish.width ? wish.width : line_.wanted;
    }

    // The colours that both ends of the line keep.
    void keep_ends(const plan::Job& job) {
        const std::vector<FadePlace> places = fade_places(job, line_, 2);
        ends_ = {places.front().lab, places.back().lab};
    }

    [[nodiscard]] const JudgedLine& line() const { return line_; }
    [[nodiscard]] int looks() const { return looks_; }
    [[nodiscard]] bool stopped() const { return stopped_; }

    [[nodiscard]] plan::Plan with(const plan::Fade& base, const std::vector<Knob>& knobs,
                                  const std::vector<double>& values) const {
        plan::Plan out = plan_;
        plan::Coat& coat = out.coats[coat_];
        plan::Fade fade = base;
        double width = ramp_width(fade), moved = 0;
        for (std::size_t i = 0; i < knobs.size(); ++i) switch (knobs[i].vary) {
                case Vary::middle_ratio:
                    fade.middle_ratio = values[i];
                    break;
                case Vary::extend:
                    fade.extend = values[i];
                    break;
                case Vary::width:
                    width = values[i];
                    break;
                case Vary::place:
                    moved = values[i];
                    break;
                case Vary::overlap:
                    fade.overlap = Share{values[i]};
                    break;
                case Vary::distance:
                    coat.distance = Millimetres{values[i]};
                    break;
                case Vary::method:
                case Vary::middles:
                    break;
            }
        set_ramp(fade, width, moved);
        coat.fade = fade;
        return out;
    }

    // The goal, from the section alone.
    [[nodiscard]] double points(const plan::Plan& plan, plan::Shelf& shelf) {
        ++looks_;
        Diagnostics unheard;
        const std::optional<plan::Job> job = plan::ready_job(plan, "", shelf, unheard);
        if (!job) return kHopeless;
        const std::vector<FadePlace> places = fade_places(*job, line_, kQuickPlaces);
        const std::optional<FadeFigures> figures = fade_figures(places, {job->view_distance, {}});
        if (!figures) return kHopeless;
        double points = colour_points(*figures) +
                        colour::delta_e_2000(places.front().lab, ends_[0]) / kEndMatters +
                        colour::delta_e_2000(places.back().lab, ends_[1]) / kEndMatters;
        if (line_.wanted) {
            const double off = std::abs((figures->width - *line_.wanted).value) - wish_.tolerance.value;
            if (off > 0) points += std::pow(off / wish_.tolerance.value, 2);
        }
        double film = 0;
        int passes = 0;
        for (const plan::Point& p : line_.places(21)) {
            double here = 0;
            for (const plan::ReadyCoat& coat : job->coats) here += coat.film_um(p.x.value, p.y.value);
            film = std::max(film, here);
        }
        for (const plan::ReadyCoat& coat : job->coats) passes += coat.deposit ? coat.deposit->passes() : 0;
        return points + 10 * std::max(0.0, film / wish_.most_film.value - 1) + passes / kPassesMatter;
    }

    // The best of one method and number of middles, from its own middle settings.
    Setting best_of(const plan::Fade& base, int number, double& points_out) {
        const std::vector<Knob> knobs = knobs_of(base, usual_distance_, wish_);
        plan::Shelf shelf = shelf_;
        std::vector<double> best = start_of(base, knobs);
        points_out = points(with(base, knobs, best), shelf);
        if (!knobs.empty()) {
            Looking looking{*this, base, knobs, shelf, best, points_out};
            nlopt::opt search(nlopt::LN_SBPLX, static_cast<unsigned>(knobs.size()));
            std::vector<double> low, high, step;
            for (const Knob& k : knobs) {
                low.push_back(k.low);
                high.push_back(k.high);
                step.push_back(0.2 * (k.high - k.low));
            }
            search.set_lower_bounds(low);
            search.set_upper_bounds(high);
            search.set_initial_step(step);
            search.set_maxeval(wish_.looks);
            search.set_min_objective(&Looking::look, &looking);
            std::vector<double> at = best;
            double value = 0;
            try {
                search.optimize(at, value);
            } catch (const nlopt::forced_stop&) {
            } catch (const nlopt::roundoff_limited&) {
            }
            best = rounded(looking.best, knobs);
            points_out = points(with(base, knobs, best), shelf);
        }
        return {base.method, number, best};
    }

    [[nodiscard]] bool over() {
        const std::chrono::duration<double> spent = std::chrono::steady_clock::now() - begin_;
        if (spent.count() > wish_.within.value || (wish_.stop && wish_.stop())) stopped_ = true;
        return stopped_;
    }

private:
    struct Looking {
        Search& search;
        const plan::Fade& base;
        const std::vector<Knob>& knobs;
        plan::Shelf& shelf;
        std::vector<double> best;
        double points;

        static double look(const std::vector<double>& at, std::vector<double>&, void* data) {
            auto& self = *static_cast<Looking*>(data);
            if (self.search.over()) throw nlopt::forced_stop();
            const double points = self.search.points(self.search.with(self.base, self.knobs, at), self.shelf);
            if (points < self.points) {
                self.points = points;
                self.best = at;
            }
            return points;
        }
    };

    [[nodiscard]] std::vector<double> start_of(const plan::Fade& fade, const std::vector<Knob>& knobs) const {
        std::vector<double> at;
        for (const Knob& k : knobs) {
            double v = (k.low + k.high) / 2;
            if (k.vary == Vary::middle_ratio) v = fade.middle_ratio.value_or(1);
            if (k.vary == Vary::extend) v = fade.extend.value_or(2);
            if (k.vary == Vary::width) v = ramp_width(fade);
            if (k.vary == Vary::place) v = 0;
            if (k.vary == Vary::overlap) v = fade.overlap.value;
            if (k.vary == Vary::distance)
                v = plan_.coats[coat_].distance.value_or(Millimetres{usual_distance_}).value;
            at.push_back(std::clamp(v, k.low, k.high));
        }
        return at;
    }

    [[nodiscard]] static std::vector<double> rounded(std::vector<double> values,
                                                     const std::vector<Knob>& knobs) {
        for (std::size_t i = 0; i < values.size(); ++i)
            values[i] = std::clamp(std::round(values[i] / knobs[i].round_to) * knobs[i].round_to,
                                   knobs[i].low, knobs[i].high);
        return values;
    }

    const plan::Plan& plan_;
    const TuneWish& wish_;
    const plan::Shelf& shelf_;
    JudgedLine line_;
    std::array<colour::Lab, 2> ends_{};
    double usual_distance_;
    std::size_t coat_;
    std::chrono::steady_clock::time_point begin_;
    std::atomic<int> looks_{0};
    std::atomic<bool> stopped_{false};
};

// The fades to search from: each method and number of middles that may be tried, the plan's own first.
std::vector<plan::Fade> bases_of(const plan::Fade& own, const TuneWish& wish) {
    const auto may = [&](Vary v) {
        return std::find(wish.vary.begin(), wish.vary.end(), v) != wish.vary.end();
    };
    std::vector<plan::Fade> bases{own};
    std::vector<plan::FadeMethod> methods{own.method};
    if (may(Vary::method))
        for (const auto m : {plan::FadeMethod::over, plan::FadeMethod::under, plan::FadeMethod::middles})
            if (m != own.method) methods.push_back(m);
    for (const plan::FadeMethod method : methods) {
        plan::Fade base = own;
        if (method != own.method) {
            base.method = method;
            base.steps.reset();
            base.step_down.reset();
            base.mist.reset();
            base.tilt.reset();
            base.middles.reset();
            base.middle_ratio.reset();
            base.extend.reset();
            base.reduce.reset();
            if (!has_middles(method)) bases.push_back(base);
        }
        if (!has_middles(method)) continue;
        for (int middles = 1; middles <= 3; ++middles) {
            const bool same = method == own.method && own.middles.value_or(1) == middles;
            if (same || (method == own.method && !may(Vary::middles))) continue;
            base.middles = middles;
            bases.push_back(base);
        }
    }
    return bases;
}

// Every measure that differs, with a plan in which only it is put back.
struct Undone {
    Change change;
    plan::Fade fade;
    std::optional<Millimetres> distance;
};

std::vector<Undone> undone(const plan::Coat& before, const plan::Coat& after, ShownUnits units) {
    const plan::Fade &a = *before.fade, &b = *after.fade;
    std::vector<Undone> out;
    const auto add = [&](std::string what, std::string from, std::string to,
                         const std::function<void(plan::Fade&)>& put_back) {
        Undone u{{std::move(what), std::move(from), std::move(to), 0}, b, after.distance};
        put_back(u.fade);
        out.push_back(std::move(u));
    };
    if (a.method != b.method) {
        Undone u{
            {"method", std::string(name_of(a.method)), std::string(name_of(b.method)), 0}, a, after.distance};
        set_ramp(u.fade, ramp_width(b), 0);
        out.push_back(std::move(u));
    } else if (a.middles.value_or(1) != b.middles.value_or(1)) {
        add("middles", std::to_string(a.middles.value_or(1)), std::to_string(b.middles.value_or(1)),
            [&](plan::Fade& f) { f.middles = a.middles; });
    }
    if (has_middles(b.method) && a.middle_ratio.value_or(1) != b.middle_ratio.value_or(1))
        add("middle ratio", fmt::format("{:.1f}", a.middle_ratio.value_or(1)),
            fmt::format("{:.1f}", b.middle_ratio.value_or(1)),
            [&](plan::Fade& f) { f.middle_ratio = a.middle_ratio; });
    if (b.extend && a.extend.value_or(2) != *b.extend)
        add("extend", fmt::format("{:.1f}", a.extend.value_or(2)), fmt::format("{:.1f}", *b.extend),
            [&](plan::Fade& f) { f.extend = a.extend; });
    if (std::abs(ramp_width(a) - ramp_width(b)) > 0.5)
        add("width of the ramp", units.text(Millimetres{ramp_width(a)}),
            units.text(Millimetres{ramp_width(b)}), [&](plan::Fade& f) { set_ramp(f, ramp_width(a), 0); });
    if (a.overlap != b.overlap)
        add("overlap", fmt::format("{:.0f} %", 100 * a.overlap.value),
            fmt::format("{:.0f} %", 100 * b.overlap.value), [&](plan::Fade& f) { f.overlap = a.overlap; });
    if (before.distance != after.distance) {
        Undone u{{"distance", before.distance ? units.text(*before.distance) : "the gun's",
                  units.text(*after.distance), 0},
                 b,
                 before.distance};
        out.push_back(std::move(u));
    }
    return out;
}

}  // namespace

HandBand hand_band(const plan::Job& job, const JudgedLine& line, std::uint64_t seed, int tries) {
    std::vector<std::vector<FadePlace>> laid(static_cast<std::size_t>(tries));
    std::vector<double> widths(laid.size(), std::numeric_limits<double>::quiet_NaN());
    for_each_index(laid.size(), [&](std::size_t i) {
        laid[i] = fade_places(laid_unsteadily(job, {}, seed, i), line, kFadePlaces);
        if (const auto figures = fade_figures(laid[i], {job.view_distance, {}}))
            widths[i] = figures->width.value;
    });
    const auto bound = [](std::vector<double> values, double share) {
        std::sort(values.begin(), values.end());
        return values[static_cast<std::size_t>(std::lround(share * static_cast<double>(values.size() - 1)))];
    };
    HandBand band;
    band.tries = tries;
    for (std::size_t k = 0; k < kFadePlaces; ++k) {
        std::vector<double> L;
        for (const auto& places : laid) L.push_back(places[k].lab.L);
        band.low_L.push_back(bound(L, 0.05));
        band.high_L.push_back(bound(L, 0.95));
    }
    widths.erase(std::remove_if(widths.begin(), widths.end(), [](double w) { return std::isnan(w); }),
                 widths.end());
    if (!widths.empty()) {
        band.narrowest = Millimetres{bound(widths, 0.05)};
        band.widest = Millimetres{bound(widths, 0.95)};
    }
    return band;
}

std::optional<Tuned> tuned(const plan::Plan& plan, const TuneWish& wish, const plan::Shelf& shelf,
                           Diagnostics& diagnostics) {
    FW_EXPECTS(faded_coat(plan));
    const std::size_t c = *faded_coat(plan);
    plan::Shelf own_shelf = shelf;
    const std::optional<plan::Job> job = plan::ready_job(plan, "", own_shelf, diagnostics);
    if (!job) return std::nullopt;
    double usual_distance = 150;
    for (const plan::ReadyCoat& coat : job->coats)
        if (coat.gun) usual_distance = coat.gun->distance.value;
    Search search(plan, wish, shelf, judged_line(plan, job->panel), usual_distance);
    search.keep_ends(*job);

    const std::vector<plan::Fade> bases = bases_of(*plan.coats[c].fade, wish);
    std::vector<Setting> settings(bases.size());
    std::vector<double> points(bases.size(), kHopeless);
    std::mutex telling;
    std::size_t done = 0;
    for_each_index(bases.size(), [&](std::size_t i) {
        if (i > 0 && search.over()) return;
        settings[i] = search.best_of(bases[i], bases[i].middles.value_or(1), points[i]);
        const std::lock_guard<std::mutex> lock(telling);
        ++done;
        if (wish.progress) wish.progress(static_cast<double>(done) / static_cast<double>(bases.size()));
    });
    const double as_it_is = search.points(plan, own_shelf);
    const auto best =
        static_cast<std::size_t>(std::min_element(points.begin(), points.end()) - points.begin());
    plan::Plan tuned_plan = plan;
    if (points[best] < as_it_is)
        tuned_plan =
            search.with(bases[best], knobs_of(bases[best], usual_distance, wish), settings[best].values);

    Tuned out;
    out.stopped = search.stopped();
    std::optional<FadeWay> before = judged_way("as planned", plan, search.line(), own_shelf, diagnostics);
    std::optional<FadeWay> after = judged_way("tuned", tuned_plan, search.line(), own_shelf, diagnostics);
    if (!before || !after) return std::nullopt;
    const double tuned_points = search.points(tuned_plan, own_shelf);
    for (Undone& u : undone(plan.coats[c], tuned_plan.coats[c], plan.units)) {
        plan::Plan back = tuned_plan;
        back.coats[c].fade = u.fade;
        back.coats[c].distance = u.distance;
        u.change.bought = std::min(kHopeless, search.points(back, own_shelf)) - tuned_points;
        out.changes.push_back(u.change);
    }
    out.hand = hand_band(after->job, search.line(), wish.seed, 60);
    out.before = std::move(*before);
    out.after = std::move(*after);
    out.looks = search.looks();
    return out;
}

}  // namespace fadewright::render
