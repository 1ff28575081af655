// Mixes resolved down to paints.
#include "fadewright/plan/mix_resolver.h"

#include "preset_library.h"

#include <catch2/catch.hpp>

#include <map>
#include <string>

using namespace fadewright;
using namespace fadewright::plan;

namespace {

Mix mix_of(const std::map<std::string, double>& parts) {
    Mix mix;
    for (const auto& [name, amount] : parts) mix.parts.push_back({name, amount, {}});
    return mix;
}

Plan plan_with(std::vector<Named<Mix>> mixes) {
    Plan plan;
    plan.mixes = std::move(mixes);
    return plan;
}

std::map<std::string, double> volumes(const Parts& parts) {
    std::map<std::string, double> out;
    for (const paint::Part& part : parts) out[part.paint->id] += part.parts;
    return out;
}

std::vector<std::string> rules_of(const MixResolver& mixes) {
    std::vector<std::string> rules;
    for (const Diagnostic& mistake : mixes.mistakes().sorted_list()) rules.push_back(mistake.rule);
    return rules;
}

}  // namespace

TEST_CASE("a name that is not a mix is the paint itself", "[plan][mix]") {
    Library library = test::preset_library();
    const auto parts = parts_of({}, {"carbon-black", {}}, library);
    REQUIRE(parts);
    CHECK(volumes(*parts) == std::map<std::string, double>{{"carbon-black", 1}});
    CHECK_FALSE(parts_of({}, {"no-such-paint", {}}, library));
}

TEST_CASE("white replaces its share, clear base and reducer are added to the whole", "[plan][mix]") {
    Library library = test::preset_library();
    Mix mix = mix_of({{"carbon-black", 1}, {"quinacridone-violet", 3}});
    mix.white_cut = Share{0.2};
    mix.extend = 2;
    mix.reduce = Share{0.1};
    const Plan plan = plan_with({{"plum", mix, {}}});
    const auto parts = parts_of(plan, {"plum", {}}, library);
    REQUIRE(parts);
    auto found = volumes(*parts);
    CHECK(found["carbon-black"] == Approx(0.2));
    CHECK(found["quinacridone-violet"] == Approx(0.6));
    CHECK(found["titanium-white"] == Approx(0.2));
    CHECK(found["clear-base"] == Approx(2));
    CHECK(found["reducer-medium"] == Approx(0.3));
    CHECK(total_volume(*parts) == Approx(3.3));
}

TEST_CASE("parts by weight are divided by the density of what is weighed", "[plan][mix]") {
    Library library = test::preset_library();
    Mix mix = mix_of({{"carbon-black", 1}, {"titanium-white", 1}});
    mix.by = PartsBy::weight;
    const auto parts = parts_of(plan_with({{"grey", mix, {}}}), {"grey", {}}, library);
    REQUIRE(parts);
    auto found = volumes(*parts);
    CHECK(found["carbon-black"] / found["titanium-white"] ==
          Approx(library.paint("titanium-white")->wet_density.value /
                 library.paint("carbon-black")->wet_density.value));
}

TEST_CASE("a mix within a mix counts by what is poured, with its own clear base and reducer", "[plan][mix]") {
    Library library = test::preset_library();
    Mix inner = mix_of({{"carbon-black", 1}});
    inner.extend = 1;
    const Plan plan =
        plan_with({{"outer", mix_of({{"inner", 1}, {"titanium-white", 1}}), {}}, {"inner", inner, {}}});
    auto found = volumes(parts_of(plan, {"outer", {}}, library).value());
    CHECK(found["titanium-white"] == Approx(0.5));
    CHECK(found["carbon-black"] == Approx(0.25));
    CHECK(found["clear-base"] == Approx(0.25));
}

TEST_CASE("mixes that contain each other are reported once and give nothing", "[plan][mix]") {
    Library library = test::preset_library();
    const Plan plan = plan_with({{"one", mix_of({{"other", 1}}), {}}, {"other", mix_of({{"one", 1}}), {}}});
    MixResolver mixes(plan, library);
    CHECK_FALSE(mixes.resolve({"one", {}}));
    CHECK_FALSE(mixes.resolve({"other", {}}));
    CHECK(rules_of(mixes) == std::vector<std::string>{"P002"});
}

TEST_CASE("every mistake of a mix is found at once", "[plan][mix]") {
    Library library = test::preset_library();
    Mix mix = mix_of({{"no-such-paint", 1}});
    mix.white_cut = Share{0.2};
    mix.white = {"carbon-black", {}};
    mix.extend = 1;
    mix.clear_base = {"no-such-base", {}};
    mix.reduce = Share{0.1};
    mix.reducer = {"carbon-black", {}};
    const Plan plan = plan_with({{"plum", mix, {}}});
    MixResolver mixes(plan, library);
    CHECK_FALSE(mixes.resolve({"plum", {}}));
    CHECK(rules_of(mixes) == std::vector<std::string>{"P001", "P001", "P017", "P017"});
}

TEST_CASE("a mix without a part above zero gives nothing", "[plan][mix]") {
    Library library = test::preset_library();
    const Plan plan = plan_with({{"none", mix_of({{"carbon-black", 0}}), {}}});
    MixResolver mixes(plan, library);
    CHECK_FALSE(mixes.resolve({"none", {}}));
    CHECK(rules_of(mixes) == std::vector<std::string>{"P010"});
}

TEST_CASE("of a mix with unread fields the names are checked, and it gives no parts", "[plan][mix]") {
    Library library = test::preset_library();
    const auto source = std::make_shared<Source>("plan", "[mixes.plum]");
    Plan plan = plan_with({{"plum", mix_of({{"no-such-paint", 1}}), {source, 1, 5}},
                           {"grey", mix_of({{"carbon-black", 0}}), {source, 6, 8}}});
    plan.mixes[1].value.span = {source, 9, 11};
    UnreadFields unread;
    unread.add_section(plan.mixes[0].span);
    unread.add_section(plan.mixes[1].span);
    unread.add_field(plan.mixes[1].value.span, "parts");
    MixResolver mixes(plan, library, UnitSystem::metric, unread);
    CHECK_FALSE(mixes.resolve({"plum", {}}));
    CHECK_FALSE(mixes.resolve({"grey", {}}));
    CHECK(rules_of(mixes) == std::vector<std::string>{"P001"});
}
