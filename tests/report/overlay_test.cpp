#include "fadewright/report/overlay.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <array>
#include <cmath>

using namespace fadewright;
using report::Rgb;

namespace {

double luminance(Rgb c) {
    const auto linear = [](double v) {
        v /= 255;
        return v <= 0.04045 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4);
    };
    return 0.2126 * linear(c.r) + 0.7152 * linear(c.g) + 0.0722 * linear(c.b);
}

double lightness(Rgb c) { return 116 * std::cbrt(luminance(c)) - 16; }

Rgb at(const Picture& picture, int x, int y) {
    const std::uint8_t* p = picture.pixel(x, y);
    return {p[0], p[1], p[2]};
}

std::size_t count_of(const Picture& picture, Rgb colour, int above_row) {
    std::size_t count = 0;
    for (int y = 0; y < above_row; ++y)
        for (int x = 0; x < picture.width; ++x) count += at(picture, x, y) == colour;
    return count;
}

// A panel of 1200 × 600 mm, one pixel per millimetre, no margin.
const render::Frame kFrame{1200, 600, 1, 0, 600};
const spray::Panel kPanel{Millimetres{1200.0}, Millimetres{600.0}, {}, nullptr, nullptr};

Picture grey_picture() {
    Picture picture(1200, 600, 3);
    std::fill(picture.samples.begin(), picture.samples.end(), std::uint8_t{128});
    return picture;
}

// Rises evenly from left to right.
assess::PanelMap slope(double maximum) {
    assess::PanelMap map;
    map.frame = kFrame;
    map.values = Image<float>(1200, 600, 1);
    for (int y = 0; y < 600; ++y)
        for (int x = 0; x < 1200; ++x) *map.values.pixel(x, y) = static_cast<float>(maximum * x / 1199);
    for (int x = 0; x < 100; ++x) *map.values.pixel(x, 0) = -1;
    map.max = maximum;
    map.mean = maximum / 2;
    map.max_x = Millimetres{1199.0};
    map.max_y = Millimetres{300.0};
    return map;
}

// One cell per 10 mm; severity of that kind on the left half.
assess::Defects defects_of(assess::DefectKind kind, float severity) {
    assess::Defects defects;
    defects.map.frame = {120, 60, 10, 0, 600};
    defects.map.scores = Image<float>(120, 60, 6);
    for (int y = 0; y < 60; ++y)
        for (int x = 0; x < 60; ++x)
            defects.map.scores.pixel(x, y)[static_cast<std::size_t>(kind)] = severity;
    assess::Defect defect;
    defect.kind = kind;
    defect.coat = "plum";
    defect.severity = severity >= 2 ? assess::Severity::problem : assess::Severity::check;
    defect.x = Millimetres{200.0};
    defect.y = Millimetres{300.0};
    defects.list = {assess::Defect{}, defect};
    return defects;
}

}  // namespace

TEST_CASE("The colour map rises evenly in lightness, also in grey", "[report]") {
    double before = -1;
    for (int i = 0; i <= 100; ++i) {
        const double L = lightness(report::colormap(i / 100.0));
        INFO("at " << i << " %");
        CHECK(L > before);
        CHECK(L == Approx(15 + 0.78 * i).margin(2.5));
        before = L;
    }
    CHECK(report::colormap(-1) == report::colormap(0));
    CHECK(report::colormap(7) == report::colormap(1));
}

TEST_CASE("Colours of kinds and of the first coats differ", "[report]") {
    for (std::size_t i = 0; i < 6; ++i)
        for (std::size_t j = 0; j < i; ++j) {
            CHECK_FALSE(report::defect_colour(assess::kDefectKinds[i]) ==
                        report::defect_colour(assess::kDefectKinds[j]));
            CHECK_FALSE(report::coat_colour(i) == report::coat_colour(j));
        }
}

TEST_CASE("A film sheet shows every value in its colour, on a round scale", "[report]") {
    const Picture sheet = report::film_sheet(slope(20), "plum", "A panel");
    CHECK(sheet.width == 1200);
    CHECK(sheet.height > 700);  // the legend
    // 20 µm is the end of the scale, 10 µm its centre.
    CHECK(at(sheet, 600, 100) == report::colormap(20.0 * 600 / 1199 / 20));
    CHECK(at(sheet, 200, 500) == report::colormap(200.0 / 1199));
    CHECK(at(sheet, 50, 0) == at(sheet, 99, 0));  // off the panel
    CHECK_FALSE(at(sheet, 50, 0) == report::colormap(0));
    // The whole colour map is in the legend.
    const Picture bar = sheet;
    for (const double share : {0.25, 0.5, 0.75}) {
        bool found = false;
        for (int y = 600; y < bar.height && !found; ++y)
            for (int x = 0; x < bar.width && !found; ++x) {
                const Rgb c = at(bar, x, y), r = report::colormap(share);
                found = std::abs(c.r - r.r) + std::abs(c.g - r.g) + std::abs(c.b - r.b) <= 3;
            }
        CHECK(found);
    }
    // The maximum is ringed.
    CHECK_FALSE(report::film_sheet(slope(0), "plum", "A panel") == sheet);
    CHECK(count_of(sheet, report::kInk, 600) > 20);
}

TEST_CASE("A graininess sheet keeps its scale if nothing is grainy", "[report]") {
    const Picture sheet = report::graininess_sheet(slope(0), Millimetres{400.0}, "A panel");
    CHECK(at(sheet, 600, 300) == report::colormap(0));
    CHECK(count_of(sheet, report::kInk, 600) == 0);  // no ring
}

TEST_CASE("Passes are drawn in position, in the colour of their coat", "[report]") {
    assess::PassLine level{1, 1, 2, false, {-100, 1300}, {200, 200}, 80};
    assess::PassLine spot{0, 1, 1, true, {900}, {450}, 100};
    const Picture sheet =
        report::passes_sheet(grey_picture(), kFrame, {level, spot}, {"base", "plum"}, "A panel");
    // 200 mm up is row 400.
    std::size_t on = 0;
    for (int x = 0; x < 1200; ++x)
        for (int y = 398; y <= 402; ++y)
            if (at(sheet, x, y) == report::coat_colour(1)) {
                ++on;
                break;
            }
    CHECK(on > 1000);
    CHECK(at(sheet, 300, 300) == Rgb{128, 128, 128});
    // The ring of the spot is as wide as the pattern: 50 mm about (900, 450), row 150.
    bool ring = false;
    for (int x = 947; x <= 953; ++x) ring = ring || at(sheet, x, 150) == report::coat_colour(0);
    CHECK(ring);
    CHECK(at(sheet, 930, 150) == Rgb{128, 128, 128});
}

TEST_CASE("Problems are solid, risks paler, and striping is hatched", "[report]") {
    using assess::DefectKind;
    const auto colour_at = [](DefectKind kind, float severity, int x, int y) {
        return at(
            report::defects_sheet(grey_picture(), kFrame, defects_of(kind, severity), kPanel, "A panel"), x,
            y);
    };
    const auto distance = [](Rgb a, Rgb b) {
        return std::abs(a.r - b.r) + std::abs(a.g - b.g) + std::abs(a.b - b.b);
    };
    const Rgb sag = report::defect_colour(DefectKind::sag);
    const int problem = distance(colour_at(DefectKind::sag, 2.5f, 400, 100), sag);
    const int risk = distance(colour_at(DefectKind::sag, 1.5f, 400, 100), sag);
    const int ok = distance(colour_at(DefectKind::sag, 0.5f, 400, 100), sag);
    CHECK(problem < risk);
    CHECK(risk < ok);
    CHECK(colour_at(DefectKind::sag, 2.5f, 900, 100) == colour_at(DefectKind::sag, 0.5f, 400, 100));
    const Picture hatched = report::defects_sheet(grey_picture(), kFrame,
                                                  defects_of(DefectKind::striping, 2.5f), kPanel, "A panel");
    int coloured = 0;
    for (int x = 300; x < 500; ++x) coloured += !(at(hatched, x, 100) == at(hatched, 900, 100));
    CHECK(coloured > 60);
    CHECK(coloured < 140);
}
