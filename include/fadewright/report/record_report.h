// The record of a job as it is told: entry by entry, and how the plans that were worked by differ from the one now.
//
// Checks     tests/report/record_report_test.cpp, tests/cli/record_test.cpp
#pragma once

#include "fadewright/plan/plan.h"
#include "fadewright/plan/record.h"
#include "fadewright/text/shown_units.h"

#include <string>
#include <vector>

namespace fadewright::report {

// A kept plan beside the plan now.
struct KeptAgainstNow {
    std::string sha256;
    bool as_now = false;               // letter for letter
    bool readable = true;              // by this version
    std::vector<std::string> changes;  // none: only remarks or layout changed
};

struct RecordTold {
    std::string file;
    plan::RecordFile record;
    std::string sha256_now;
    std::vector<KeptAgainstNow> plans;
    ShownUnits units;  // the plan's
};

[[nodiscard]] RecordTold record_told(std::string file, plan::RecordFile record, const plan::Plan& now,
                                     const std::string& text_now);

[[nodiscard]] std::string entry_words(const plan::RecordEntry& entry,
                                      ShownUnits units = {});  // indented lines
[[nodiscard]] std::string record_words(const RecordTold& told);
[[nodiscard]] std::string record_json(const RecordTold& told);

}  // namespace fadewright::report
