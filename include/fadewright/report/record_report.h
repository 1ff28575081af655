// Report of the job log: its entries, and the differences between the plans used and the current plan.
//
// Checks     tests/report/record_report_test.cpp, tests/cli/record_test.cpp
#pragma once

#include "fadewright/plan/plan.h"
#include "fadewright/production/job_log.h"
#include "fadewright/text/display_units.h"

#include <string>
#include <vector>

namespace fadewright::report {

// A plan snapshot compared with the current plan.
struct SnapshotDiff {
    std::string sha256;
    bool unchanged = false;            // byte for byte
    bool readable = true;              // by this version
    std::vector<std::string> changes;  // none: only comments or layout
};

struct RecordReport {
    std::string file;
    production::JobLog record;
    std::string current_sha256;
    std::vector<SnapshotDiff> snapshots;
    DisplayUnits units;  // the plan's
};

[[nodiscard]] RecordReport make_record_report(std::string file, production::JobLog record,
                                              const plan::Plan& now, const std::string& text_now);

[[nodiscard]] std::string record_entry_text(const production::LogEntry& entry,
                                            DisplayUnits units = {});  // indented lines
[[nodiscard]] std::string record_text(const RecordReport& report);
[[nodiscard]] std::string record_json(const RecordReport& report);

}  // namespace fadewright::report
