#include "fadewright/render/tune_goal.h"

#include "fadewright/colour/delta_e.h"
#include "fadewright/spray/flow.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace fadewright::render {
namespace {

constexpr std::size_t kQuickPlaces = 201, kFilmPlaces = 41;
constexpr double kEndMatters = 2;  // dE00
constexpr double kBandsCount = 3, kTooMuchCounts = 10;
constexpr double kUsualTolerance = 0.05;  // of the width
constexpr double kAim = 0.8;              // of the tolerance: looked at closely the width is a little other

}  // namespace

bool TuneWish::may(Vary what) const { return std::find(vary.begin(), vary.end(), what) != vary.end(); }

TuneGoal::TuneGoal(const plan::Plan& plan, const plan::Job& job, const TuneWish& wish)
    : line_(judged_line(plan, job.panel)), tolerance_(wish.tolerance), most_film_(wish.most_film) {
    if (wish.width) line_.wanted = wish.width;
    if (!tolerance_ && line_.wanted) tolerance_ = kUsualTolerance * *line_.wanted;
    const std::vector<FadePlace> places = fade_places(job, line_, 2);
    ends_ = {places.front().lab, places.back().lab};
}

TuneGoal::Points TuneGoal::of(const plan::Plan& plan, plan::Shelf& shelf) const {
    Diagnostics unheard;
    const std::optional<plan::Job> job = plan::ready_job(plan, "", shelf, unheard);
    if (!job) return {};
    const std::vector<FadePlace> places = fade_places(*job, line_, kQuickPlaces);
    const std::optional<FadeFigures> figures = fade_figures(places, {job->view_distance, {}});
    if (!figures) return {};
    return {colour_points(*figures) +
                kBandsCount * std::max(0.0, figures->band_times_threshold - kBandsShow) +
                colour::delta_e_2000(places.front().lab, ends_[0]) / kEndMatters +
                colour::delta_e_2000(places.back().lab, ends_[1]) / kEndMatters +
                width_points(figures->width) + film_points(*job),
            figures->width};
}

double TuneGoal::width_points(Millimetres width) const {
    if (!line_.wanted) return 0;
    const double aim = kAim * tolerance_->value;
    const double off = std::abs((width - *line_.wanted).value) - aim;
    return off > 0 ? std::pow(off / (tolerance_->value - aim), 2) : 0;
}

double TuneGoal::film_points(const plan::Job& job) const {
    const std::vector<plan::Point> places = line_.places(kFilmPlaces);
    const double pull = std::sin(job.inclination.value * std::numbers::pi / 180);
    std::vector<double> film(places.size());
    double sag = 0;
    int passes = 0;
    for (const plan::ReadyCoat& coat : job.coats) {
        for (std::size_t i = 0; i < places.size(); ++i)
            film[i] += coat.film_um(places[i].x.value, places[i].y.value);
        if (!coat.deposit) continue;
        passes += coat.deposit->passes();
        const Micrometres holds =
            spray::thickest_film(coat.liquid.paint, thickening(coat.liquid, job.booth), kSlip);
        for (const plan::Point& p : places)
            sag = std::max(sag, coat.wet_um(p.x.value, p.y.value) * std::sqrt(pull) / holds.value);
    }
    const double most = *std::max_element(film.begin(), film.end());
    return kTooMuchCounts * (std::max(0.0, most / most_film_.value - 1) + std::max(0.0, sag - 1)) +
           passes / kPassesMatter;
}

}  // namespace fadewright::render
