// Several views of one panel: at the standard angles, in common lights, rocked back and forth.
#pragma once

#include "fadewright/app/commands.h"
#include "fadewright/colour/profile.h"
#include "fadewright/plan/job.h"
#include "fadewright/plan/library.h"
#include "fadewright/render/png.h"
#include "fadewright/render/preview.h"
#include "outcome.h"

namespace fadewright::app {

// Common to all views.
struct ViewContext {
    const plan::Job& job;
    const colour::Illuminant& light;
    const colour::OutputProfile& profile;
    render::PreviewSettings settings;
};

// "15° near-specular", "45° face", "110° flop"; "25°" for an angle without a name.
[[nodiscard]] std::string angle_label(Degrees aspecular);

// At aspecular angles of -15, 15, 25, 45, 75 and 110 degrees, all at one exposure.
[[nodiscard]] Picture angles_sheet(const ViewContext& context);

// In daylight and under incandescent, fluorescent and white LED light.
[[nodiscard]] Attempt<Picture> lights_sheet(const ViewContext& context, plan::Library library);

// Frames of the shape rocked up and down once, all at one exposure: OUT-001.png and so on, and last OUT, an
// animated PNG of them.
[[nodiscard]] std::vector<Artefact> turntable_files(const ViewContext& context, int pictures,
                                                    const std::string& out, const render::PngMetadata& notes);

}  // namespace fadewright::app
