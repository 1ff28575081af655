#include "fadewright/film/thin_film.h"

#include "fadewright/base/random.h"
#include "fadewright/film/surface.h"
#include "published_table.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <vector>

using namespace fadewright;
using namespace fadewright::film;
using Catch::Matchers::WithinAbs;

namespace {

struct RandomStack {
    double from, into;
    std::vector<ThinLayer> layers;
    Degrees angle;
    Nanometres wavelength;
};

RandomStack random_stack(std::uint64_t number, double max_k) {
    std::uint64_t index = 0;
    const auto next = [&](double low, double high) {
        return low + (high - low) * uniform01(7, number, index++);
    };
    RandomStack stack;
    stack.from = next(1, 2);
    stack.into = next(1, 3);
    const int layers = static_cast<int>(next(0, 9));
    for (int i = 0; i < layers; ++i)
        stack.layers.push_back({{next(1, 3.5), next(0, max_k)}, Nanometres{next(1, 900)}});
    stack.angle = Degrees{next(0, 90)};
    stack.wavelength = Nanometres{next(380, 730)};
    return stack;
}

}  // namespace

TEST_CASE("thin films agree with the table to its digits", "[film][published]") {
    for (const auto& row : test::published_rows("thin_film.csv")) {
        std::vector<ThinLayer> layers;
        if (row.number("n_layer") > 0)
            layers.push_back(
                {{row.number("n_layer"), 0},
                 Nanometres{row.number("quarter") * row.number("design_nm") / 4 / row.number("n_layer")}});
        // A quarter wave at 45 degrees has the thickness of one at normal incidence.
        const RT split = thin_film(row.number("from"), layers, {row.number("n_into"), row.number("k_into")},
                                   Degrees{row.number("angle_deg")}, Nanometres{row.number("nm")})
                             .mean();
        CAPTURE(row.text("case"));
        // Half of the last printed place, and a little because aluminium's own index is printed to four too.
        CHECK_THAT(split.R, WithinAbs(row.number("R"), 0.52 * std::pow(10, -row.number("places"))));
    }
}

TEST_CASE("the peak shifts with the cosine inside the layer", "[film]") {
    // 2 n d cos t = (m + 1/2) wavelengths: [derived] cos t = .90554 for 45 degrees in a binder of 1.5 and n
    // = 2.5.
    const std::vector<ThinLayer> layer{{{2.5, 0}, Nanometres{60}}};
    const auto peak = [&](double angle) {
        double best = 400;
        for (double nm = 400; nm < 700; nm += 0.01)
            if (thin_film(1.5, layer, {1.5, 0}, Degrees{angle}, Nanometres{nm}).s.R >
                thin_film(1.5, layer, {1.5, 0}, Degrees{angle}, Nanometres{best}).s.R)
                best = nm;
        return best;
    };
    CHECK_THAT(peak(0), WithinAbs(600, 0.02));
    CHECK_THAT(peak(45), WithinAbs(0.90554 * 600, 0.02));
}

TEST_CASE("a bare interface follows Fresnel", "[film]") {
    for (double angle = 0; angle <= 90; angle += 5)
        CHECK_THAT(thin_film(1, {}, {1.5, 0}, Degrees{angle}, 550_nm).mean().R,
                   WithinAbs(fresnel({1.5}, Degrees{angle}), 1e-14));
}

TEST_CASE("without absorption reflectance and transmittance add up to 1", "[film][property]") {
    for (std::uint64_t i = 0; i < 20000; ++i) {
        const RandomStack stack = random_stack(i, 0);
        const PolarisedRT split =
            thin_film(stack.from, stack.layers, {stack.into, 0}, stack.angle, stack.wavelength);
        if (std::abs(split.s.R + split.s.T - 1) < 1e-12 && std::abs(split.p.R + split.p.T - 1) < 1e-12)
            continue;
        CAPTURE(i, stack.angle.value, split.s.R, split.s.T, split.p.R, split.p.T);
        CHECK(false);
    }
}

TEST_CASE("the transmittance of a stack is the same in both directions", "[film][property]") {
    for (std::uint64_t i = 0; i < 20000; ++i) {
        const double max_k = i % 2 == 0 ? 0 : 2;
        RandomStack stack = random_stack(i, max_k);
        const double sine = stack.from * std::sin(stack.angle.value * std::acos(-1.0) / 180);
        if (sine >= stack.into) continue;  // total reflection: no reverse path
        const Degrees out{std::asin(sine / stack.into) * 180 / std::acos(-1.0)};
        const auto forward =
            thin_film(stack.from, stack.layers, {stack.into, 0}, stack.angle, stack.wavelength);
        std::reverse(stack.layers.begin(), stack.layers.end());
        const auto back = thin_film(stack.into, stack.layers, {stack.from, 0}, out, stack.wavelength);
        // The angle out is itself rounded, and near grazing that counts most.
        const double close = 1e-11 / std::max(1e-3, std::cos(out.value * std::acos(-1.0) / 180));
        CAPTURE(i, stack.angle.value, out.value);
        if (std::abs(forward.s.T - back.s.T) > close || std::abs(forward.p.T - back.p.T) > close)
            CHECK(false);
        if (max_k == 0 &&
            (std::abs(forward.s.R - back.s.R) > close || std::abs(forward.p.R - back.p.R) > close))
            CHECK(false);
        if (forward.s.R + forward.s.T > 1 + 1e-12 || forward.p.R + forward.p.T > 1 + 1e-12) CHECK(false);
    }
}

TEST_CASE("total reflection reflects everything", "[film]") {
    const PolarisedRT split = thin_film(1.5, {}, {1, 0}, Degrees{60}, 550_nm);
    CHECK_THAT(split.s.R, WithinAbs(1, 1e-15));
    CHECK_THAT(split.p.R, WithinAbs(1, 1e-15));
    CHECK(split.mean().T == 0);
    // A gap narrow against the wavelength transmits some light (frustrated), a wide one none.
    const std::vector<ThinLayer> narrow{{{1, 0}, Nanometres{100}}}, wide{{{1, 0}, Nanometres{50000}}};
    CHECK(thin_film(1.5, narrow, {1.5, 0}, Degrees{60}, 550_nm).mean().T > 0.1);
    CHECK_THAT(thin_film(1.5, wide, {1.5, 0}, Degrees{60}, 550_nm).mean().T, WithinAbs(0, 1e-100));
}

TEST_CASE("edges of the range are no exceptions", "[film]") {
    // Exactly at the critical angle of a layer, whose cosine is 0, and grazing.
    const std::vector<ThinLayer> layer{{{0.75, 0}, Nanometres{200}}};
    const auto critical = thin_film(1.5, layer, {1.5, 0}, Degrees{30}, 550_nm);
    CHECK_THAT(critical.s.R + critical.s.T, WithinAbs(1, 1e-12));
    CHECK_THAT(critical.p.R + critical.p.T, WithinAbs(1, 1e-12));
    const auto grazing = thin_film(1.5, layer, {1.5, 0}, Degrees{90}, 550_nm);
    CHECK(grazing.s.R == 1);
    CHECK(grazing.p.R == 1);
    CHECK(thin_film(1.5, {}, {1.5, 0}, Degrees{90}, 550_nm).s.R == 1);
    // A layer that absorbs everything reflects as if infinite.
    const std::vector<ThinLayer> opaque{{{0.9657, 6.4581}, Nanometres{1e6}}};
    const RT thick = thin_film(1.5, opaque, {1, 0}, Degrees{20}, 550_nm).mean();
    CHECK_THAT(thick.R, WithinAbs(thin_film(1.5, {}, {0.9657, 6.4581}, Degrees{20}, 550_nm).mean().R, 1e-14));
    CHECK(thick.T == 0);
    // A layer of no thickness has no effect.
    const std::vector<ThinLayer> none{{{2.5, 0.3}, Nanometres{0}}};
    CHECK_THAT(thin_film(1, none, {1.5, 0}, Degrees{30}, 550_nm).mean().R,
               WithinAbs(thin_film(1, {}, {1.5, 0}, Degrees{30}, 550_nm).mean().R, 1e-15));
}

TEST_CASE("the amplitudes of a coating are those of the stack", "[film]") {
    const std::vector<ThinLayer> layers{{{2.5, 0}, Nanometres{90}}, {{3.1, 0.4}, Nanometres{30}}};
    for (const double angle : {0.0, 25.0, 60.0, 85.0}) {
        const double cosine = std::cos(angle * std::acos(-1.0) / 180);
        const auto split = thin_film(1.5, layers, {1.58, 0}, Degrees{angle}, 550_nm);
        const auto s = coating(1.5, layers, 1.58, cosine, 550_nm, Polarisation::s);
        const auto p = coating(1.5, layers, 1.58, cosine, 550_nm, Polarisation::p);
        CAPTURE(angle);
        CHECK_THAT(std::norm(s.front), WithinAbs(split.s.R, 1e-14));
        CHECK_THAT(std::norm(p.front), WithinAbs(split.p.R, 1e-14));
        CHECK_THAT(std::abs(s.through), WithinAbs(split.s.T, 1e-14));
        CHECK_THAT(std::abs(p.through), WithinAbs(split.p.T, 1e-14));
    }
}
