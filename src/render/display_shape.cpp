#include "fadewright/render/display_shape.h"

#include <algorithm>
#include <cmath>

namespace fadewright::render {
namespace {

using geometry::PlanePoint;

struct Box {
    double x0, y0, width, height;
};

Box centred_box(const spray::Panel& panel, double width_mm, double height_mm) {
    return {(panel.width.value - width_mm) / 2, (panel.height.value - height_mm) / 2, width_mm, height_mm};
}

void set_shape(plan::Job& job, geometry::Outline outline, spray::ReliefPart part) {
    const geometry::Box extent{0, 0, job.panel.width.value, job.panel.height.value};
    job.panel.corner_radius = {};
    job.panel.outline = std::make_shared<geometry::Outline>(std::move(outline));
    job.panel.relief =
        std::make_shared<spray::Relief>(std::vector<spray::ReliefPart>{std::move(part)}, extent);
    job.regions.clear();
    const Millimetres finest = 0.02 * std::min(job.panel.width, job.panel.height);
    job.finest_detail = job.finest_detail.value > 0 ? std::min(job.finest_detail, finest) : finest;
}

void set_dome(plan::Job& job) {
    const Millimetres radius = 0.5 * std::min(job.panel.width, job.panel.height);
    const PlanePoint centre{job.panel.width.value / 2, job.panel.height.value / 2};
    set_shape(job, geometry::Outline::circle(centre, radius), spray::Dome{centre, radius, 0.75 * radius});
}

void set_cylinder(plan::Job& job) {
    const PlanePoint point{job.panel.width.value / 2, job.panel.height.value / 2};
    set_shape(job, geometry::Outline::rectangle(job.panel.width, job.panel.height, {}),
              spray::Cylinder{point, Degrees{0}, 0.515 * job.panel.height});
}

// Half height of the drop, 0 to 1; x from the nose, 0 to 1.
double drop_half_height(double x) {
    const double peak = 2 / (3 * std::sqrt(3.0));  // of sqrt(x) (1 - x), at x = 1/3
    return x <= 0 || x >= 1 ? 0 : std::sqrt(x) * (1 - x) / peak;
}

double drop_height(double x, double y) {
    constexpr double depth = 0.6, fullness = 2.4, steep = 8;
    const double half = drop_half_height(x);
    if (half <= 0) return -steep;
    const double v = std::abs(y) / half;
    if (v >= 1) return -steep * (v - 1) * half;  // the body continues below the edge
    return depth * half * std::pow(1 - std::pow(v, fullness), 1 / fullness);
}

void set_drop(plan::Job& job) {
    constexpr double aspect = 2.4;  // length to height
    constexpr int corners = 240, cells_long = 600;
    const double length = std::min(job.panel.width.value, aspect * job.panel.height.value);
    const Box box = centred_box(job.panel, length, length / aspect);
    const double half = box.height / 2, centre_y = box.y0 + half;
    geometry::Ring ring;
    for (int i = 0; i < corners; ++i) {
        // Corners closer together at the round nose.
        const double t = 2.0 * i / corners - 1, x = t * t;
        ring.push_back({box.x0 + x * length, centre_y + (t < 0 ? -1 : 1) * half * drop_half_height(x)});
    }
    // A little wider than the drop, so that the body continues beyond its edge.
    const double cell = length / cells_long, margin = 8 * cell;
    const int columns = cells_long + 16, rows = static_cast<int>(std::ceil(box.height / cell)) + 16;
    std::vector<float> heights;
    for (int j = 0; j < rows; ++j)
        for (int i = 0; i < columns; ++i) {
            const double x = ((i + 0.5) * cell - margin) / length, y = ((j + 0.5) * cell - margin) / half - 1;
            heights.push_back(static_cast<float>(half * drop_height(x, y)));
        }
    const double x0 = box.x0 - margin, y0 = box.y0 - margin;
    const geometry::Box extent{x0, y0, x0 + columns * cell, y0 + rows * cell};
    set_shape(job, geometry::Outline({std::move(ring)}),
              spray::HeightMap(extent, columns, rows, std::move(heights)));
}

}  // namespace

plan::Job with_shape(const plan::Job& job, DisplayShape shape) {
    plan::Job out = job;
    switch (shape) {
        case DisplayShape::panel:
            break;
        case DisplayShape::dome:
            set_dome(out);
            break;
        case DisplayShape::cylinder:
            set_cylinder(out);
            break;
        case DisplayShape::speed_shape:
            set_drop(out);
            break;
    }
    return out;
}

plan::Job without_clear(plan::Job job) {
    while (!job.coats.empty() && job.coats.back().clear) job.coats.pop_back();
    job.surface = plan::Surface::matt;
    return job;
}

}  // namespace fadewright::render
