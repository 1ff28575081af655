// The piece of a job: panel, grounds, relief and masks, with the edges that pictures must sample finely.
#pragma once

#include "fadewright/plan/job_builder.h"

#include <map>
#include <string>

namespace fadewright::plan {

// Reports P004, P013 and P018. Whether the size of the panel is known; otherwise it is 0.
[[nodiscard]] bool resolve_panel(const Plan& plan, const PlanContext& context, Diagnostics& diagnostics,
                                 Job& job);

// The outlines of the plan's masks by name; without those that have mistakes.
using MaskOutlines = std::map<std::string, geometry::Outline>;
[[nodiscard]] MaskOutlines read_masks(const Plan& plan, ShapeReader& shapes);

// Adds the masks of a coat to it and their edges to the job; reports P022. `resolved` has the coat's gun.
void add_masks(const Coat& coat, const Plan& plan, const MaskOutlines& outlines, ResolvedCoat& resolved,
               Job& job);
void check_mask_names(const Coat& coat, const Plan& plan, const UnreadFields& unread,
                      Diagnostics& diagnostics);

// Keeps the finest detail of the job.
void note_finest_detail(Millimetres width, Job& job);

}  // namespace fadewright::plan
