// What a record tells of a job that the plan cannot: mixes as they were poured, films as they were read.
//
// A mix is the last one poured under its name: weights over wet densities are its parts by volume. What was
// poured may be another mix; that is taken as recorded, or as planned. Where no reducer was weighed in but the
// plan has some, the plan's is added, since it is often measured by cup marks.
//
// A film read beside the planned one at the same place gives how much of the planned film a coat really has;
// several readings count alike.
//
// Holds for  readings of one coat alone (after less before), at places planned to have kLeastCompared or more
// Checks     tests/plan/recorded_test.cpp
#pragma once

#include "fadewright/plan/job.h"
#include "fadewright/plan/job_log.h"

#include <optional>
#include <string>
#include <vector>

namespace fadewright::plan {

inline constexpr Micrometres kMinComparedFilm{1.0};  // starting value: what a gauge can tell

struct ActualMix {
    std::string date;
    std::vector<paint::Part> parts;
    bool reducer_as_planned = false;
};

// Nothing if it was never poured, or of something that is not known any more; `remarks` says of what.
[[nodiscard]] std::optional<ActualMix> actual_mix(const JobLog& job_log, const Plan& plan,
                                                  const std::string& mix, Library& library,
                                                  std::vector<std::string>& remarks);

struct ActualFilm {
    double share_of_planned = 1;
    int readings = 0;
};

// Of entries by the plan that the job is made of.
[[nodiscard]] std::optional<ActualFilm> actual_film(const JobLog& job_log, const Job& job,
                                                    const ResolvedCoat& coat);

// The plan that was last worked by: of the last entry with a mix or a coat, else of the last one.
[[nodiscard]] const PlanSnapshot* last_used_plan(const JobLog& job_log);

}  // namespace fadewright::plan
