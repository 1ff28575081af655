// Stripes of lightness along a fade, as an eye has them: rows of errors for the fit of its passes.
#pragma once

#include "fade_road.h"
#include "fadewright/base/quantity.h"

#include <cstddef>
#include <span>
#include <vector>

namespace fadewright::plan {

// Where the fit looks. `even`: at even steps across the fade, so that stripes can be told from it.
struct SpotsAcross {
    std::vector<double> u_mm;
    bool even = false;
    double ten_to_ninety_mm = 0;  // wanted
    Millimetres view_distance;
};

// L* at all spots -> stripes in times the contrast that is just seen (colour/stripes.h), for the wished lightness.
class Stripes {
public:
    Stripes(const SpotsAcross& spots, std::span<const WishedPlace> wished);

    // Adds the answer to lightness at spots from `first` on to out, one of each spot.
    void add(std::size_t first, std::span<const double> lightness, double* out) const;

private:
    void spread(std::ptrdiff_t spot, std::size_t answered, double weight);

    std::size_t count_;
    std::vector<double> answers_;  // of each spot's lightness, at all spots
};

}  // namespace fadewright::plan
