#include "fadewright/spray/overlap.h"

#include "published_table.h"
#include "some_guns.h"

#include <catch2/catch.hpp>

#include <map>
#include <string>

using namespace fadewright;
using namespace fadewright::spray;
using test::published_rows;

namespace {

double thirds(double printed) {
    if (printed == 0.333) return 1.0 / 3;
    if (printed == 0.667) return 2.0 / 3;
    return printed;
}

// Half a unit in the last place of a printed number.
double half_digit(const std::string& printed) {
    const auto point = printed.find('.');
    const auto places = point == std::string::npos ? 0 : printed.size() - point - 1;
    return 0.5 * std::pow(10.0, -static_cast<double>(places));
}

}  // namespace

TEST_CASE("the ripple of every pass shape agrees with its table", "[spray][published_rows]") {
    const std::map<std::string, PassShape> shapes{
        {"bell-4-sigma", gaussian_pass(4)}, {"bell-6-sigma", gaussian_pass(6)},
        {"triangle", triangle()},           {"raised-cosine", raised_cosine()},
        {"parabola", parabola()},           {"half-ellipse", half_ellipse()}};
    const std::map<std::string, double> columns{
        {"at_0", 0}, {"at_25", 0.25}, {"at_50", 0.5}, {"at_67", 2.0 / 3}, {"at_75", 0.75}};
    for (const auto& row : published_rows("overlap_shapes.csv"))
        for (const auto& [column, overlap] : columns) {
            CAPTURE(row.text("shape"), column);
            const double percent = 100 * ripple(shapes.at(row.text("shape")), Share{overlap}).half_range;
            CHECK(percent ==
                  Approx(row.number(column)).margin(half_digit(row.text(column)) + 1e-9).epsilon(0));
        }
}

TEST_CASE("the ripple of passes of every power agrees with its table", "[spray][published_rows]") {
    for (const auto& row : published_rows("overlap_powers.csv")) {
        CAPTURE(row.text("b"), row.text("overlap"));
        const Ripple r = ripple(beta_pass(row.number("b")), Share{thirds(row.number("overlap"))});
        CHECK(100 * r.cv == Approx(row.number("cv")).margin(0.05).epsilon(0));
        if (row.text("plus").empty()) continue;
        constexpr double printed = 0.5 + 1e-6;  // two entries stand for exact halves
        CHECK(100 * r.plus == Approx(row.number("plus")).margin(printed).epsilon(0));
        CHECK(100 * r.minus == Approx(row.number("minus")).margin(printed).epsilon(0));
    }
}

TEST_CASE("the most even overlaps are those of the table", "[spray][published_rows]") {
    for (const auto& row : published_rows("overlap_best.csv")) {
        CAPTURE(row.text("b"), row.text("overlap"));
        const PassShape shape = beta_pass(row.number("b"));
        const double printed = row.number("overlap");
        const Share best = evenest_overlap(shape, Share{printed - 0.02}, Share{printed + 0.02});
        CHECK(best.value == Approx(printed).margin(0.0005).epsilon(0));
        CHECK(100 * ripple(shape, best).cv == Approx(row.number("cv")).margin(0.005).epsilon(0));
    }
}

TEST_CASE("Gaussian passes ripple as the first term of their Fourier series", "[spray][published_rows]") {
    for (const auto& row : published_rows("overlap_gaussian.csv")) {
        const double s = row.number("s_over_sigma") / row.number("sets");
        CAPTURE(s);
        const Ripple r = ripple(gaussian_pass(4), Share{1 - s / 4});
        // One unit in the last printed place: higher terms add to the widest spacings.
        CHECK(r.half_range == Approx(row.number("ripple")).margin(row.number("unit")).epsilon(0));
        CHECK(r.cv == Approx(r.half_range / std::sqrt(2.0)).epsilon(0.01));
    }
    CHECK(ripple(gaussian_pass(4), Share{0.5}).mean_over_peak == Approx(1.2533).margin(5e-5));
}

TEST_CASE("parabolic passes have minimum variance near an overlap of 0.3", "[spray][published_rows]") {
    // Published: a variance of about 0.0025 at an overlap of 0.29 to 0.31 (abstract of a study of uniform gun
    // velocity), the peak of one pass being 1. Computed: 0.00258 at 0.30 and 0.0222 at 0.50.
    const auto variance = [](double overlap) {
        const Ripple r = ripple(parabola(), Share{overlap});
        return r.cv * r.cv * r.mean_over_peak * r.mean_over_peak;
    };
    double best = 0.05;
    for (double o = 0.05; o < 0.5; o += 0.001)
        if (variance(o) < variance(best)) best = o;
    CHECK(best > 0.29);
    CHECK(best < 0.31);
    CHECK(variance(best) == Approx(0.00258).margin(5e-6).epsilon(0));
    CHECK(variance(0.5) == Approx(0.0222).margin(5e-5).epsilon(0));
}

TEST_CASE("triangles and raised cosines are exactly even where they should be", "[spray]") {
    for (const double o : {0.5, 0.75}) CHECK(ripple(triangle(), Share{o}).cv < 1e-12);
    for (const double o : {0.5, 2.0 / 3, 0.75}) CHECK(ripple(raised_cosine(), Share{o}).cv < 1e-12);
    CHECK(100 * ripple(triangle(), Share{2.0 / 3}).cv == Approx(6.4).margin(0.05).epsilon(0));
}

TEST_CASE("mean film is the paint of one pass over its spacing", "[spray][property]") {
    for (const double o : {0.0, 0.2, 0.5, 0.7, 0.9}) {
        const double s = 2 * (1 - o);
        CHECK(ripple(triangle(), Share{o}).mean_over_peak == Approx(1 / s).epsilon(1e-6));
        CHECK(ripple(parabola(), Share{o}).mean_over_peak == Approx(4.0 / 3 / s).epsilon(1e-6));
        CHECK(ripple(half_ellipse(), Share{o}).mean_over_peak ==
              Approx(std::numbers::pi / 2 / s).epsilon(1e-5));
    }
}

TEST_CASE("a sprayed sweep has the ripple of its pass shape", "[spray]") {
    const Gun gun = test::fan_gun(100, 60, 2, 2.6);  // its pass is (1 - u^2)^1.5
    Sweep sweep;
    sweep.from = test::at(-200, 0);
    sweep.to = test::at(200, 900);
    sweep.overlap = Share{0.5};
    const Deposit d(gun, sweep_passes(sweep, gun));
    double highest = 0, lowest = 1e9, sum = 0;
    constexpr int places = 2000;
    for (int i = 0; i < places; ++i) {
        const double film = d.wet_um(0, 400 + 50.0 * i / places);
        highest = std::max(highest, film);
        lowest = std::min(lowest, film);
        sum += film / places;
    }
    const Ripple r = ripple(beta_pass(1.5), Share{0.5});
    CHECK(highest / sum - 1 == Approx(r.plus).margin(1e-5));
    CHECK(1 - lowest / sum == Approx(r.minus).margin(1e-5));
}
