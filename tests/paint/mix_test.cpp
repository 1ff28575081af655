#include "fadewright/paint/mix.h"

#include "fadewright/base/random.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <limits>
#include <vector>

using namespace fadewright;
using namespace fadewright::paint;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

Paint make_paint(Role role, double solids, double pigment, double K, double S) {
    Paint paint;
    paint.role = role;
    paint.solids = Share{solids};
    paint.pigment = Share{pigment};
    paint.K = colour::Absorption::constant(K);
    paint.S = colour::Scattering::constant(S);
    return paint;
}

Paint make_reducer() {
    Paint reducer = make_paint(Role::reducer, 0, 0, 0, 0);
    reducer.wet_density = GramsPerMillilitre{0.9};
    reducer.dry_density = GramsPerMillilitre{0};
    return reducer;
}

Paint random_paint(std::uint64_t i) {
    const auto unit = [&](std::uint64_t stream) { return uniform01(31, stream, i); };
    Paint paint =
        make_paint(i % 3 == 0 ? Role::white : Role::transparent, 0.1 + 0.5 * unit(1), 0.3 * unit(2), 0, 0);
    paint.wet_density = GramsPerMillilitre{0.9 + 0.6 * unit(3)};
    paint.dry_density = GramsPerMillilitre{1.3 + unit(4)};
    paint.crowding = i % 4 == 0 ? std::optional<double>(1.2 * unit(5)) : std::nullopt;
    for (std::size_t band = 0; band < colour::kBandCount; ++band) {
        paint.K[band] = 0.001 + 2 * uniform01(32, i, band);
        paint.S[band] = 0.001 + 0.2 * uniform01(33, i, band);
    }
    return paint;
}

// Equal except for the rounding of sums in a different order.
void check_same(const MixedPaint& a, const MixedPaint& b) {
    constexpr double rounding = 1e-13;
    CHECK_THAT(a.solids.value, WithinRel(b.solids.value, rounding));
    CHECK_THAT(a.pigment.value, WithinRel(b.pigment.value, rounding));
    CHECK_THAT(a.wet_density.value, WithinRel(b.wet_density.value, rounding));
    CHECK_THAT(a.dry_density.value, WithinRel(b.dry_density.value, rounding));
    CHECK_THAT(a.binder_g_per_litre, WithinRel(b.binder_g_per_litre, rounding));
    CHECK_THAT(a.pigment_binder, WithinRel(b.pigment_binder, 1e-12));  // a difference of two masses
    CHECK(a.origin == b.origin);
    for (std::size_t band = 0; band < colour::kBandCount; ++band) {
        CHECK_THAT(a.K[band], WithinRel(b.K[band], rounding));
        CHECK_THAT(a.S[band], WithinRel(b.S[band], rounding));
    }
}

double thick_reflectance(double K, double S) { return S / (K + S + std::sqrt(K * (K + 2 * S))); }

}  // namespace

TEST_CASE("a single paint keeps its own film", "[paint][property]") {
    for (std::uint64_t i = 0; i < 24; ++i) {
        const Paint paint = random_paint(i);
        const MixedPaint mix = mix_paints(std::vector<Part>{{&paint, 3.7}});
        CAPTURE(i);
        CHECK_THAT(mix.solids.value, WithinRel(paint.solids.value, 1e-15));
        CHECK_THAT(mix.pigment.value, WithinRel(paint.pigment.value, 1e-14));
        for (std::size_t band = 0; band < colour::kBandCount; ++band) {
            CHECK_THAT(mix.K[band], WithinRel(paint.K[band], 1e-14));
            CHECK_THAT(mix.S[band], WithinRel(paint.S[band], 1e-14));
        }
    }
}

TEST_CASE("mixing a paint with itself changes nothing", "[paint][property]") {
    for (std::uint64_t i = 0; i < 24; ++i) {
        const Paint paint = random_paint(i), other = random_paint(i + 100);
        CAPTURE(i);
        check_same(mix_paints(std::vector<Part>{{&paint, 1}, {&paint, 2.5}}),
                   mix_paints(std::vector<Part>{{&paint, 1}}));
        check_same(mix_paints(std::vector<Part>{{&paint, 1}, {&other, 1}, {&paint, 2}}),
                   mix_paints(std::vector<Part>{{&paint, 3}, {&other, 1}}));
    }
}

TEST_CASE("the order of the parts and their unit change nothing", "[paint][property]") {
    for (std::uint64_t i = 0; i < 24; ++i) {
        const Paint a = random_paint(i), b = random_paint(i + 50), c = random_paint(i + 150);
        CAPTURE(i);
        const MixedPaint mix = mix_paints(std::vector<Part>{{&a, 1}, {&b, 4}, {&c, 0.3}});
        check_same(mix, mix_paints(std::vector<Part>{{&c, 0.3}, {&a, 1}, {&b, 4}}));
        check_same(mix, mix_paints(std::vector<Part>{{&a, 30}, {&b, 120}, {&c, 9}}));
    }
}

TEST_CASE("K and S are averaged by dry volume, and so are the masstones", "[paint]") {
    // Three bands, per micrometre; thick-film numbers computed from the averages, printed to 6 places.
    const double K_a[] = {.001, .002, .004}, S_a[] = {.15, .14, .13};
    const double K_b[] = {3.0, 0.8, 0.05}, S_b[] = {.02, .015, .01};
    struct Row {
        double a, b, R[3];
    };
    const Row rows[] = {{1, 0, {.891004, .844652, .780799}},
                        {.9, .1, {.160456, .339744, .684198}},
                        {.5, .5, {.026825, .081520, .426442}},
                        {0, 1, {.003311, .009203, .083920}}};
    Paint a = make_paint(Role::opaque, 0.2, 0.1, 0, 0), b = make_paint(Role::opaque, 0.5, 0.1, 0, 0);
    for (std::size_t band = 0; band < 3; ++band) {
        a.K[band] = K_a[band], a.S[band] = S_a[band];
        b.K[band] = K_b[band], b.S[band] = S_b[band];
    }
    for (const Row& row : rows) {
        // Wet volumes for these dry shares: the paints differ in solids.
        const MixedPaint mix = mix_paints(std::vector<Part>{{&a, row.a / 0.2}, {&b, row.b / 0.5}});
        for (std::size_t band = 0; band < 3; ++band) {
            CAPTURE(row.a, band);
            CHECK_THAT(thick_reflectance(mix.K[band], mix.S[band]), WithinAbs(row.R[band], 6e-7));
        }
    }
}

TEST_CASE("reducing leaves less film of the same colour; extending leaves the same film of a paler one",
          "[paint]") {
    // Solids .35, pigment .05 of the wet volume, clear base of the same solids; numbers to 3 places.
    const Paint paint = make_paint(Role::transparent, 0.35, 0.05 / 0.35, 0.7, 0.01);
    const Paint clear = make_paint(Role::clear_base, 0.35, 0, 0, 0);
    const Paint reducer = make_reducer();
    struct Row {
        double r, reduced_solids, extended_solids, extended_pigment;
    };
    for (const Row& row : {Row{1, .175, .350, .071}, Row{4, .070, .350, .029}}) {
        CAPTURE(row.r);
        const MixedPaint neat = mix_paints(std::vector<Part>{{&paint, 1}});
        const MixedPaint reduced = mix_paints(std::vector<Part>{{&paint, 1}, {&reducer, row.r}});
        const MixedPaint extended = mix_paints(std::vector<Part>{{&paint, 1}, {&clear, row.r}});
        CHECK_THAT(reduced.solids.value, WithinAbs(row.reduced_solids, 5e-4));
        CHECK_THAT(reduced.pigment.value, WithinAbs(.143, 5e-4));
        CHECK_THAT(extended.solids.value, WithinAbs(row.extended_solids, 5e-4));
        CHECK_THAT(extended.pigment.value, WithinAbs(row.extended_pigment, 5e-4));
        // The same wet coat contains the same pigment in both cases.
        const double reduced_KX = reduced.K[0] * dry_film(reduced, Micrometres{20}).value;
        const double extended_KX = extended.K[0] * dry_film(extended, Micrometres{20}).value;
        CHECK_THAT(reduced_KX, WithinRel(extended_KX, 1e-14));
        CHECK(reduced.K == neat.K);
        CHECK(reduced.S == neat.S);
        // Reducing lowers the binder per litre; extending keeps it or raises it slightly.
        CHECK_THAT(reduced.binder_g_per_litre, WithinRel(neat.binder_g_per_litre / (1 + row.r), 1e-14));
        CHECK(extended.binder_g_per_litre > neat.binder_g_per_litre);
        CHECK_THAT(reduced.pigment_binder, WithinRel(neat.pigment_binder, 1e-13));
        CHECK(extended.pigment_binder < neat.pigment_binder);
    }
}

TEST_CASE("per cent of paint and per cent of mix are different", "[paint]") {
    // Numbers to one decimal of a per cent.
    for (const auto& [paint, mix] : {std::pair{10, 9.1}, {20, 16.7}, {25, 20.0}, {50, 33.3}, {100, 50.0}}) {
        CHECK_THAT(100 * reducer_share_of_mix(Share{paint / 100.0}).value, WithinAbs(mix, 0.05));
        CHECK_THAT(reducer_share_of_paint(reducer_share_of_mix(Share{paint / 100.0})).value,
                   WithinRel(paint / 100.0, 1e-14));
    }
}

TEST_CASE("equal volumes of unequal density are unequal weights", "[paint]") {
    // Densities 1.25 and 1.02: 1:1 by volume is 55.1 : 44.9 by weight; 1:1 by weight is 44.9 % heavy by
    // volume.
    Paint heavy = make_paint(Role::white, 0.4, 0.2, 0, 0.2),
          light = make_paint(Role::transparent, 0.3, 0.05, 1, 0);
    heavy.wet_density = GramsPerMillilitre{1.25};
    light.wet_density = GramsPerMillilitre{1.02};
    const auto shares = weight_shares(std::vector<Part>{{&heavy, 1}, {&light, 1}});
    CHECK_THAT(100 * shares[0].value, WithinAbs(55.1, 0.05));
    CHECK_THAT(100 * shares[1].value, WithinAbs(44.9, 0.05));
    const double v_heavy = volume_of(heavy, Grams{50}).value, v_light = volume_of(light, Grams{50}).value;
    CHECK_THAT(100 * v_heavy / (v_heavy + v_light), WithinAbs(44.9, 0.05));
    CHECK_THAT(weight_of(heavy, volume_of(heavy, Grams{7})).value, WithinRel(7.0, 1e-15));
    CHECK_THAT(mix_paints(std::vector<Part>{{&heavy, 1}, {&light, 1}}).wet_density.value,
               WithinRel(1.135, 1e-14));
}

TEST_CASE("a let-down white scatters more per gram", "[paint]") {
    // Pigment .18 let down 1:1 gains .731/.573, 1:3 gains .831/.573 (2/3 law, printed to 3 places).
    const Paint white = make_paint(Role::white, 0.4, 0.18, 0.001, 0.2);
    const Paint clear = make_paint(Role::clear_base, 0.4, 0, 0, 0);
    for (const auto& [clear_parts, gain] : {std::pair{1.0, .731 / .573}, {3.0, .831 / .573}}) {
        const MixedPaint mix = mix_paints(std::vector<Part>{{&white, 1}, {&clear, clear_parts}});
        const double share = 1 / (1 + clear_parts);
        CHECK_THAT(mix.S[0] / (share * white.S[0]), WithinAbs(gain, 0.003));
        CHECK_THAT(mix.K[0], WithinRel(share * white.K[0], 1e-14));
    }
}

TEST_CASE("the 2/3 law has the efficiencies of the table and its best content at .30", "[paint]") {
    // Scattering of ever more concentrated mixes of an almost undiluted white, over that of its dilute limit.
    const double p[] = {.02, .05, .10, .15, .20, .25, .30, .35, .40};
    const double expected[] = {.901, .818, .712, .622, .542, .469, .400, .335, .273};
    const Paint white = make_paint(Role::white, 0.5, 0.45, 0, 1);
    const Paint clear = make_paint(Role::clear_base, 0.5, 0, 0, 0);
    const auto scattering = [&](double pigment) {
        const double share = pigment / 0.45;
        return mix_paints(std::vector<Part>{{&white, share}, {&clear, 1 - share}}).S[0];
    };
    const double dilute = scattering(1e-9) / 1e-9;
    for (std::size_t i = 0; i < 9; ++i)
        CHECK_THAT(scattering(p[i]) / p[i] / dilute,
                   WithinAbs(expected[i], 0.0015));  // v itself is given as 1.34
    CHECK(scattering(.30) > scattering(.27));
    CHECK(scattering(.30) > scattering(.33));
}

TEST_CASE("only white and paints that define it have crowding, up to the largest content", "[paint]") {
    const Paint clear = make_paint(Role::clear_base, 0.4, 0, 0, 0);
    Paint yellow = make_paint(Role::opaque, 0.4, 0.2, 0.5, 0.1);
    CHECK_THAT(mix_paints(std::vector<Part>{{&yellow, 1}, {&clear, 1}}).S[0], WithinRel(0.05, 1e-14));
    yellow.crowding = 1.0;
    CHECK(mix_paints(std::vector<Part>{{&yellow, 1}, {&clear, 1}}).S[0] > 0.055);
    const Paint dense = make_paint(Role::white, 0.4, 0.6, 0, 0.2),
                denser = make_paint(Role::white, 0.4, 0.7, 0, 0.2);
    CHECK_THAT(mix_paints(std::vector<Part>{{&dense, 1}, {&denser, 1}}).S[0], WithinRel(0.2, 1e-14));
}

TEST_CASE("more of a darker paint never brightens a band", "[paint][property]") {
    for (std::uint64_t i = 0; i < 12; ++i) {
        const Paint a = random_paint(3 * i + 1), b = random_paint(3 * i + 2);  // neither crowds by its role
        for (std::size_t band = 0; band < colour::kBandCount; band += 5) {
            const bool b_is_darker =
                thick_reflectance(b.K[band], b.S[band]) < thick_reflectance(a.K[band], a.S[band]);
            if (!b_is_darker || a.crowding || b.crowding) continue;
            double before = 1;
            for (double parts : {0.0, 0.5, 1.0, 3.0, 20.0}) {
                const MixedPaint mix = mix_paints(std::vector<Part>{{&a, 1}, {&b, parts}});
                const double R = thick_reflectance(mix.K[band], mix.S[band]);
                CHECK(R <= before);
                before = R;
            }
        }
    }
}

TEST_CASE("a mix is as reliable as its least reliable paint with solids", "[paint]") {
    Paint measured = make_paint(Role::opaque, 0.4, 0.1, 1, 1), estimated = measured, reducer = make_reducer();
    measured.origin = Provenance::measured;
    estimated.origin = Provenance::estimated;
    CHECK(mix_paints(std::vector<Part>{{&measured, 1}, {&reducer, 1}}).origin == Provenance::measured);
    CHECK(mix_paints(std::vector<Part>{{&measured, 1}, {&estimated, 0}}).origin == Provenance::measured);
    CHECK(mix_paints(std::vector<Part>{{&measured, 1}, {&estimated, 0.1}}).origin == Provenance::estimated);
}

TEST_CASE("pigment to binder is a ratio of weights", "[paint]") {
    // A quarter of the dry film is pigment of 4.0 g/mL in a binder of 1.1 g/mL.
    Paint white = make_paint(Role::white, 0.4, 0.25, 0, 0.2);
    white.binder_density = GramsPerMillilitre{1.1};
    white.dry_density = GramsPerMillilitre{0.25 * 4.0 + 0.75 * 1.1};
    const MixedPaint mix = mix_paints(std::vector<Part>{{&white, 1}});
    CHECK_THAT(mix.pigment_binder, WithinRel(1.0 / 0.825, 1e-12));
    CHECK_THAT(mix.binder_g_per_litre, WithinRel(1000 * 0.4 * 0.825, 1e-14));
    const Paint clear = make_paint(Role::clear_base, 0.4, 0, 0, 0);
    CHECK(mix_paints(std::vector<Part>{{&clear, 1}}).pigment_binder == 0);
}

TEST_CASE("reducer alone leaves no film", "[paint]") {
    const Paint reducer = make_reducer();
    const MixedPaint mix = mix_paints(std::vector<Part>{{&reducer, 2}});
    CHECK(mix.solids.value == 0);
    CHECK(mix.K == colour::Absorption::constant(0));
    CHECK(dry_film(mix, Micrometres{50}).value == 0);
    CHECK(wet_film(mix, Micrometres{1}).value == std::numeric_limits<double>::infinity());
    CHECK(wet_film(mix, Micrometres{0}).value == 0);
}

TEST_CASE("wet and dry film are inverse functions", "[paint]") {
    const Paint paint = make_paint(Role::opaque, 0.4, 0.1, 1, 1), reducer = make_reducer();
    // 50 micrometres dry at 40 % solids thinned 25 % need 156.25 wet.
    const MixedPaint mix = mix_paints(std::vector<Part>{{&paint, 1}, {&reducer, 0.25}});
    CHECK_THAT(wet_film(mix, Micrometres{50}).value, WithinRel(156.25, 1e-14));
    CHECK_THAT(dry_film(mix, Micrometres{156.25}).value, WithinRel(50.0, 1e-14));
    CHECK_THAT(dry_film(mix_paints(std::vector<Part>{{&paint, 1}}), Micrometres{125}).value,
               WithinRel(50.0, 1e-14));
}

TEST_CASE("two mixes are combined by their dry films", "[paint]") {
    const Paint a = make_paint(Role::opaque, 0.2, 0.1, 1, 0), b = make_paint(Role::opaque, 0.5, 0.1, 0, 1);
    const Paint reducer = make_reducer();
    const std::vector<Part> first{{&a, 3}, {&reducer, 1}}, second{{&b, 1}};
    for (double share : {0.0, 0.25, 0.5, 1.0}) {
        const MixedPaint mix = mix_paints(combine_mixes(first, second, Share{share}));
        CHECK_THAT(mix.K[0], WithinAbs(1 - share, 1e-14));
        CHECK_THAT(mix.S[0], WithinAbs(share, 1e-14));
    }
}
