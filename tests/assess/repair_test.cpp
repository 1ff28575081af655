// Spot repair: blend width, amount of paint, and which coats can be repaired in a spot.
#include "fadewright/assess/repair.h"

#include "fadewright/colour/delta_e.h"
#include "fadewright/colour/visibility.h"
#include "fadewright/plan/mix_resolver.h"
#include "fadewright/planner/resolve.h"
#include "preset_library.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

using namespace fadewright;
using assess::CoatKind;
using assess::Extent;
using assess::Repair;
using assess::RepairRequest;

namespace {

struct PreparedJob {
    plan::Library library = test::preset_library();
    plan::Plan plan;
    std::optional<plan::Job> job;

    explicit PreparedJob(const std::string& text) {
        planner::ResolvedPlan resolved = planner::resolve(std::make_shared<Source>("plan", text), library);
        INFO(to_text(resolved.diagnostics));
        REQUIRE(resolved.job);
        plan = std::move(*resolved.plan);
        job = std::move(resolved.job);
    }

    Repair repair(const RepairRequest& request, const production::JobLog* record = nullptr) {
        return assess::repair(plan, *job, library, record, request);
    }
};

std::string plan_of(const std::string& mix, const std::string& ground = "white-primer") {
    return "plan = 1\n[panel]\nwidth = \"2 m\"\nheight = \"2 m\"\nground = \"" + ground +
           "\"\n[mixes.colour]\nparts = " + mix +
           "\n[[coats]]\nname = \"colour\"\nmix = \"colour\"\neven_coat.film = \"40 um\"\n[[coats]]\nname = "
           "\"clear\"\nmix = \"gloss-clear\"\neven_coat.film = \"55 um\"\n";
}

const std::string kGreen = plan_of("{ phthalo-green-blue-shade = 1, titanium-white = 4 }");

RepairRequest request_at_centre() {
    RepairRequest request;
    request.point = {Millimetres{1000}, Millimetres{1000}};
    return request;
}

}  // namespace

TEST_CASE("a blend of this width has the threshold slope", "[render][repair]") {
    for (const double L : {20.0, 50.0, 90.0})
        for (const double dE : {0.5, 1.0, 3.0}) {
            const Millimetres distance{1500};
            const Millimetres w = assess::invisible_fade_width(dE, L, distance);
            // dL* that is dE00 of pure lightness, for a small step; spread over the width.
            const double dL = 0.02 * dE / colour::delta_e_2000({L - 0.01, 0, 0}, {L + 0.01, 0, 0});
            const double degrees = w / colour::millimetres_per_degree(distance);
            CHECK(colour::contrast_of_lightness_step(L, dL) / degrees ==
                  Approx(colour::threshold_slope_per_deg()).epsilon(1e-9));
            CHECK(degrees >= colour::kRampAsStepWidth.value);  // where a slope is perceived as a slope
        }
}

TEST_CASE(
    "the blend width grows with the difference and the distance, and is zero for an invisible difference",
    "[render][repair]") {
    const double unit_width = assess::invisible_fade_width(1, 50, Millimetres{1000}).value;
    CHECK(assess::invisible_fade_width(2, 50, Millimetres{1000}).value == Approx(2 * unit_width));
    CHECK(assess::invisible_fade_width(1, 50, Millimetres{3000}).value == Approx(3 * unit_width));
    // By hand: at L* 50 S_L = 1, dY/Y = 3/66 for one L*; threshold slope from the model of the eye.
    CHECK(unit_width ==
          Approx(3.0 / 66 / colour::threshold_slope_per_deg() * 1000 * std::numbers::pi / 180).epsilon(1e-4));
    CHECK(assess::invisible_fade_width(0, 50, Millimetres{1000}).value == 0);
    CHECK(assess::invisible_fade_width(0.9 * 66.0 / 3 * colour::threshold_step(), 50, Millimetres{1000})
              .value == 0);
    CHECK(
        assess::invisible_fade_width(1.1 * 66.0 / 3 * colour::threshold_step(), 50, Millimetres{1000}).value >
        0);
}

TEST_CASE("the paint of a spot is its film over the disc and the blend area", "[render][repair]") {
    const Micrometres film{20};
    CHECK(assess::spot_paint(film, Millimetres{100}, {}).value == Approx(20 * std::numbers::pi * 2500 / 1e6));
    // A cone, without a disc.
    CHECK(assess::spot_paint(film, {}, Millimetres{90}).value ==
          Approx(20 * std::numbers::pi * 8100 / 3 / 1e6));
    // Summed by rings.
    double sum = 0;
    const double r = 30, w = 200, h = 0.01;
    for (double s = h / 2; s < r + w; s += h)
        sum += 2 * std::numbers::pi * s * h * (s < r ? 1 : 1 - (s - r) / w);
    CHECK(assess::spot_paint(film, Millimetres{60}, Millimetres{200}).value ==
          Approx(20 * sum / 1e6).epsilon(1e-6));
}

TEST_CASE("a hiding solid colour is repaired in a spot, and its clear goes over the whole panel",
          "[render][repair]") {
    PreparedJob ready(kGreen);
    const Repair repair = ready.repair(request_at_centre());
    REQUIRE(repair.coats.size() == 2);
    CHECK(repair.coats[0].kind == CoatKind::solid);
    CHECK(repair.coats[0].extent == Extent::spot);
    CHECK(repair.coats[0].film.value == Approx(40));
    CHECK(repair.coats[0].fade_width.value == Approx(repair.fade_width.value));
    CHECK(repair.coats[1].kind == CoatKind::clear);
    CHECK(repair.coats[1].extent == Extent::panel);
    CHECK(repair.fits);
    CHECK(repair.lap_dE < 0.3);  // it hides, so more of it does not change the colour
    CHECK(repair.nearest_edge.value == Approx(1000));
    CHECK(repair.dE >= 1);
    CHECK(repair.dE == Approx(1 + std::hypot(repair.coats[0].film_dE, repair.coats[1].film_dE)));
    CHECK(
        repair.fade_width.value ==
        Approx(assess::invisible_fade_width(repair.dE + repair.lap_dE, repair.lab.L, ready.job->view_distance)
                   .value));
}

TEST_CASE("without mismatch and film error a hiding colour needs hardly any blend", "[render][repair]") {
    PreparedJob ready(kGreen);
    RepairRequest request = request_at_centre();
    request.mismatch = 0;
    request.film_error = Share{0};
    const Repair exact = ready.repair(request);
    CHECK(exact.dE == 0);
    CHECK(exact.fade_width < 0.3 * ready.repair(request_at_centre()).fade_width);
}

TEST_CASE("a transparent coat over something bright is a candy and never a spot repair", "[render][repair]") {
    PreparedJob bright(plan_of("{ candy-red = 1 }")), dark(plan_of("{ candy-red = 1 }", "black-sealer"));
    const Repair over_white = bright.repair(request_at_centre()),
                 over_black = dark.repair(request_at_centre());
    CHECK(over_white.coats[0].kind == CoatKind::candy);
    CHECK(over_white.coats[0].extent == Extent::panel);
    CHECK(over_black.coats[0].kind == CoatKind::transparent);
}

TEST_CASE("flakes are blended over the whole panel, and a candy over them is a candy", "[render][repair]") {
    const std::string text =
        "plan = 1\n[panel]\nwidth = \"1 m\"\nheight = \"1 m\"\nground = \"black-sealer\"\n"
        "[[coats]]\nname = \"silver\"\nmix = \"metallic-silver-medium\"\neven_coat.film = \"15 um\"\n"
        "[[coats]]\nname = \"candy\"\nmix = \"candy-red\"\neven_coat.film = \"15 um\"\n";
    PreparedJob ready(text);
    RepairRequest request = request_at_centre();
    request.point = {Millimetres{500}, Millimetres{500}};
    const Repair repair = ready.repair(request);
    REQUIRE(repair.coats.size() == 2);
    CHECK(repair.coats[0].kind == CoatKind::effect);
    CHECK(repair.coats[0].extent == Extent::panel);
    CHECK(repair.coats[1].kind == CoatKind::candy);
}

TEST_CASE("a blend that does not fit on the panel is not a spot repair", "[render][repair]") {
    PreparedJob ready(kGreen);
    RepairRequest request = request_at_centre();
    request.mismatch = 20;
    const Repair repair = ready.repair(request);
    CHECK_FALSE(repair.fits);
    CHECK(repair.coats[0].extent == Extent::panel);
    // It takes the paint of a whole panel: 4 m2 under 40 um, through the solids of the mix.
    CHECK(repair.coats[0].landed.value ==
          Approx(4 * 40 / ready.job->coats[0].mix.solids.value).epsilon(1e-3));
}

TEST_CASE("coats without film at the point are not repaired", "[render][repair]") {
    PreparedJob ready(kGreen +
                      "[[coats]]\nname = \"stripe\"\nmix = \"colour\"\ngun = \"airbrush-fine\"\n"
                      "[[coats.passes]]\npath = [[\"0 mm\", \"100 mm\"], [\"2 m\", \"100 mm\"]]\n");
    CHECK(ready.repair(request_at_centre()).coats.size() == 2);
    RepairRequest request = request_at_centre();
    request.point.y = Millimetres{100};
    CHECK(ready.repair(request).coats.size() == 3);
}

TEST_CASE("the batch covers what lands, is lost, stays in the gun and is wasted, and the scale can weigh it",
          "[render][repair]") {
    PreparedJob ready(plan_of("{ phthalo-green-blue-shade = 1, titanium-white = 60 }"));
    const Repair repair = ready.repair(request_at_centre());
    const plan::ShopSettings& mixing = ready.plan.mixing;
    REQUIRE(repair.mixes.size() == 2);
    const assess::RepairMix& mix = repair.mixes[0];
    const double solids = ready.job->coats[0].mix.solids.value;
    const double spot =
        assess::spot_paint(repair.coats[0].film, repair.request.diameter, repair.fade_width).value;
    CHECK(mix.landed.value == Approx(spot / solids));
    CHECK(mix.lost.value == Approx(mix.landed.value * (1 / mixing.even_coat_efficiency.value - 1)));
    // One card of 100 x 150 mm under 40 um, half of it lost.
    CHECK(mix.cards.value == Approx(0.015 * 40 / solids / 0.5));
    CHECK(mix.left_in_gun == mixing.left_in_gun);
    const double used = mix.landed.value + mix.lost.value + mix.cards.value + mix.left_in_gun.value;
    CHECK(mix.waste.value == Approx(mixing.waste.value * used));
    CHECK(mix.to_mix >= mix.needed());
    CHECK(mix.raised_for_scale);  // one part in sixty-one
    double grams = 0;
    for (const production::RecipeLine& line : mix.recipe_lines) {
        CHECK_FALSE(line.is_coarse());
        grams += line.grams.value;
    }
    CHECK(mix.recipe_lines.back().scale_reading.value == Approx(grams));
    // The weight of the batch is that of its volume, within the scale division.
    CHECK(grams == Approx(mix.to_mix.value * ready.job->coats[0].mix.wet_density.value)
                       .margin(0.5 * mixing.scale.value + 1e-9));
    // A millilitre less could not be weighed.
    const auto parts = plan::parts_of(ready.plan, {"colour", {}}, ready.library).value();
    bool coarse = false;
    for (const production::RecipeLine& line :
         production::weigh_out(parts, mix.to_mix - Millilitres{1}, mixing.scale))
        coarse = coarse || line.is_coarse();
    CHECK(coarse);
}

TEST_CASE("mixes and films of the job log count instead of the planned ones", "[render][repair]") {
    PreparedJob ready(kGreen);
    production::JobLog record;
    production::LogEntry mixed, measured;
    mixed.date.value = "2026-03-01T00:00:00Z";
    mixed.mix = Located<std::string>{"colour", {}};
    mixed.grams = {{"titanium-white", Grams{100}, {}}};
    measured.plan.value = ready.job->hash;
    measured.coat = Located<std::string>{"colour", {}};
    measured.film = Micrometres{50};
    measured.at = plan::Point{Millimetres{10}, Millimetres{10}};
    record.entries = {mixed, measured};
    const Repair planned = ready.repair(request_at_centre()),
                 repair = ready.repair(request_at_centre(), &record);
    CHECK(repair.coats[0].film.value == Approx(50));
    CHECK(repair.coats[0].readings == 1);
    CHECK(repair.mixes[0].mixed_on == "2026-03-01T00:00:00Z");
    REQUIRE(repair.mixes[0].recipe_lines.size() == 1);
    CHECK(repair.mixes[0].recipe_lines[0].paint->id == "titanium-white");
    CHECK(repair.lab.L > planned.lab.L + 5);  // white was sprayed
}
