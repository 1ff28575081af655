// Places all over the panel at which faults are looked for: square cells, the same to the left as to the right.
#pragma once

#include "fadewright/plan/job.h"
#include "fadewright/render/frame.h"

#include <functional>
#include <span>
#include <vector>

namespace fadewright::render {

class FaultGrid {
public:
    // finer: so many times as many cells as faults are looked for on, at the most.
    explicit FaultGrid(const plan::Job& job, double finer = 1);

    [[nodiscard]] const Frame& frame() const noexcept { return frame_; }
    [[nodiscard]] std::size_t size() const noexcept { return inside_.size(); }
    [[nodiscard]] bool inside(std::size_t i) const noexcept { return inside_[i] != 0; }
    [[nodiscard]] double x(std::size_t i) const { return xs_[i % xs_.size()]; }
    [[nodiscard]] double y(std::size_t i) const { return frame_.y_mm(static_cast<int>(i / xs_.size())); }
    [[nodiscard]] const std::vector<double>& columns() const noexcept { return xs_; }
    [[nodiscard]] double cells_inside() const noexcept { return cells_inside_; }
    [[nodiscard]] ShownUnits units() const noexcept { return units_; }  // of words
    // None on a flat panel.
    [[nodiscard]] const std::vector<spray::Slope>& slopes() const noexcept { return slopes_; }

    // Of a coat's passes, no mask over them.
    [[nodiscard]] std::vector<double> wet_um(const plan::ReadyCoat& coat) const;
    // Share that the masks let through; empty without masks.
    [[nodiscard]] std::vector<double> open(const plan::ReadyCoat& coat) const;

private:
    Frame frame_;
    std::vector<double> xs_;
    std::vector<char> inside_;
    std::vector<spray::Slope> slopes_;
    double cells_inside_ = 0;
    ShownUnits units_;
};

// The greatest value of the cells that count, and where: of several alike, that nearest to their middle.
struct Worst {
    double value = 0;
    std::size_t cell = 0;
    bool any = false;
};
[[nodiscard]] Worst worst_of(const FaultGrid& grid, std::span<const double> values,
                             const std::function<bool(std::size_t)>& counts);

}  // namespace fadewright::render
