// The job log of a plan: reading it, and the text of a new entry.
//
// The file is an array of plan copies and one of entries, so that an entry is added by appending plain text;
// comments and order of a file edited by hand are kept. A plan copy is a text block, unchanged, and
// identified by its checksum: it reads back with the same bytes and checksum as the plan.
//
// Checks     tests/production/job_log_test.cpp, tests/cli/record_test.cpp, tests/plans/bad/M*.toml
#pragma once

#include "fadewright/plan/plan.h"
#include "fadewright/production/job_log_dates.h"
#include "fadewright/production/job_log_file.h"
#include "fadewright/text/diagnostic.h"

#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace fadewright::production {

[[nodiscard]] std::span<const Rule> job_log_rules();

// Reads and checks a job log; an empty text is a log without entries. Nothing if there is an error.
[[nodiscard]] std::optional<JobLog> read_job_log(std::shared_ptr<const Source> source,
                                                 Diagnostics& diagnostics);

// The text to append to `existing`, the text of `job_log`, for one more entry made from the plan of that
// text. Sets the entry's plan.
[[nodiscard]] std::string log_addition(std::string_view existing, const JobLog& job_log, LogEntry entry,
                                       const std::string& plan_text);

// The text as a TOML value that reads back byte for byte: between ''' where that is possible.
[[nodiscard]] std::string toml_text_block(std::string_view text);

[[nodiscard]] const PlanSnapshot* find_snapshot(const JobLog& job_log, std::string_view sha256);

// The job log of a plan file: "my-job.toml" -> "my-job.record.toml".
[[nodiscard]] std::string job_log_path(const std::string& plan_path);

// Whether the plan has that mix or coat; names that start like those of its fades are accepted.
[[nodiscard]] bool mentions_mix(const plan::Plan& plan, const std::string& mix);
[[nodiscard]] bool mentions_coat(const plan::Plan& plan, const std::string& coat);

}  // namespace fadewright::production
