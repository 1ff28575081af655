#include "fadewright/render/fade_way.h"

#include "fadewright/base/random.h"
#include "fadewright/colour/delta_e.h"
#include "fadewright/render/tune.h"
#include "shelf.h"

#include <catch2/catch.hpp>

#include <cmath>

using namespace fadewright;
using namespace fadewright::render;

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

plan::Plan plan_of(const std::string& text) {
    Diagnostics diagnostics;
    const auto plan = plan::read_plan(std::make_shared<Source>("test.toml", text), diagnostics);
    if (!plan) throw std::runtime_error(to_text(diagnostics));
    return *plan;
}

const FadeWay& way_called(const FadeWays& ways, const std::string& part) {
    for (const FadeWay& way : ways.ways)
        if (way.name.find(part) != std::string::npos) return way;
    throw std::runtime_error("no way is called " + part);
}

const plan::ReadyCoat& middle_coat(const FadeWay& way) {
    for (const plan::ReadyCoat& coat : way.job.coats)
        if (coat.mix_name.find("middle") != std::string::npos) return coat;
    throw std::runtime_error("no middle");
}

}  // namespace

TEST_CASE("the judged line crosses the fade and stays on the panel", "[render][fade]") {
    const plan::Plan plan = plan_of(plan_text("method = \"over\"\n" + kUpright));
    const spray::Panel panel{Millimetres{500}, Millimetres{400}, Millimetres{0}};
    const JudgedLine line = judged_line(plan, panel);
    CHECK(line.from.x.value == Approx(250));
    CHECK(line.from.y.value == Approx(400).margin(0.5));  // half a width more, as far as the panel goes
    CHECK(line.to.y.value == Approx(0).margin(0.5));
    REQUIRE(line.wanted);
    CHECK(line.wanted->value == Approx(0.8 * 240));
    REQUIRE(line.halfway);
    CHECK(line.halfway->value == Approx(200).margin(0.5));  // y = 200 mm, from the upper edge
}

TEST_CASE("a middle off the planned halfway line is told, with the side it lies on", "[render][fade]") {
    const plan::Plan plan = plan_of(plan_text("method = \"over\"\n" + kUpright));
    plan::Shelf shelf = test::preset_shelf();
    Diagnostics diagnostics;
    const auto job = plan::ready_job(plan, "", shelf, diagnostics);
    REQUIRE(job);
    JudgedLine line = judged_line(plan, job->panel);
    const auto way = judged_way("one", plan, line, shelf, diagnostics);
    REQUIRE(way);
    REQUIRE(way->figures);
    line.halfway = way->figures->at_half;
    CHECK_FALSE(halfway_words(*way, line));
    line.halfway = way->figures->at_half - Millimetres{40};  // the middle comes 40 mm late
    REQUIRE(halfway_words(*way, line));
    CHECK(halfway_words(*way, line)->find("40 mm off") != std::string::npos);
    CHECK(halfway_words(*way, line)->find("on the side of 'deep': 'deep' shows late") != std::string::npos);
    line.halfway = way->figures->at_half + Millimetres{40};
    CHECK(halfway_words(*way, line)->find("on the side of 'pale': 'pale' shows late") != std::string::npos);
}

TEST_CASE("the ways of a fade are laid, judged and told apart", "[render][fade]") {
    const plan::Plan plan =
        plan_of(plan_text("method = \"middles\"\nextend = 2\nreduce = \"12 %\"\nmiddles = 1\n" + kUpright));
    plan::Shelf shelf = test::preset_shelf();
    Diagnostics diagnostics;
    const auto ways = fade_ways(plan, "", shelf, diagnostics);
    REQUIRE(ways);
    CHECK(ways->ways.size() + ways->not_made.size() >= 8);
    CHECK(ways->ways.front().name == "planned: one middle, extended 2:1");
    for (const FadeWay& way : ways->ways) {
        CAPTURE(way.name);
        CHECK(way.places.size() == kFadePlaces);
        CHECK(way.cost.passes > 0);
        CHECK(way.cost.gun_time.value > 0);
        CHECK(ways->ways[ways->best].points <= way.points);
    }
    CHECK(ways->best != ways->runner_up);
    CHECK(ways->advice.find(ways->ways[ways->best].name) == 0);

    // Reduced instead of extended at the same ratio: the same colour for the same wet film, but less binder and solids
    // in a litre; extending keeps the solids and lowers pigment to binder (mass balance).
    const plan::ReadyCoat& extended = middle_coat(way_called(*ways, "one middle, extended 2:1"));
    const plan::ReadyCoat& reduced = middle_coat(way_called(*ways, "reduced 2:1 instead"));
    const plan::ReadyCoat& neither = middle_coat(way_called(*ways, "one middle, as it is"));
    CHECK(extended.mix.binder_g_per_litre > 2 * reduced.mix.binder_g_per_litre);
    CHECK(extended.mix.solids.value > 2 * reduced.mix.solids.value);
    CHECK(reduced.mix.pigment_binder == Approx(neither.mix.pigment_binder));
    CHECK(extended.mix.pigment_binder < 0.6 * neither.mix.pigment_binder);
    // K per wet micrometre: equal when both hold as much reducer and extender. 1 part + 2 of reducer against 1 part + 2 of
    // clear + 12 % of 3 parts: 3 against 3.36.
    const double wet_K_extended = extended.mix.K[17] * extended.mix.solids.value;
    const double wet_K_reduced = reduced.mix.K[17] * reduced.mix.solids.value;
    CHECK(wet_K_reduced / wet_K_extended == Approx(3.36 / 3.0).epsilon(0.02));
}

TEST_CASE("a plan without a fade is one way, judged over its middle", "[render][fade]") {
    const std::string text =
        "plan = 1\n[panel]\nwidth = \"300 mm\"\nheight = \"200 mm\"\nground = "
        "\"white-primer\"\n[[coats]]\nname = "
        "\"one\"\nmix = \"carbon-black\"\ngun = \"detail-gun-round\"\n[[coats.passes]]\npath = [[\"-80 mm\", "
        "\"0 "
        "mm\"], [\"380 mm\", \"0 mm\"]]\n";
    plan::Shelf shelf = test::preset_shelf();
    Diagnostics diagnostics;
    const auto ways = fade_ways(plan_of(text), text, shelf, diagnostics);
    REQUIRE(ways);
    REQUIRE(ways->ways.size() == 1);
    CHECK(ways->line.length_mm() == Approx(200));
    REQUIRE(ways->ways[0].figures);
    CHECK(ways->ways[0].cost.passes == 1);
}

TEST_CASE("what a way uses is what its coats spray", "[render][fade]") {
    const plan::Job job = test::job_of(plan_text("method = \"over\"\n" + kUpright));
    const JudgedLine line{
        {Millimetres{250}, Millimetres{400}}, {Millimetres{250}, Millimetres{0}}, std::nullopt, std::nullopt};
    const FadeCost cost = fade_cost(job, line.places(51));
    double sprayed = 0, used = 0;
    for (const plan::ReadyCoat& coat : job.coats)
        if (coat.deposit) sprayed += coat.deposit->sprayed().value;
    for (const PaintUse& use : cost.paint)
        if (use.mix == "deep") used += use.sprayed.value;
    CHECK(used == Approx(sprayed));
    CHECK(cost.most_film.value > 12);
}

TEST_CASE("tuning never makes a fade worse, keeps its limits and is the same every time", "[render][tune]") {
    const plan::Plan plan =
        plan_of(plan_text("method = \"middles\"\nextend = 2\nmiddles = 1\noverlap = \"65 %\"\n" + kUpright));
    TuneWish wish;
    wish.looks = 8;
    wish.vary = {Vary::extend, Vary::width, Vary::overlap};
    Diagnostics diagnostics;
    const auto first = tuned(plan, wish, test::preset_shelf(), diagnostics);
    REQUIRE(first);
    CHECK(first->after.points <=
          first->before.points + 0.3);  // faults and grain are not searched, only judged
    const plan::Fade& fade = *first->after.plan.coats[0].fade;
    CHECK(std::abs(fade.extend.value_or(2) * 2 - std::round(fade.extend.value_or(2) * 2)) < 1e-9);
    CHECK(std::abs(fade.overlap.value * 20 - std::round(fade.overlap.value * 20)) < 1e-9);
    CHECK(fade.middles.value_or(1) == 1);  // not asked to vary
    // The fade still begins and ends on its line.
    CHECK(colour::delta_e_2000(first->after.places.front().lab, first->before.places.front().lab) < 4);
    CHECK(colour::delta_e_2000(first->after.places.back().lab, first->before.places.back().lab) < 4);
    const auto again = tuned(plan, wish, test::preset_shelf(), diagnostics);
    REQUIRE(again);
    CHECK(again->after.plan == first->after.plan);
    CHECK(again->hand.low_L == first->hand.low_L);
    wish.seed = 2;
    CHECK(tuned(plan, wish, test::preset_shelf(), diagnostics)->hand.low_L != first->hand.low_L);
    // The band holds the steady hand nearly everywhere, and is no wider than the fade.
    int inside = 0;
    for (std::size_t i = 0; i < kFadePlaces; ++i) {
        const double L = first->after.places[i].lab.L;
        if (L >= first->hand.low_L[i] - 0.3 && L <= first->hand.high_L[i] + 0.3) ++inside;
    }
    CHECK(inside > 0.9 * kFadePlaces);
    CHECK(first->hand.narrowest <= first->hand.widest);
}

TEST_CASE("figures of any fade between any two colours are numbers", "[render][fade][property]") {
    for (std::uint64_t seed = 1; seed <= 300; ++seed) {
        const auto unit = [&](std::uint64_t i) { return random_unit(seed, 5, i); };
        const colour::Lab a{100 * unit(0), 160 * unit(1) - 80, 160 * unit(2) - 80};
        const colour::Lab b{100 * unit(3), 160 * unit(4) - 80, 160 * unit(5) - 80};
        std::vector<FadePlace> places;
        const double centre = 50 + 100 * unit(6), sigma = 0.2 + 40 * unit(7);
        for (int i = 0; i <= 200; ++i) {
            const double t = std::erfc(-(i - centre) / sigma / std::sqrt(2.0)) / 2;
            places.push_back({static_cast<double>(i),
                              {a.L + t * (b.L - a.L), a.a + t * (b.a - a.a), a.b + t * (b.b - a.b)}});
        }
        const auto f = fade_figures(places, {Millimetres{200 + 4000 * unit(8)}, {}});
        if (!f) continue;  // ends that look alike
        CAPTURE(seed);
        for (const double figure :
             {f->width.value, f->width_at_eye.value, f->at_half.value, f->steepest_per_mm,
              f->steepest_per_deg, f->mean_per_mm, f->steepest_over_mean, f->steepest_L_per_deg,
              f->slope_times_threshold, f->largest_step, f->band_times_threshold, f->corner, f->chroma_dip,
              f->chroma_dip_share, f->hue_swing.value, f->back_step}) {
            CHECK(std::isfinite(figure));
            CHECK(figure >= 0);
        }
    }
}

TEST_CASE("a fade between two names for one colour is nothing to judge", "[render][fade]") {
    const std::string twins =
        "plan = 1\n[panel]\nwidth = \"500 mm\"\nheight = \"400 mm\"\nground = \"white-primer\"\n"
        "[mixes.one]\nparts = { carbon-black = 1 }\n[mixes.other]\nparts = { carbon-black = 1 }\n"
        "[[coats]]\nname = \"fade\"\ngun = \"fan-gun-small\"\n[coats.fade]\nfrom = \"one\"\nto = "
        "\"other\"\nfilm = \"60 um\"\nmethod = \"over\"\n" +
        kUpright;
    plan::Shelf shelf = test::preset_shelf();
    Diagnostics diagnostics;
    const plan::Plan plan = plan_of(twins);
    const auto job = plan::ready_job(plan, twins, shelf, diagnostics);
    REQUIRE(job);
    const auto way = judged_way("twins", plan, judged_line(plan, job->panel), shelf, diagnostics);
    REQUIRE(way);
    CHECK_FALSE(way->figures);
    CHECK(std::isfinite(way->points));
}

TEST_CASE("a search that is stopped gives the best so far", "[render][tune]") {
    const plan::Plan plan = plan_of(plan_text("method = \"middles\"\nextend = 2\nmiddles = 1\n" + kUpright));
    TuneWish wish;
    wish.stop = [] { return true; };
    Diagnostics diagnostics;
    const auto stopped = tuned(plan, wish, test::preset_shelf(), diagnostics);
    REQUIRE(stopped);
    CHECK(stopped->stopped);
    CHECK(stopped->looks < 10);
}
