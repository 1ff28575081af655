#include "fadewright/render/form.h"

#include <algorithm>
#include <cmath>

namespace fadewright::render {
namespace {

using spray::Corner;

struct Box {
    double x0, y0, width, height;
};

Box middle_of(const spray::Panel& panel, double width_mm, double height_mm) {
    return {(panel.width.value - width_mm) / 2, (panel.height.value - height_mm) / 2, width_mm, height_mm};
}

void put_on(plan::Job& job, spray::Outline outline, spray::ReliefPart part) {
    const spray::Box over{0, 0, job.panel.width.value, job.panel.height.value};
    job.panel.corner_radius = {};
    job.panel.outline = std::make_shared<spray::Outline>(std::move(outline));
    job.panel.relief = std::make_shared<spray::Relief>(std::vector<spray::ReliefPart>{std::move(part)}, over);
    job.regions.clear();
    const Millimetres finest = 0.02 * std::min(job.panel.width, job.panel.height);
    job.finest = job.finest.value > 0 ? std::min(job.finest, finest) : finest;
}

void put_on_dome(plan::Job& job) {
    const Millimetres radius = 0.5 * std::min(job.panel.width, job.panel.height);
    const Corner centre{job.panel.width.value / 2, job.panel.height.value / 2};
    put_on(job, spray::Outline::circle(centre, radius), spray::Dome{centre, radius, 0.75 * radius});
}

void put_on_cylinder(plan::Job& job) {
    const Corner through{job.panel.width.value / 2, job.panel.height.value / 2};
    put_on(job, spray::Outline::rectangle(job.panel.width, job.panel.height, {}),
           spray::Cylinder{through, Degrees{0}, 0.515 * job.panel.height});
}

// The drop in a box of its own: x from the nose, both 0 to 1 and -1 to 1.
double drop_half(double x) {
    const double most = 2 / (3 * std::sqrt(3.0));  // of sqrt(x) (1 - x), at x = 1/3
    return x <= 0 || x >= 1 ? 0 : std::sqrt(x) * (1 - x) / most;
}

double drop_height(double x, double y) {
    constexpr double deep = 0.6, fullness = 2.4, steep = 8;
    const double half = drop_half(x);
    if (half <= 0) return -steep;
    const double v = std::abs(y) / half;
    if (v >= 1) return -steep * (v - 1) * half;  // the body goes on below the rim
    return deep * half * std::pow(1 - std::pow(v, fullness), 1 / fullness);
}

void put_on_drop(plan::Job& job) {
    constexpr double slender = 2.4;  // length to height
    constexpr int corners = 240, cells_long = 600;
    const double length = std::min(job.panel.width.value, slender * job.panel.height.value);
    const Box box = middle_of(job.panel, length, length / slender);
    const double half = box.height / 2, middle = box.y0 + half;
    spray::Ring ring;
    for (int i = 0; i < corners; ++i) {
        // Corners close together at the round nose.
        const double t = 2.0 * i / corners - 1, x = t * t;
        ring.push_back({box.x0 + x * length, middle + (t < 0 ? -1 : 1) * half * drop_half(x)});
    }
    // A little wider than the drop, so that the body goes on beyond its rim.
    const double cell = length / cells_long, beyond = 8 * cell;
    const int columns = cells_long + 16, rows = static_cast<int>(std::ceil(box.height / cell)) + 16;
    std::vector<float> heights;
    for (int j = 0; j < rows; ++j)
        for (int i = 0; i < columns; ++i) {
            const double x = ((i + 0.5) * cell - beyond) / length, y = ((j + 0.5) * cell - beyond) / half - 1;
            heights.push_back(static_cast<float>(half * drop_height(x, y)));
        }
    const double x0 = box.x0 - beyond, y0 = box.y0 - beyond;
    const spray::Box over{x0, y0, x0 + columns * cell, y0 + rows * cell};
    put_on(job, spray::Outline({std::move(ring)}), spray::HeightMap(over, columns, rows, std::move(heights)));
}

}  // namespace

plan::Job on_form(const plan::Job& job, Form form) {
    plan::Job out = job;
    switch (form) {
        case Form::panel:
            break;
        case Form::dome:
            put_on_dome(out);
            break;
        case Form::cylinder:
            put_on_cylinder(out);
            break;
        case Form::speed_shape:
            put_on_drop(out);
            break;
    }
    return out;
}

plan::Job before_clear(plan::Job job) {
    while (!job.coats.empty() && job.coats.back().clear) job.coats.pop_back();
    job.surface = plan::Surface::matt;
    return job;
}

}  // namespace fadewright::render
