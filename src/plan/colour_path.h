// The road of a fade's colours: from one end to the other as its coats grow and go, and where along the fade each
// colour of the road is wished.
#pragma once

#include "fade_stages.h"
#include "fadewright/film/stack_colour.h"

#include <span>
#include <vector>

namespace fadewright::plan {

// Films of the graded coats along the road, first where all is `from`. One coat after another grows over what lies
// below; a middle goes again while the next but one grows, the last of them under `to` once that hides.
[[nodiscard]] std::vector<std::vector<double>> films_along_path(const FadeStages& stages);

// The colours of those films. Distances add up to the way along it, a* and b* counting for less than L*.
class ColourPath {
public:
    ColourPath(const film::StackColour& colours, std::vector<std::vector<double>> films_um);

    void set_metric(double chroma_weight);  // of a* and b*, beside 1 for L*; at first 1

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
    std::vector<double> cumulative_;  // up to each
};

struct TargetSample {
    colour::Lab lab;
    std::vector<double> films_um;
};

struct TargetWidth {
    double ten_to_ninety_mm;   // of what is seen, about u = 0
    double first_mm, last_mm;  // where all is `from`, and where all is `to`
};

// At places u, which must lie between first and last: the road's colours spread as a blurred edge, its width set so
// that the share t of the distance to both ends (render/fade_figures.h) has it, the road's corners rounded.
[[nodiscard]] std::vector<TargetSample> target_samples(const ColourPath& path, std::span<const double> u_mm,
                                                       const TargetWidth& width);

}  // namespace fadewright::plan
