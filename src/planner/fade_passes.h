// The passes of one graded coat: their lines, speeds and repeats.
#pragma once

#include "fade_geometry.h"
#include "fade_stages.h"
#include "fadewright/plan/library_files.h"
#include "fadewright/text/diagnostic.h"

#include <optional>
#include <string>
#include <vector>

namespace fadewright::planner {

struct FadeGun {
    Located<std::string> name;
    spray::Gun gun;  // with the settings of the coat
    MillimetresPerSecond default_speed;
    MillilitresPerMinute full_flow;  // the gun's full flow; the coat's own overrides it
};

[[nodiscard]] FadeGun make_fade_gun(const plan::Coat& coat, const Located<std::string>& name,
                                    const plan::LibraryGun& gun);

// Heel angle of the gun in the fade.
[[nodiscard]] Degrees fade_heel_angle(const plan::Fade& fade);

// 10 to 90 % of the edge of an even film.
[[nodiscard]] double film_edge_width_mm(const plan::Coat& coat, const FadeGun& fade_gun, Degrees tilt);

// The coat without its fade, for one of its mixes.
[[nodiscard]] plan::Coat coat_without_fade(const plan::Coat& coat, const FadeCoat& fade_coat,
                                           const FadeGun& fade_gun);

// Lines for the passes of a coat without a fade: wherever the zone has film, and half a pass beyond. Reports
// P030.
[[nodiscard]] std::optional<std::vector<FadeLine>> candidate_lines(
    const plan::Coat& stage, const plan::Fade& fade, const RampZone& zone, const FadeGun& fade_gun,
    const FadeGeometry& geometry, Diagnostics& diagnostics);

// Dry film of each line at every sample, sprayed at 1 mm/s.
[[nodiscard]] std::vector<std::vector<double>> line_films(const std::vector<FadeLine>& lines,
                                                          const std::vector<FadeSample>& samples,
                                                          const FadeGun& fade_gun, double dry_per_wet);

// The coat with passes along its lines at those speeds. Reports P030 if nothing is sprayed.
[[nodiscard]] std::optional<plan::Coat> coat_with_passes(plan::Coat stage, const std::vector<FadeLine>& lines,
                                                         const PassSpeeds& speeds, const FadeGun& fade_gun,
                                                         Diagnostics& diagnostics);

// `dry`: dry film of one wet micrometre. Reports P030.
[[nodiscard]] std::optional<plan::Coat> solve_fade_coat(const plan::Coat& coat, const FadeCoat& fade_coat,
                                                        const RampProfile& profile, const FadeGun& fade_gun,
                                                        const FadeGeometry& geometry, double dry_per_wet,
                                                        Diagnostics& diagnostics);

}  // namespace fadewright::planner
