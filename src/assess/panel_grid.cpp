#include "panel_grid.h"

#include "fadewright/base/parallel.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace fadewright::assess {
namespace {

constexpr double kCellsInFinest = 4;  // cells across the finest width of the coats
constexpr double kMaxCells = 120'000;
constexpr double kMinCellsAlong = 250;  // along the longer side
constexpr double kMaxPuffVisits = 4e6;  // for one coat

double overlap_mm2(const geometry::Box& box, const spray::Panel& panel) {
    const double w = std::min(box.x1, panel.width.value) - std::max(box.x0, 0.0);
    const double h = std::min(box.y1, panel.height.value) - std::max(box.y0, 0.0);
    return std::max(0.0, w) * std::max(0.0, h);
}

// Puffs are summed one by one: a coat of many wide puffs allows fewer cells.
double cell_size_for_puffs(const spray::Deposit& deposit, const spray::Panel& panel, double max_visits) {
    const double low = panel.relief ? panel.relief->lowest_mm() : 0;
    const double high = panel.relief ? panel.relief->highest_mm() : 0;
    double covered_mm2 = 0;
    for (const spray::Puff& puff : deposit.puffs())
        covered_mm2 +=
            overlap_mm2(spray::reach(deposit.footprint(), deposit.distance_mm(), puff, low, high), panel);
    return std::sqrt(covered_mm2 / max_visits);
}

double cell_size_mm(const plan::Job& job, double refinement) {
    const double w = job.panel.width.value, h = job.panel.height.value;
    double step = std::max(w, h) / kMinCellsAlong;
    for (const plan::ResolvedCoat& coat : job.coats)
        if (coat.deposit) step = std::min(step, coat.deposit->min_feature_mm() / kCellsInFinest);
    if (job.panel.relief) step = 0;  // edges are finer than any gun
    step = std::max(step, std::sqrt(w * h / (refinement * kMaxCells)));
    for (const plan::ResolvedCoat& coat : job.coats)
        if (coat.deposit)
            step = std::max(step, cell_size_for_puffs(*coat.deposit, job.panel, refinement * kMaxPuffVisits));
    return step;
}

}  // namespace

PanelGrid::PanelGrid(const plan::Job& job, double refinement) {
    const spray::Panel& panel = job.panel;
    const double step = cell_size_mm(job, refinement);
    frame_.mm_per_px = step;
    // An even number: the centre of the panel, where grooves often have their sharp bottom, is not on a cell.
    const auto cells = [step](Millimetres side) {
        return 2 * static_cast<int>(std::ceil(side.value / step / 2));
    };
    frame_.width = cells(panel.width);
    frame_.height = cells(panel.height);
    frame_.left_mm = (panel.width.value - frame_.width * step) / 2;
    frame_.top_mm = (panel.height.value + frame_.height * step) / 2;
    for (int i = 0; i < frame_.width; ++i) xs_.push_back(frame_.x_mm(i));
    const std::size_t columns = xs_.size();
    inside_.resize(columns * static_cast<std::size_t>(frame_.height));
    if (panel.relief) slopes_.resize(inside_.size());
    parallel_for(static_cast<std::size_t>(frame_.height), [&](std::size_t row) {
        for (std::size_t i = row * columns; i < (row + 1) * columns; ++i) {
            if (panel.relief) slopes_[i] = panel.surface(x(i), y(i));
            inside_[i] = panel.inside(x(i), y(i)) && !(panel.relief && slopes_[i].no_surface);
        }
    });
    cells_inside_ = static_cast<double>(std::count(inside_.begin(), inside_.end(), 1));
}

std::vector<double> PanelGrid::wet_um(const plan::ResolvedCoat& coat) const {
    std::vector<double> wet(size(), 0.0);
    if (!coat.deposit) return wet;
    const std::size_t columns = xs_.size();
    parallel_for(size() / columns, [&](std::size_t row) {
        coat.deposit->add_wet_um(xs_, frame_.y_mm(static_cast<int>(row)),
                                 std::span(wet).subspan(row * columns, columns));
    });
    return wet;
}

std::vector<double> PanelGrid::mask_transmission(const plan::ResolvedCoat& coat) const {
    if (coat.masks.empty()) return {};
    std::vector<double> transmission(size(), 1.0);
    const std::size_t columns = xs_.size();
    parallel_for(size() / columns, [&](std::size_t row) {
        for (std::size_t i = row * columns; i < (row + 1) * columns; ++i)
            if (inside(i)) transmission[i] = coat.mask_transmission(x(i), y(i));
    });
    return transmission;
}

Maximum find_maximum(const PanelGrid& grid, std::span<const double> values,
                     const std::function<bool(std::size_t)>& included) {
    constexpr double kAlike = 1e-3;
    Maximum maximum;
    for (std::size_t i = 0; i < grid.size(); ++i)
        if (grid.inside(i) && included(i) && (!maximum.found || values[i] > maximum.value))
            maximum = {values[i], i, true};
    if (!maximum.found) return maximum;
    const double threshold = maximum.value - kAlike * std::abs(maximum.value);
    double x = 0, y = 0, count = 0;
    std::vector<std::size_t> cells;
    for (std::size_t i = 0; i < grid.size(); ++i)
        if (grid.inside(i) && included(i) && values[i] >= threshold) {
            cells.push_back(i);
            x += grid.x(i);
            y += grid.y(i);
            count += 1;
        }
    double nearest = std::numeric_limits<double>::infinity();
    for (const std::size_t i : cells) {
        const double distance = std::hypot(grid.x(i) - x / count, grid.y(i) - y / count);
        if (distance < nearest) {
            nearest = distance;
            maximum.cell = i;
        }
    }
    return maximum;
}

}  // namespace fadewright::assess
