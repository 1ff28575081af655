// The mix of a request: paints and parts from the command line, or a mix of a plan.
#pragma once

#include "fadewright/app/commands.h"
#include "fadewright/film/colorimeter.h"
#include "fadewright/plan/job.h"
#include "outcome.h"

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace fadewright::app {

struct SelectedMix {
    plan::Library library;
    plan::Plan plan;  // contains the mix and the mixes it is made of
    plan::Mix mix;    // as chosen; ladders vary a copy
    std::string name;
    colour::Reflectance ground;
    std::string ground_name;
    colour::Illuminant light;
    DisplayUnits units;
};

[[nodiscard]] Attempt<SelectedMix> select_mix(Session& session, const MixSelection& selection);

// The mix (or a variation of it) as paints; errors are reported.
[[nodiscard]] std::optional<std::vector<paint::Part>> resolve_parts(SelectedMix& selected,
                                                                    const plan::Mix& mix,
                                                                    Diagnostics& diagnostics);

// "plum and apricot 1 : 1, extended 2 : 1, reduced 12 %"
[[nodiscard]] std::string mix_label(const plan::Mix& mix);

}  // namespace fadewright::app
