// The record file: what was really mixed and sprayed, beside the plan (record_schema.h lists its fields).
//
// It only ever grows. A plan that something was done by is kept whole, once for each text it ever had, under
// the hash of that text; every entry says when it was written, by which of those plans, and what was done: a mix
// poured, a coat laid, a film read, the air, a remark. plan/record.h reads, checks and adds to it.
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/plan/workpiece.h"
#include "fadewright/text/schema.h"

#include <optional>
#include <string>
#include <vector>

namespace fadewright::plan {

inline constexpr int kJobLogVersion = 1;

// A plan as it was when something was done by it.
struct PlanSnapshot {
    Located<std::string> sha256;  // of `text`
    std::string text;
    SourceSpan span;
};

// How the gun was set, where that was not as planned.
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
    Located<std::string> plan;  // sha256 of a kept plan
    std::optional<Located<std::string>> mix;
    std::vector<Named<Grams>> grams;          // paint by paint
    std::vector<Named<std::string>> batches;  // batch numbers, paint by paint
    std::optional<Located<std::string>> coat;
    std::optional<Micrometres> film;  // of that coat alone, dry, as read
    std::optional<Point> at;          // where
    std::optional<Celsius> temperature;
    std::optional<Share> humidity;
    std::optional<std::string> note;
    std::optional<GunSettings> gun;
    SourceSpan span;
};

struct JobLog {
    int version = kJobLogVersion;
    std::vector<PlanSnapshot> plans;
    std::vector<LogEntry> entries;  // in the order they were written
    SourceSpan span;
};

}  // namespace fadewright::plan
