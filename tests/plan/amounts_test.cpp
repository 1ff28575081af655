// What a job takes: balances of paint, recipes on the scale, and shopping.
#include "fadewright/plan/amounts.h"

#include "fadewright/plan/fade.h"
#include "fadewright/plan/quantities.h"
#include "published.h"
#include "shelf.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <sstream>

using namespace fadewright;

namespace {

// Keeps what the amounts point into.
struct Sheet {
    plan::Shelf shelf = test::preset_shelf();
    std::optional<plan::Plan> plan;
    std::optional<plan::Job> job;
    plan::Amounts amounts;

    explicit Sheet(const std::string& text) {
        Diagnostics diagnostics;
        plan = plan::read_plan(std::make_shared<Source>("test.toml", text), diagnostics);
        if (plan) plan = plan::expanded_plan(*plan, shelf, diagnostics);
        if (plan) job = plan::ready_job(*plan, text, shelf, diagnostics);
        if (!job) throw std::runtime_error(to_text(diagnostics));
        amounts = plan::amounts_of(*plan, *job, shelf);
    }
};

std::string preset(const std::string& name) {
    std::ifstream in(test::source_path("presets/plans/" + name + ".toml"));
    std::stringstream text;
    text << in.rdbuf();
    return text.str();
}

const std::string kBoard = "plan = 1\n[panel]\nwidth = \"300 mm\"\nheight = \"200 mm\"\n";
const std::string kBlue =
    "[mixes.blue]\nparts = { phthalo-blue-green-shade = 1, titanium-white = 4 }\nreduce = \"25 %\"\n";
const std::string kPass = "[[coats.passes]]\npath = [[\"-60 mm\", \"100 mm\"], [\"360 mm\", \"100 mm\"]]\n";

std::string coat(const std::string& name, const std::string& mix, const std::string& more) {
    return "[[coats]]\nname = \"" + name + "\"\nmix = \"" + mix + "\"\n" + more;
}

void check_balance(const plan::Amounts& amounts) {
    for (const plan::MixAmounts& mix : amounts.mixes) {
        INFO(mix.name);
        const Millilitres parts = mix.landed + mix.lost + mix.cards + mix.held + mix.waste + mix.reserve;
        CHECK((parts + mix.rounding).value == Approx(mix.sprayable().value).epsilon(1e-9));
        // What is printed: grams over density are the millilitres, to 0.1 %.
        double mL = 0, grams = 0;
        for (const plan::Poured& p : mix.poured) {
            mL += p.grams.value / p.paint->wet_density.value;
            grams += p.grams.value;
            CHECK(p.reads.value == Approx(grams).margin(1e-9));
            const double divisions = p.reads / amounts.mixing.scale;
            CHECK(divisions == Approx(std::round(divisions)).margin(1e-6));
            CHECK(std::abs(p.grams.value - p.exact.value) <= p.error.value * p.exact.value * (1 + 1e-9));
        }
        CHECK(mL == Approx((parts + mix.rounding).value).epsilon(1e-3));
        CHECK(grams == Approx(mix.grams().value));
        // Rounded up to cups, by less than a cup.
        const double cups = static_cast<double>(mix.cups);
        CHECK(cups * amounts.mixing.cup.value >= mix.needed().value * (1 - 1e-9));
        CHECK((cups - 1) * amounts.mixing.cup.value < mix.needed().value);
    }
    for (const plan::CoatAmounts& coat : amounts.coats)
        CHECK(coat.landed.value <= coat.sprayed().value * (1 + 1e-6));
}

}  // namespace

TEST_CASE("what the sheet says to mix is what lands, is lost, held, sprayed on cards, wasted and kept",
          "[plan]") {
    for (const std::string name :
         {"dusk-fade", "dusk-fade-short", "guitar-burst", "soft-hills", "carved-sign", "drum-ring"}) {
        INFO(name);
        const Sheet sheet(preset(name));
        REQUIRE(sheet.amounts.coats.size() == sheet.job->coats.size());
        check_balance(sheet.amounts);
    }
}

TEST_CASE("an even coat takes area times film over solids times transfer", "[plan]") {
    // A sign panel of 1 m2, 20 um, transfer 50 %: the table's 267 mL at 15 % solids, here at the mix's own.
    const Sheet sheet("plan = 1\n[panel]\nwidth = \"1000 mm\"\nheight = \"1000 mm\"\n" + kBlue +
                      coat("base", "blue", "cover.film = \"20 um\"\n"));
    const plan::CoatAmounts& base = sheet.amounts.coats[0];
    const Share solids = sheet.job->coats[0].mix.solids;
    CHECK(base.sprayed().value ==
          Approx(plan::to_spray(1, Micrometres{20}, solids, Share{0.5}).value).epsilon(1e-6));
    CHECK(base.dry.value == Approx(20).epsilon(1e-6));  // 1 m2 under 1 um is 1 mL
    CHECK(base.film.value == Approx(20).epsilon(1e-6));
    // Two cards of 100 x 150 mm at the same film and transfer.
    CHECK(base.cards.value == Approx(base.sprayed().value * 2 * 0.015).epsilon(1e-6));
    CHECK(base.transfer_is_said);
}

TEST_CASE("what a pass takes is its flow times its time", "[plan]") {
    const Sheet sheet(kBoard + coat("line", "carbon-black", "gun = \"detail-gun-round\"\n" + kPass));
    const plan::CoatAmounts& line = sheet.amounts.coats[0];
    const spray::Gun& gun = *sheet.job->coats[0].gun;
    const double seconds = 420 / sheet.job->coats[0].passes[0].speed.value;
    CHECK(line.gun_time.value == Approx(seconds));
    CHECK(line.sprayed().value == Approx(gun.flow.value / 60 * seconds).epsilon(1e-6));
    // Of what leaves the gun its transfer would land on an endless panel; the pass runs 60 mm past both ends.
    CHECK(line.in_air.value == Approx(line.sprayed().value * (1 - gun.transfer.value)).epsilon(1e-6));
    CHECK(line.landed.value == Approx(line.sprayed().value * gun.transfer.value * 300 / 420).epsilon(1e-3));
    CHECK(line.on_masks.value == Approx(0).margin(1e-9));
    CHECK(line.passes == 1);
}

TEST_CASE("a mask takes what it covers, no more", "[plan]") {
    const std::string mask =
        "[masks.left]\nshape = { corners = [[\"-10 mm\", \"-10 mm\"], [\"120 mm\", \"-10 mm\"], "
        "[\"120 mm\", \"210 mm\"], [\"-10 mm\", \"210 mm\"]] }\n";
    const Sheet bare(kBoard + coat("one", "carbon-black", "cover.film = \"20 um\"\n"));
    const Sheet taped(kBoard + mask +
                      coat("one", "carbon-black", "masks = [\"left\"]\ncover.film = \"20 um\"\n"));
    const plan::CoatAmounts &b = bare.amounts.coats[0], &t = taped.amounts.coats[0];
    CHECK(t.sprayed().value == Approx(b.sprayed().value).epsilon(1e-9));
    CHECK(t.landed.value == Approx(b.landed.value * 0.6).epsilon(3e-3));  // 180 of 300 mm are open
    CHECK(t.on_masks.value == Approx(b.landed.value * 0.4).epsilon(5e-3));
    CHECK(t.film.value == Approx(20).epsilon(3e-3));
}

TEST_CASE("the film of a ramp is where its paint lies", "[plan]") {
    // A bell of spread s across: integral of its square over itself is its peak over the root of 2.
    const Sheet sheet(kBoard + coat("line", "carbon-black", "gun = \"detail-gun-round\"\n" + kPass));
    const double peak = sheet.job->coats[0].film_um(150, 100);
    CHECK(sheet.amounts.coats[0].film.value == Approx(peak / std::sqrt(2.0)).epsilon(2e-3));
}

TEST_CASE("the most goes in first, reducer last, and the scale reads the sum", "[plan]") {
    const Sheet sheet(kBoard + kBlue + coat("base", "blue", "cover.film = \"20 um\"\n"));
    const plan::MixAmounts& blue = sheet.amounts.mixes.at(0);
    REQUIRE(blue.poured.size() == 3);
    CHECK(blue.poured[0].paint->id == "titanium-white");
    CHECK(blue.poured[1].paint->id == "phthalo-blue-green-shade");
    CHECK(blue.poured[2].paint->role == paint::Role::reducer);
    CHECK(blue.poured[0].parts == Approx(4));
    CHECK(blue.poured[1].parts == Approx(1));
    // Reduced 25 % of paint, which is 20 % of the mix.
    CHECK(blue.poured[2].of_paint.value == Approx(0.25));
    CHECK(blue.poured[2].of_mix.value == Approx(0.20));
    CHECK(blue.unthinned().value == Approx(0.8 * blue.sprayable().value).epsilon(2e-3));
    CHECK(blue.poured[2].reads.value == Approx(blue.grams().value));
}

TEST_CASE("errors of the scale do not add up", "[plan]") {
    // Twelve equal parts, each 0.34 divisions too much for the scale: the last reading is right all the same.
    std::vector<paint::Paint> paints(12);
    std::vector<paint::Part> parts;
    for (paint::Paint& paint : paints) {
        paint.wet_density = GramsPerMillilitre{1.0};
        parts.push_back({&paint, 1});
    }
    const auto poured = plan::weighed(parts, Millilitres{12 * 1.034}, Grams{0.1});
    CHECK(poured.back().reads.value == Approx(12.4));  // 12.408 exactly; each rounded alone would be 12.0
    for (const plan::Poured& p : poured) CHECK(std::abs(p.grams.value - p.exact.value) < 0.1);
}

TEST_CASE("a component too small for the scale is told, with the batch that would do", "[plan]") {
    const std::string strong = "[mixes.tint]\nparts = { titanium-white = 200, carbon-black = 1 }\n";
    const std::string base = coat("base", "tint", "cover.film = \"10 um\"\n");
    const Sheet coarse(kBoard + strong + base);
    const plan::MixAmounts& tint = coarse.amounts.mixes[0];
    REQUIRE(tint.poured.back().paint->id == "carbon-black");
    CHECK(tint.poured.back().is_coarse());
    CHECK_FALSE(tint.poured.front().is_coarse());
    REQUIRE(tint.to_weigh.has_value());
    CHECK(*tint.to_weigh > tint.sprayable());
    std::vector<paint::Part> parts;
    for (const plan::Poured& p : tint.poured) parts.push_back({p.paint, p.parts});
    for (const plan::Poured& p : plan::weighed(parts, *tint.to_weigh, Grams{0.1})) CHECK_FALSE(p.is_coarse());
    const Millilitres cup = coarse.amounts.mixing.cup;
    bool less_would_do = true;
    for (const plan::Poured& p : plan::weighed(parts, *tint.to_weigh - cup, Grams{0.1}))
        less_would_do = less_would_do && !p.is_coarse();
    CHECK_FALSE(less_would_do);
    // A finer scale does it with the batch as it is.
    const Sheet fine("plan = 1\nmixing.scale = \"0.001 g\"\n" + kBoard.substr(9) + strong + base);
    CHECK_FALSE(fine.amounts.mixes[0].to_weigh.has_value());
}

TEST_CASE("a mix of mixes is weighed as paints and says what it holds", "[plan]") {
    const Sheet sheet(preset("dusk-fade-short"));
    const auto middle = std::find_if(sheet.amounts.mixes.begin(), sheet.amounts.mixes.end(),
                                     [](const auto& m) { return m.name == "dusk-middle"; });
    REQUIRE(middle != sheet.amounts.mixes.end());
    // plum 1 + apricot 1, extended by 2, reduced 12 %: each is 1 in 2 x 3 x 1.12 = 6.72.
    REQUIRE(middle->holds.size() == 2);
    for (const plan::Within& within : middle->holds)
        CHECK(within.volume.value == Approx(middle->sprayable().value / 6.72).epsilon(1e-9));
    for (const plan::Poured& p : middle->poured) CHECK(p.paint->solids.value < 1);
}

TEST_CASE("shopping adds up the recipes, and costs what has a price", "[plan]") {
    const Sheet sheet(preset("dusk-fade-short"));
    for (const plan::Bought& b : sheet.amounts.shopping) {
        double grams = 0;
        for (const plan::MixAmounts& mix : sheet.amounts.mixes)
            for (const plan::Poured& p : mix.poured)
                if (p.paint == b.paint) grams += p.grams.value;
        INFO(b.paint->id);
        CHECK(b.grams.value == Approx(grams));
        CHECK(b.volume.value == Approx(grams / b.paint->wet_density.value));
        CHECK(b.cost.has_value() == b.paint->price_per_litre.has_value());
    }
}

TEST_CASE("a gun filled twice with a mix holds back twice", "[plan]") {
    const std::string cover = "cover.film = \"10 um\"\n";
    const Sheet once(kBoard + coat("a", "carbon-black", cover) + coat("b", "carbon-black", cover));
    CHECK(once.amounts.mixes[0].fillings == 1);
    CHECK(once.amounts.mixes[0].held.value == Approx(15));
    const Sheet twice(kBoard + coat("a", "carbon-black", cover) + coat("b", "titanium-white", cover) +
                      coat("c", "carbon-black", cover));
    CHECK(twice.amounts.mixes[0].fillings == 2);
    CHECK(twice.amounts.mixes[0].held.value == Approx(30));
    CHECK(twice.amounts.mixes[0].coats == std::vector<std::string>{"a", "c"});
}

TEST_CASE("the mixing table changes what is mixed", "[plan]") {
    const std::string board = kBoard.substr(9);
    const std::string base = coat("base", "carbon-black", "cover.film = \"10 um\"\n");
    const Sheet lean(
        "plan = 1\nmixing = { hold_up = \"0 mL\", cards = 0, waste = \"0 %\", reserve = \"0 %\", cup = \"1 "
        "mL\", "
        "cover_transfer = \"100 %\" }\n" +
        board + base);
    const plan::MixAmounts& mix = lean.amounts.mixes[0];
    CHECK(mix.needed().value == Approx(mix.landed.value).epsilon(1e-9));
    CHECK(mix.lost.value == Approx(0).margin(1e-9));
    CHECK(mix.rounding.value < 1.1);
    const Sheet usual("plan = 1\n" + board + base);
    CHECK(usual.amounts.mixes[0].needed().value > 2 * mix.needed().value);
}
