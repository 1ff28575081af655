// Converts the files of the library to paints, grounds, guns and lights, and reports contradictions.
#pragma once

#include "fadewright/plan/library.h"

namespace fadewright::plan {

[[nodiscard]] std::optional<paint::Paint> to_paint(const PaintFile& file, const std::string& id,
                                                   Diagnostics& diagnostics);
[[nodiscard]] std::optional<Ground> to_ground(const GroundFile& file, const std::string& id, Library& library,
                                              Diagnostics& diagnostics);
[[nodiscard]] std::optional<LibraryGun> to_gun(const GunFile& file, const std::string& id,
                                               Diagnostics& diagnostics);
[[nodiscard]] std::optional<colour::Illuminant> to_light(const LightFile& file, const std::string& id,
                                                         Diagnostics& diagnostics);

}  // namespace fadewright::plan
