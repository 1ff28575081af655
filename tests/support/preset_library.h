// The library of the source tree, and jobs from plan texts, for tests of whole plans.
#pragma once

#include "fadewright/plan/job.h"
#include "fadewright/plan/library.h"

#include <string>

namespace fadewright::test {

// A new library of the files of presets/ in the source tree.
// The same for one name on every machine, different for every name.
[[nodiscard]] std::uint64_t seed_of(const std::string& name);

[[nodiscard]] plan::Library preset_library();

// Reads and resolves a plan; a plan with errors fails the test by an exception with their messages.
[[nodiscard]] plan::Job job_of(const std::string& plan_text);
[[nodiscard]] plan::Job job_of_file(const std::string& below);  // below the source tree

}  // namespace fadewright::test
