#include "fadewright/assess/tune_objective.h"

#include "fadewright/colour/delta_e.h"
#include "fadewright/spray/sag_levelling.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace fadewright::assess {
namespace {

constexpr std::size_t kTrialSamples = 201, kFilmSamples = 41;
constexpr double kEndScale = 2;  // dE00
constexpr double kBandingWeight = 3, kExcessWeight = 10;
constexpr double kDefaultTolerance = 0.05;  // of the width
constexpr double kAim = 0.8;                // of the tolerance: the full assessment differs slightly

}  // namespace

bool TuneOptions::varies(Vary item) const { return std::find(vary.begin(), vary.end(), item) != vary.end(); }

TuneObjective::TuneObjective(const plan::Plan& plan, const plan::Job& job, const TuneOptions& options)
    : line_(assessment_line(plan, job.panel)), tolerance_(options.tolerance), max_film_(options.max_film) {
    if (options.width) line_.target_width = options.width;
    if (!tolerance_ && line_.target_width) tolerance_ = kDefaultTolerance * *line_.target_width;
    const std::vector<FadeSample> samples = fade_samples(job, line_, 2);
    end_colours_ = {samples.front().lab, samples.back().lab};
}

TuneObjective::Evaluation TuneObjective::evaluate(const plan::Plan& plan, plan::Library& library) const {
    const std::optional<plan::Job> job = planner::resolve(plan, library).job;
    if (!job) return {};
    const std::vector<FadeSample> samples = fade_samples(*job, line_, kTrialSamples);
    const std::optional<FadeMetrics> metrics = fade_metrics(samples, {job->view_distance, {}});
    if (!metrics) return {};
    return {colour_penalty(*metrics) +
                kBandingWeight * std::max(0.0, metrics->banding_over_threshold - kBandingLimit) +
                colour::delta_e_2000(samples.front().lab, end_colours_[0]) / kEndScale +
                colour::delta_e_2000(samples.back().lab, end_colours_[1]) / kEndScale +
                width_penalty(metrics->width) + film_penalty(*job),
            metrics->width};
}

double TuneObjective::width_penalty(Millimetres width) const {
    if (!line_.target_width) return 0;
    const double aim = kAim * tolerance_->value;
    const double excess = std::abs((width - *line_.target_width).value) - aim;
    return excess > 0 ? std::pow(excess / (tolerance_->value - aim), 2) : 0;
}

double TuneObjective::film_penalty(const plan::Job& job) const {
    const std::vector<plan::Point> samples = line_.points(kFilmSamples);
    const double pull = std::sin(radians(job.angle_while_sprayed));
    std::vector<double> film(samples.size());
    double sag = 0;
    int passes = 0;
    for (const plan::ResolvedCoat& coat : job.coats) {
        for (std::size_t i = 0; i < samples.size(); ++i)
            film[i] += coat.film_um(samples[i].x.value, samples[i].y.value);
        if (!coat.deposit) continue;
        passes += coat.deposit->passes();
        const Micrometres max_wet =
            spray::sag_limit(coat.liquid.paint, thickening_time(coat.liquid, job.booth), kMaxSlip);
        for (const plan::Point& p : samples)
            sag = std::max(sag, coat.wet_um(p.x.value, p.y.value) * std::sqrt(pull) / max_wet.value);
    }
    const double max_film = *std::max_element(film.begin(), film.end());
    return kExcessWeight * (std::max(0.0, max_film / max_film_.value - 1) + std::max(0.0, sag - 1)) +
           passes / kPassesScale;
}

}  // namespace fadewright::assess
