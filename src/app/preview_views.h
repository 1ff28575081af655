// Several looks at one panel: at the standard angles, in the usual lights, turned to and fro.
#pragma once

#include "fadewright/app/commands.h"
#include "fadewright/colour/profile.h"
#include "fadewright/plan/job.h"
#include "fadewright/plan/library.h"
#include "fadewright/render/png.h"
#include "fadewright/render/preview.h"
#include "outcome.h"

namespace fadewright::app {

// What all looks share.
struct ViewContext {
    const plan::Job& job;
    const colour::Illuminant& light;
    const colour::OutputProfile& profile;
    render::PreviewSettings settings;
};

// At -15, 15, 25, 45, 75 and 110 degrees from the shine, all at one exposure.
[[nodiscard]] Picture angles_sheet(const ViewContext& context);

// In daylight, a warm lamp, a shop tube and a white LED.
[[nodiscard]] Result<Picture> lights_sheet(const ViewContext& context, plan::Library& library);

// So many pictures of the body turned up and down once, all at one exposure: OUT-001.png and so on, and last OUT,
// a moving PNG of them.
[[nodiscard]] OutputFiles turntable_files(const ViewContext& context, int pictures, const std::string& out,
                                          const render::PngMetadata& notes);

}  // namespace fadewright::app
