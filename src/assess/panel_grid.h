// Square cells all over the panel at which defects are predicted, symmetrical from left to right.
#pragma once

#include "fadewright/plan/job.h"
#include "fadewright/render/frame.h"

#include <functional>
#include <span>
#include <vector>

namespace fadewright::assess {

class PanelGrid {
public:
    // refinement: factor on the maximum number of cells.
    explicit PanelGrid(const plan::Job& job, double refinement = 1);

    [[nodiscard]] const render::Frame& frame() const noexcept { return frame_; }
    [[nodiscard]] std::size_t size() const noexcept { return inside_.size(); }
    [[nodiscard]] bool inside(std::size_t i) const noexcept { return inside_[i] != 0; }
    [[nodiscard]] double x(std::size_t i) const { return xs_[i % xs_.size()]; }
    [[nodiscard]] double y(std::size_t i) const { return frame_.y_mm(static_cast<int>(i / xs_.size())); }
    [[nodiscard]] const std::vector<double>& columns() const noexcept { return xs_; }
    [[nodiscard]] double cells_inside() const noexcept { return cells_inside_; }
    // Empty on a flat panel.
    [[nodiscard]] const std::vector<spray::SurfaceSample>& slopes() const noexcept { return slopes_; }

    // Wet film of a coat's passes, without masks.
    [[nodiscard]] std::vector<double> wet_um(const plan::ResolvedCoat& coat) const;
    // Transmission of the masks; empty without masks.
    [[nodiscard]] std::vector<double> mask_transmission(const plan::ResolvedCoat& coat) const;

private:
    render::Frame frame_;
    std::vector<double> xs_;
    std::vector<char> inside_;
    std::vector<spray::SurfaceSample> slopes_;
    double cells_inside_ = 0;
};

// The maximum of the included cells and its cell; of several equal ones, the one nearest to their centre.
struct Maximum {
    double value = 0;
    std::size_t cell = 0;
    bool found = false;
};
[[nodiscard]] Maximum find_maximum(const PanelGrid& grid, std::span<const double> values,
                                   const std::function<bool(std::size_t)>& included);

}  // namespace fadewright::assess
