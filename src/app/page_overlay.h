// Heat maps drawn over the picture of the panel: film build, defects, graininess.
#pragma once

#include "fadewright/base/image.h"
#include "fadewright/colour/illuminant.h"
#include "fadewright/plan/job.h"
#include "fadewright/render/frame.h"

#include <optional>
#include <string>

namespace fadewright::app {

enum class Overlay { film, defects, graininess };
[[nodiscard]] std::optional<Overlay> parse_overlay(const std::string& name);

struct OverlayPicture {
    Picture picture;
    std::string note;  // what the colours mean, with the scale
};

// first, last: the coats whose film build is shown, without `last` itself.
[[nodiscard]] OverlayPicture draw_overlay(Picture picture, Overlay overlay, const plan::Job& job,
                                          const colour::Illuminant& light, const render::Frame& frame,
                                          std::size_t first, std::size_t last);

}  // namespace fadewright::app
