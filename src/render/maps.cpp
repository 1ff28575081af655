#include "fadewright/render/maps.h"

#include "fadewright/base/contract.h"
#include "fadewright/base/parallel.h"
#include "fadewright/render/dot_grain.h"
#include "fadewright/render/spectra.h"
#include "fadewright/spray/curve.h"
#include "fault_grid.h"

#include <algorithm>
#include <cmath>

namespace fadewright::render {
namespace {

// Straight between the middles of cells, beyond the outermost as on them.
double between(const FaultGrid& grid, std::span<const double> values, double x_mm, double y_mm) {
    const Frame& f = grid.frame();
    const double cx = std::clamp((x_mm - f.left_mm) / f.mm_per_px - 0.5, 0.0, f.width - 1.0);
    const double cy = std::clamp((f.top_mm - y_mm) / f.mm_per_px - 0.5, 0.0, f.height - 1.0);
    const auto column = static_cast<std::size_t>(cx), row = static_cast<std::size_t>(cy);
    const auto columns = static_cast<std::size_t>(f.width);
    const std::size_t right = column + 1 < columns ? 1 : 0;
    const std::size_t down = row + 1 < static_cast<std::size_t>(f.height) ? columns : 0;
    const double tx = cx - static_cast<double>(column), ty = cy - static_cast<double>(row);
    const std::size_t i = row * columns + column;
    const double upper = values[i] + tx * (values[i + right] - values[i]);
    const double lower = values[i + down] + tx * (values[i + down + right] - values[i + down]);
    return upper + ty * (lower - upper);
}

template <class Value>
PanelMap mapped(const plan::Job& job, const Frame& frame, const Value& value) {
    PanelMap map;
    map.frame = frame;
    map.values = Image<float>(frame.width, frame.height, 1);
    for_each_index(static_cast<std::size_t>(frame.height), [&](std::size_t row) {
        const int y = static_cast<int>(row);
        for (int x = 0; x < frame.width; ++x) {
            const double x_mm = frame.x_mm(x), y_mm = frame.y_mm(y);
            const bool on = job.panel.inside(x_mm, y_mm);
            *map.values.pixel(x, y) = on ? static_cast<float>(value(x_mm, y_mm)) : -1.0f;
        }
    });
    return map;
}

// What holds of the whole map, from the cells rather than from its pixels.
void sum_up(const FaultGrid& grid, std::span<const double> values, PanelMap& map) {
    const Worst most = worst_of(grid, values, [](std::size_t) { return true; });
    if (!most.any) return;
    map.most = map.least = most.value;
    map.most_x = Millimetres{grid.x(most.cell)};
    map.most_y = Millimetres{grid.y(most.cell)};
    double sum = 0;
    for (std::size_t i = 0; i < grid.size(); ++i) {
        if (!grid.inside(i)) continue;
        sum += values[i];
        map.least = std::min(map.least, values[i]);
    }
    map.mean = sum / grid.cells_inside();
}

}  // namespace

PanelMap film_map(const plan::Job& job, std::size_t coat, const Frame& frame) {
    FW_EXPECTS(coat < job.coats.size());
    const plan::ReadyCoat& of = job.coats[coat];
    constexpr double kFiner = 4;
    const FaultGrid grid(job, kFiner);
    const double dry_share = paint::dry_per_wet(of.mix);
    std::vector<double> film = grid.wet_um(of);
    for (double& f : film) f = of.cover.value + dry_share * f;
    PanelMap map = mapped(job, frame, [&](double x, double y) {
        return between(grid, film, x, y) * (of.masks.empty() ? 1 : of.let_through(x, y));
    });
    const std::vector<double> open = grid.open(of);
    for (std::size_t i = 0; i < open.size(); ++i) film[i] *= open[i];
    sum_up(grid, film, map);
    return map;
}

PanelMap grain_map(const plan::Job& job, const colour::Light& light, const Frame& frame) {
    const FaultGrid grid(job);
    std::vector<double> grain(grid.size(), 0.0);
    const DotGrain dots(job, job.coats.size());
    if (dots.any()) {
        const SeenJob seen(job, light, job.coats.size());
        const std::vector<double>& x = grid.columns();
        const std::size_t columns = x.size();
        for_each_index(grid.size() / columns, [&](std::size_t row) {
            const std::vector<double> y(columns, grid.y(row * columns));
            std::vector<double> roots(columns);
            std::vector<colour::XYZ> xyz(columns);
            const SeenJob::Laid laid = seen.laid(x, y);
            dots.roots_mm(laid.films, laid.grounds, roots);
            seen.xyz(laid, xyz);
            for (std::size_t i = 0; i < columns; ++i) {
                const double Y = xyz[i].Y / seen.white().Y;
                grain[row * columns + i] = seen_grain_L(roots[i], Y, job.view_distance);
            }
        });
    }
    PanelMap map = mapped(job, frame, [&](double px, double py) { return between(grid, grain, px, py); });
    sum_up(grid, grain, map);
    return map;
}

std::vector<PassLine> pass_lines(const plan::Job& job) {
    std::vector<PassLine> lines;
    for (std::size_t c = 0; c < job.coats.size(); ++c) {
        const plan::ReadyCoat& coat = job.coats[c];
        int number = 0;
        for (const spray::Pass& pass : coat.passes) {
            PassLine line{c, ++number, pass.repeats, false, {}, {}, 0};
            const spray::Polyline way = pass.arc      ? spray::arc_line(*pass.arc)
                                        : pass.smooth ? spray::smooth_line(pass.points)
                                                      : spray::straight_line(pass.points);
            line.x_mm = way.x_mm;
            line.y_mm = way.y_mm;
            line.still = way.x_mm.size() < 2;
            if (!pass.distances.empty()) {
                double sum = 0;
                for (const Millimetres d : pass.distances) sum += d.value;
                const Millimetres mean{sum / static_cast<double>(pass.distances.size())};
                line.width_mm = spray::pass_width(*coat.gun, mean).value;
            } else {
                line.width_mm = spray::pass_width(*coat.gun, pass.distance).value;
            }
            lines.push_back(std::move(line));
        }
    }
    return lines;
}

}  // namespace fadewright::render
