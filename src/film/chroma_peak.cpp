#include "fadewright/film/chroma_peak.h"

namespace fadewright::film {

std::optional<std::size_t> chroma_peak(std::span<const colour::Lab> steps) {
    if (steps.size() < 2) return std::nullopt;
    std::size_t best = 0;
    for (std::size_t i = 1; i < steps.size(); ++i)
        if (colour::to_lch(steps[i]).C > colour::to_lch(steps[best]).C) best = i;
    if (best + 1 == steps.size() || colour::to_lch(steps[best]).C < kMinPeakChroma) return std::nullopt;
    for (std::size_t i = best + 1; i < steps.size(); ++i)
        if (steps[i].L <= steps[i - 1].L) return std::nullopt;
    return best;
}

}  // namespace fadewright::film
