#include "fadewright/assess/fade_methods.h"

#include "fadewright/assess/tune.h"
#include "fadewright/base/random.h"
#include "fadewright/colour/delta_e.h"
#include "preset_library.h"

#include <catch2/catch.hpp>

#include <cmath>

using namespace fadewright;
using namespace fadewright::render;
using namespace fadewright::assess;

namespace {

std::string plan_text(const std::string& fade) {
    return "plan = 1\n[panel]\nwidth = \"500 mm\"\nheight = \"400 mm\"\nground = \"white-primer\"\n"
           "[mixes.pale]\nparts = { titanium-white = 6, isoindolinone-yellow = 1 }\n"
           "[mixes.deep]\nparts = { quinacridone-violet = 3, carbon-black = 0.3, titanium-white = 1 }\n"
           "[[coats]]\nname = \"fade\"\ngun = \"fan-gun-small\"\n[coats.fade]\nfrom = \"pale\"\nto = "
           "\"deep\"\nfilm = \"12 um\"\n" +
           fade;
}

const std::string kUpright = "start = [\"250 mm\", \"320 mm\"]\nend = [\"250 mm\", \"80 mm\"]\n";

planner::ResolvedPlan resolved_plan_of(const std::string& text) {
    plan::Library library = test::preset_library();
    planner::ResolvedPlan resolved = planner::resolve(std::make_shared<Source>("test.toml", text), library);
    if (!resolved.job) throw std::runtime_error(to_text(resolved.diagnostics));
    return resolved;
}

plan::Plan plan_of(const std::string& text) { return *resolved_plan_of(text).plan; }

const FadeMethodResult& result_of(const FadeMethodComparison& comparison, FadeVariation variation) {
    for (const FadeMethodResult& result : comparison.results)
        if (result.id.variation == variation) return result;
    throw std::runtime_error("this variation was not assessed");
}

const plan::ResolvedCoat& mid_colour_coat(const FadeMethodResult& result) {
    for (const plan::ResolvedCoat& coat : result.job.coats)
        if (coat.fade_role == plan::FadeRole::mid_colour) return coat;
    throw std::runtime_error("no mid colour");
}

}  // namespace

TEST_CASE("the assessment line crosses the fade and stays on the panel", "[render][fade]") {
    const plan::Plan plan = plan_of(plan_text("method = \"over\"\n" + kUpright));
    const spray::Panel panel{Millimetres{500}, Millimetres{400}, Millimetres{0}};
    const AssessmentLine line = assessment_line(plan, panel);
    CHECK(line.from.x.value == Approx(250));
    CHECK(line.from.y.value == Approx(400).margin(0.5));  // extended by half the width, as far as the panel
    CHECK(line.to.y.value == Approx(0).margin(0.5));
    REQUIRE(line.target_width);
    CHECK(line.target_width->value == Approx(0.8 * 240));
    REQUIRE(line.midline);
    CHECK(line.midline->value == Approx(200).margin(0.5));  // y = 200 mm, from the upper edge
}

TEST_CASE("a visual midpoint off the planned midline is found, with its side", "[render][fade]") {
    const planner::ResolvedPlan resolved = resolved_plan_of(plan_text("method = \"over\"\n" + kUpright));
    const plan::Plan& plan = *resolved.plan;
    AssessmentLine line = assessment_line(plan, resolved.job->panel);
    const FadeMethodResult result = assess_method({}, plan, *resolved.job, line);
    REQUIRE(result.metrics);
    line.midline = result.metrics->at_half;
    CHECK_FALSE(midpoint_offset(plan, result.metrics, line));
    line.midline = result.metrics->at_half - Millimetres{40};  // the midpoint is 40 mm late
    const auto late = midpoint_offset(plan, result.metrics, line);
    REQUIRE(late);
    CHECK(late->distance.value == Approx(40));
    CHECK(late->towards == "deep");
    CHECK(late->away_from == "pale");
    line.midline = result.metrics->at_half + Millimetres{40};
    const auto early = midpoint_offset(plan, result.metrics, line);
    REQUIRE(early);
    CHECK(early->distance.value == Approx(40));
    CHECK(early->towards == "pale");
    CHECK(early->away_from == "deep");
}

TEST_CASE("the methods of a fade are simulated, assessed and ranked", "[render][fade]") {
    const planner::ResolvedPlan resolved = resolved_plan_of(
        plan_text("method = \"mid-colours\"\nextend = 2\nreduce = \"12 %\"\nmid_colours = 1\n" + kUpright));
    plan::Library library = test::preset_library();
    const auto comparison = compare_fade_methods(resolved, library);
    REQUIRE(comparison);
    CHECK(comparison->results.size() + comparison->infeasible.size() >= 8);
    CHECK(comparison->results.front().id ==
          FadeMethodId{FadeSource::plan, FadeVariation::mid_colour_extended});
    for (const FadeMethodResult& result : comparison->results) {
        CAPTURE(static_cast<int>(result.id.source), result.id.variation.has_value());
        CHECK(result.samples.size() == kFadeSamples);
        CHECK(result.cost.passes > 0);
        CHECK(result.cost.trigger_time.value > 0);
        CHECK(comparison->results[comparison->best].penalty <= result.penalty);
    }
    CHECK(comparison->best != comparison->runner_up);
    if (comparison->advantage) CHECK(comparison->advantage->best < comparison->advantage->runner_up);

    // Thinned instead of extended at the same ratio: the same colour for the same wet film, but less binder
    // and solids per litre; extending keeps the solids and lowers pigment to binder (mass balance).
    const plan::ResolvedCoat& extended =
        mid_colour_coat(result_of(*comparison, FadeVariation::mid_colour_extended));
    const plan::ResolvedCoat& reduced =
        mid_colour_coat(result_of(*comparison, FadeVariation::mid_colour_reduced));
    const plan::ResolvedCoat& neither = mid_colour_coat(result_of(*comparison, FadeVariation::mid_colour));
    CHECK(extended.mix.binder_g_per_litre > 2 * reduced.mix.binder_g_per_litre);
    CHECK(extended.mix.solids.value > 2 * reduced.mix.solids.value);
    CHECK(reduced.mix.pigment_binder == Approx(neither.mix.pigment_binder));
    CHECK(extended.mix.pigment_binder < 0.6 * neither.mix.pigment_binder);
    // K per wet micrometre: equal when both hold as much reducer and extender. 1 part + 2 of reducer against
    // 1 part + 2 of clear + 12 % of 3 parts: 3 against 3.36.
    const double wet_K_extended = extended.mix.K[17] * extended.mix.solids.value;
    const double wet_K_reduced = reduced.mix.K[17] * reduced.mix.solids.value;
    CHECK(wet_K_reduced / wet_K_extended == Approx(3.36 / 3.0).epsilon(0.02));
}

TEST_CASE("a plan without a fade is a single method, assessed over its centre", "[render][fade]") {
    const std::string text =
        "plan = 1\n[panel]\nwidth = \"300 mm\"\nheight = \"200 mm\"\nground = "
        "\"white-primer\"\n[[coats]]\nname = "
        "\"one\"\nmix = \"carbon-black\"\ngun = \"detail-gun-round\"\n[[coats.passes]]\npath = [[\"-80 mm\", "
        "\"0 "
        "mm\"], [\"380 mm\", \"0 mm\"]]\n";
    plan::Library library = test::preset_library();
    const auto comparison = compare_fade_methods(resolved_plan_of(text), library);
    REQUIRE(comparison);
    REQUIRE(comparison->results.size() == 1);
    CHECK(comparison->line.length_mm() == Approx(200));
    REQUIRE(comparison->results[0].metrics);
    CHECK(comparison->results[0].cost.passes == 1);
}

TEST_CASE("the paint used is what the coats spray", "[render][fade]") {
    const plan::Job job = test::job_of(plan_text("method = \"over\"\n" + kUpright));
    const AssessmentLine line{
        {Millimetres{250}, Millimetres{400}}, {Millimetres{250}, Millimetres{0}}, std::nullopt, std::nullopt};
    const FadeCost cost = fade_cost(job, line.points(51));
    double sprayed = 0, used = 0;
    for (const plan::ResolvedCoat& coat : job.coats)
        if (coat.deposit) sprayed += coat.deposit->sprayed_volume().value;
    for (const PaintUse& use : cost.paint)
        if (use.mix == "deep") used += use.sprayed.value;
    CHECK(used == Approx(sprayed));
    CHECK(cost.max_film.value > 12);
}

TEST_CASE("tuning never makes a fade worse, keeps its limits and is the same every time", "[render][tune]") {
    const planner::ResolvedPlan resolved = resolved_plan_of(
        plan_text("method = \"mid-colours\"\nextend = 2\nmid_colours = 1\noverlap = \"65 %\"\n" + kUpright));
    TuneOptions options;
    options.trials = 8;
    options.vary = {Vary::extend, Vary::width, Vary::overlap};
    const TuneResult first = tune_fade(resolved, options, test::preset_library());
    CHECK(first.after.penalty <=
          first.before.penalty + 0.3);  // defects and graininess are assessed but not optimised
    const plan::Fade& fade = *first.after.plan.coats[0].fade;
    CHECK(std::abs(fade.extend.value_or(2) * 2 - std::round(fade.extend.value_or(2) * 2)) < 1e-9);
    CHECK(std::abs(fade.overlap.value * 20 - std::round(fade.overlap.value * 20)) < 1e-9);
    CHECK(fade.mid_colours.value_or(1) == 1);  // not asked to vary
    // The fade still begins and ends on its line.
    CHECK(colour::delta_e_2000(first.after.samples.front().lab, first.before.samples.front().lab) < 4);
    CHECK(colour::delta_e_2000(first.after.samples.back().lab, first.before.samples.back().lab) < 4);
    const TuneResult again = tune_fade(resolved, options, test::preset_library());
    CHECK(again.after.plan == first.after.plan);
    CHECK(again.variability.low_L == first.variability.low_L);
    options.seed = 2;
    CHECK(tune_fade(resolved, options, test::preset_library()).variability.low_L != first.variability.low_L);
    // The range contains the exact passes nearly everywhere.
    int inside = 0;
    for (std::size_t i = 0; i < kFadeSamples; ++i) {
        const double L = first.after.samples[i].lab.L;
        if (L >= first.variability.low_L[i] - 0.3 && L <= first.variability.high_L[i] + 0.3) ++inside;
    }
    CHECK(inside > 0.9 * kFadeSamples);
    CHECK(first.variability.min_width <= first.variability.max_width);
}

TEST_CASE("figures of any fade between any two colours are numbers", "[render][fade][property]") {
    for (std::uint64_t seed = 1; seed <= 300; ++seed) {
        const auto unit = [&](std::uint64_t i) { return uniform01(seed, 5, i); };
        const colour::Lab a{100 * unit(0), 160 * unit(1) - 80, 160 * unit(2) - 80};
        const colour::Lab b{100 * unit(3), 160 * unit(4) - 80, 160 * unit(5) - 80};
        std::vector<FadeSample> places;
        const double centre = 50 + 100 * unit(6), sigma = 0.2 + 40 * unit(7);
        for (int i = 0; i <= 200; ++i) {
            const double t = std::erfc(-(i - centre) / sigma / std::sqrt(2.0)) / 2;
            places.push_back({static_cast<double>(i),
                              {a.L + t * (b.L - a.L), a.a + t * (b.a - a.a), a.b + t * (b.b - a.b)}});
        }
        const auto f = fade_metrics(places, {Millimetres{200 + 4000 * unit(8)}, {}});
        if (!f) continue;  // ends that look alike
        CAPTURE(seed);
        for (const double figure :
             {f->width.value, f->angular_width.value, f->at_half.value, f->steepest_per_mm,
              f->steepest_per_deg, f->mean_per_mm, f->steepest_over_mean, f->steepest_L_per_deg,
              f->slope_over_threshold, f->largest_step, f->banding_over_threshold, f->abruptness,
              f->chroma_loss, f->chroma_loss_share, f->hue_shift.value, f->reversal}) {
            CHECK(std::isfinite(figure));
            CHECK(figure >= 0);
        }
    }
}

TEST_CASE("a fade between two mixes of one colour has no figures", "[render][fade]") {
    const std::string twins =
        "plan = 1\n[panel]\nwidth = \"500 mm\"\nheight = \"400 mm\"\nground = \"white-primer\"\n"
        "[mixes.one]\nparts = { carbon-black = 1 }\n[mixes.other]\nparts = { carbon-black = 1 }\n"
        "[[coats]]\nname = \"fade\"\ngun = \"fan-gun-small\"\n[coats.fade]\nfrom = \"one\"\nto = "
        "\"other\"\nfilm = \"60 um\"\nmethod = \"over\"\n" +
        kUpright;
    const planner::ResolvedPlan resolved = resolved_plan_of(twins);
    const FadeMethodResult result = assess_method({}, *resolved.plan, *resolved.job,
                                                  assessment_line(*resolved.plan, resolved.job->panel));
    CHECK_FALSE(result.metrics);
    CHECK(std::isfinite(result.penalty));
}

TEST_CASE("a cancelled search returns the best so far", "[render][tune]") {
    const planner::ResolvedPlan resolved =
        resolved_plan_of(plan_text("method = \"mid-colours\"\nextend = 2\nmid_colours = 1\n" + kUpright));
    TuneOptions options;
    options.progress.is_cancelled = [] { return true; };
    const TuneResult stopped = tune_fade(resolved, options, test::preset_library());
    CHECK(stopped.stopped);
    CHECK(stopped.trials < 10);
}
