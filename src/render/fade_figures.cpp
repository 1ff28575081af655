#include "fadewright/render/fade_figures.h"

#include "fade_bands.h"
#include "fade_line.h"

#include "fadewright/base/contract.h"
#include "fadewright/colour/delta_e.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

namespace fadewright::render {
namespace {

using colour::Lab;

constexpr double kStepOfWidth = 1.0 / 200;   // of the even line
constexpr double kSlopeHalf = 1.0 / 20;      // of the width, to either side
constexpr double kCornerSpread = 1.0 / 10;   // of the width
constexpr double kLeastRangeForCorners = 1;  // L*

double length(const Lab& v) noexcept { return std::hypot(v.L, v.a, v.b); }

// Middle of the first place where t has come to the share and the last where it has not yet gone beyond.
double crossing(std::span<const FadePlace> places, std::span<const double> t, double share) {
    const auto between = [&](std::size_t i) {
        const double part = (share - t[i]) / (t[i + 1] - t[i]);
        return places[i].at_mm + part * (places[i + 1].at_mm - places[i].at_mm);
    };
    std::size_t first = 0, last = t.size() - 2;
    while (t[first + 1] < share) ++first;
    while (t[last] > share) --last;
    return (between(first) + between(last)) / 2;
}

void take_width(std::span<const FadePlace> places, FadeFigures& out) {
    const Lab &start = places.front().lab, &end = places.back().lab;
    std::vector<double> t;
    t.reserve(places.size());
    for (const FadePlace& place : places) {
        const double come = delta_e_76(place.lab, start);
        t.push_back(come / (come + delta_e_76(place.lab, end)));
    }
    out.at_10 = Millimetres{crossing(places, t, 0.1)};
    out.at_half = Millimetres{crossing(places, t, 0.5)};
    out.at_90 = Millimetres{crossing(places, t, 0.9)};
    out.width = out.at_90 - out.at_10;
    out.width_at_eye = Degrees{out.width / colour::millimetres_per_degree(out.seen_by.distance)};
}

// dE00 per mm of a small change at a colour.
double small_delta_e(const Lab& at, const Lab& per_mm) {
    const double size = length(per_mm);
    if (size == 0) return 0;
    constexpr double kSmall = 0.02;
    const double half = kSmall / 2 / size;
    return colour::delta_e_2000({at.L - half * per_mm.L, at.a - half * per_mm.a, at.b - half * per_mm.b},
                                {at.L + half * per_mm.L, at.a + half * per_mm.a, at.b + half * per_mm.b}) /
           (2 * half);
}

void take_slopes(const EvenLine& line, FadeFigures& out) {
    const double half = kSlopeHalf * out.width.value;
    const std::vector<double> L = line_slopes(line.L, line.step_mm, half);
    const std::vector<double> a = line_slopes(line.a, line.step_mm, half);
    const std::vector<double> b = line_slopes(line.b, line.step_mm, half);
    const double mm_per_deg = colour::millimetres_per_degree(out.seen_by.distance).value;
    const double least = colour::least_slope_per_deg(out.seen_by.field);

    double steepest_road = 0, road = 0, road_00 = 0, count = 0;
    for (std::size_t i = 0; i < line.size(); ++i) {
        const Millimetres x{line.at_mm(i)};
        const Lab slope{L[i], a[i], b[i]};
        const double seen = small_delta_e(line.lab(i), slope);
        if (seen > out.steepest_per_mm) out.steepest_per_mm = seen, out.steepest_at = x;
        const double light = std::abs(L[i]) * mm_per_deg;
        if (light > out.steepest_L_per_deg) out.steepest_L_per_deg = light, out.steepest_L_at = x;
        const double contrast = colour::contrast_of_lightness_step(std::max(line.L[i], 1.0), light);
        out.slope_times_threshold = std::max(out.slope_times_threshold, contrast / least);
        if (x < out.at_10 || x > out.at_90) continue;
        steepest_road = std::max(steepest_road, length(slope));
        road += length(slope);
        road_00 += seen;
        count += 1;
    }
    out.steepest_per_deg = out.steepest_per_mm * mm_per_deg;
    out.mean_per_mm = road_00 / count;
    out.steepest_over_mean = steepest_road * count / road;
}

// Half the distance to either side of every place of the even line, its middle among them.
void take_largest_step(const EvenLine& line, FadeFigures& out) {
    const double mm_per_deg = colour::millimetres_per_degree(out.seen_by.distance).value;
    const std::size_t last = line.size() - 1;
    const double half =
        std::min(colour::kRampIsStep.value * mm_per_deg / line.step_mm, static_cast<double>(last)) / 2;
    const auto whole = static_cast<std::size_t>(half);
    const auto reach = static_cast<std::size_t>(std::ceil(half));
    const double rest = half - static_cast<double>(whole);
    const auto between = [&](std::size_t near, std::size_t far) -> Lab {
        const Lab n = line.lab(near), f = line.lab(far);
        return {n.L + rest * (f.L - n.L), n.a + rest * (f.a - n.a), n.b + rest * (f.b - n.b)};
    };
    for (std::size_t i = reach; i + reach <= last; ++i) {
        const double step =
            colour::delta_e_2000(between(i - whole, i - reach), between(i + whole, i + reach));
        if (step > out.largest_step)
            out.largest_step = step, out.largest_step_at = Millimetres{line.at_mm(i)};
    }
}

// Wallis & Georgeson 2012: the second Gaussian derivative over the first.
void take_corners(const EvenLine& line, FadeFigures& out) {
    const auto [least, most] = std::minmax_element(line.L.begin(), line.L.end());
    if (*most - *least < kLeastRangeForCorners) return;
    const double w = kCornerSpread * out.width.value;
    constexpr double kReach = 5;
    const auto reach = static_cast<std::size_t>(std::ceil(kReach * w / line.step_mm));
    std::vector<double> first(reach + 1), second(reach + 1);
    double others = 0;
    for (std::size_t i = 0; i <= reach; ++i) {  // in units of w
        const double x = static_cast<double>(i) * line.step_mm / w;
        const double bell = std::exp(-x * x / 2);
        first[i] = x * bell;
        second[i] = (x * x - 1) * bell;
        if (i > 0) others += 2 * second[i];
    }
    second[0] = -others;  // nothing of a straight slope
    const std::vector<double> slope = through(line.L, first, Sides::opposite);
    const std::vector<double> bend = through(line.L, second, Sides::alike);
    double steepest = 0;
    for (const double s : slope) steepest = std::max(steepest, std::abs(s));
    for (std::size_t i = 0; i < bend.size(); ++i) {
        const double corner = std::abs(bend[i]) / steepest;
        if (corner > out.corner) out.corner = corner, out.corner_at = Millimetres{line.at_mm(i)};
    }
}

double hue_between_deg(const Lab& one, const Lab& other) noexcept {
    const double across = one.a * other.b - one.b * other.a, along = one.a * other.a + one.b * other.b;
    return std::abs(std::atan2(across, along)) * 180 / std::numbers::pi;
}

void take_road(std::span<const FadePlace> places, FadeFigures& out) {
    const Lab &start = places.front().lab, &end = places.back().lab;
    const Lab road{end.L - start.L, end.a - start.a, end.b - start.b};
    const double road_2 = road.L * road.L + road.a * road.a + road.b * road.b;
    for (const FadePlace& place : places) {
        const Lab& lab = place.lab;
        const double along =
            (lab.L - start.L) * road.L + (lab.a - start.a) * road.a + (lab.b - start.b) * road.b;
        const double q = std::clamp(along / road_2, 0.0, 1.0);
        const Lab straight{start.L + q * road.L, start.a + q * road.a, start.b + q * road.b};
        const double C = std::hypot(lab.a, lab.b), C_straight = std::hypot(straight.a, straight.b);
        if (C_straight - C > out.chroma_dip) {
            out.chroma_dip = C_straight - C;
            out.chroma_dip_share = out.chroma_dip / C_straight;
            out.chroma_dip_at = Millimetres{place.at_mm};
        }
        if (C <= kLeastHueChroma || C_straight <= kLeastHueChroma) continue;
        const Degrees swing{hue_between_deg(lab, straight)};
        if (swing > out.hue_swing) out.hue_swing = swing, out.hue_swing_at = Millimetres{place.at_mm};
    }
}

// sign 1 for a fade that should get lighter, -1 darker.
void take_back_step(std::span<const FadePlace> places, FadeFigures& out) {
    const auto deepest = [places](double sign) {
        double reached = sign * places.front().lab.L, back = 0, at = places.front().at_mm;
        for (const FadePlace& place : places) {
            reached = std::max(reached, sign * place.lab.L);
            if (reached - sign * place.lab.L > back) back = reached - sign * place.lab.L, at = place.at_mm;
        }
        return std::pair{back, at};
    };
    const auto [back, at] = std::min(deepest(1), deepest(-1));
    out.back_step = back;
    out.back_step_at = Millimetres{at};
}

}  // namespace

std::optional<FadeFigures> fade_figures(std::span<const FadePlace> places, const Onlooker& seen_by) {
    FW_EXPECTS(places.size() >= 3);
    FW_EXPECTS(seen_by.distance.value > 0);
    if (delta_e_76(places.front().lab, places.back().lab) < kLeastFade) return std::nullopt;
    FadeFigures out;
    out.seen_by = seen_by;
    take_width(places, out);
    const EvenLine line = even_line(places, kStepOfWidth * out.width.value);
    take_slopes(line, out);
    take_largest_step(line, out);
    take_corners(line, out);
    take_road(places, out);
    take_back_step(places, out);
    const Bands strongest = bands(places, out.width.value, seen_by);
    out.band_times_threshold = strongest.times_threshold;
    out.band_at = Millimetres{strongest.at_mm};
    out.bands = colour::visibility(strongest.times_threshold);
    return out;
}

}  // namespace fadewright::render
