// The film of one ordinary coat of a mix: the paints' own, by their shares of the dry film.
#pragma once

#include "fadewright/paint/mix.h"

#include <span>

namespace fadewright::paint {

[[nodiscard]] Micrometres nominal_film_build(
    std::span<const Part> parts) noexcept;  // dry; 0 if nothing is left

}  // namespace fadewright::paint
