// The command `fit-gun`, from the photo of a sprayed card to a gun of the library.
#include "fadewright/app/commands.h"
#include "fadewright/base/files.h"
#include "fadewright/calibration/gun_calibration.h"
#include "fadewright/render/png.h"
#include "preset_library.h"
#include "published_table.h"
#include "run_command.h"
#include "spray_pattern_card.h"

#include <catch2/catch.hpp>
#include <cstdlib>
#include <nlohmann/json.hpp>
#include <sstream>

using namespace fadewright;
using Catch::Matchers::Contains;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;
using nlohmann::json;

namespace {

constexpr double kSize = 0.02, kFlow = 0.03;  // the accuracy stated in calibration/gun_calibration.h

std::string written(const std::string& name, const std::string& text) {
    const std::string path = test::scratch_path(name);
    REQUIRE(write_file_atomic(path, text));
    return path;
}

// As the plan's mixes are made: clear base to one part of colour, then reducer to the whole.
paint::MixedPaint mixed(const std::string& paint, double extend, double reduce) {
    static plan::Library library = test::preset_library();
    Diagnostics diagnostics;
    const paint::Paint* colour = library.paint(paint, diagnostics);
    const paint::Paint* reducer = library.paint("reducer-medium", diagnostics);
    const paint::Paint* base = library.paint("clear-base", diagnostics);
    REQUIRE(colour);
    REQUIRE(base);
    REQUIRE(reducer);
    const std::vector<paint::Part> parts{{colour, 1}, {base, extend}, {reducer, reduce * (1 + extend)}};
    return paint::mix_paints(parts);
}

colour::Reflectance white_primer() {
    plan::Library library = test::preset_library();
    Diagnostics diagnostics;
    return library.ground("white-primer", diagnostics)->inside;
}

spray::Gun airbrush() {
    spray::Gun gun;
    gun.pattern = spray::Pattern::round;
    gun.distance = Millimetres{80};
    gun.sigma = Millimetres{9};
    gun.flow = MillilitresPerMinute{4};
    gun.transfer_efficiency = Share{0.55};
    return gun;
}

spray::Gun fan_gun() {
    spray::Gun gun;
    gun.pattern = spray::Pattern::fan;
    gun.distance = Millimetres{120};
    gun.fan_width = Millimetres{70};
    gun.fan_thickness = Millimetres{26};
    gun.beta_across = 2.6;
    gun.beta_along = 1.8;
    gun.flow = MillilitresPerMinute{20};
    gun.transfer_efficiency = Share{0.62};
    return gun;
}

// Level through the middle of the card, well beyond its ends.
spray::Pass horizontal_pass(const test::SprayPatternCard& card, double speed) {
    const double y = 0.5 * card.height_px * card.mm_per_px - 3;  // off centre, as happens by hand
    spray::Pass pass;
    pass.points = {{Millimetres{-300}, Millimetres{y}},
                   {Millimetres{card.width_px * card.mm_per_px + 300}, Millimetres{y}}};
    pass.speed = MillimetresPerSecond{speed};
    return pass;
}

spray::Pass spot(const test::SprayPatternCard& card, double dwell) {
    spray::Pass pass;
    pass.points = {{Millimetres{0.5 * card.width_px * card.mm_per_px + 2},
                    Millimetres{0.5 * card.height_px * card.mm_per_px - 3}}};
    pass.dwell = Seconds{dwell};
    return pass;
}

test::SprayPatternCard sprayed_card(const spray::Gun& gun, const std::string& paint, double extend,
                                    double reduce) {
    test::SprayPatternCard card;
    card.gun = gun;
    card.mix = mixed(paint, extend, reduce);
    card.ground = white_primer();
    return card;
}

std::string head(const test::SprayPatternCard& card, const std::string& name) {
    std::ostringstream out;
    const double bar_px = 200;
    const bool fan = card.gun.pattern == spray::Pattern::fan;
    out << "spray_pattern_card = 1\ntitle = \"" << name << "\"\npicture = \"" << name
        << ".png\"\npattern = \"" << (fan ? "fan" : "round") << "\"\ndistance = \"" << card.gun.distance.value
        << " mm\"\nregion = [0, 0, " << card.width_px << ", " << card.height_px << "]\nscale = { length = \""
        << bar_px * card.mm_per_px << " mm\", from = [0, 4], to = [" << bar_px << ", 4] }\n";
    return out.str();
}

// The JSON output of the command; the gun file is NAME-gun.toml.
json fit_from_card(const test::SprayPatternCard& card, const std::string& name, const std::string& rest) {
    written(name + ".png", render::png_bytes(test::scan_of_card(card), {}));
    const std::string path = written(name + ".toml", head(card, name) + rest);
    const std::string out = test::scratch_path(name + "-gun.toml");
    const app::Outcome outcome =
        test::run(app::fit_gun, {path, out, test::scratch_path(name + "-plot.png"), "", {}, true});
    INFO(outcome.out);
    INFO(outcome.err);
    REQUIRE(outcome.exit == app::Exit::ok);
    const app::Outcome checked = test::run(app::check, {{app::plan_file(out)}, "", {}, false, false});
    INFO(checked.err);
    REQUIRE(checked.exit == app::Exit::ok);
    return json::parse(outcome.out);
}

spray::Gun gun_of(const std::string& name) {
    plan::Library library = test::preset_library();
    const std::string path = test::scratch_path(name + "-gun.toml");
    library.add_file(plan::LibraryKind::guns, name,
                     std::make_shared<Source>(path, read_file_bytes(path, kTextFileLimit_bytes).value()));
    Diagnostics diagnostics;
    const plan::LibraryGun* gun = library.gun(name, diagnostics);
    REQUIRE(gun);
    CHECK(gun->origin == paint::Provenance::fitted);
    return gun->gun;
}

// A rounding may fall the other way on another machine, and no more.
void check_reference_picture(const Picture& drawn, const std::string& below) {
    const std::string path = test::source_path(below);
    if (std::getenv("FW_ACCEPT")) REQUIRE(write_file_atomic(path, render::png_bytes(drawn, {})));
    const auto reference = render::read_picture(read_file_bytes(path, kBinaryFileLimit_bytes).value(), path);
    REQUIRE(reference);
    REQUIRE(reference.value().width == drawn.width);
    REQUIRE(reference.value().samples.size() == drawn.samples.size());
    int other = 0, max_difference = 0;
    for (std::size_t i = 0; i < drawn.samples.size(); ++i) {
        const int apart = std::abs(int{drawn.samples[i]} - int{reference.value().samples[i]});
        other += apart != 0;
        max_difference = std::max(max_difference, apart);
    }
    CHECK(max_difference <= 1);
    CHECK(other < 20);
}

constexpr const char* kPhthalo = "[mix]\nparts = { phthalo-blue-green-shade = 1 }\nreduce = \"100 %\"\n";

}  // namespace

TEST_CASE("a pass of an airbrush on a noisy scan gives its spread and the deposit", "[app][gun]") {
    test::SprayPatternCard card = sprayed_card(airbrush(), "phthalo-blue-green-shade", 0, 1);
    card.pass = horizontal_pass(card, 150);
    const json result =
        fit_from_card(card, "airbrush-pass",
                      std::string("kind = \"pass\"\nspeed = \"150 mm/s\"\nflow = \"4 mL/min\"\n") + kPhthalo);
    const spray::Gun gun = gun_of("airbrush-pass");
    CHECK_THAT(gun.sigma.value, WithinRel(9.0, kSize));
    CHECK_THAT(gun.flow.value * gun.transfer_efficiency.value, WithinRel(4 * 0.55, kFlow));
    CHECK(gun.flow.value == 4);
    CHECK_THAT(gun.transfer_efficiency.value, WithinRel(0.55, kFlow));
    CHECK(result["deposit_from"] == "photo");
    CHECK(result["flow_from"] == "given");
    // The stated errors have the size of the actual ones.
    CHECK(std::abs(result["sigma_mm"]["value"].get<double>() - 9) <
          6 * result["sigma_mm"]["standard_error"].get<double>() + 0.02);
    CHECK(result["too_dark_share"] == 0);
}

TEST_CASE("a spot of an airbrush on a noisy scan gives its spread and the deposit", "[app][gun]") {
    test::SprayPatternCard card = sprayed_card(airbrush(), "quinacridone-magenta", 0, 0.5);
    card.width_px = 240;
    card.pass = spot(card, 0.4);
    fit_from_card(
        card, "airbrush-spot",
        "kind = \"spot\"\ndwell = \"0.4 s\"\nflow = \"4 mL/min\"\n[mix]\nparts = { quinacridone-magenta "
        "= 1 }\nreduce = \"50 %\"\n");
    const spray::Gun gun = gun_of("airbrush-spot");
    CHECK_THAT(gun.sigma.value, WithinRel(9.0, kSize));
    CHECK_THAT(gun.flow.value * gun.transfer_efficiency.value, WithinRel(4 * 0.55, kFlow));
}

TEST_CASE("a pass of a fan gun gives width, taper and deposit, but not the thickness of the fan",
          "[app][gun]") {
    test::SprayPatternCard card = sprayed_card(fan_gun(), "iron-oxide-red", 0, 0.25);
    card.pass = horizontal_pass(card, 400);
    const json result =
        fit_from_card(card, "fan-pass",
                      "kind = \"pass\"\nspeed = \"400 mm/s\"\nthickness_share = \"30 %\"\n[mix]\nparts = "
                      "{ iron-oxide-red = 1 }\nreduce = \"25 %\"\n");
    const spray::Gun gun = gun_of("fan-pass");
    CHECK_THAT(gun.fan_width.value, WithinRel(70.0, kSize));
    CHECK_THAT(gun.beta_across, WithinRel(2.6, 0.08));  // width and taper are correlated
    CHECK_THAT(gun.flow.value * gun.transfer_efficiency.value, WithinRel(20 * 0.62, kFlow));
    CHECK_THAT(gun.transfer_efficiency.value,
               WithinAbs(calibration::kDefaultTransferEfficiency.value, 1e-12));
    CHECK_THAT(gun.fan_thickness.value, WithinRel(0.3 * gun.fan_width.value, 1e-3));
    CHECK(result["fan_thickness_mm"]["measured"] == false);
    CHECK(result["flow_from"] == "unknown");
    CHECK_THAT(result["remarks"].dump(),
               Contains("fan_thickness was not measured") && Contains("only flow × transfer efficiency"));
}

TEST_CASE("a spot of a fan gun gives both axes, both tapers and the deposit", "[app][gun]") {
    test::SprayPatternCard card = sprayed_card(fan_gun(), "iron-oxide-red", 30, 0.5);
    card.width_px = 200;
    card.pass = spot(card, 0.2);
    const json result =
        fit_from_card(card, "fan-spot",
                      "kind = \"spot\"\ndwell = \"0.2 s\"\n[mix]\nparts = { iron-oxide-red = 1 "
                      "}\nextend = 30\nreduce = \"50 %\"\n");
    const spray::Gun gun = gun_of("fan-spot");
    CHECK_THAT(gun.fan_width.value, WithinRel(70.0, kSize));
    CHECK_THAT(gun.fan_thickness.value, WithinRel(26.0, kSize));
    CHECK_THAT(gun.beta_across, WithinRel(2.6, 0.08));
    CHECK_THAT(gun.beta_along, WithinRel(1.8, 0.08));
    CHECK_THAT(gun.flow.value * gun.transfer_efficiency.value, WithinRel(20 * 0.62, kFlow));
    CHECK(result["fan_thickness_mm"]["measured"] == true);
    CHECK(result.contains("along"));
}

TEST_CASE("a vertical pass in the photo is read like a horizontal one", "[app][gun]") {
    test::SprayPatternCard card = sprayed_card(airbrush(), "phthalo-blue-green-shade", 0, 1);
    std::swap(card.width_px, card.height_px);
    const double x = 0.5 * card.width_px * card.mm_per_px + 4;
    card.pass.points = {{Millimetres{x}, Millimetres{-200}}, {Millimetres{x}, Millimetres{500}}};
    card.pass.speed = MillimetresPerSecond{150};
    fit_from_card(card, "upright",
                  std::string("kind = \"pass\"\nspeed = \"150 mm/s\"\ndirection = \"90 deg\"\n") + kPhthalo);
    const spray::Gun gun = gun_of("upright");
    CHECK_THAT(gun.sigma.value, WithinRel(9.0, kSize));
    CHECK_THAT(gun.flow.value * gun.transfer_efficiency.value, WithinRel(4 * 0.55, kFlow));
}

TEST_CASE("a slanted pass is read along its own direction", "[app][gun]") {
    test::SprayPatternCard card = sprayed_card(fan_gun(), "iron-oxide-red", 0, 0.25);
    const double slope = std::tan(12 * std::numbers::pi / 180);
    const double x = 0.5 * card.width_px * card.mm_per_px, y = 0.5 * card.height_px * card.mm_per_px;
    card.height_px = 300;
    card.pass.points = {{Millimetres{x - 500}, Millimetres{y + 15 - 500 * slope}},
                        {Millimetres{x + 500}, Millimetres{y + 15 + 500 * slope}}};
    card.pass.speed = MillimetresPerSecond{400};
    const std::string mix = "[mix]\nparts = { iron-oxide-red = 1 }\nreduce = \"25 %\"\n";
    const std::string rest = "kind = \"pass\"\nspeed = \"400 mm/s\"\ndirection = \"12 deg\"\n";
    written("askew.png", render::png_bytes(test::scan_of_card(card), {}));
    std::string text = head(card, "askew") + rest + mix;
    // Only the centre of the photo: further out the pass comes too near to the edges of the region.
    text.replace(text.find("region = [0, 0, 360"), 19, "region = [120, 0, 120");
    const std::string out = test::scratch_path("askew-gun.toml");
    const app::Outcome outcome =
        test::run(app::fit_gun, {written("askew.toml", text), out, "", "", {}, false});
    INFO(outcome.err);
    REQUIRE(outcome.exit == app::Exit::ok);
    const spray::Gun gun = gun_of("askew");
    CHECK_THAT(gun.fan_width.value, WithinRel(70.0, kSize));
    CHECK_THAT(gun.flow.value * gun.transfer_efficiency.value, WithinRel(20 * 0.62, kFlow));
}

TEST_CASE("passes on top of each other are counted", "[app][gun]") {
    test::SprayPatternCard card = sprayed_card(airbrush(), "phthalo-blue-green-shade", 0, 1);
    card.pass = horizontal_pass(card, 400);
    card.pass.repeats = 3;
    fit_from_card(card, "thrice",
                  std::string("kind = \"pass\"\nspeed = \"400 mm/s\"\nrepeats = 3\n") + kPhthalo);
    const spray::Gun gun = gun_of("thrice");
    CHECK_THAT(gun.flow.value * gun.transfer_efficiency.value, WithinRel(4 * 0.55, kFlow));
}

TEST_CASE("a weighed card overrides the photo, and the weighed cup gives the flow", "[app][gun]") {
    test::SprayPatternCard card = sprayed_card(airbrush(), "phthalo-blue-green-shade", 0, 1);
    card.pass = horizontal_pass(card, 150);
    // Deposit on a card of 180 mm: 4 x 0.5 mL/min, 10 % less than in the photo.
    const double seconds = 180.0 / 150;
    const double dried_g = 4 * 0.5 / 60 * seconds * paint::dry_per_wet(card.mix) * card.mix.dry_density.value;
    const double lost_g = 4.0 / 2 * card.mix.wet_density.value;  // in half a minute
    std::ostringstream rest;
    rest.precision(12);
    rest << "kind = \"pass\"\nspeed = \"150 mm/s\"\nweighed_flow = { before = \"" << 100 + lost_g
         << " g\", after = \"100 g\", time = \"30 s\" }\nweighed_card = { dry_weight = \"" << dried_g
         << " g\", length = \"180 mm\" }\n"
         << kPhthalo;
    const json result = fit_from_card(card, "weighed", rest.str());
    CHECK_THAT(result["flow_mL_per_min"].get<double>(), WithinRel(4.0, 1e-9));
    CHECK_THAT(result["transfer_efficiency"].get<double>(), WithinRel(0.5, 1e-9));
    CHECK(result["deposit_from"] == "scale");
    CHECK(result["flow_from"] == "weighed");
    CHECK_THAT(result["deposited_from_photo_mL_per_min"]["value"].get<double>(), WithinRel(4 * 0.55, kFlow));
    CHECK_THAT(result["remarks"].dump(), !Contains("disagree"));
    CHECK_THAT(gun_of("weighed").sigma.value, WithinRel(9.0, kSize));
}

TEST_CASE("a weight that disagrees with the photo is used, and this is reported", "[app][gun]") {
    test::SprayPatternCard card = sprayed_card(airbrush(), "phthalo-blue-green-shade", 0, 1);
    card.width_px = 240;
    card.pass = spot(card, 0.3);
    const double dried_g = 4 * 0.4 / 60 * 0.3 * paint::dry_per_wet(card.mix) * card.mix.dry_density.value;
    std::ostringstream rest;
    rest.precision(12);
    rest << "kind = \"spot\"\ndwell = \"0.3 s\"\nflow = \"4 mL/min\"\nweighed_card = { dry_weight = \""
         << dried_g << " g\" }\n"
         << kPhthalo;
    const json result = fit_from_card(card, "disagree", rest.str());
    CHECK_THAT(result["transfer_efficiency"].get<double>(), WithinRel(0.4, 1e-9));
    CHECK_THAT(result["remarks"].dump(), Contains("photo and scale disagree"));
}

TEST_CASE("the reflectance of the card comes from a grey patch or is given", "[app][gun]") {
    test::SprayPatternCard card = sprayed_card(airbrush(), "phthalo-blue-green-shade", 0, 1);
    // A card darker than white primer: about 62 % reflectance in air.
    card.ground = film::below_surface(colour::Reflectance::constant(0.62), film::surface_at_normal({}),
                                      film::Specular::excluded);
    card.pass = horizontal_pass(card, 150);
    card.falloff = 0;
    Picture picture = test::scan_of_card(card);
    for (int y = 220; y < 240; ++y)  // a grey of 40 % in the corner, in the same light
        for (int x = 320; x < 360; ++x)
            for (std::size_t c = 0; c < 3; ++c)
                picture.pixel(x, y)[c] = static_cast<std::uint8_t>(
                    std::lround(255 * colour::srgb_from_linear(0.4 * card.lamp[c])));
    const auto deposit = [&](const std::string& name, const std::string& settings) {
        written(name + ".png", render::png_bytes(picture, {}));
        std::string text = head(card, name) + "kind = \"pass\"\nspeed = \"150 mm/s\"\n" + settings + kPhthalo;
        text.replace(text.find("0, 0, 360, 240"), 14, "0, 0, 360, 210");
        const app::Outcome outcome =
            test::run(app::fit_gun, {written(name + ".toml", text), "", "", "", {}, true});
        INFO(outcome.out);
        REQUIRE(outcome.exit == app::Exit::ok);
        return json::parse(outcome.out)["deposited_from_photo_mL_per_min"]["value"].get<double>();
    };
    CHECK_THAT(deposit("by-grey", "reference = { patch = [325, 225, 30, 10], reflectance = 0.4 }\n"),
               WithinRel(2.2, kFlow));
    CHECK_THAT(deposit("by-L", "reference = { patch = [325, 225, 30, 10], L = 69.469 }\n"),
               WithinRel(2.2, kFlow));
    CHECK_THAT(deposit("by-figure", "card_reflectance = 0.62\n"), WithinRel(2.2, kFlow));
    CHECK(std::abs(deposit("by-primer", "") - 2.2) > 0.066);  // the wrong card is noticed
}

TEST_CASE("dust on the bare card and a centre too dark to read do no harm", "[app][gun]") {
    test::SprayPatternCard card = sprayed_card(airbrush(), "iron-oxide-red", 0, 0.25);
    card.pass = horizontal_pass(card, 90);
    Picture picture = test::scan_of_card(card);
    for (int i = 0; i < 60; ++i) {
        const int x = static_cast<int>(360 * uniform01(8, 1, static_cast<std::uint64_t>(i))),
                  y = static_cast<int>(25 * uniform01(8, 2, static_cast<std::uint64_t>(i)));
        for (std::size_t c = 0; c < 3; ++c) picture.pixel(x, y)[c] = 60;
    }
    written("dusty.png", render::png_bytes(picture, {}));
    const std::string path = written("dusty.toml", head(card, "dusty") +
                                                       "kind = \"pass\"\nspeed = \"90 mm/s\"\n[mix]\nparts = "
                                                       "{ iron-oxide-red = 1 }\nreduce = \"25 %\"\n");
    const std::string out = test::scratch_path("dusty-gun.toml");
    const app::Outcome outcome = test::run(app::fit_gun, {path, out, "", "", {}, true});
    INFO(outcome.out);
    REQUIRE(outcome.exit == app::Exit::ok);
    const json result = json::parse(outcome.out);
    CHECK(result["too_dark_share"].get<double>() > 0.03);
    CHECK_THAT(result["remarks"].dump(), Contains("too dark to read") && Contains("spray faster"));
    CHECK_THAT(gun_of("dusty").sigma.value, WithinRel(9.0, kSize));
    CHECK_THAT(result["deposited_from_photo_mL_per_min"]["value"].get<double>(), WithinRel(2.2, kFlow));
}

TEST_CASE("graininess of the spray averages out", "[app][gun]") {
    test::SprayPatternCard card = sprayed_card(airbrush(), "phthalo-blue-green-shade", 0, 1);
    card.pass = horizontal_pass(card, 150);
    card.graininess = 0.2;  // from pixel to pixel
    fit_from_card(card, "grainy", std::string("kind = \"pass\"\nspeed = \"150 mm/s\"\n") + kPhthalo);
    const spray::Gun gun = gun_of("grainy");
    CHECK_THAT(gun.sigma.value, WithinRel(9.0, kSize));
    CHECK_THAT(gun.flow.value * gun.transfer_efficiency.value, WithinRel(4 * 0.55, kFlow));
}

TEST_CASE("a photo of another paint is detected by its colours", "[app][gun]") {
    test::SprayPatternCard card = sprayed_card(airbrush(), "quinacridone-magenta", 0, 1);
    card.pass = horizontal_pass(card, 150);
    const json result =
        fit_from_card(card, "other-paint", std::string("kind = \"pass\"\nspeed = \"150 mm/s\"\n") + kPhthalo);
    CHECK(result["residual_levels"].get<double>() > 20);
    CHECK_THAT(result["remarks"].dump(), Contains("do not match this paint"));
}

TEST_CASE("a photo without white card, or with a spray wider than the region, is an error", "[app][gun]") {
    test::SprayPatternCard card = sprayed_card(airbrush(), "phthalo-blue-green-shade", 0, 1);
    card.pass = horizontal_pass(card, 150);
    const std::string rest = std::string("kind = \"pass\"\nspeed = \"150 mm/s\"\n") + kPhthalo;
    const auto error_text = [&](const Picture& picture, const std::string& region) {
        written("region.png", render::png_bytes(picture, {}));
        std::string text = head(card, "region") + rest;
        text.replace(text.find("0, 0, 360, 240"), 14, region);
        return test::run(app::fit_gun, {written("region.toml", text), "", "", "", {}, false}).err;
    };
    Picture dark(360, 240, 3);
    std::fill(dark.samples.begin(), dark.samples.end(), std::uint8_t{40});
    CHECK_THAT(error_text(dark, "0, 0, 360, 240"), Contains("no white card") && Contains("[G007]"));
    // The pass lies 126 pixels down and has a sigma of 18: from hidden edges to edges that are bare enough.
    const Picture picture = test::scan_of_card(card);
    CHECK_THAT(error_text(picture, "0, 96, 360, 60"), Contains("[G010]"));
    CHECK_THAT(error_text(picture, "0, 80, 360, 92"), Contains("[G010]"));
    // Bare on one side alone, which leaves the light on the other side undetermined.
    CHECK_THAT(error_text(picture, "0, 120, 360, 120"),
               Contains("does not show how the light falls") && Contains("[G010]"));
    CHECK_THAT(error_text(picture, "0, 66, 360, 174"), !Contains("error"));
}

TEST_CASE("the plot shows the film, and no input file is overwritten", "[app][gun]") {
    test::SprayPatternCard card = sprayed_card(airbrush(), "phthalo-blue-green-shade", 0, 1);
    card.pass = horizontal_pass(card, 150);
    fit_from_card(card, "plotted", std::string("kind = \"pass\"\nspeed = \"150 mm/s\"\n") + kPhthalo);
    const auto plot = render::read_picture(
        read_file_bytes(test::scratch_path("plotted-plot.png"), kBinaryFileLimit_bytes).value(), "plot");
    REQUIRE(plot);
    int measured = 0, fitted = 0;
    for (int y = 0; y < plot.value().height; ++y)
        for (int x = 0; x < plot.value().width; ++x) {
            const std::uint8_t* p = plot.value().pixel(x, y);
            measured += p[0] == 0 && p[1] == 114 && p[2] == 178;
            fitted += p[0] == 213 && p[1] == 94 && p[2] == 0;
        }
    CHECK(measured > 100);
    CHECK(fitted > 500);
    const std::string path = test::scratch_path("plotted.toml"), picture = test::scratch_path("plotted.png");
    const std::string before = read_file_bytes(picture, kBinaryFileLimit_bytes).value();
    CHECK(test::run(app::fit_gun, {path, path, "", "", {}, false}).exit == app::Exit::usage_error);
    CHECK(test::run(app::fit_gun, {path, "", picture, "", {}, false}).exit == app::Exit::usage_error);
    CHECK(test::run(app::fit_gun, {path, "gun.txt", "", "", {}, false}).exit == app::Exit::usage_error);
    CHECK(test::run(app::fit_gun, {path, "", "plot.jpg", "", {}, false}).exit == app::Exit::usage_error);
    CHECK(
        test::run(app::fit_gun, {test::scratch_path("no-such-gun-card.toml"), "", "", "", {}, false}).exit ==
        app::Exit::system_error);
    CHECK(read_file_bytes(picture, kBinaryFileLimit_bytes).value() == before);
}

TEST_CASE("the pictures in tests/cards and tests/plans are those drawn here", "[app][gun]") {
    test::SprayPatternCard card;
    card.gun = airbrush();
    card.gun.sigma = Millimetres{6};
    card.gun.flow = MillilitresPerMinute{2};
    card.mix = mixed("phthalo-blue-green-shade", 0, 1);
    card.ground = white_primer();
    card.width_px = 240;
    card.height_px = 160;
    card.noise_codes = 0.7;
    card.bar_px = 200;
    card.pass = horizontal_pass(card, 100);
    check_reference_picture(test::scan_of_card(card), "tests/cards/airbrush-pass.png");
    const app::Outcome result =
        test::run(app::fit_gun, {test::source_path("tests/cards/airbrush-pass.toml"), "", "", "", {}, true});
    REQUIRE(result.exit == app::Exit::ok);
    CHECK_THAT(json::parse(result.out)["sigma_mm"]["value"].get<double>(), WithinRel(6.0, kSize));
    CHECK_THAT(json::parse(result.out)["transfer_efficiency"].get<double>(), WithinRel(0.55, kFlow));
    // A spot so long that most of it hides the card.
    card.mix = mixed("iron-oxide-red", 0, 0.25);
    card.width_px = 100;
    card.height_px = 90;
    card.bar_px = 0;
    card.pass = spot(card, 3);
    check_reference_picture(test::scan_of_card(card), "tests/plans/pictures/gun-too-dark.png");
    Picture white(40, 40, 3);
    std::fill(white.samples.begin(), white.samples.end(), std::uint8_t{255});
    check_reference_picture(white, "tests/plans/pictures/gun-overexposed.png");
}
