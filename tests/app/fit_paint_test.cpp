// The command `fit-paint`, from a card file to a paint of the library.
#include "fadewright/app/commands.h"
#include "fadewright/base/files.h"
#include "fadewright/base/random.h"
#include "fadewright/calibration/paint_calibration.h"
#include "fadewright/colour/delta_e.h"
#include "fadewright/colour/srgb.h"
#include "fadewright/film/stack.h"
#include "fadewright/paint/mix.h"
#include "fadewright/render/png.h"
#include "fadewright/report/swatch_sheet.h"
#include "preset_library.h"
#include "published_table.h"
#include "run_command.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <nlohmann/json.hpp>
#include <numbers>
#include <sstream>

using namespace fadewright;
using Catch::Matchers::Contains;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;
using colour::Reflectance;

namespace {

constexpr double kBareBlack = 0.01, kBareWhite = 0.94;  // inside the binder

// A reading as a list of values, with the noise of a good instrument.
std::string values(const Reflectance& inside, double noise, std::uint64_t seed) {
    std::ostringstream out;
    const Reflectance measured =
        film::through_surface(inside, film::surface_at_normal({}), film::Specular::excluded);
    out.precision(8);
    out << "{ values = [";
    for (std::size_t band = 0; band < colour::kBandCount; ++band) {
        const double u = uniform01(seed, 1, band), v = uniform01(seed, 2, band);
        const double off = noise * std::sqrt(-2 * std::log(1 - u)) * std::cos(2 * std::numbers::pi * v);
        out << (band ? ", " : "") << std::clamp(measured[band] + off, 0.0, 1.0);
    }
    out << "] }\n";
    return out.str();
}

std::string head(const paint::Paint& paint, std::string_view role) {
    std::ostringstream out;
    out << "spray_out_card = 1\ntitle = \"" << paint.title << "\"\nrole = \"" << role
        << "\"\nspecular = \"excluded\"\nsolids = \"" << 100 * paint.solids.value << " %\"\npigment = \""
        << 100 * paint.pigment.value << " %\"\ncoat_film = \"" << paint.coat_film.value << " um\"\n";
    return out.str();
}

std::string_view role_word(paint::Role role) {
    return role == paint::Role::white ? "white" : role == paint::Role::opaque ? "opaque" : "transparent";
}

paint::MixedPaint alone(const paint::Paint& paint) {
    const paint::Part part{&paint, 1};
    return paint::mix_paints({&part, 1});
}

// Bare halves, and one, two and four coats over both.
std::string films(const paint::Paint& paint, double noise, std::uint64_t seed) {
    const auto mix = alone(paint);
    const Reflectance black = Reflectance::constant(kBareBlack), white = Reflectance::constant(kBareWhite);
    std::ostringstream out;
    out << "noise = " << std::max(noise, 1e-4) << "\n[bare_card]\nblack = " << values(black, noise, seed + 1)
        << "white = " << values(white, noise, seed + 2);
    for (const double coats : {1.0, 2.0, 4.0}) {
        const Micrometres film = coats * paint.coat_film;
        seed += 2;
        out << "[[films]]\nfilm = \"" << film.value
            << " um\"\nblack = " << values(film::reflectance_over(mix, film, black), noise, seed + 1)
            << "white = " << values(film::reflectance_over(mix, film, white), noise, seed + 2);
    }
    return out.str();
}

// Let-downs with titanium white: the paint and 2, 10 and 50 parts.
std::string ladder(const paint::Paint& paint, const paint::Paint& white, double noise, std::uint64_t seed) {
    std::string out;
    for (const int parts : {2, 10, 50}) {
        const std::array<paint::Part, 2> mix{paint::Part{&paint, 1},
                                             paint::Part{&white, static_cast<double>(parts)}};
        out += "[[ladder]]\nparts = " + std::to_string(parts) +
               "\nreading = " + values(film::masstone(paint::mix_paints(mix)), noise, ++seed);
    }
    return out;
}

std::string written(const std::string& name, const std::string& text) {
    const std::string path = test::scratch_path(name);
    REQUIRE(write_file_atomic(path, text));
    return path;
}

paint::Paint fit_from_card(const std::string& card_text, const std::string& name) {
    const std::string card = written(name + "-card.toml", card_text);
    const std::string out = test::scratch_path(name + ".toml");
    const app::Outcome outcome =
        test::run(app::fit_paint, {card, out, false, report::Paper::A4, "", {}, false});
    INFO(outcome.err);
    REQUIRE(outcome.exit == app::Exit::ok);
    const app::Outcome checked = test::run(app::check, {{app::plan_file(out)}, "", {}, false, false});
    INFO(checked.err);
    REQUIRE(checked.exit == app::Exit::ok);
    plan::Library library = test::preset_library();
    const auto bytes = read_file_bytes(out, kTextFileLimit_bytes);
    REQUIRE(bytes);
    library.add_file(plan::LibraryKind::paints, name, std::make_shared<Source>(out, bytes.value()));
    Diagnostics diagnostics;
    const paint::Paint* paint = library.paint(name, diagnostics);
    REQUIRE(paint);
    return *paint;
}

struct Distance {
    double films = 0, let_downs = 0;  // the worst CIEDE2000
};

Distance between(const paint::Paint& a, const paint::Paint& b, const paint::Paint& white) {
    const auto& day = colour::standard_illuminant(colour::StandardIlluminant::D65);
    const auto first = formulation::swatches_of(a, white, day),
               second = formulation::swatches_of(b, white, day);
    const auto worst = [&](std::initializer_list<colour::Lab formulation::PaintSwatches::*> members) {
        double worst_of_members = 0;
        for (const auto swatch : members)
            worst_of_members =
                std::max(worst_of_members, colour::delta_e_2000(first.*swatch, second.*swatch));
        return worst_of_members;
    };
    using P = formulation::PaintSwatches;
    return {worst({&P::masstone, &P::one_coat_over_white, &P::one_coat_over_black, &P::three_coats_over_white,
                   &P::three_coats_over_black}),
            worst({&P::let_down_1, &P::let_down_10, &P::let_down_50})};
}

bool colours(const paint::Paint& paint) {
    return paint.role == paint::Role::opaque || paint.role == paint::Role::transparent ||
           paint.role == paint::Role::white;
}

}  // namespace

TEST_CASE("paint to card to paint: every paint of the library looks the same again", "[app][card]") {
    plan::Library library = test::preset_library();
    Diagnostics diagnostics;
    const paint::Paint white = *library.paint("titanium-white", diagnostics);
    Distance worst;
    int tried = 0;
    for (const std::string& name : library.names(plan::LibraryKind::paints)) {
        const paint::Paint truth = *library.paint(name, diagnostics);
        if (!colours(truth)) continue;
        ++tried;
        const std::uint64_t seed = test::seed_of(name);  // of its own, whatever else is in the library
        std::string card = head(truth, role_word(truth.role)) + films(truth, 0.001, seed);
        // Four coats of a white or a candy, which hardly absorb or scatter, do not determine the masstone;
        // a thick film does.
        if (truth.role == paint::Role::white || paint::is_dye(truth))
            card += "[thick_film]\nreading = " + values(film::masstone(alone(truth)), 0.001, seed + 30);
        if (truth.role != paint::Role::white) card += ladder(truth, white, 0.001, seed + 30);
        const paint::Paint back = fit_from_card(card, "round-trip-" + name);
        const Distance d = between(truth, back, white);
        CAPTURE(name, d.films, d.let_downs);
        worst = {std::max(worst.films, d.films), std::max(worst.let_downs, d.let_downs)};
    }
    CHECK(tried > 20);
    CAPTURE(worst.films, worst.let_downs);
    CHECK(worst.films < 0.7);      // iron oxide black, whose masstone is hardly lighter than nothing
    CHECK(worst.let_downs < 0.3);  // zinc white in titanium white
}

TEST_CASE("specular included or excluded, the same card gives the same paint", "[app][card]") {
    plan::Library library = test::preset_library();
    Diagnostics diagnostics;
    const paint::Paint truth = *library.paint("quinacridone-magenta", diagnostics);
    const auto mix = alone(truth);
    const auto card = [&](film::Specular specular) {
        const auto reading = [&](const Reflectance& inside) {
            std::ostringstream out;
            out.precision(15);
            const Reflectance measured = film::through_surface(inside, film::surface_at_normal({}), specular);
            for (std::size_t band = 0; band < colour::kBandCount; ++band)
                out << (band ? ", " : "{ values = [") << measured[band];
            return out.str() + "] }\n";
        };
        const Reflectance black = Reflectance::constant(kBareBlack),
                          white = Reflectance::constant(kBareWhite);
        std::string text = head(truth, "transparent");
        if (specular == film::Specular::included) text.replace(text.find("excluded"), 8, "included");
        return text + "noise = 1e-4\n[bare_card]\nblack = " + reading(black) + "white = " + reading(white) +
               "[[films]]\nfilm = \"6 um\"\nblack = " +
               reading(film::reflectance_over(mix, Micrometres{6}, black)) +
               "white = " + reading(film::reflectance_over(mix, Micrometres{6}, white));
    };
    const paint::Paint in = fit_from_card(card(film::Specular::included), "specular-included");
    const paint::Paint out = fit_from_card(card(film::Specular::excluded), "specular-excluded");
    CHECK(in.origin == paint::Provenance::fitted);
    for (const std::size_t band : {5u, 20u, 30u}) {
        CHECK_THAT(in.K[band], WithinRel(out.K[band], 1e-4));
        CHECK_THAT(in.K[band], WithinRel(truth.K[band], 1e-4));
        CHECK_THAT(out.S[band], WithinRel(truth.S[band], 1e-3));
    }
}

TEST_CASE("a colour and the coats that hide make a paint of that colour, called a guess", "[app][card]") {
    const std::string card =
        "spray_out_card = 1\ntitle = \"Harbour blue\"\nrole = \"opaque\"\nspecular = \"excluded\"\n"
        "coat_film = \"8 um\"\nobserver = 2\n[thick_film]\ncoats_to_hide = 3\nreading = { lab = [35, 5, -35] }\n";
    const std::string path = written("guess-card.toml", card);
    const app::Outcome said = test::run(app::fit_paint, {path, "", false, report::Paper::A4, "", {}, false});
    CHECK(said.exit == app::Exit::ok);
    CHECK_THAT(said.out, Contains("rough estimate"));
    CHECK_THAT(said.out, Contains("estimated"));
    const paint::Paint paint = fit_from_card(card, "guess");
    CHECK(paint.origin == paint::Provenance::estimated);
    CHECK_THAT(paint.source, Contains("estimated from"));
    const auto weights = colour::tristimulus_weights(
        colour::standard_illuminant(colour::StandardIlluminant::D65), colour::Observer::two_degree);
    const auto surface = film::surface_at_normal({});
    const auto lab = colour::to_lab(
        colour::to_xyz(film::through_surface(film::masstone(alone(paint)), surface, film::Specular::excluded),
                       weights),
        weights.white);
    CHECK(colour::delta_e_2000(lab, {35, 5, -35}) < 0.01);
    colour::Spd luminosity;
    for (std::size_t band = 0; band < colour::kBandCount; ++band) luminosity[band] = weights.w[band][1];
    CHECK_THAT(
        film::contrast_ratio(alone(paint), Micrometres{24}, {kBareBlack, kBareWhite}, surface, luminosity),
        WithinAbs(film::kFullHiding, 1e-4));
}

TEST_CASE("a scan with a grey patch gives an estimated paint", "[app][card]") {
    plan::Library library = test::preset_library();
    Diagnostics diagnostics;
    const paint::Paint truth = *library.paint("iron-oxide-red", diagnostics);
    const auto mix = alone(truth);
    const auto surface = film::surface_at_normal({});
    const auto weights = colour::tristimulus_weights(
        colour::standard_illuminant(colour::StandardIlluminant::D65), colour::Observer::two_degree);
    Picture scan(60, 10, 3);
    const auto patch = [&](int left, const Reflectance& inside) {
        const auto rgb = colour::to_linear_srgb(
            colour::to_xyz(film::through_surface(inside, surface, film::Specular::excluded), weights),
            weights.white);
        // The lamp is weak and a little warm: the grey patch must correct it.
        const double scanned[] = {0.80 * rgb.r, 0.75 * rgb.g, 0.68 * rgb.b};
        for (int y = 0; y < 10; ++y)
            for (int x = left; x < left + 10; ++x)
                for (std::size_t c = 0; c < 3; ++c)
                    scan.pixel(x, y)[c] = static_cast<std::uint8_t>(
                        std::lround(255 * colour::srgb_from_linear(std::clamp(scanned[c], 0.0, 1.0))));
    };
    const Reflectance black = Reflectance::constant(kBareBlack), white = Reflectance::constant(kBareWhite);
    const double grey = film::internal_reflectance(surface, 0.2, film::Specular::excluded);
    patch(0, Reflectance::constant(grey));
    patch(10, black);
    patch(20, white);
    patch(30, film::reflectance_over(mix, Micrometres{3}, black));
    patch(40, film::reflectance_over(mix, Micrometres{3}, white));
    patch(50, film::masstone(mix));
    written("scan-card.png", render::png_bytes(scan, {}));
    const std::string card =
        head(truth, "opaque") +
        "[scan]\npicture = \"scan-card.png\"\ngrey = [1, 1, 8, 8]\ngrey_reflectance = 0.2\n"
        "[bare_card]\nblack = { patch = [11, 1, 8, 8] }\nwhite = { patch = [21, 1, 8, 8] }\n"
        "[[films]]\nfilm = \"3 um\"\nblack = { patch = [31, 1, 8, 8] }\nwhite = { patch = [41, 1, 8, 8] }\n"
        "[thick_film]\nreading = { patch = [51, 1, 8, 8] }\n";
    const paint::Paint paint = fit_from_card(card, "scan");
    CHECK(paint.origin == paint::Provenance::estimated);
    CHECK_THAT(paint.source, Contains("patches of a picture"));
    const auto lab = [&](const paint::Paint& p, Micrometres film, const Reflectance& ground) {
        return colour::to_lab(
            colour::to_xyz(film::through_surface(film::reflectance_over(alone(p), film, ground), surface,
                                                 film::Specular::excluded),
                           weights),
            weights.white);
    };
    for (const double film : {3.0, 6.0, 100.0})
        for (const Reflectance& ground : {black, white}) {
            CAPTURE(film, ground[0]);
            CHECK(colour::delta_e_2000(lab(paint, Micrometres{film}, ground),
                                       lab(truth, Micrometres{film}, ground)) < 3);
        }
}

TEST_CASE("readings come from a measurement file by their names", "[app][card]") {
    plan::Library library = test::preset_library();
    Diagnostics diagnostics;
    const paint::Paint truth = *library.paint("cobalt-blue", diagnostics);
    const auto mix = alone(truth);
    const Reflectance black = Reflectance::constant(kBareBlack), white = Reflectance::constant(kBareWhite);
    std::ostringstream csv;
    csv.precision(10);
    csv << "name";
    for (std::size_t band = 0; band < colour::kBandCount; ++band) csv << "," << colour::band_nm(band);
    const auto row = [&](std::string_view name, const Reflectance& inside) {
        csv << "\n" << name;
        for (const double v :
             film::through_surface(inside, film::surface_at_normal({}), film::Specular::excluded).values)
            csv << "," << v;
    };
    row("card black", black);
    row("card white", white);
    row("blue black", film::reflectance_over(mix, Micrometres{8}, black));
    row("blue white", film::reflectance_over(mix, Micrometres{8}, white));
    written("readings.csv", csv.str() + "\n");
    const auto reading = [](const std::string& sample) {
        return "{ file = \"readings.csv\", sample = \"" + sample + "\" }\n";
    };
    const std::string card = head(truth, "opaque") + "[bare_card]\nblack = " + reading("card black") +
                             "white = " + reading("card white") +
                             "[[films]]\nfilm = \"8 um\"\nblack = " + reading("blue black") +
                             "white = " + reading("blue white");
    const paint::Paint paint = fit_from_card(card, "by-name");
    CHECK_THAT(paint.K[10], WithinRel(truth.K[10], 1e-4));
    CHECK_THAT(paint.S[10], WithinRel(truth.S[10], 1e-4));
    std::string misspelt = card;
    misspelt.replace(misspelt.find("blue white"), 10, "blue whit");
    const auto wrong =
        test::run(app::fit_paint,
                  {written("by-name-wrong.toml", misspelt), "", false, report::Paper::A4, "", {}, false});
    CHECK(wrong.exit == app::Exit::data_error);
    CHECK_THAT(wrong.err, Contains("did you mean 'blue white'?"));
}

TEST_CASE("text and JSON say what the card does not determine", "[app][card]") {
    plan::Library library = test::preset_library();
    Diagnostics diagnostics;
    const paint::Paint truth = *library.paint("pyrrole-red", diagnostics);
    const std::string path = written("words-card.toml", head(truth, "opaque") + films(truth, 0.001, 90));
    const app::Outcome words = test::run(app::fit_paint, {path, "", false, report::Paper::A4, "", {}, false});
    CHECK(words.exit == app::Exit::ok);
    CHECK_THAT(words.out, Contains("violet end"));
    CHECK_THAT(words.out, Contains("extrapolated"));
    CHECK_THAT(words.out, Contains("K known to") || Contains("K negligible"));
    const app::Outcome machine =
        test::run(app::fit_paint, {path, "", false, report::Paper::A4, "", {}, true});
    const auto json = nlohmann::json::parse(machine.out);
    CHECK(json["origin"] == "fitted");
    CHECK(json["bands"].size() == colour::kBandCount);
    CHECK(json["readings"].size() == 6);
    CHECK(json["rms_error"].get<double>() < 0.003);
    CHECK(json["bands"][3]["S_extrapolated"] == true);
    CHECK(json["bands"][3]["S_per_um"]["high"].is_null());
    CHECK(json["bands"][30]["S_per_um"]["high"].get<double>() >
          json["bands"][30]["S_per_um"]["value"].get<double>());
}

TEST_CASE("errors on the command line of fit-paint", "[app][card]") {
    CHECK(test::run(app::fit_paint, {}).exit == app::Exit::usage_error);
    CHECK(test::run(app::fit_paint, {"", "", true, report::Paper::A4, "", {}, false}).exit ==
          app::Exit::usage_error);
    CHECK(test::run(app::fit_paint, {"", "card.png", true, report::Paper::A4, "", {}, false}).exit ==
          app::Exit::usage_error);
    const std::string path = written("over-itself.toml", "spray_out_card = 1\n");
    CHECK(test::run(app::fit_paint, {path, path, false, report::Paper::A4, "", {}, false}).exit ==
          app::Exit::usage_error);
    CHECK(test::run(app::fit_paint,
                    {test::scratch_path("no-such-card.toml"), "", false, report::Paper::A4, "", {}, false})
              .exit == app::Exit::system_error);
    const std::string out = test::scratch_path("blank.pdf");
    CHECK(test::run(app::fit_paint, {"", out, true, report::Paper::Letter, "", {}, false}).exit ==
          app::Exit::ok);
    CHECK(read_file_bytes(out, kBinaryFileLimit_bytes).value().starts_with("%PDF"));
}
