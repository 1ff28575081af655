// The colour path of a fade: from one end to the other as its coats build and fade out, and the target
// position of each of its colours along the fade.
#pragma once

#include "fade_stages.h"
#include "fadewright/film/stack_colour.h"

#include <span>
#include <vector>

namespace fadewright::planner {

// Films of the graded coats along the path, starting at pure `from`. One coat after another builds over those
// below; a mid colour fades out while the next but one builds, the last of them under `to` once that hides.
[[nodiscard]] std::vector<std::vector<double>> films_along_path(const FadeStages& stages);

// The colours of those films. The path length adds up their differences, with a* and b* weighted less than
// L*.
class ColourPath {
public:
    ColourPath(const film::StackColour& colours, std::vector<std::vector<double>> films_um);

    void set_metric(double chroma_weight);  // weight of a* and b*, relative to L*; 1 at the start

    // At a share of its length, 0 to 1.
    [[nodiscard]] colour::Lab lab(double share) const;
    [[nodiscard]] std::vector<double> films_um(double share) const;

private:
    struct Position {
        std::size_t segment;
        double fraction;
    };
    [[nodiscard]] double length() const noexcept { return cumulative_.back(); }
    [[nodiscard]] Position position_at(double share) const;

    std::vector<std::vector<double>> films_;
    std::vector<colour::Lab> labs_;
    std::vector<double> cumulative_;  // path length up to each
};

struct TargetSample {
    colour::Lab lab;
    std::vector<double> films_um;
};

struct TargetWidth {
    double ten_to_ninety_mm;   // of the visible change, around u = 0
    double first_mm, last_mm;  // pure `from`, and pure `to`
};

// At positions u from first to last (contract): the colours of the path spread like a blurred edge, with
// corners rounded, and a width for which the share t of the colour difference (assess/fade_metrics.h) has the
// target 10 to 90 %.
[[nodiscard]] std::vector<TargetSample> target_samples(const ColourPath& path, std::span<const double> u_mm,
                                                       const TargetWidth& width);

}  // namespace fadewright::planner
