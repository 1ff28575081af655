#include "fadewright/spray/footprint.h"

#include "published_table.h"
#include "some_guns.h"

#include <catch2/catch.hpp>

using namespace fadewright;
using namespace fadewright::spray;
using test::integral;
using test::published_rows;

namespace {

constexpr double kQuadrature = 1e-6;  // stated accuracy against numerical integration

std::vector<Gun> guns() {
    return {test::round_gun(12),
            test::fan_gun(200, 50, 2, 2),
            test::fan_gun(240, 60, 1, 1.5),
            test::fan_gun(180, 40, 3, 2.5),
            test::fan_gun(100, 100, 2, 2),
            test::fan_gun(220, 70, 2.2, 4)};
}

double reach_across(const Footprint& f) {
    return std::visit([](const auto& g) { return g.reach_across_mm(); }, f);
}

// The footprint summed along the travel, numerically.
double summed_along(const Footprint& f, double across) {
    const double half = std::visit([&](const auto& g) { return g.slice(across).half_mm; }, f);
    return integral(-half, half, [&](double along) { return value_at(f, across, along); });
}

}  // namespace

TEST_CASE("a footprint holds all the paint that lands", "[spray][volume]") {
    for (const Gun& gun : guns()) {
        const Footprint f = footprint_of(gun);
        const double reach = reach_across(f);
        const double whole = integral(
            -reach, reach, [&](double x) { return summed_along(f, x); }, 1000);
        CHECK(whole == Approx(1).margin(kQuadrature));
        const double pass = integral(-reach, reach, [&](double x) { return pass_profile(f, x); });
        CHECK(pass == Approx(1).margin(kQuadrature));
    }
}

TEST_CASE("the pass is the footprint summed along the travel", "[spray]") {
    for (const Gun& gun : guns()) {
        const Footprint f = footprint_of(gun);
        for (const double share : {0.0, 0.1, 0.37, 0.5, 0.8, 0.97}) {
            const double across = share * reach_across(f) * (gun.pattern == Pattern::round ? 0.6 : 1);
            CAPTURE(share, gun.beta_across);
            CHECK(pass_profile(f, across) == Approx(summed_along(f, across)).epsilon(kQuadrature));
            CHECK(pass_profile(f, -across) == pass_profile(f, across));
        }
    }
}

TEST_CASE("the cumulative share is the footprint integrated up to there", "[spray]") {
    for (const Gun& gun : guns()) {
        const Footprint f = footprint_of(gun);
        std::visit(
            [&](const auto& g) {
                const double across = 0.3 * g.reach_across_mm();
                const Slice slice = g.slice(across);
                for (const double share : {-0.9, -0.3, 0.0, 0.2, 0.7}) {
                    CAPTURE(share, gun.beta_along);
                    const double along = share * slice.half_mm;
                    const auto density = [&](double y) { return g.at(across, y) / slice.profile; };
                    const auto moment_density = [&](double y) { return y * density(y); };
                    const Cumulative cumulative = g.cumulative(slice, along);
                    CHECK(cumulative.share ==
                          Approx(integral(-slice.half_mm, along, density, 20000)).margin(kQuadrature));
                    CHECK(cumulative.moment == Approx(integral(-slice.half_mm, along, moment_density, 20000))
                                                   .margin(kQuadrature * slice.half_mm));
                }
            },
            f);
    }
}

TEST_CASE("Gaussian passes, infinite and finite, agree with the check values", "[spray][published_rows]") {
    for (const auto& row : published_rows("gaussian_pass.csv")) {
        const RoundFootprint across(Millimetres{row.number("sigma_across_mm")});
        const RoundFootprint along(Millimetres{row.number("sigma_along_mm")});
        const double mm2 = 1000 * row.number("flow_mL_s") / row.number("speed_mm_s");
        const auto share_before = [&](double mm) { return along.cumulative(along.slice(0), mm).share; };
        const double film_um = 1000 * mm2 * across.slice(row.number("across_mm")).profile *
                               (share_before(row.number("along_mm") - row.number("from_mm")) -
                                share_before(row.number("along_mm") - row.number("to_mm")));
        CHECK(film_um == Approx(row.number("wet_um")).margin(5e-8 + 1e-9 * film_um).epsilon(0));
    }
}

TEST_CASE("the pass of a circular beta footprint follows its constants", "[spray][published_rows]") {
    const double R = 37;
    for (const auto& row : published_rows("circular_beta_pass.csv")) {
        const double beta = row.number("beta");
        CAPTURE(beta);
        const FanFootprint f(Millimetres{2 * R}, Millimetres{2 * R}, beta, beta);
        CHECK(f.slice(0).profile * R == Approx(row.number("k")).margin(5e-7));
        CHECK(f.slice(R / 2).profile * R == Approx(row.number("at_half_radius")).margin(5e-7));
        // Equal tapers on a circle leave no direction.
        CHECK(f.at(0.6 * R, 0.3 * R) == Approx(f.at(0.3 * R, -0.6 * R)).epsilon(1e-13));
    }
}

TEST_CASE("double-beta fans have the volumes and passes of the check values", "[spray][published_rows]") {
    const double a = 0.12, B = 0.04;  // any unit of length
    for (const auto& row : published_rows("double_beta.csv")) {
        const FanFootprint f(Millimetres{2 * a}, Millimetres{2 * B}, row.number("b1"), row.number("b2"));
        const double volume = 1 / f.at(0, 0);
        CHECK(volume == Approx(row.number("volume")).margin(5e-9));
        CHECK(volume * f.slice(0.06).profile == Approx(row.number("across_at_006")).margin(5e-8));
        const double y = 0.02;
        const double half = a * std::sqrt(1 - y * y / (B * B));
        const double rotated = integral(
            -half, half, [&](double x) { return volume * f.at(x, y); }, 20000);
        CHECK(rotated == Approx(row.number("along_at_002")).margin(5e-8));
    }
}

TEST_CASE("the footprint ends at its outline", "[spray]") {
    const FanFootprint fan(Millimetres{200}, Millimetres{60}, 1, 1);
    CHECK(fan.at(0, 29.9) > 0);
    CHECK(fan.at(0, 30.1) == 0);
    CHECK(fan.at(100, 0) == 0);
    CHECK(fan.slice(100.1).profile == 0);
    const RoundFootprint round(Millimetres{10});
    CHECK(round.at(70, 0) == 0);
    CHECK(round.at(60, 0) > 0);
}

TEST_CASE("a fan has its stated width, a round gun four sigma, both in proportion to the distance",
          "[spray]") {
    Gun fan = test::fan_gun(240, 60, 2, 2);
    fan.distance = Millimetres{200};
    CHECK(pass_width(fan, std::nullopt).value == 240);
    CHECK(pass_width(fan, Millimetres{0}).value == 240);
    CHECK(pass_width(fan, Millimetres{150}).value == Approx(180));
    const Gun round = test::round_gun(12);
    CHECK(pass_width(round, round.distance).value == 48);
}

// Ring of mass share m and Gaussian in one spray, s = sigma sqrt 2:
// pass = e Q / (v s sqrt pi) [(1 - m) + m (1/2 + u^2)] exp(-u^2); derived, checked by numerical integration.
// Centre over maximum of the pure ring: sqrt(e)/2.
TEST_CASE("a ring in a round spray has its own pass profile", "[spray]") {
    const double sigma = 10, s = sigma * std::numbers::sqrt2;
    for (const double m : {0.0, 0.3, 2.0 / 3, 1.0}) {
        const Footprint f = RoundFootprint(Millimetres{sigma}, Share{m});
        for (const double x : {0.0, 4.0, 11.0, 25.0}) {
            const double u = x / s;
            const double pass =
                ((1 - m) + m * (0.5 + u * u)) * std::exp(-u * u) / (s * std::sqrt(std::numbers::pi));
            CHECK(pass_profile(f, x) == Approx(pass).epsilon(1e-12));
            CHECK(summed_along(f, x) == Approx(pass).margin(1e-9));
            // Ends of segments: share and moment of the slice against the footprint itself.
            const auto& round = std::get<RoundFootprint>(f);
            for (const double end : {-9.0, 3.0, 14.0}) {
                const auto part = [&](double t) { return round.at(x, t) / pass; };
                const Cumulative cumulative = round.cumulative(round.slice(x), end);
                CHECK(cumulative.share == Approx(test::integral(-70, end, part, 20000)).margin(1e-7));
                CHECK(cumulative.moment == Approx(test::integral(
                                                      -70, end, [&](double t) { return t * part(t); }, 20000))
                                               .margin(1e-5));
            }
        }
    }
    const Footprint ring = RoundFootprint(Millimetres{sigma}, Share{1.0});
    CHECK(pass_profile(ring, 0) / pass_profile(ring, s / std::numbers::sqrt2) ==
          Approx(0.824361).margin(1e-6));
    const Footprint flat = RoundFootprint(Millimetres{sigma}, Share{2.0 / 3});
    CHECK(pass_profile(flat, 1.0) / pass_profile(flat, 0) ==
          Approx(1).margin(1e-4));  // flat-topped: no u^2 term
}

TEST_CASE("a measured profile is its own pass, asymmetric ones included", "[spray]") {
    Gun gun = test::fan_gun(100, 30, 2, 2);
    gun.pattern = Pattern::measured;
    gun.profile = {0, 1, 4, 6, 5, 2, 0};
    const Footprint f = footprint_of(gun);
    const double step = 100.0 / 6;
    const double sum = step * (1 + 4 + 6 + 5 + 2);
    CHECK(pass_profile(f, 0) == Approx(6 / sum));
    CHECK(pass_profile(f, step) == Approx(5 / sum));
    CHECK(pass_profile(f, -step) == Approx(4 / sum));
    CHECK(summed_along(f, 7.0) == Approx(pass_profile(f, 7.0)).epsilon(1e-6));
    CHECK(pass_profile(f, 51) == 0);
}

TEST_CASE("the spread of a gun is the standard deviation of its pass and of its slice", "[spray]") {
    Gun ringed = test::round_gun(9);
    ringed.ring = Share{0.5};
    Gun measured = test::fan_gun(100, 30, 2, 2);
    measured.pattern = Pattern::measured;
    measured.profile = {0, 1, 4, 6, 4, 1, 0};
    for (const Gun& gun : {test::round_gun(9), ringed, test::fan_gun(120, 40, 2, 2.5),
                           test::fan_gun(90, 30, 1.5, 3), measured}) {
        const Footprint f = footprint_of(gun);
        const double across = 6.5 * 12;
        const double far = gun.pattern == Pattern::round ? across : gun.fan_width.value / 2;
        double mass = 0, across2 = 0, along2 = 0;
        const int n = 801;
        for (int i = 0; i < n; ++i)
            for (int j = 0; j < n; ++j) {
                const double x = far * (2 * (i + 0.5) / n - 1), y = far * (2 * (j + 0.5) / n - 1);
                const double v = value_at(f, x, y);
                mass += v;
                across2 += v * x * x;
                along2 += v * y * y;
            }
        const Spread spread = spread_of(gun);
        CAPTURE(static_cast<int>(gun.pattern));
        CHECK(spread.across_mm == Approx(std::sqrt(across2 / mass)).epsilon(2e-3));
        CHECK(spread.along_mm == Approx(std::sqrt(along2 / mass)).epsilon(2e-3));
    }
}
