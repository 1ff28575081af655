// The mix a command is asked about: paints and parts on the command line, or a mix of a plan.
#pragma once

#include "fadewright/app/commands.h"
#include "fadewright/film/colorimeter.h"
#include "fadewright/plan/job.h"

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace fadewright::app {

struct SelectedMix {
    plan::Library library;
    plan::Plan plan;  // holds the mix, and whatever else it is made of
    plan::Mix mix;    // as chosen; ladders vary a copy
    std::string name;
    colour::Reflectance ground;
    std::string ground_name;
    colour::Illuminant light;
    DisplayUnits units;
};

// Nothing, and the outcome filled, if something is wrong.
[[nodiscard]] std::optional<SelectedMix> select_mix(const MixSelection& selection, Outcome& outcome);

// The mix (or a variation of it) as paints; mistakes are reported.
[[nodiscard]] std::optional<std::vector<paint::Part>> resolve_parts(SelectedMix& selected,
                                                                    const plan::Mix& mix,
                                                                    Diagnostics& diagnostics);

// "plum and apricot 1 : 1, extended 2 : 1, reduced 12 %"
[[nodiscard]] std::string mix_label(const plan::Mix& mix);

}  // namespace fadewright::app
