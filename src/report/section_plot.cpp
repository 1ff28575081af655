#include "fadewright/colour/srgb.h"
#include "fadewright/report/axes.h"
#include "fadewright/report/canvas.h"
#include "fadewright/report/section_report.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace fadewright::report {
namespace {

constexpr int kWidth = 1600;
constexpr int kHeight = 1180;
constexpr double kLeft = 130, kRight = 1240;  // of the plots; the legend stands to the right
constexpr double kLegend = 1270;

// Colours that stay apart for colour-blind readers. Source: [okabe2008].
constexpr std::array kLines{Rgb{0, 114, 178}, Rgb{213, 94, 0},   Rgb{0, 158, 115}, Rgb{204, 121, 167},
                            Rgb{230, 159, 0}, Rgb{86, 180, 233}, Rgb{90, 90, 90}};

Rgb line_colour(std::size_t i) { return kLines[i % kLines.size()]; }

void draw_strip(Canvas& canvas, const assess::Section& section, double top, double height) {
    const double length = section.samples.back().along.value;
    for (int x = static_cast<int>(kLeft); x < static_cast<int>(kRight); ++x) {
        const double along = (x + 0.5 - kLeft) / (kRight - kLeft) * length;
        const auto next =
            std::lower_bound(section.samples.begin() + 1, section.samples.end() - 1, along,
                             [](const assess::SectionSample& p, double v) { return p.along.value < v; });
        const assess::SectionSample& a = *(next - 1);
        const assess::SectionSample& b = *next;
        const double t = std::clamp((along - a.along.value) / (b.along - a.along).value, 0.0, 1.0);
        const colour::Lab lab{a.lab.L + t * (b.lab.L - a.lab.L), a.lab.a + t * (b.lab.a - a.lab.a),
                              a.lab.b + t * (b.lab.b - a.lab.b)};
        const auto rgb = colour::srgb_bytes(lab);
        canvas.fill(x, top, 1, height, {rgb[0], rgb[1], rgb[2]});
    }
    canvas.frame(kLeft, top, kRight - kLeft, height, kFaintInk);
}

using Value = double (*)(const colour::Lab&);

void draw_lab(Canvas& canvas, const assess::Section& section, const Axes& axes) {
    const std::array<std::pair<const char*, Value>, 3> curves{
        {{"L* lightness", [](const colour::Lab& c) { return c.L; }},
         {"a* green to red", [](const colour::Lab& c) { return c.a; }},
         {"b* blue to yellow", [](const colour::Lab& c) { return c.b; }}}};
    for (std::size_t i = 0; i < curves.size(); ++i) {
        std::vector<std::pair<double, double>> points;
        for (const assess::SectionSample& point : section.samples)
            points.push_back(axes.to_pixels(point.along.value, curves[i].second(point.lab)));
        canvas.line(points, line_colour(i), 3);
        draw_legend_key(canvas, kLegend, axes.top + 20 + 34 * static_cast<double>(i), line_colour(i),
                        curves[i].first);
    }
}

void draw_films(Canvas& canvas, const assess::Section& section, const Axes& axes) {
    for (std::size_t c = 0; c < section.coats.size(); ++c) {
        std::vector<std::pair<double, double>> points;
        for (const assess::SectionSample& point : section.samples)
            points.push_back(axes.to_pixels(point.along.value, point.films[c].value));
        canvas.line(points, line_colour(c), 3);
        draw_legend_key(canvas, kLegend, axes.top + 20 + 34 * static_cast<double>(c), line_colour(c),
                        section.coats[c]);
    }
}

std::pair<double, double> lab_range(const assess::Section& section) {
    double low = 0, high = 1;
    for (const assess::SectionSample& p : section.samples) {
        low = std::min({low, p.lab.L, p.lab.a, p.lab.b});
        high = std::max({high, p.lab.L, p.lab.a, p.lab.b});
    }
    return {low, high};
}

double largest_film(const assess::Section& section) {
    double maximum = 1;
    for (const assess::SectionSample& p : section.samples)
        for (const Micrometres film : p.films) maximum = std::max(maximum, film.value);
    return maximum;
}

}  // namespace

Picture section_plot(const assess::Section& section, const std::string& title, DisplayUnits units) {
    Canvas canvas(kWidth, kHeight);
    canvas.text(kLeft, 44, title.empty() ? "Cross-section" : title, {30, kInk, Align::left, Weight::bold});
    canvas.text(kLeft, 84, "light: " + section.light, {20, kFaintInk});
    draw_strip(canvas, section, 112, 110);
    const double length = section.samples.back().along.value;
    const auto [low, high] = lab_range(section);
    const Axes lab =
        make_axes({kLeft, kRight, 270, 660}, {0, length}, {low, high}, {units.unit_size<Millimetres>(), 1});
    draw_axes(canvas, lab, "", "L*, a*, b*");
    draw_lab(canvas, section, lab);
    const Axes film = make_axes({kLeft, kRight, 720, 1090}, {0, length}, {0, largest_film(section)},
                                {units.unit_size<Millimetres>(), units.unit_size<Micrometres>()});
    draw_axes(canvas, film, fmt::format("{} along the line", units.length_unit_plural()),
              fmt::format("dry film, {}", units.unit_name<Micrometres>()));
    draw_films(canvas, section, film);
    return canvas.picture();
}

}  // namespace fadewright::report
