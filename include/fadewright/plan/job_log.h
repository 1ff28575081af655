// Reading the record of a job, and the text of what is added to it.
//
// The file is an array of kept plans and one of entries, so that adding is putting plain text behind what is
// there; remarks and order of a hand that edits it stay. A kept plan stands in a text block as it was written
// and is known by its hash: what is read back has the very bytes and hash of the plan.
//
// Checks     tests/plan/record_test.cpp, tests/cli/record_test.cpp, tests/plans/bad/M*.toml
#pragma once

#include "fadewright/plan/job_log_file.h"
#include "fadewright/plan/plan.h"
#include "fadewright/text/diagnostic.h"

#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace fadewright::plan {

[[nodiscard]] std::span<const Rule> job_log_rules();

// Reads and checks a record; a text without anything in it is a record without entries. Nothing if anything is
// wrong.
[[nodiscard]] std::optional<JobLog> read_job_log(std::shared_ptr<const Source> source,
                                                 Diagnostics& diagnostics);

// What to put behind `there`, the text of `record`, for one more entry done by the plan of that text. Sets the
// entry's plan.
[[nodiscard]] std::string log_addition(std::string_view existing, const JobLog& job_log, LogEntry entry,
                                       const std::string& plan_text);

// The text as a value of TOML that reads back byte for byte: as it stands between ''' where that is possible.
[[nodiscard]] std::string toml_text_block(std::string_view text);

[[nodiscard]] const PlanSnapshot* find_snapshot(const JobLog& job_log, std::string_view sha256);

// A plan's file -> its record's: "my-job.toml" -> "my-job.record.toml".
[[nodiscard]] std::string job_log_path(const std::string& plan_path);

// Dates as the record has them, in UTC.
[[nodiscard]] std::string date_text(std::int64_t seconds_since_1970);
[[nodiscard]] bool is_date(std::string_view text);
// What a hand types: "2026-03-01", "2026-03-01 14:05", "2026-03-01T14:05:30Z"; nothing if it is no date.
[[nodiscard]] std::optional<std::string> date_text(std::string_view typed);

// Whether the plan speaks of such a mix or coat; those that a fade will make are taken on trust.
[[nodiscard]] bool mentions_mix(const Plan& plan, const std::string& mix);
[[nodiscard]] bool mentions_coat(const Plan& plan, const std::string& coat);

}  // namespace fadewright::plan
