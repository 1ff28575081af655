// Nominal dry film of one coat of a mix: the mean of its paints', weighted by their shares of the dry film.
#pragma once

#include "fadewright/paint/mix.h"

#include <span>

namespace fadewright::paint {

[[nodiscard]] Micrometres nominal_film_build(std::span<const Part> parts) noexcept;  // 0 without solids

}  // namespace fadewright::paint
