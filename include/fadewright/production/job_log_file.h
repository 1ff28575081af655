// The job log file: what was actually mixed and sprayed, next to the plan (job_log_schema.h lists its
// fields).
//
// Entries are only added. Every plan used is stored whole, once per version of its text, under the checksum
// of that text; every entry has its date, the plan used, and what was done: a mix made, a coat sprayed, a
// film measured, the air, a note. production/job_log.h reads, checks and extends it.
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/plan/workpiece.h"
#include "fadewright/text/schema.h"

#include <optional>
#include <string>
#include <vector>

namespace fadewright::production {

inline constexpr int kJobLogVersion = 1;

// Copy of a plan that was used.
struct PlanSnapshot {
    Located<std::string> sha256;  // of `text`
    std::string text;
    SourceSpan span;
};

// Gun settings that differed from the plan.
struct GunSettings {
    std::optional<std::string> gun;
    std::optional<MillilitresPerMinute> flow;
    std::optional<MillimetresPerSecond> speed;
    std::optional<Millimetres> distance;
    std::optional<Share> needle_opening;
    std::optional<Bar> air;

    [[nodiscard]] bool empty() const {
        return !gun && !flow && !speed && !distance && !needle_opening && !air;
    }
};

struct LogEntry {
    Located<std::string> date;  // UTC: "2026-03-01T14:05:00Z"
    Located<std::string> plan;  // sha256 of a plan copy
    std::optional<Located<std::string>> mix;
    std::vector<Named<Grams>> grams;          // paint by paint
    std::vector<Named<std::string>> batches;  // batch numbers, paint by paint
    std::optional<Located<std::string>> coat;
    std::optional<Micrometres> film;  // of that coat alone, dry, as measured
    std::optional<plan::Point> at;    // where
    std::optional<Celsius> temperature;
    std::optional<Share> humidity;
    std::optional<std::string> note;
    std::optional<GunSettings> gun;
    SourceSpan span;
};

struct JobLog {
    int version = kJobLogVersion;
    std::vector<PlanSnapshot> plans;
    std::vector<LogEntry> entries;  // oldest first
    SourceSpan span;
};

}  // namespace fadewright::production
