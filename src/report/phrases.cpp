#include "fadewright/report/phrases.h"

#include <fmt/core.h>

namespace fadewright::report {

std::string_view visibility_label(colour::Visibility visibility) noexcept {
    switch (visibility) {
        case colour::Visibility::invisible:
            return "invisible";
        case colour::Visibility::just_visible:
            return "just visible";
        case colour::Visibility::visible:
            break;
    }
    return "visible";
}

std::string_view graininess_label(film::GraininessGrade grade) noexcept {
    switch (grade) {
        case film::GraininessGrade::invisible:
            return "invisible";
        case film::GraininessGrade::just_visible:
            return "just visible";
        case film::GraininessGrade::grainy:
            return "grainy";
        case film::GraininessGrade::coarse:
            break;
    }
    return "coarse";
}

std::string_view clear_film_label(production::ClearFilm film) noexcept {
    switch (film) {
        case production::ClearFilm::thin:
            return "thin for a clear: little left to sand and buff";
        case production::ClearFilm::normal:
            return "normal for a clear";
        case production::ClearFilm::thick:
            return "rather thick for a clear";
        case production::ClearFilm::too_thick:
            break;
    }
    return "too thick for one clear: spray it in two sessions, or thinner";
}

std::string describe_unknown_part(const production::UnknownPart& part) {
    return fmt::format("'{}' was mixed into '{}' but is not in the library: the planned mix is used",
                       part.part, part.mix);
}

}  // namespace fadewright::report
