// Geometry of a fade: the coordinate u across it, and the lines of its passes.
#pragma once

#include "fadewright/geometry/outline.h"
#include "fadewright/plan/plan.h"
#include "fadewright/plan/spray_passes.h"
#include "fadewright/spray/path.h"

#include <optional>
#include <variant>
#include <vector>

namespace fadewright::planner {

// One line of equal u: as written in the plan, and as sprayed for the calculation of the film.
struct FadeLine {
    double u_mm = 0;
    std::variant<plan::Pass, plan::OutlinePass> movement;
    std::vector<spray::Pass> passes;
};

struct FadeSample {
    double x_mm, y_mm;
    double u_mm;
};

// How far the paint of a pass reaches to its sides and beyond its end.
struct Reach {
    double side_mm, end_mm;
};

class FadeGeometry {
public:
    // `rim`: only for a fade around an edge. `panel`: the outline of the piece.
    FadeGeometry(const plan::Fade& fade, const geometry::Outline& panel, const geometry::Outline* rim);

    [[nodiscard]] double width_mm() const noexcept { return width_; }
    [[nodiscard]] double u_mm(double x_mm, double y_mm) const noexcept;
    [[nodiscard]] double min_u_mm() const noexcept { return min_u_; }  // u over the panel
    [[nodiscard]] double max_u_mm() const noexcept { return max_u_; }

    // The line at u; nothing if it does not reach the panel. Every other one runs in the opposite direction.
    [[nodiscard]] std::optional<FadeLine> line_at(double u_mm, bool reversed, const Reach& reach,
                                                  Degrees tilt, const plan::MovementDefaults& defaults) const;

    // Samples of the film, that many or a few more. Straight fades are sampled along one line across.
    [[nodiscard]] std::vector<FadeSample> samples(std::size_t count) const;

private:
    [[nodiscard]] std::optional<FadeLine> straight_line(double u_mm, bool reversed, const Reach& reach,
                                                        const plan::MovementDefaults& defaults) const;
    [[nodiscard]] std::optional<FadeLine> outline_line(double u_mm, const Reach& reach, Degrees tilt,
                                                       const plan::MovementDefaults& defaults) const;
    [[nodiscard]] double overrun_mm(double end_mm) const;

    const plan::Fade& fade_;
    const geometry::Outline& panel_;
    const geometry::Outline* rim_;
    bool straight_;
    double width_ = 0;
    double x0_ = 0, y0_ = 0, dx_ = 0, dy_ = 0;   // straight: midpoint, and direction of u
    std::vector<geometry::PlanePoint> midline_;  // of a path, extended straight at both ends
    double min_u_ = 0, max_u_ = 0;
};

}  // namespace fadewright::planner
