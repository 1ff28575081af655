// Paint amounts of a job: balances, recipes on the scale, and shopping.
#include "fadewright/production/amounts.h"

#include "fadewright/planner/resolve.h"
#include "fadewright/production/coverage.h"
#include "preset_library.h"
#include "published_table.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <sstream>

using namespace fadewright;

namespace {

// Owns what the amounts point to.
struct PlannedJob {
    plan::Library library = test::preset_library();
    std::optional<plan::Plan> plan;
    std::optional<plan::Job> job;
    production::Amounts amounts;

    explicit PlannedJob(const std::string& text) {
        planner::ResolvedPlan resolved =
            planner::resolve(std::make_shared<Source>("test.toml", text), library);
        if (!resolved.job) throw std::runtime_error(to_text(resolved.diagnostics));
        plan = std::move(resolved.expanded);
        job = std::move(resolved.job);
        amounts = production::amounts_of(*plan, *job, library);
    }
};

std::string preset_plan(const std::string& name) {
    std::ifstream in(test::source_path("presets/plans/" + name + ".toml"));
    std::stringstream text;
    text << in.rdbuf();
    return text.str();
}

const std::string kBoard = "plan = 1\n[panel]\nwidth = \"300 mm\"\nheight = \"200 mm\"\n";
const std::string kBlue =
    "[mixes.blue]\nparts = { phthalo-blue-green-shade = 1, titanium-white = 4 }\nreduce = \"25 %\"\n";
const std::string kPass = "[[coats.passes]]\npath = [[\"-60 mm\", \"100 mm\"], [\"360 mm\", \"100 mm\"]]\n";

std::string coat_toml(const std::string& name, const std::string& mix, const std::string& more) {
    return "[[coats]]\nname = \"" + name + "\"\nmix = \"" + mix + "\"\n" + more;
}

void check_balance(const production::Amounts& amounts) {
    for (const production::MixAmounts& mix : amounts.mixes) {
        INFO(mix.name);
        const Millilitres parts =
            mix.on_panel + mix.lost + mix.test_cards + mix.left_in_gun + mix.waste + mix.reserve;
        CHECK((parts + mix.rounding).value == Approx(mix.sprayable().value).epsilon(1e-9));
        // As printed: grams over density are the millilitres, within 0.1 %.
        double mL = 0, grams = 0;
        for (const production::RecipeLine& p : mix.recipe) {
            mL += p.grams.value / p.paint->wet_density.value;
            grams += p.grams.value;
            CHECK(p.scale_reading.value == Approx(grams).margin(1e-9));
            const double divisions = p.scale_reading / amounts.mixing.scale;
            CHECK(divisions == Approx(std::round(divisions)).margin(1e-6));
            CHECK(std::abs(p.grams.value - p.exact.value) <= p.error.value * p.exact.value * (1 + 1e-9));
        }
        CHECK(mL == Approx((parts + mix.rounding).value).epsilon(1e-3));
        CHECK(grams == Approx(mix.grams().value));
        // Rounded up to full cups, by less than a cup.
        const double cups = static_cast<double>(mix.cups);
        CHECK(cups * amounts.mixing.cup_size.value >= mix.needed().value * (1 - 1e-9));
        CHECK((cups - 1) * amounts.mixing.cup_size.value < mix.needed().value);
    }
    for (const production::CoatAmounts& coat_toml : amounts.coats)
        CHECK(coat_toml.on_panel.value <= coat_toml.sprayed().value * (1 + 1e-6));
}

}  // namespace

TEST_CASE("a mix is the sum of paint on the panel, lost, left in the gun, on cards, wasted and kept",
          "[plan]") {
    for (const std::string name :
         {"dusk-fade", "dusk-fade-short", "guitar-burst", "soft-hills", "carved-sign", "drum-ring"}) {
        INFO(name);
        const PlannedJob sheet(preset_plan(name));
        REQUIRE(sheet.amounts.coats.size() == sheet.job->coats.size());
        check_balance(sheet.amounts);
    }
}

TEST_CASE("an even coat needs area times film over solids times transfer efficiency", "[plan]") {
    // A sign panel of 1 m2, 20 um, transfer efficiency 50 %: 267 mL in the table at 15 % solids; here the
    // solids of the mix.
    const PlannedJob sheet("plan = 1\n[panel]\nwidth = \"1000 mm\"\nheight = \"1000 mm\"\n" + kBlue +
                           coat_toml("base", "blue", "even_coat.film = \"20 um\"\n"));
    const production::CoatAmounts& base = sheet.amounts.coats[0];
    const Share solids = sheet.job->coats[0].mix.solids;
    CHECK(base.sprayed().value ==
          Approx(production::spray_volume(1, Micrometres{20}, solids, Share{0.5}).value).epsilon(1e-6));
    CHECK(base.dry.value == Approx(20).epsilon(1e-6));  // 1 m2 x 1 um is 1 mL
    CHECK(base.film.value == Approx(20).epsilon(1e-6));
    // Two cards of 100 x 150 mm with the same film and efficiency.
    CHECK(base.test_cards.value == Approx(base.sprayed().value * 2 * 0.015).epsilon(1e-6));
    CHECK(base.efficiency_assumed);
}

TEST_CASE("a pass needs its flow times its time", "[plan]") {
    const PlannedJob sheet(kBoard +
                           coat_toml("line", "carbon-black", "gun = \"detail-gun-round\"\n" + kPass));
    const production::CoatAmounts& line = sheet.amounts.coats[0];
    const spray::Gun& gun = *sheet.job->coats[0].gun;
    const double seconds = 420 / sheet.job->coats[0].passes[0].speed.value;
    CHECK(line.trigger_time.value == Approx(seconds));
    CHECK(line.sprayed().value == Approx(gun.flow.value / 60 * seconds).epsilon(1e-6));
    // An infinite panel would get the transfer efficiency of the flow; the pass runs 60 mm past both ends.
    CHECK(line.overspray.value ==
          Approx(line.sprayed().value * (1 - gun.transfer_efficiency.value)).epsilon(1e-6));
    CHECK(line.on_panel.value ==
          Approx(line.sprayed().value * gun.transfer_efficiency.value * 300 / 420).epsilon(1e-3));
    CHECK(line.on_masks.value == Approx(0).margin(1e-9));
    CHECK(line.passes == 1);
}

TEST_CASE("a mask takes the paint of the area it covers", "[plan]") {
    const std::string mask =
        "[masks.left]\nshape = { corners = [[\"-10 mm\", \"-10 mm\"], [\"120 mm\", \"-10 mm\"], "
        "[\"120 mm\", \"210 mm\"], [\"-10 mm\", \"210 mm\"]] }\n";
    const PlannedJob bare(kBoard + coat_toml("one", "carbon-black", "even_coat.film = \"20 um\"\n"));
    const PlannedJob taped(
        kBoard + mask + coat_toml("one", "carbon-black", "masks = [\"left\"]\neven_coat.film = \"20 um\"\n"));
    const production::CoatAmounts &b = bare.amounts.coats[0], &t = taped.amounts.coats[0];
    CHECK(t.sprayed().value == Approx(b.sprayed().value).epsilon(1e-9));
    CHECK(t.on_panel.value == Approx(b.on_panel.value * 0.6).epsilon(3e-3));  // 180 of 300 mm are open
    CHECK(t.on_masks.value == Approx(b.on_panel.value * 0.4).epsilon(5e-3));
    CHECK(t.film.value == Approx(20).epsilon(3e-3));
}

TEST_CASE("the film of a ramp is its paint-weighted mean", "[plan]") {
    // A Gaussian: the integral of its square over its integral is its peak over the root of 2.
    const PlannedJob sheet(kBoard +
                           coat_toml("line", "carbon-black", "gun = \"detail-gun-round\"\n" + kPass));
    const double peak = sheet.job->coats[0].film_um(150, 100);
    CHECK(sheet.amounts.coats[0].film.value == Approx(peak / std::sqrt(2.0)).epsilon(2e-3));
}

TEST_CASE("the largest part goes in first, reducer last, and the scale shows the running total", "[plan]") {
    const PlannedJob sheet(kBoard + kBlue + coat_toml("base", "blue", "even_coat.film = \"20 um\"\n"));
    const production::MixAmounts& blue = sheet.amounts.mixes.at(0);
    REQUIRE(blue.recipe.size() == 3);
    CHECK(blue.recipe[0].paint->id == "titanium-white");
    CHECK(blue.recipe[1].paint->id == "phthalo-blue-green-shade");
    CHECK(blue.recipe[2].paint->role == paint::Role::reducer);
    CHECK(blue.recipe[0].parts == Approx(4));
    CHECK(blue.recipe[1].parts == Approx(1));
    // Reduced 25 % of paint, which is 20 % of the mix.
    CHECK(blue.recipe[2].share_of_paint.value == Approx(0.25));
    CHECK(blue.recipe[2].share_of_mix.value == Approx(0.20));
    CHECK(blue.unreduced().value == Approx(0.8 * blue.sprayable().value).epsilon(2e-3));
    CHECK(blue.recipe[2].scale_reading.value == Approx(blue.grams().value));
}

TEST_CASE("scale errors do not add up", "[plan]") {
    // Twelve equal parts, each 0.34 divisions above the scale: the last running total is still right.
    std::vector<paint::Paint> paints(12);
    std::vector<paint::Part> parts;
    for (paint::Paint& paint : paints) {
        paint.wet_density = GramsPerMillilitre{1.0};
        parts.push_back({&paint, 1});
    }
    const auto line = production::weigh_out(parts, Millilitres{12 * 1.034}, Grams{0.1});
    CHECK(line.back().scale_reading.value ==
          Approx(12.4));  // exactly 12.408; rounded one by one it would be 12.0
    for (const production::RecipeLine& p : line) CHECK(std::abs(p.grams.value - p.exact.value) < 0.1);
}

TEST_CASE("a part too small for the scale is marked, with the batch that is large enough", "[plan]") {
    const std::string strong = "[mixes.tint]\nparts = { titanium-white = 200, carbon-black = 1 }\n";
    const std::string base = coat_toml("base", "tint", "even_coat.film = \"10 um\"\n");
    const PlannedJob coarse(kBoard + strong + base);
    const production::MixAmounts& tint = coarse.amounts.mixes[0];
    REQUIRE(tint.recipe.back().paint->id == "carbon-black");
    CHECK(tint.recipe.back().is_coarse());
    CHECK_FALSE(tint.recipe.front().is_coarse());
    REQUIRE(tint.weighable_batch.has_value());
    CHECK(*tint.weighable_batch > tint.sprayable());
    std::vector<paint::Part> parts;
    for (const production::RecipeLine& p : tint.recipe) parts.push_back({p.paint, p.parts});
    for (const production::RecipeLine& p : production::weigh_out(parts, *tint.weighable_batch, Grams{0.1}))
        CHECK_FALSE(p.is_coarse());
    const Millilitres cup_size = coarse.amounts.mixing.cup_size;
    bool smaller_is_accurate = true;
    for (const production::RecipeLine& p :
         production::weigh_out(parts, *tint.weighable_batch - cup_size, Grams{0.1}))
        smaller_is_accurate = smaller_is_accurate && !p.is_coarse();
    CHECK_FALSE(smaller_is_accurate);
    // A finer scale can weigh the batch as it is.
    const PlannedJob fine("plan = 1\nmixing.scale = \"0.001 g\"\n" + kBoard.substr(9) + strong + base);
    CHECK_FALSE(fine.amounts.mixes[0].weighable_batch.has_value());
}

TEST_CASE("a mix of mixes is weighed as paints and lists its mixes", "[plan]") {
    const PlannedJob sheet(preset_plan("dusk-fade-short"));
    const auto middle = std::find_if(sheet.amounts.mixes.begin(), sheet.amounts.mixes.end(),
                                     [](const auto& m) { return m.name == "dusk-mid-colour"; });
    REQUIRE(middle != sheet.amounts.mixes.end());
    // plum 1 + apricot 1, extended by 2, reduced 12 %: each is 1 in 2 x 3 x 1.12 = 6.72.
    REQUIRE(middle->sub_mixes.size() == 2);
    for (const production::SubMix& within : middle->sub_mixes)
        CHECK(within.volume.value == Approx(middle->sprayable().value / 6.72).epsilon(1e-9));
    for (const production::RecipeLine& p : middle->recipe) CHECK(p.paint->solids.value < 1);
}

TEST_CASE("shopping adds up the recipes and the cost of priced paints", "[plan]") {
    const PlannedJob sheet(preset_plan("dusk-fade-short"));
    for (const production::ShoppingItem& b : sheet.amounts.shopping) {
        double grams = 0;
        for (const production::MixAmounts& mix : sheet.amounts.mixes)
            for (const production::RecipeLine& p : mix.recipe)
                if (p.paint == b.paint) grams += p.grams.value;
        INFO(b.paint->id);
        CHECK(b.grams.value == Approx(grams));
        CHECK(b.volume.value == Approx(grams / b.paint->wet_density.value));
        CHECK(b.cost.has_value() == b.paint->price_per_litre.has_value());
    }
}

TEST_CASE("a gun filled twice with a mix keeps its remainder twice", "[plan]") {
    const std::string even_coat = "even_coat.film = \"10 um\"\n";
    const PlannedJob once(kBoard + coat_toml("a", "carbon-black", even_coat) +
                          coat_toml("b", "carbon-black", even_coat));
    CHECK(once.amounts.mixes[0].fillings == 1);
    CHECK(once.amounts.mixes[0].left_in_gun.value == Approx(15));
    const PlannedJob twice(kBoard + coat_toml("a", "carbon-black", even_coat) +
                           coat_toml("b", "titanium-white", even_coat) +
                           coat_toml("c", "carbon-black", even_coat));
    CHECK(twice.amounts.mixes[0].fillings == 2);
    CHECK(twice.amounts.mixes[0].left_in_gun.value == Approx(30));
    CHECK(twice.amounts.mixes[0].coats == std::vector<std::string>{"a", "c"});
}

TEST_CASE("the mixing table changes what is mixed", "[plan]") {
    const std::string board = kBoard.substr(9);
    const std::string base = coat_toml("base", "carbon-black", "even_coat.film = \"10 um\"\n");
    const PlannedJob lean(
        "plan = 1\nmixing = { left_in_gun = \"0 mL\", cards = 0, waste = \"0 %\", reserve = \"0 %\", "
        "cup_size = \"1 "
        "mL\", "
        "even_coat_efficiency = \"100 %\" }\n" +
        board + base);
    const production::MixAmounts& mix = lean.amounts.mixes[0];
    CHECK(mix.needed().value == Approx(mix.on_panel.value).epsilon(1e-9));
    CHECK(mix.lost.value == Approx(0).margin(1e-9));
    CHECK(mix.rounding.value < 1.1);
    const PlannedJob default_mixing("plan = 1\n" + board + base);
    CHECK(default_mixing.amounts.mixes[0].needed().value > 2 * mix.needed().value);
}
