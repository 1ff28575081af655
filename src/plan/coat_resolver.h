// The coats of a job: mix, liquid, gun, passes and deposit of each.
#pragma once

#include "fadewright/plan/job_builder.h"
#include "fadewright/plan/mix_resolver.h"
#include "fadewright/plan/spray_passes.h"
#include "workpiece_resolver.h"

namespace fadewright::plan {

class CoatResolver {
public:
    // The mistakes of mixes stay in their resolver.
    CoatResolver(const Plan& plan, const PlanContext& context, MixResolver& mixes, const MaskOutlines& masks,
                 Diagnostics& diagnostics)
        : plan_(plan), context_(context), mixes_(mixes), masks_(masks), diagnostics_(diagnostics) {}

    // Adds the coat to the job, or reports why not. Without a panel of known size nothing is sprayed.
    void add(const Coat& coat, bool panel_known, Job& job);

private:
    [[nodiscard]] SprayableMix sprayable_mix(const Coat& coat, const Parts& parts,
                                             const paint::MixedPaint& mix) const;
    bool leaves_film(const Parts& parts, const Coat& coat);
    std::vector<spray::Pass> passes_of(const Coat& coat, const LibraryGun& gun, const Job& job);
    void add_outline_pass(const OutlinePass& outline_pass, const MovementDefaults& defaults, const Job& job,
                          std::vector<spray::Pass>& passes);
    bool count_passes(std::size_t passes, const Coat& coat);

    const Plan& plan_;
    const PlanContext& context_;
    MixResolver& mixes_;
    const MaskOutlines& masks_;
    Diagnostics& diagnostics_;
    std::size_t passes_ = 0;
};

}  // namespace fadewright::plan
