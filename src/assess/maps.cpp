#include "fadewright/assess/maps.h"

#include "fadewright/base/contract.h"
#include "fadewright/base/parallel.h"
#include "fadewright/geometry/polyline.h"
#include "fadewright/render/dot_graininess.h"
#include "fadewright/render/panel_shader.h"
#include "panel_grid.h"

#include <algorithm>
#include <cmath>

namespace fadewright::assess {
namespace {

// Linear between the centres of cells, constant beyond the outermost.
double interpolate(const PanelGrid& grid, std::span<const double> values, double x_mm, double y_mm) {
    const render::Frame& f = grid.frame();
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
PanelMap fill_map(const plan::Job& job, const render::Frame& frame, const Value& value) {
    PanelMap map;
    map.frame = frame;
    map.values = Image<float>(frame.width, frame.height, 1);
    parallel_for(static_cast<std::size_t>(frame.height), [&](std::size_t row) {
        const int y = static_cast<int>(row);
        for (int x = 0; x < frame.width; ++x) {
            const double x_mm = frame.x_mm(x), y_mm = frame.y_mm(y);
            const bool inside = job.panel.inside(x_mm, y_mm);
            *map.values.pixel(x, y) = inside ? static_cast<float>(value(x_mm, y_mm)) : -1.0f;
        }
    });
    return map;
}

// Figures of the whole map, from the cells rather than from its pixels.
void summarise(const PanelGrid& grid, std::span<const double> values, PanelMap& map) {
    const Maximum maximum = find_maximum(grid, values, [](std::size_t) { return true; });
    if (!maximum.found) return;
    map.max = map.min = maximum.value;
    map.max_x = Millimetres{grid.x(maximum.cell)};
    map.max_y = Millimetres{grid.y(maximum.cell)};
    double sum = 0;
    for (std::size_t i = 0; i < grid.size(); ++i) {
        if (!grid.inside(i)) continue;
        sum += values[i];
        map.min = std::min(map.min, values[i]);
    }
    map.mean = sum / grid.cells_inside();
}

}  // namespace

PanelMap film_map(const plan::Job& job, std::size_t coat, const render::Frame& frame) {
    FW_EXPECTS(coat < job.coats.size());
    const plan::ResolvedCoat& map_coat = job.coats[coat];
    constexpr double kFiner = 4;
    const PanelGrid grid(job, kFiner);
    const double dry_share = paint::dry_per_wet(map_coat.mix);
    std::vector<double> film = grid.wet_um(map_coat);
    for (double& f : film) f = map_coat.even_film.value + dry_share * f;
    PanelMap map = fill_map(job, frame, [&](double x, double y) {
        return interpolate(grid, film, x, y) *
               (map_coat.masks.empty() ? 1 : map_coat.mask_transmission(x, y));
    });
    const std::vector<double> open = grid.mask_transmission(map_coat);
    for (std::size_t i = 0; i < open.size(); ++i) film[i] *= open[i];
    summarise(grid, film, map);
    return map;
}

PanelMap grain_map(const plan::Job& job, const colour::Illuminant& light, const render::Frame& frame) {
    const PanelGrid grid(job);
    std::vector<double> grain(grid.size(), 0.0);
    const render::DotGraininess graininess(job, job.coats.size());
    if (graininess.has_dots()) {
        const render::PanelShader shader(job, light, job.coats.size());
        const std::vector<double>& x = grid.columns();
        const std::size_t columns = x.size();
        parallel_for(grid.size() / columns, [&](std::size_t row) {
            const std::vector<double> y(columns, grid.y(row * columns));
            std::vector<double> roots(columns);
            std::vector<colour::XYZ> xyz(columns);
            const render::PanelShader::Samples samples = shader.sample(x, y);
            graininess.graininess_mm(samples.films, samples.grounds, roots);
            shader.xyz(samples, xyz);
            for (std::size_t i = 0; i < columns; ++i) {
                const double Y = xyz[i].Y / shader.white().Y;
                grain[row * columns + i] = render::visible_grain_L(roots[i], Y, job.view_distance);
            }
        });
    }
    PanelMap map =
        fill_map(job, frame, [&](double px, double py) { return interpolate(grid, grain, px, py); });
    summarise(grid, grain, map);
    return map;
}

std::vector<PassLine> pass_lines(const plan::Job& job) {
    std::vector<PassLine> lines;
    for (std::size_t c = 0; c < job.coats.size(); ++c) {
        const plan::ResolvedCoat& coat = job.coats[c];
        int number = 0;
        for (const spray::Pass& pass : coat.passes) {
            PassLine line{c, ++number, pass.repeats, false, {}, {}, 0};
            const geometry::Polyline path = pass.arc      ? geometry::arc_polyline(*pass.arc)
                                            : pass.smooth ? geometry::smooth_polyline(pass.points)
                                                          : geometry::straight_polyline(pass.points);
            line.x_mm = path.x_mm;
            line.y_mm = path.y_mm;
            line.spot = path.x_mm.size() < 2;
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

}  // namespace fadewright::assess
