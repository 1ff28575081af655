// Where a fade runs: the way across it, and the lines along which the gun crosses it.
#pragma once

#include "fadewright/plan/plan.h"
#include "fadewright/spray/outline.h"
#include "fadewright/spray/path.h"
#include "movements.h"

#include <optional>
#include <variant>
#include <vector>

namespace fadewright::plan {

// One line of equal u: as it is written, and as it is laid where the film is worked out.
struct FadeLine {
    double u_mm = 0;
    std::variant<Pass, Follow> written;
    std::vector<spray::Pass> laid;
};

struct FadeSpot {
    double x_mm, y_mm;
    double u_mm;
};

// How far a pass leaves paint to its sides and beyond its end.
struct Reach {
    double side_mm, end_mm;
};

class FadeGround {
public:
    // `rim` only for a fade around one. `panel`: the piece's outline.
    FadeGround(const Fade& fade, const spray::Outline& panel, const spray::Outline* rim);

    [[nodiscard]] double width_mm() const noexcept { return width_; }
    [[nodiscard]] double u_mm(double x_mm, double y_mm) const noexcept;
    [[nodiscard]] double lowest_mm() const noexcept { return lowest_; }  // u over the panel
    [[nodiscard]] double highest_mm() const noexcept { return highest_; }

    // The line at u; nothing where it meets no part of the panel. Every other one runs the other way.
    [[nodiscard]] std::optional<FadeLine> line(double u_mm, bool back, const Reach& reach, Degrees tilt,
                                               const Usual& usual) const;

    // Where the film is judged, so many or a few more. Straight fades are judged on one line across.
    [[nodiscard]] std::vector<FadeSpot> spots(std::size_t wanted) const;

private:
    [[nodiscard]] std::optional<FadeLine> straight_line(double u_mm, bool back, const Reach& reach,
                                                        const Usual& usual) const;
    [[nodiscard]] std::optional<FadeLine> followed_line(double u_mm, const Reach& reach, Degrees tilt,
                                                        const Usual& usual) const;
    [[nodiscard]] double overrun_mm(double end_mm) const;

    const Fade& fade_;
    const spray::Outline& panel_;
    const spray::Outline* rim_;
    bool straight_;
    double width_ = 0;
    double x0_ = 0, y0_ = 0, dx_ = 0, dy_ = 0;  // straight: halfway place, and the way of u
    std::vector<spray::Corner> halfway_;        // of a path, carried straight on at both ends
    double lowest_ = 0, highest_ = 0;
};

}  // namespace fadewright::plan
