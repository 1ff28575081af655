// Short labels of what the engine rates, shared by all reports.
//
// Checks     tests/report/phrases_test.cpp
#pragma once

#include "fadewright/colour/visibility.h"
#include "fadewright/film/graininess.h"
#include "fadewright/production/actuals.h"
#include "fadewright/production/coverage.h"

#include <string>
#include <string_view>

namespace fadewright::report {

[[nodiscard]] std::string_view visibility_label(colour::Visibility visibility) noexcept;  // "just visible"
[[nodiscard]] std::string_view graininess_label(film::GraininessGrade grade) noexcept;    // "grainy"
[[nodiscard]] std::string_view clear_film_label(production::ClearFilm film) noexcept;  // "normal for a clear"

// Why a mix of the job log is not used.
[[nodiscard]] std::string describe_unknown_part(const production::UnknownPart& part);

}  // namespace fadewright::report
