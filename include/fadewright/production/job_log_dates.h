// Dates of the job log: UTC. Source: [rfc3339].
//
// Checks     tests/production/job_log_test.cpp
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace fadewright::production {

[[nodiscard]] std::string date_text(std::int64_t seconds_since_1970);
[[nodiscard]] bool is_date(std::string_view text);
// From what a person types: "2026-03-01", "2026-03-01 14:05", "2026-03-01T14:05:30Z"; nothing if it is not a
// date.
[[nodiscard]] std::optional<std::string> date_text(std::string_view typed);

}  // namespace fadewright::production
