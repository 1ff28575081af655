#include "fadewright/render/fade_figures.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>

using namespace fadewright;
using namespace fadewright::render;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;
using colour::Lab;

namespace {

using Shape = std::function<double(double)>;  // share 0 to 1 over mm

Shape blurred_edge(double sigma) {
    return [sigma](double x) { return 0.5 * std::erfc(-x / sigma / std::numbers::sqrt2); };
}
Shape straight_ramp(double length) {
    return [length](double x) { return std::clamp(x / length + 0.5, 0.0, 1.0); };
}
Shape half_cosine(double length) {
    return [length](double x) {
        return 0.5 - 0.5 * std::cos(std::numbers::pi * std::clamp(x / length + 0.5, 0.0, 1.0));
    };
}
Shape bell_flank(double sigma) {
    return [sigma](double x) { return std::exp(-x * x / (2 * sigma * sigma)); };
}
Shape fan_flank(double half_width, double power) {
    return [half_width, power](double x) {
        return std::pow(std::max(0.0, 1 - x * x / half_width / half_width), power);
    };
}
// A straight ramp through a Gaussian: integral of the blurred edge over the ramp.
Shape blurred_ramp(double length, double sigma) {
    const auto g = [sigma](double x) {
        const double z = x / sigma;
        return x * 0.5 * std::erfc(-z / std::numbers::sqrt2) +
               sigma * std::exp(-z * z / 2) / std::sqrt(2 * std::numbers::pi);
    };
    return [g, length](double x) { return (g(x + length / 2) - g(x - length / 2)) / length; };
}

const Lab kDark{30, 0, 0}, kLight{70, 0, 0};

std::vector<FadePlace> fade(const Shape& shape, double from_mm, double to_mm, int count = 800,
                            Lab start = kDark, Lab end = kLight) {
    std::vector<FadePlace> out;
    for (int i = 0; i < count; ++i) {
        const double x = from_mm + (to_mm - from_mm) * i / (count - 1), t = shape(x);
        out.push_back({x,
                       {start.L + t * (end.L - start.L), start.a + t * (end.a - start.a),
                        start.b + t * (end.b - start.b)}});
    }
    return out;
}

FadeFigures figures(const std::vector<FadePlace>& places, const Onlooker& eye = {}) {
    const auto out = fade_figures(places, eye);
    REQUIRE(out);
    return *out;
}

std::vector<FadePlace> mirrored(const std::vector<FadePlace>& places) {
    std::vector<FadePlace> out;
    for (auto it = places.rbegin(); it != places.rend(); ++it) out.push_back({-it->at_mm, it->lab});
    return out;
}

// Stripes of a contrast in the sense of least_modulation, gone at the ends of a line from -300 to 300 mm.
std::vector<FadePlace> striped(std::vector<FadePlace> places, double modulation, double cycles_per_mm) {
    for (FadePlace& place : places) {
        const double inside = std::clamp((290 - std::abs(place.at_mm)) / 150, 0.0, 1.0);
        place.lab.L += colour::lightness_step(place.lab.L, modulation) * inside * inside * (3 - 2 * inside) *
                       std::sin(2 * std::numbers::pi * cycles_per_mm * place.at_mm);
    }
    return places;
}

}  // namespace

TEST_CASE("known shapes have their known widths", "[render][fade]") {
    // Derived, each from its formula.
    CHECK_THAT(figures(fade(blurred_edge(20), -100, 100)).width.value, WithinRel(2.5631 * 20, 1e-3));
    CHECK_THAT(figures(fade(straight_ramp(80), -100, 100)).width.value, WithinRel(0.8 * 80, 1e-3));
    CHECK_THAT(figures(fade(half_cosine(80), -100, 100)).width.value, WithinRel(0.5903 * 80, 1e-3));
    CHECK_THAT(figures(fade(bell_flank(20), 0, 120)).width.value, WithinRel(1.6869 * 20, 1e-3));
    // Printed to three places of R.
    CHECK_THAT(figures(fade(fan_flank(60, 1.5), 0, 100)).width.value,
               WithinAbs(0.625 * 60, 0.0005 * 60 + 0.01));
    CHECK_THAT(figures(fade(fan_flank(60, 2.5), 0, 100)).width.value,
               WithinAbs(0.573 * 60, 0.0005 * 60 + 0.01));
}

TEST_CASE("a fade lies half way where its shape does, and is as wide at the eye as from there",
          "[render][fade]") {
    const FadeFigures f = figures(fade(blurred_edge(20), -80, 120), {Millimetres{2000}, {}});
    CHECK_THAT(f.at_half.value, WithinAbs(0, 0.01));
    CHECK_THAT(f.at_90.value, WithinAbs(1.28155 * 20, 0.05));
    CHECK_THAT(f.width_at_eye.value, WithinRel(f.width.value / 34.9066, 1e-5));
}

TEST_CASE("steepest over mean slope is that of the shape", "[render][fade]") {
    // Straight 1; half a cosine (pi / 2) 0.5903 / 0.8; blurred edge 2.5631 / (0.8 sqrt(2 pi)).
    CHECK_THAT(figures(fade(straight_ramp(80), -100, 100)).steepest_over_mean, WithinRel(1.0, 1e-3));
    CHECK_THAT(figures(fade(half_cosine(80), -100, 100)).steepest_over_mean, WithinRel(1.159, 5e-3));
    CHECK_THAT(figures(fade(blurred_edge(20), -100, 100)).steepest_over_mean, WithinRel(1.278, 5e-3));
    // Over its whole length half a cosine is pi / 2 as steep as on average.
    const FadeFigures f = figures(fade(half_cosine(80), -100, 100));
    const double per_mm = f.steepest_L_per_deg / colour::millimetres_per_degree(f.seen_by.distance).value;
    CHECK_THAT(per_mm * 80 / 40, WithinRel(std::numbers::pi / 2, 5e-3));
    CHECK_THAT(f.steepest_L_at.value, WithinAbs(0, 2));
}

TEST_CASE("at mid grey a step of lightness to the mm is a dE00 to the mm", "[render][fade]") {
    const FadeFigures f = figures(fade(straight_ramp(40), -50, 50, 800, {49.5, 0, 0}, {50.5, 0, 0}));
    // S_L is 1 at L* 50 and within 0.0001 of it 0.5 aside.
    CHECK_THAT(f.steepest_per_mm, WithinRel(1.0 / 40, 1e-3));
    CHECK_THAT(f.mean_per_mm, WithinRel(1.0 / 40, 1e-3));
    CHECK_THAT(f.steepest_per_deg, WithinRel(17.4533 / 40, 1e-3));
    // Half a degree of it, 8.727 mm.
    CHECK_THAT(f.largest_step, WithinRel(8.7266 / 40, 2e-3));
    CHECK_THAT(f.slope_times_threshold,
               WithinRel(3 / 65.5 * 17.4533 / 40 / colour::least_slope_per_deg(), 0.01));
    // From further off more of it is one edge, in the end all of it.
    CHECK_THAT(
        figures(fade(straight_ramp(40), -50, 50, 800, {49.5, 0, 0}, {50.5, 0, 0}), {Millimetres{9000}, {}})
            .largest_step,
        WithinRel(1.0, 2e-3));
}

TEST_CASE("corners are as sharp as the blur leaves them", "[render][fade]") {
    // A corner through a Gaussian of sigma has the curvature slope / (sigma sqrt(2 pi)); the measure's own
    // Gaussian w adds to it.
    const double root = std::sqrt(2 * std::numbers::pi);
    CHECK_THAT(figures(fade(straight_ramp(100), -150, 150)).corner, WithinRel(1 / root, 0.01));
    for (const double sigma : {4.0, 8.0, 12.0}) {
        const FadeFigures f = figures(fade(blurred_ramp(100, sigma), -150, 150));
        const double w = f.width.value / 10;
        CAPTURE(sigma, w);
        CHECK_THAT(f.corner, WithinRel(w / std::hypot(w, sigma) / root, 0.01));
        CHECK_THAT(std::abs(f.corner_at.value), WithinAbs(50, 1));
    }
    // A blurred edge bends most one sigma from its middle, exp(-1/2) / sigma over its slope.
    const double s = std::hypot(1.0, 0.25631);
    CHECK_THAT(figures(fade(blurred_edge(20), -100, 100)).corner,
               WithinRel(0.25631 * std::exp(-0.5) / s, 0.01));
}

TEST_CASE("smooth fades show no bands, a fade in steps does", "[render][fade]") {
    for (const double distance : {300.0, 1000.0, 3000.0}) {
        CAPTURE(distance);
        const Onlooker eye{Millimetres{distance}, {}};
        const double soft = figures(fade(blurred_edge(30), -150, 150), eye).band_times_threshold;
        CAPTURE(soft);
        CHECK(soft < 0.05);
        // From nearly black to nearly white, where most could leak through.
        CHECK(
            figures(fade(blurred_edge(30), -150, 150, 800, {8, 0, 0}, {96, 0, 0}), eye).band_times_threshold <
            0.05);
        const Shape steps = [](double x) { return std::round(blurred_edge(30)(x) * 16) / 16; };
        CHECK(figures(fade(steps, -150, 150), eye).bands == colour::Visibility::visible);
    }
}

TEST_CASE("the corners of a straight ramp show as lines, the foot of half a cosine hardly",
          "[render][fade]") {
    for (const double length : {40.0, 80.0, 200.0}) {
        CAPTURE(length);
        const FadeFigures ramp = figures(fade(straight_ramp(length), -1.5 * length, 1.5 * length, 1600));
        const FadeFigures cosine = figures(fade(half_cosine(length), -1.5 * length, 1.5 * length, 1600));
        CHECK(ramp.bands == colour::Visibility::visible);
        CHECK_THAT(std::abs(ramp.band_at.value), WithinAbs(length / 2, 0.02 * length));
        CHECK(cosine.band_times_threshold > 0.7);
        CHECK(cosine.band_times_threshold < 1.6);
        CHECK(ramp.band_times_threshold > 10 * cosine.band_times_threshold);
    }
}

TEST_CASE("stripes in a fade count by Barten's threshold", "[render][fade]") {
    const double mm_per_deg = colour::millimetres_per_degree(Millimetres{1000}).value;
    const auto smooth = fade(blurred_edge(60), -300, 300, 6000);
    for (const double u : {1.0, 2.0, 4.0, 8.0, 12.0})
        for (const double times : {0.3, 0.9, 1.3, 3.0}) {
            const auto f = figures(striped(smooth, times * colour::least_modulation(u), u / mm_per_deg));
            CAPTURE(u, times);
            CHECK_THAT(f.band_times_threshold, WithinRel(times, 0.015));
            CHECK(f.bands == colour::visibility(times));
        }
}

TEST_CASE("stripes as broad as the fade are its shape", "[render][fade]") {
    const auto smooth = fade(blurred_edge(60), -300, 300, 2000);
    const double width = figures(smooth).width.value;
    const double u = 17.4533 / width;
    const auto f = figures(striped(smooth, 3 * colour::least_modulation(u), 1 / width));
    CHECK(f.band_times_threshold < 0.3);
}

TEST_CASE("a road through grey loses chroma, a bent road swings the hue", "[render][fade]") {
    // Chroma 40 at both ends, hue straight on; a dip of 20 half way.
    auto places = fade(half_cosine(80), -100, 100, 801, {40, 40, 0}, {70, 40, 0});
    for (FadePlace& p : places) p.lab.a -= 20 * std::pow(std::sin(std::numbers::pi * (p.lab.L - 40) / 30), 2);
    FadeFigures f = figures(places);
    CHECK_THAT(f.chroma_dip, WithinAbs(20, 0.01));
    CHECK_THAT(f.chroma_dip_share, WithinAbs(0.5, 1e-3));
    CHECK_THAT(f.chroma_dip_at.value, WithinAbs(0, 0.5));
    CHECK_THAT(f.hue_swing.value, WithinAbs(0, 1e-6));
    // The hue goes out by 20 degrees and back at the same chroma.
    places = fade(half_cosine(80), -100, 100, 801, {40, 40, 0}, {70, 40, 0});
    for (FadePlace& p : places) {
        const double h = 20 * std::numbers::pi / 180 * std::sin(std::numbers::pi * (p.lab.L - 40) / 30);
        p.lab.a = 40 * std::cos(h), p.lab.b = 40 * std::sin(h);
    }
    f = figures(places);
    CHECK_THAT(f.hue_swing.value, WithinAbs(20, 0.05));
    CHECK_THAT(f.chroma_dip, WithinAbs(0, 1e-6));
    // Between greys there is no hue to swing.
    CHECK(figures(fade(half_cosine(80), -100, 100)).hue_swing.value == 0);
}

TEST_CASE("a back-step of lightness is its depth, up or down", "[render][fade]") {
    auto places = fade(straight_ramp(100), -100, 100, 801);
    CHECK_THAT(figures(places).back_step, WithinAbs(0, 1e-9));
    CHECK_THAT(figures(mirrored(places)).back_step, WithinAbs(0, 1e-9));
    for (FadePlace& p : places)
        if (p.at_mm > 70) p.lab.L -= 2.5 * std::exp(-std::pow((p.at_mm - 85) / 3, 2));
    CHECK_THAT(figures(places).back_step, WithinAbs(2.5, 0.01));
    CHECK_THAT(figures(mirrored(places)).back_step, WithinAbs(2.5, 0.01));
}

namespace {

// Red to blue with a dip, a swing and stripes: every figure is something.
std::vector<FadePlace> rich(int count, bool uneven = false) {
    std::vector<FadePlace> out;
    for (int i = 0; i < count; ++i) {
        double s = static_cast<double>(i) / (count - 1);
        if (uneven) s += 0.1 * std::sin(2 * std::numbers::pi * s) / (2 * std::numbers::pi);
        const double x = -125 + 250 * s, t = blurred_edge(20)(x), bow = 4 * t * (1 - t);
        const double stripes =
            0.6 * std::cos(2 * std::numbers::pi * x / 18) * std::exp(-std::pow((x - 20) / 40, 2));
        const double L = 45 - 12 * t + stripes;
        out.push_back({x, {L, 55 - 40 * t - 14 * bow, 35 - 75 * t + 6 * bow}});
    }
    return out;
}

void check_alike(const FadeFigures& one, const FadeFigures& other, double share, double place_mm,
                 double sign) {
    const auto same = [share](double a, double b) {
        CHECK_THAT(a, WithinRel(b, share) || WithinAbs(b, 1e-6));
    };
    same(one.width.value, other.width.value);
    same(one.steepest_per_mm, other.steepest_per_mm);
    same(one.steepest_per_deg, other.steepest_per_deg);
    same(one.mean_per_mm, other.mean_per_mm);
    same(one.steepest_over_mean, other.steepest_over_mean);
    same(one.steepest_L_per_deg, other.steepest_L_per_deg);
    same(one.slope_times_threshold, other.slope_times_threshold);
    same(one.largest_step, other.largest_step);
    same(one.band_times_threshold, other.band_times_threshold);
    same(one.corner, other.corner);
    same(one.chroma_dip, other.chroma_dip);
    same(one.chroma_dip_share, other.chroma_dip_share);
    same(one.hue_swing.value, other.hue_swing.value);
    same(one.back_step, other.back_step);
    CHECK_THAT(one.at_half.value, WithinAbs(sign * other.at_half.value, place_mm));
    CHECK_THAT(one.steepest_at.value, WithinAbs(sign * other.steepest_at.value, place_mm));
    CHECK_THAT(one.largest_step_at.value, WithinAbs(sign * other.largest_step_at.value, place_mm));
    CHECK_THAT(one.band_at.value, WithinAbs(sign * other.band_at.value, place_mm));
    CHECK_THAT(one.chroma_dip_at.value, WithinAbs(sign * other.chroma_dip_at.value, place_mm));
}

}  // namespace

TEST_CASE("figures do not depend on how finely or evenly the line is taken", "[render][fade]") {
    const FadeFigures fine = figures(rich(1600));
    CHECK(fine.chroma_dip > 1);
    CHECK(fine.hue_swing.value > 1);
    CHECK(fine.back_step > 0.05);
    CHECK(fine.band_times_threshold > 0.5);
    check_alike(figures(rich(400)), fine, 0.02, 1, 1);
    check_alike(figures(rich(800, true)), fine, 0.02, 1, 1);
}

TEST_CASE("from either end a fade has the same figures", "[render][fade]") {
    for (const bool uneven : {false, true}) {
        const auto places = rich(700, uneven);
        check_alike(figures(mirrored(places)), figures(places), 1e-9, 1e-6, -1);
    }
}

TEST_CASE("small noise leaves the figures as they are", "[render][fade]") {
    auto places = rich(800);
    const FadeFigures clean = figures(places);
    for (std::size_t i = 0; i < places.size(); ++i) {
        const double golden = 0.6180339887498949, n = static_cast<double>(i + 1);
        const auto noise = [n, golden](double k) {
            return 0.01 * (2 * std::fmod(n * n * golden * k, 1.0) - 1);
        };
        places[i].lab.L += noise(1), places[i].lab.a += noise(1.3), places[i].lab.b += noise(1.7);
    }
    const FadeFigures noisy = figures(places);
    CHECK_THAT(noisy.width.value, WithinRel(clean.width.value, 0.005));
    CHECK_THAT(noisy.steepest_per_mm, WithinRel(clean.steepest_per_mm, 0.03));
    CHECK_THAT(noisy.steepest_over_mean, WithinRel(clean.steepest_over_mean, 0.03));
    CHECK_THAT(noisy.largest_step, WithinRel(clean.largest_step, 0.01));
    CHECK_THAT(noisy.corner, WithinRel(clean.corner, 0.03));
    CHECK_THAT(noisy.chroma_dip, WithinAbs(clean.chroma_dip, 0.05));
    CHECK_THAT(noisy.hue_swing.value, WithinAbs(clean.hue_swing.value, 0.2));
    CHECK_THAT(noisy.back_step, WithinAbs(clean.back_step, 0.05));
    CHECK_THAT(noisy.band_times_threshold, WithinAbs(clean.band_times_threshold, 0.5));
}

TEST_CASE("between like colours there is no fade, and a hard edge is one", "[render][fade]") {
    CHECK_FALSE(fade_figures(fade(blurred_edge(20), -100, 100, 100, {50, 0, 0}, {50.9, 0, 0})));
    const FadeFigures edge = figures(fade(blurred_edge(0.01), -100, 100, 400));
    CHECK(edge.width.value < 1);
    CHECK(edge.largest_step > 30);
    CHECK(std::isfinite(edge.corner));
    CHECK(std::isfinite(edge.band_times_threshold));
    CHECK(edge.bands == colour::Visibility::invisible);  // one edge is no band
}

TEST_CASE("the words name the figures", "[render][fade]") {
    const auto words = fade_words(figures(fade(blurred_edge(20), -100, 100)));
    REQUIRE(words.size() == 8);
    CHECK(
        words[0] ==
        "From 10 % to 90 % the fade is 51.3 mm wide, 2.9 degrees seen from 1.0 m; it is half way at 0.0 mm.");
    CHECK(words[3].find("No bands") == 0);
    CHECK(words[4] == "It starts and ends softly (corner 0.15).");
    const auto hard = fade_words(figures(fade(straight_ramp(80), -100, 100)));
    CHECK(hard[1].find("It runs evenly") == 0);
    CHECK(hard[4].find("hard corner") != std::string::npos);
    const auto coloured = fade_words(figures(rich(800)));
    CHECK(coloured[5].find("dull") != std::string::npos);
    for (const auto& list : {words, hard, coloured})
        for (const std::string& sentence : list) CHECK(sentence.back() == '.');
}
