#include "fault_grid.h"

#include "fadewright/base/parallel.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace fadewright::render {
namespace {

constexpr double kStepsInFinest = 4;  // cells in the width of the finest thing laid
constexpr double kMostCells = 120'000;
constexpr double kFewestAlong = 250;     // cells along the longer side, at least
constexpr double kMostPuffVisits = 4e6;  // for one coat

double overlap_mm2(const spray::Box& box, const spray::Panel& panel) {
    const double w = std::min(box.x1, panel.width.value) - std::max(box.x0, 0.0);
    const double h = std::min(box.y1, panel.height.value) - std::max(box.y0, 0.0);
    return std::max(0.0, w) * std::max(0.0, h);
}

// Puffs are summed one by one, so that a coat of many wide ones allows fewer cells.
double step_for_puffs(const spray::Deposit& deposit, const spray::Panel& panel, double visits) {
    const double low = panel.relief ? panel.relief->lowest_mm() : 0;
    const double high = panel.relief ? panel.relief->highest_mm() : 0;
    double covered_mm2 = 0;
    for (const spray::Puff& puff : deposit.puffs())
        covered_mm2 +=
            overlap_mm2(spray::reach(deposit.footprint(), deposit.distance_mm(), puff, low, high), panel);
    return std::sqrt(covered_mm2 / visits);
}

double step_of(const plan::Job& job, double finer) {
    const double w = job.panel.width.value, h = job.panel.height.value;
    double step = std::max(w, h) / kFewestAlong;
    for (const plan::ReadyCoat& coat : job.coats)
        if (coat.deposit) step = std::min(step, coat.deposit->finest_mm() / kStepsInFinest);
    if (job.panel.relief) step = 0;  // edges are finer than any gun
    step = std::max(step, std::sqrt(w * h / (finer * kMostCells)));
    for (const plan::ReadyCoat& coat : job.coats)
        if (coat.deposit)
            step = std::max(step, step_for_puffs(*coat.deposit, job.panel, finer * kMostPuffVisits));
    return step;
}

}  // namespace

FaultGrid::FaultGrid(const plan::Job& job, double finer) : units_(job.units) {
    const spray::Panel& panel = job.panel;
    const double step = step_of(job, finer);
    frame_.mm_per_px = step;
    // An even number: the panel's middle, where grooves like to have their sharp bottom, is on no cell.
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
    for_each_index(static_cast<std::size_t>(frame_.height), [&](std::size_t row) {
        for (std::size_t i = row * columns; i < (row + 1) * columns; ++i) {
            if (panel.relief) slopes_[i] = panel.surface(x(i), y(i));
            inside_[i] = panel.inside(x(i), y(i)) && !(panel.relief && slopes_[i].ends);
        }
    });
    cells_inside_ = static_cast<double>(std::count(inside_.begin(), inside_.end(), 1));
}

std::vector<double> FaultGrid::wet_um(const plan::ReadyCoat& coat) const {
    std::vector<double> wet(size(), 0.0);
    if (!coat.deposit) return wet;
    const std::size_t columns = xs_.size();
    for_each_index(size() / columns, [&](std::size_t row) {
        coat.deposit->add_wet_um(xs_, frame_.y_mm(static_cast<int>(row)),
                                 std::span(wet).subspan(row * columns, columns));
    });
    return wet;
}

std::vector<double> FaultGrid::open(const plan::ReadyCoat& coat) const {
    if (coat.masks.empty()) return {};
    std::vector<double> share(size(), 1.0);
    const std::size_t columns = xs_.size();
    for_each_index(size() / columns, [&](std::size_t row) {
        for (std::size_t i = row * columns; i < (row + 1) * columns; ++i)
            if (inside(i)) share[i] = coat.let_through(x(i), y(i));
    });
    return share;
}

Worst worst_of(const FaultGrid& grid, std::span<const double> values,
               const std::function<bool(std::size_t)>& counts) {
    constexpr double kAlike = 1e-3;
    Worst worst;
    for (std::size_t i = 0; i < grid.size(); ++i)
        if (grid.inside(i) && counts(i) && (!worst.any || values[i] > worst.value))
            worst = {values[i], i, true};
    if (!worst.any) return worst;
    const double alike = worst.value - kAlike * std::abs(worst.value);
    double x = 0, y = 0, count = 0;
    std::vector<std::size_t> cells;
    for (std::size_t i = 0; i < grid.size(); ++i)
        if (grid.inside(i) && counts(i) && values[i] >= alike) {
            cells.push_back(i);
            x += grid.x(i);
            y += grid.y(i);
            count += 1;
        }
    double nearest = std::numeric_limits<double>::infinity();
    for (const std::size_t i : cells) {
        const double away = std::hypot(grid.x(i) - x / count, grid.y(i) - y / count);
        if (away < nearest) {
            nearest = away;
            worst.cell = i;
        }
    }
    return worst;
}

}  // namespace fadewright::render
