// Flake orientation of a job's coats, by their wet film.
#include "fadewright/film/wet_flakes.h"
#include "preset_library.h"

#include <catch2/catch.hpp>

#include <fmt/core.h>

#include <string>

using namespace fadewright;

namespace {

plan::Job job_of_silver(const std::string& coat) {
    return test::job_of(
        "plan = 1\n[panel]\nwidth = \"200 mm\"\nheight = \"120 mm\"\nground = \"black-sealer\"\n"
        "[[coats]]\nname = \"silver\"\nmix = \"metallic-silver-medium\"\n" +
        coat);
}

// About 10 um dry per pass round.
std::string repeated_passes(int repeats, const std::string& overlap = "75 %") {
    return fmt::format(
        "gun = \"fan-gun-small\"\n[[coats.sweeps]]\nfrom = [\"-60 mm\", \"-60 mm\"]\n"
        "to = [\"260 mm\", \"180 mm\"]\noverlap = \"{}\"\nrepeats = {}\n",
        overlap, repeats);
}

Degrees tilt_of(const std::string& coat) { return job_of_silver(coat).coats[0].mix.flakes[0].tilt; }

Degrees preset_tilt() {
    Diagnostics none;
    plan::Library library = test::preset_library();
    return library.paint("metallic-silver-medium", none)->flakes[0].tilt;
}

}  // namespace

TEST_CASE("a dry coat has the tilt of the paint, wetter coats a wider one", "[plan][flakes]") {
    CHECK(tilt_of(repeated_passes(1, "30 %")) == preset_tilt());
    const Degrees once = tilt_of(repeated_passes(1)), twice = tilt_of(repeated_passes(2)),
                  thrice = tilt_of(repeated_passes(3));
    CHECK(once >= preset_tilt());
    CHECK(twice > once);
    CHECK(thrice > twice);
}

TEST_CASE("two thin coats with flash-off have flatter flakes than one thick coat", "[plan][flakes]") {
    const plan::Job two =
        job_of_silver(repeated_passes(1) + "[[coats]]\nname = \"again\"\nmix = \"metallic-silver-medium\"\n" +
                      repeated_passes(1));
    REQUIRE(two.coats.size() == 2);
    for (const plan::ResolvedCoat& coat : two.coats)
        CHECK(coat.mix.flakes[0].tilt < tilt_of(repeated_passes(2)));
}

TEST_CASE("an even coat counts as sprayed in medium coats", "[plan][flakes]") {
    for (const double film : {2.0, 8.0, 40.0})
        CHECK(tilt_of(fmt::format("even_coat.film = \"{} um\"\n", film)) == preset_tilt());
}

TEST_CASE("slow reducer widens the tilt of the flakes, fast reducer does not", "[plan][flakes]") {
    const auto tilt = [](const std::string& reducer) {
        const plan::Job job = test::job_of(
            "plan = 1\n[panel]\nwidth = \"200 mm\"\nheight = \"120 mm\"\nground = \"black-sealer\"\n"
            "[mixes.silver]\nparts = { metallic-silver-medium = 1 }\nreduce = \"20 %\"\nreducer = \"" +
            reducer + "\"\n[[coats]]\nname = \"silver\"\nmix = \"silver\"\n" + repeated_passes(2));
        return job.coats[0].mix.flakes[0].tilt;
    };
    CHECK(tilt("reducer-slow") > tilt("reducer-medium"));
    CHECK(tilt("reducer-medium") > tilt("reducer-fast"));
}

TEST_CASE("separate dots keep the tilt of the paint", "[plan][flakes]") {
    const plan::Job dots = job_of_silver("laydown = \"dots\"\n" + repeated_passes(4));
    CHECK(dots.coats[0].mix.flakes[0].tilt == preset_tilt());
}

TEST_CASE("wet disorientation and haze of a paint file mix by their shares of the film", "[plan][flakes]") {
    plan::Library library = test::preset_library();
    const auto with_reducer = [&](const std::string& name, const std::string& of, const std::string& from,
                                  const std::string& to) {
        std::string text(library.file(plan::LibraryKind::paints, of)->text());
        const std::size_t at = text.find(from);
        REQUIRE(at != std::string::npos);
        library.add_file(plan::LibraryKind::paints, name,
                         std::make_shared<Source>(name + ".toml", text.replace(at, from.size(), to)));
    };
    with_reducer("hazy-clear", "gloss-clear", "solids =", "haze = \"12 %\"\nsolids =");
    with_reducer("loose-silver", "metallic-silver-medium", "tilt =", "wet_disorientation = \"60 %\"\ntilt =");
    Diagnostics none;
    const paint::Paint *hazy = library.paint("hazy-clear", none), *gloss = library.paint("gloss-clear", none);
    REQUIRE(hazy);
    CHECK(hazy->haze == Share{0.12});
    CHECK(gloss->haze == Share{0.0});
    const std::vector<paint::Part> parts{{hazy, 1}, {gloss, 2}};
    CHECK(paint::mix_paints(parts).haze.value == Approx(0.04));
    const paint::Paint* disoriented = library.paint("loose-silver", none);
    REQUIRE(disoriented);
    CHECK(disoriented->flakes[0].wet_disorientation == Share{0.6});
    const paint::Paint* silver = library.paint("metallic-silver-medium", none);
    const Micrometres twice = 2 * silver->flakes[0].nominal_wetness;
    CHECK(film::tilt_when_wet(disoriented->flakes[0], twice) > film::tilt_when_wet(silver->flakes[0], twice));
}
