// The spray-out card file: films from scales, combs and coats, and the readings of a paint.
#include "fadewright/calibration/paint_calibration.h"

#include "preset_library.h"

#include <catch2/catch.hpp>

#include <cmath>

using namespace fadewright;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

constexpr const char* kReading =
    "black = { values = [0.02, 0.03], from = \"450 nm\", step = \"100 nm\" }\n"
    "white = { values = [0.3, 0.5], from = \"450 nm\", step = \"100 nm\" }\n";
constexpr const char* kBareCard =
    "[bare_card]\nblack = { values = [0.005], from = \"450 nm\" }\nwhite = { values = [0.8], from = \"450 "
    "nm\" "
    "}\n";

std::string card_with(const std::string& fields, const std::string& film) {
    return "spray_out_card = 1\ntitle = \"Test\"\nrole = \"transparent\"\nspecular = \"excluded\"\n" +
           fields + "\n" + kBareCard + "[[films]]\n" + film + "\n" + kReading;
}

calibration::PreparedCard prepare(const std::string& text) {
    plan::Library library = test::preset_library();
    Diagnostics diagnostics;
    const auto card =
        calibration::read_spray_out_card(std::make_shared<Source>("card.toml", text), diagnostics);
    const auto out = card ? calibration::prepare_card(*card, library, {}, diagnostics) : std::nullopt;
    INFO(to_text(diagnostics));
    REQUIRE(out);
    return *out;
}

}  // namespace

TEST_CASE("a weighed film: .375 g on 10 x 15 cm at 1.25 g/mL is 20 micrometres", "[plan][card]") {
    const auto card = prepare(
        card_with("dry_density = \"1.25 g/mL\"",
                  "weighed_film = { dry_weight = \"0.375 g\", width = \"10 cm\", height = \"15 cm\" }"));
    REQUIRE(card.readings.size() == 2);
    CHECK_THAT(card.readings[0].film.value, WithinRel(20.0, 1e-12));
    CHECK(card.reading_names[0] == "film 1 over black");
    CHECK(card.paint.origin == paint::Provenance::fitted);
}

TEST_CASE("a comb between two teeth: 156.25 wet, 40 % solids thinned by a quarter, is 50 dry",
          "[plan][card]") {
    const auto card =
        prepare(card_with("solids = \"40 %\"\nreduce = \"25 %\"", "comb = [\"150 um\", \"162.5 um\"]"));
    CHECK_THAT(card.readings[0].film.value, WithinRel(50.0, 1e-12));
    CHECK_THAT(card.film_uncertainty, WithinRel(6.25 / 156.25, 1e-12));
}

TEST_CASE("counted coats are less reliable", "[plan][card]") {
    const auto card = prepare(card_with("coat_film = \"7 um\"", "coats = 3"));
    CHECK_THAT(card.readings[1].film.value, WithinRel(21.0, 1e-12));
    CHECK(card.paint.origin == paint::Provenance::estimated);
    CHECK_FALSE(card.remarks.empty());
}

TEST_CASE("a matt card has no surface reflection, a lacquered one has", "[plan][card]") {
    const auto gloss = prepare(card_with("", "film = \"8 um\""));
    const auto matt = prepare(card_with("card_surface = \"matt\"", "film = \"8 um\""));
    CHECK_THAT(matt.readings[1].ground[5], WithinAbs(0.8, 1e-12));
    CHECK_THAT(gloss.readings[1].ground[5],
               WithinAbs(film::internal_reflectance(gloss.saunderson, 0.8, film::Specular::excluded), 1e-12));
    CHECK(gloss.readings[1].ground[5] > matt.readings[1].ground[5]);
}

TEST_CASE("the instrument type gives the noise unless the card states it", "[plan][card]") {
    CHECK(prepare(card_with("", "film = \"8 um\"")).readings[0].noise == calibration::kSpectrumNoise);
    CHECK(prepare(card_with("noise = 0.005", "film = \"8 um\"")).readings[0].noise == 0.005);
    const auto lab = prepare(
        "spray_out_card = 1\ntitle = \"Test\"\nrole = \"opaque\"\nspecular = \"excluded\"\n"
        "[thick_film]\ncoats_to_hide = 2\nreading = { lab = [50, 10, 10] }\n");
    CHECK(lab.readings[0].noise == calibration::kColourNoise);
    CHECK(lab.paint.origin == paint::Provenance::estimated);
    CHECK(lab.guess);
}

TEST_CASE("a let-down includes the white's share, with crowding", "[plan][card]") {
    plan::Library library = test::preset_library();
    Diagnostics diagnostics;
    const paint::Paint white = *library.paint("titanium-white", diagnostics);
    const auto card = prepare(
        "spray_out_card = 1\ntitle = \"Test\"\nrole = \"transparent\"\nspecular = \"excluded\"\nsolids = "
        "\"19 %\"\n"
        "[[ladder]]\nparts = 2\nreading = { values = [0.5], from = \"450 nm\" }\n");
    const calibration::DrawdownReading& r = card.readings[0];
    CHECK(std::isinf(r.film.value));
    CHECK_THAT(r.share.value, WithinRel(0.19 / (0.19 + 2 * white.solids.value), 1e-12));
    const double c = 1 - r.share.value;
    CHECK_THAT(r.known_K[8], WithinRel(c * white.K[8], 1e-12));
    const auto e = [&](double p) { return 1 - *white.crowding * std::pow(p, 2.0 / 3.0); };
    CHECK_THAT(r.known_S[8], WithinRel(c * white.S[8] * e(c * 0.20) / e(0.20), 1e-12));
}
