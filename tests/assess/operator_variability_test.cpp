#include "fadewright/assess/operator_variability.h"

#include "preset_library.h"

#include <catch2/catch.hpp>

#include <cmath>

using namespace fadewright;
using namespace fadewright::render;
using namespace fadewright::assess;

namespace {

plan::Job job() {
    return test::job_of(
        "plan = 1\n[panel]\nwidth = \"300 mm\"\nheight = \"200 mm\"\n[[coats]]\nname = \"one\"\nmix = "
        "\"carbon-black\"\ngun = \"detail-gun-round\"\n[[coats.passes]]\npath = [[\"-200 mm\", \"100 "
        "mm\"], [\"500 mm\", \"100 mm\"]]\n");
}

}  // namespace

TEST_CASE("without errors the job is unchanged", "[render]") {
    const plan::Job exact = job();
    const plan::Job same = perturb_job(exact, {Share{0}, Millimetres{0}, Millimetres{0}}, 1, 1);
    for (const double y : {60.0, 95.0, 120.0})
        CHECK(same.coats[0].film_um(150, y) == Approx(exact.coats[0].film_um(150, y)));
}

TEST_CASE("speed errors scatter the film as much as the speed", "[render]") {
    const plan::Job exact = job();
    const double film = exact.coats[0].film_um(150, 100);
    double sum = 0, squares = 0;
    constexpr int runs = 2000;
    for (int i = 0; i < runs; ++i) {
        const plan::Job perturbed = perturb_job(exact, {Share{0.1}, Millimetres{0}, Millimetres{0}}, 7,
                                                static_cast<std::uint64_t>(i));
        const double ratio = film / perturbed.coats[0].film_um(150, 100);  // as the speed
        sum += ratio;
        squares += ratio * ratio;
    }
    const double mean = sum / runs;
    CHECK(mean == Approx(1).margin(4 * 0.1 / std::sqrt(runs)));
    CHECK(std::sqrt(squares / runs - mean * mean) == Approx(0.1).epsilon(0.07));
}

TEST_CASE("errors depend on seed and run alone", "[render]") {
    const plan::Job exact = job();
    const auto film = [&](std::uint64_t seed, std::uint64_t attempt) {
        return perturb_job(exact, {}, seed, attempt).coats[0].film_um(150, 110);
    };
    CHECK(film(1, 2) == film(1, 2));
    CHECK(film(1, 2) != film(1, 3));
    CHECK(film(1, 2) != film(2, 2));
}
