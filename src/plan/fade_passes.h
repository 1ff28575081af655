// The passes of one graded coat: where they lie, how fast they go, how often they are laid.
#pragma once

#include "fade_grades.h"
#include "fade_ground.h"
#include "fadewright/plan/shelf_files.h"
#include "fadewright/text/diagnostic.h"

#include <optional>
#include <string>
#include <vector>

namespace fadewright::plan {

struct SetGun {
    Placed<std::string> name;
    spray::Gun gun;  // as the coat sets it
    MillimetresPerSecond usual;
    MillilitresPerMinute full;  // flow that a coat's own stands instead of
};

[[nodiscard]] SetGun set_gun(const Coat& coat, const Placed<std::string>& name, const ShelfGun& gun);

// How far the gun leans in the fade.
[[nodiscard]] Degrees tilt_of(const Fade& fade);

// 10 to 90 % of the end of an even film.
[[nodiscard]] double edge_mm(const Coat& coat, const SetGun& set, Degrees tilt);

// The coat without its fade, for one of its mixes.
[[nodiscard]] Coat bare_coat(const Coat& coat, const Grade& grade, const SetGun& set);

// Lines on which the gun may lay a bare coat: everywhere where the band has film, and half a pass beyond. Reports
// P030.
[[nodiscard]] std::optional<std::vector<FadeLine>> lines_of(const Coat& bare, const Fade& fade,
                                                            const Band& band, const SetGun& set,
                                                            const FadeGround& ground,
                                                            Diagnostics& diagnostics);

// Dry film of each line at every spot, laid at 1 mm/s.
[[nodiscard]] std::vector<std::vector<double>> films_of(const std::vector<FadeLine>& lines,
                                                        const std::vector<FadeSpot>& spots, const SetGun& set,
                                                        double dry);

// The bare coat with its lines at that pace. Reports P030 if nothing is laid.
[[nodiscard]] std::optional<Coat> paced_coat(Coat bare, const std::vector<FadeLine>& lines, const Pace& pace,
                                             const SetGun& set, Diagnostics& diagnostics);

// `dry`: dry film of one wet micrometre. Reports P030.
[[nodiscard]] std::optional<Coat> graded_coat(const Coat& coat, const Grade& grade, const Growth& growth,
                                              const SetGun& set, const FadeGround& ground, double dry,
                                              Diagnostics& diagnostics);

}  // namespace fadewright::plan
