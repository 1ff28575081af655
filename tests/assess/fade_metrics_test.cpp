#include "fadewright/assess/fade_metrics.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>

using namespace fadewright;
using namespace fadewright::assess;
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
// A linear ramp through a Gaussian: integral of the blurred edge over the ramp.
Shape blurred_ramp(double length, double sigma) {
    const auto g = [sigma](double x) {
        const double z = x / sigma;
        return x * 0.5 * std::erfc(-z / std::numbers::sqrt2) +
               sigma * std::exp(-z * z / 2) / std::sqrt(2 * std::numbers::pi);
    };
    return [g, length](double x) { return (g(x + length / 2) - g(x - length / 2)) / length; };
}

const Lab kDark{30, 0, 0}, kLight{70, 0, 0};

std::vector<FadeSample> fade(const Shape& shape, double from_mm, double to_mm, int count = 800,
                             Lab start = kDark, Lab end = kLight) {
    std::vector<FadeSample> out;
    for (int i = 0; i < count; ++i) {
        const double x = from_mm + (to_mm - from_mm) * i / (count - 1), t = shape(x);
        out.push_back({x,
                       {start.L + t * (end.L - start.L), start.a + t * (end.a - start.a),
                        start.b + t * (end.b - start.b)}});
    }
    return out;
}

FadeMetrics metrics_of(const std::vector<FadeSample>& samples, const ViewCondition& view = {}) {
    const auto out = fade_metrics(samples, view);
    REQUIRE(out);
    return *out;
}

std::vector<FadeSample> mirrored(const std::vector<FadeSample>& samples) {
    std::vector<FadeSample> out;
    for (auto it = samples.rbegin(); it != samples.rend(); ++it) out.push_back({-it->position_mm, it->lab});
    return out;
}

// Stripes of a contrast as in colour::threshold_modulation(), fading out at the ends of a line from -300 to
// 300 mm.
std::vector<FadeSample> striped(std::vector<FadeSample> samples, double modulation, double cycles_per_mm) {
    for (FadeSample& sample : samples) {
        const double inside = std::clamp((290 - std::abs(sample.position_mm)) / 150, 0.0, 1.0);
        sample.lab.L += colour::lightness_step(sample.lab.L, modulation) * inside * inside *
                        (3 - 2 * inside) *
                        std::sin(2 * std::numbers::pi * cycles_per_mm * sample.position_mm);
    }
    return samples;
}

}  // namespace

TEST_CASE("known shapes have their known widths", "[render][fade]") {
    // Derived, each from its formula.
    CHECK_THAT(metrics_of(fade(blurred_edge(20), -100, 100)).width.value, WithinRel(2.5631 * 20, 1e-3));
    CHECK_THAT(metrics_of(fade(straight_ramp(80), -100, 100)).width.value, WithinRel(0.8 * 80, 1e-3));
    CHECK_THAT(metrics_of(fade(half_cosine(80), -100, 100)).width.value, WithinRel(0.5903 * 80, 1e-3));
    CHECK_THAT(metrics_of(fade(bell_flank(20), 0, 120)).width.value, WithinRel(1.6869 * 20, 1e-3));
    // Printed with three decimals of R.
    CHECK_THAT(metrics_of(fade(fan_flank(60, 1.5), 0, 100)).width.value,
               WithinAbs(0.625 * 60, 0.0005 * 60 + 0.01));
    CHECK_THAT(metrics_of(fade(fan_flank(60, 2.5), 0, 100)).width.value,
               WithinAbs(0.573 * 60, 0.0005 * 60 + 0.01));
}

TEST_CASE("a fade is halfway where its shape is, and its angular width follows from the distance",
          "[render][fade]") {
    const FadeMetrics f = metrics_of(fade(blurred_edge(20), -80, 120), {Millimetres{2000}, {}});
    CHECK_THAT(f.at_half.value, WithinAbs(0, 0.01));
    CHECK_THAT(f.at_90.value, WithinAbs(1.28155 * 20, 0.05));
    CHECK_THAT(f.angular_width.value, WithinRel(f.width.value / 34.9066, 1e-5));
}

TEST_CASE("the ratio of steepest to mean slope is that of the shape", "[render][fade]") {
    // Straight 1; half a cosine (pi / 2) 0.5903 / 0.8; blurred edge 2.5631 / (0.8 sqrt(2 pi)).
    CHECK_THAT(metrics_of(fade(straight_ramp(80), -100, 100)).steepest_over_mean, WithinRel(1.0, 1e-3));
    CHECK_THAT(metrics_of(fade(half_cosine(80), -100, 100)).steepest_over_mean, WithinRel(1.159, 5e-3));
    CHECK_THAT(metrics_of(fade(blurred_edge(20), -100, 100)).steepest_over_mean, WithinRel(1.278, 5e-3));
    // Over its whole length the steepest slope of half a cosine is pi / 2 times the mean.
    const FadeMetrics f = metrics_of(fade(half_cosine(80), -100, 100));
    const double per_mm = f.steepest_L_per_deg / colour::millimetres_per_degree(f.view.distance).value;
    CHECK_THAT(per_mm * 80 / 40, WithinRel(std::numbers::pi / 2, 5e-3));
    CHECK_THAT(f.steepest_L_at.value, WithinAbs(0, 2));
}

TEST_CASE("at mid grey one L* per mm is one dE00 per mm", "[render][fade]") {
    const FadeMetrics f = metrics_of(fade(straight_ramp(40), -50, 50, 800, {49.5, 0, 0}, {50.5, 0, 0}));
    // S_L is 1 at L* 50 and within 0.0001 of it 0.5 aside.
    CHECK_THAT(f.steepest_per_mm, WithinRel(1.0 / 40, 1e-3));
    CHECK_THAT(f.mean_per_mm, WithinRel(1.0 / 40, 1e-3));
    CHECK_THAT(f.steepest_per_deg, WithinRel(17.4533 / 40, 1e-3));
    // Half a degree of it, 8.727 mm.
    CHECK_THAT(f.largest_step, WithinRel(8.7266 / 40, 2e-3));
    CHECK_THAT(f.slope_over_threshold,
               WithinRel(3 / 65.5 * 17.4533 / 40 / colour::threshold_slope_per_deg(), 0.01));
    // From a greater distance more of it is one edge, in the end all of it.
    CHECK_THAT(
        metrics_of(fade(straight_ramp(40), -50, 50, 800, {49.5, 0, 0}, {50.5, 0, 0}), {Millimetres{9000}, {}})
            .largest_step,
        WithinRel(1.0, 2e-3));
}

TEST_CASE("abruptness depends on the blur of the corner", "[render][fade]") {
    // A corner through a Gaussian of sigma has the curvature slope / (sigma sqrt(2 pi)); the measure's own
    // Gaussian w adds to it.
    const double root = std::sqrt(2 * std::numbers::pi);
    CHECK_THAT(metrics_of(fade(straight_ramp(100), -150, 150)).abruptness, WithinRel(1 / root, 0.01));
    for (const double sigma : {4.0, 8.0, 12.0}) {
        const FadeMetrics f = metrics_of(fade(blurred_ramp(100, sigma), -150, 150));
        const double w = f.width.value / 10;
        CAPTURE(sigma, w);
        CHECK_THAT(f.abruptness, WithinRel(w / std::hypot(w, sigma) / root, 0.01));
        CHECK_THAT(std::abs(f.abruptness_at.value), WithinAbs(50, 1));
    }
    // A blurred edge bends most one sigma from its middle, exp(-1/2) / sigma over its slope.
    const double s = std::hypot(1.0, 0.25631);
    CHECK_THAT(metrics_of(fade(blurred_edge(20), -100, 100)).abruptness,
               WithinRel(0.25631 * std::exp(-0.5) / s, 0.01));
}

TEST_CASE("smooth fades show no banding, a fade in steps does", "[render][fade]") {
    for (const double distance : {300.0, 1000.0, 3000.0}) {
        CAPTURE(distance);
        const ViewCondition view{Millimetres{distance}, {}};
        const double soft = metrics_of(fade(blurred_edge(30), -150, 150), view).banding_over_threshold;
        CAPTURE(soft);
        CHECK(soft < 0.05);
        // From nearly black to nearly white, where the fit leaves the largest rest.
        CHECK(metrics_of(fade(blurred_edge(30), -150, 150, 800, {8, 0, 0}, {96, 0, 0}), view)
                  .banding_over_threshold < 0.05);
        const Shape steps = [](double x) { return std::round(blurred_edge(30)(x) * 16) / 16; };
        CHECK(metrics_of(fade(steps, -150, 150), view).banding == colour::Visibility::visible);
    }
}

TEST_CASE("the corners of a linear ramp show as lines, the ends of half a cosine hardly", "[render][fade]") {
    for (const double length : {40.0, 80.0, 200.0}) {
        CAPTURE(length);
        const FadeMetrics ramp = metrics_of(fade(straight_ramp(length), -1.5 * length, 1.5 * length, 1600));
        const FadeMetrics cosine = metrics_of(fade(half_cosine(length), -1.5 * length, 1.5 * length, 1600));
        CHECK(ramp.banding == colour::Visibility::visible);
        CHECK_THAT(std::abs(ramp.banding_at.value), WithinAbs(length / 2, 0.02 * length));
        CHECK(cosine.banding_over_threshold > 0.7);
        CHECK(cosine.banding_over_threshold < 1.6);
        CHECK(ramp.banding_over_threshold > 10 * cosine.banding_over_threshold);
    }
}

TEST_CASE("stripes in a fade count by the contrast threshold of the eye", "[render][fade]") {
    const double mm_per_deg = colour::millimetres_per_degree(Millimetres{1000}).value;
    const auto smooth = fade(blurred_edge(60), -300, 300, 6000);
    for (const double u : {1.0, 2.0, 4.0, 8.0, 12.0})
        for (const double times : {0.3, 0.9, 1.3, 3.0}) {
            const auto f =
                metrics_of(striped(smooth, times * colour::threshold_modulation(u), u / mm_per_deg));
            CAPTURE(u, times);
            CHECK_THAT(f.banding_over_threshold, WithinRel(times, 0.015));
            CHECK(f.banding == colour::visibility(times));
        }
}

TEST_CASE("stripes as broad as the fade belong to its shape", "[render][fade]") {
    const auto smooth = fade(blurred_edge(60), -300, 300, 2000);
    const double width = metrics_of(smooth).width.value;
    const double u = 17.4533 / width;
    const auto f = metrics_of(striped(smooth, 3 * colour::threshold_modulation(u), 1 / width));
    CHECK(f.banding_over_threshold < 0.3);
}

TEST_CASE("a path through grey loses chroma, a curved path shifts the hue", "[render][fade]") {
    // Chroma 40 at both ends, hue straight on; a dip of 20 halfway.
    auto samples = fade(half_cosine(80), -100, 100, 801, {40, 40, 0}, {70, 40, 0});
    for (FadeSample& p : samples)
        p.lab.a -= 20 * std::pow(std::sin(std::numbers::pi * (p.lab.L - 40) / 30), 2);
    FadeMetrics f = metrics_of(samples);
    CHECK_THAT(f.chroma_loss, WithinAbs(20, 0.01));
    CHECK_THAT(f.chroma_loss_share, WithinAbs(0.5, 1e-3));
    CHECK_THAT(f.chroma_loss_at.value, WithinAbs(0, 0.5));
    CHECK_THAT(f.hue_shift.value, WithinAbs(0, 1e-6));
    // The hue goes out by 20 degrees and back at the same chroma.
    samples = fade(half_cosine(80), -100, 100, 801, {40, 40, 0}, {70, 40, 0});
    for (FadeSample& p : samples) {
        const double h = 20 * std::numbers::pi / 180 * std::sin(std::numbers::pi * (p.lab.L - 40) / 30);
        p.lab.a = 40 * std::cos(h), p.lab.b = 40 * std::sin(h);
    }
    f = metrics_of(samples);
    CHECK_THAT(f.hue_shift.value, WithinAbs(20, 0.05));
    CHECK_THAT(f.chroma_loss, WithinAbs(0, 1e-6));
    // Between greys there is no hue to shift.
    CHECK(metrics_of(fade(half_cosine(80), -100, 100)).hue_shift.value == 0);
}

TEST_CASE("a reversal of lightness is its depth, up or down", "[render][fade]") {
    auto samples = fade(straight_ramp(100), -100, 100, 801);
    CHECK_THAT(metrics_of(samples).reversal, WithinAbs(0, 1e-9));
    CHECK_THAT(metrics_of(mirrored(samples)).reversal, WithinAbs(0, 1e-9));
    for (FadeSample& p : samples)
        if (p.position_mm > 70) p.lab.L -= 2.5 * std::exp(-std::pow((p.position_mm - 85) / 3, 2));
    CHECK_THAT(metrics_of(samples).reversal, WithinAbs(2.5, 0.01));
    CHECK_THAT(metrics_of(mirrored(samples)).reversal, WithinAbs(2.5, 0.01));
}

namespace {

// Red to blue with a chroma loss, a hue shift and stripes: no figure is zero.
std::vector<FadeSample> rich(int count, bool uneven = false) {
    std::vector<FadeSample> out;
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

void check_alike(const FadeMetrics& first, const FadeMetrics& second, double share, double place_mm,
                 double sign) {
    const auto same = [share](double a, double b) {
        CHECK_THAT(a, WithinRel(b, share) || WithinAbs(b, 1e-6));
    };
    same(first.width.value, second.width.value);
    same(first.steepest_per_mm, second.steepest_per_mm);
    same(first.steepest_per_deg, second.steepest_per_deg);
    same(first.mean_per_mm, second.mean_per_mm);
    same(first.steepest_over_mean, second.steepest_over_mean);
    same(first.steepest_L_per_deg, second.steepest_L_per_deg);
    same(first.slope_over_threshold, second.slope_over_threshold);
    same(first.largest_step, second.largest_step);
    same(first.banding_over_threshold, second.banding_over_threshold);
    same(first.abruptness, second.abruptness);
    same(first.chroma_loss, second.chroma_loss);
    same(first.chroma_loss_share, second.chroma_loss_share);
    same(first.hue_shift.value, second.hue_shift.value);
    same(first.reversal, second.reversal);
    CHECK_THAT(first.at_half.value, WithinAbs(sign * second.at_half.value, place_mm));
    CHECK_THAT(first.steepest_at.value, WithinAbs(sign * second.steepest_at.value, place_mm));
    CHECK_THAT(first.largest_step_at.value, WithinAbs(sign * second.largest_step_at.value, place_mm));
    CHECK_THAT(first.banding_at.value, WithinAbs(sign * second.banding_at.value, place_mm));
    CHECK_THAT(first.chroma_loss_at.value, WithinAbs(sign * second.chroma_loss_at.value, place_mm));
}

}  // namespace

TEST_CASE("figures do not depend on the number and spacing of the samples", "[render][fade]") {
    const FadeMetrics fine = metrics_of(rich(1600));
    CHECK(fine.chroma_loss > 1);
    CHECK(fine.hue_shift.value > 1);
    CHECK(fine.reversal > 0.05);
    CHECK(fine.banding_over_threshold > 0.5);
    check_alike(metrics_of(rich(400)), fine, 0.02, 1, 1);
    check_alike(metrics_of(rich(800, true)), fine, 0.02, 1, 1);
}

TEST_CASE("a fade has the same figures from either end", "[render][fade]") {
    for (const bool uneven : {false, true}) {
        const auto samples = rich(700, uneven);
        check_alike(metrics_of(mirrored(samples)), metrics_of(samples), 1e-9, 1e-6, -1);
    }
}

TEST_CASE("small noise hardly changes the figures", "[render][fade]") {
    auto samples = rich(800);
    const FadeMetrics clean = metrics_of(samples);
    for (std::size_t i = 0; i < samples.size(); ++i) {
        const double golden = 0.6180339887498949, n = static_cast<double>(i + 1);
        const auto noise = [n, golden](double k) {
            return 0.01 * (2 * std::fmod(n * n * golden * k, 1.0) - 1);
        };
        samples[i].lab.L += noise(1), samples[i].lab.a += noise(1.3), samples[i].lab.b += noise(1.7);
    }
    const FadeMetrics noisy = metrics_of(samples);
    CHECK_THAT(noisy.width.value, WithinRel(clean.width.value, 0.005));
    CHECK_THAT(noisy.steepest_per_mm, WithinRel(clean.steepest_per_mm, 0.03));
    CHECK_THAT(noisy.steepest_over_mean, WithinRel(clean.steepest_over_mean, 0.03));
    CHECK_THAT(noisy.largest_step, WithinRel(clean.largest_step, 0.01));
    CHECK_THAT(noisy.abruptness, WithinRel(clean.abruptness, 0.03));
    CHECK_THAT(noisy.chroma_loss, WithinAbs(clean.chroma_loss, 0.05));
    CHECK_THAT(noisy.hue_shift.value, WithinAbs(clean.hue_shift.value, 0.2));
    CHECK_THAT(noisy.reversal, WithinAbs(clean.reversal, 0.05));
    CHECK_THAT(noisy.banding_over_threshold, WithinAbs(clean.banding_over_threshold, 0.5));
}

TEST_CASE("equal end colours are not a fade, a sharp edge is", "[render][fade]") {
    CHECK_FALSE(fade_metrics(fade(blurred_edge(20), -100, 100, 100, {50, 0, 0}, {50.9, 0, 0})));
    const FadeMetrics edge = metrics_of(fade(blurred_edge(0.01), -100, 100, 400));
    CHECK(edge.width.value < 1);
    CHECK(edge.largest_step > 30);
    CHECK(std::isfinite(edge.abruptness));
    CHECK(std::isfinite(edge.banding_over_threshold));
    CHECK(edge.banding == colour::Visibility::invisible);  // a single edge is not banding
}
