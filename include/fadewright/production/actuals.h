// Actual values from the job log: mixes as they were weighed in, films as they were measured.
//
// A mix is the last one logged under its name: weights over wet densities are its parts by volume. A part may
// be another mix; its actual parts are used if it was logged, else the planned ones. If no reducer was
// weighed in but the plan has some, the planned amount is added, since it is often measured by cup marks.
//
// A measured film over the planned film at the same point is the share of the planned film that the coat
// really has; several readings have equal weight.
//
// Holds for  readings of one coat alone (after less before), at points with a planned film of
//            kMinComparedFilm or more
// Checks     tests/production/actuals_test.cpp
#pragma once

#include "fadewright/plan/job.h"
#include "fadewright/production/job_log.h"

#include <optional>
#include <string>
#include <vector>

namespace fadewright::production {

inline constexpr Micrometres kMinComparedFilm{1.0};  // starting value: resolution of a gauge

struct ActualMix {
    std::string date;
    std::vector<paint::Part> parts;
    bool reducer_as_planned = false;
};

// A paint of the job log that the library no longer has: the mix is used as planned.
struct UnknownPart {
    std::string part, mix;
};

// Nothing if it was never logged, or with a paint that is no longer known, which is then added to `unknown`.
[[nodiscard]] std::optional<ActualMix> actual_mix(const JobLog& job_log, const plan::Plan& plan,
                                                  const std::string& mix, plan::Library& library,
                                                  std::vector<UnknownPart>& unknown);

struct ActualFilm {
    double share_of_planned = 1;
    int readings = 0;
};

// From the entries of the plan that the job is made from.
[[nodiscard]] std::optional<ActualFilm> actual_film(const JobLog& job_log, const plan::Job& job,
                                                    const plan::ResolvedCoat& coat);

// The plan of the last entry with a mix or a coat, or else of the last entry.
[[nodiscard]] const PlanSnapshot* last_used_plan(const JobLog& job_log);

}  // namespace fadewright::production
