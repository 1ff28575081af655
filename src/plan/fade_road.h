// The road of a fade's colours: from one end to the other as its coats grow and go, and where along the fade each
// colour of the road is wished.
#pragma once

#include "fade_grades.h"
#include "fadewright/film/stack_colour.h"

#include <span>
#include <vector>

namespace fadewright::plan {

// Films of the graded coats along the road, first where all is `from`. One coat after another grows over what lies
// below; a middle goes again while the next but one grows, the last of them under `to` once that hides.
[[nodiscard]] std::vector<std::vector<double>> films_along_road(const Grades& grades);

// The colours of those films. Distances add up to the way along it, a* and b* counting for less than L*.
class FadeRoad {
public:
    FadeRoad(const film::StackColour& colours, std::vector<std::vector<double>> films_um);

    void measure(double colour_counts);  // of a* and b*, beside 1 for L*; at first 1

    // At a share of its length, 0 to 1.
    [[nodiscard]] colour::Lab lab(double share) const;
    [[nodiscard]] std::vector<double> films_um(double share) const;

private:
    struct Between {
        std::size_t first;
        double part;
    };
    [[nodiscard]] double length() const noexcept { return way_.back(); }
    [[nodiscard]] Between between(double share) const;

    std::vector<std::vector<double>> films_;
    std::vector<colour::Lab> labs_;
    std::vector<double> way_;  // up to each
};

struct WishedPlace {
    colour::Lab lab;
    std::vector<double> films_um;
};

struct WishedWidth {
    double ten_to_ninety_mm;   // of what is seen, about u = 0
    double first_mm, last_mm;  // where all is `from`, and where all is `to`
};

// At places u, which must lie between first and last: the road's colours spread as a blurred edge, its width set so
// that the share t of the distance to both ends (render/fade_figures.h) has it, the road's corners rounded.
[[nodiscard]] std::vector<WishedPlace> wished_places(const FadeRoad& road, std::span<const double> u_mm,
                                                     const WishedWidth& width);

}  // namespace fadewright::plan
