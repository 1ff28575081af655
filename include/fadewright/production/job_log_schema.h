// The fields of the job log, each listed once (text/schema.h).
#pragma once

#include "fadewright/plan/plan_schema.h"
#include "fadewright/production/job_log_file.h"

namespace fadewright {

namespace production {
inline constexpr Limits kGramsLimits = range(Grams{0.0}, Grams{1e6});
inline constexpr Limits kMeasuredFilmLimits = range(Micrometres{0.0}, 2000_um);
}  // namespace production

template <>
struct Schema<production::PlanSnapshot> {
    using T = production::PlanSnapshot;
    static constexpr std::string_view name = "plan snapshot";
    static constexpr std::string_view about = "copy of the plan used";
    static constexpr auto fields =
        Fields{Field{"sha256", &T::sha256, required, "checksum of its text; entries refer to it"},
               Field{"text", &T::text, required, "the plan, unchanged"}};
};

template <>
struct Schema<production::GunSettings> {
    using T = production::GunSettings;
    static constexpr std::string_view name = "gun settings";
    static constexpr std::string_view about = "gun settings that differed from the plan";
    static constexpr auto fields =
        Fields{Field{"gun", &T::gun, optional, "gun used instead of the coat's"},
               Field{"flow", &T::flow, optional, plan::kFlowLimits, "fluid flow (delivery rate)"},
               Field{"speed", &T::speed, optional, plan::kSpeedLimits, "travel speed"},
               Field{"distance", &T::distance, optional, plan::kDistanceLimits, "nozzle to panel"},
               Field{"needle_opening", &T::needle_opening, optional, plan::kNeedleOpeningLimits,
                     "needle opening, % of full"},
               Field{"air", &T::air, optional, plan::kAirLimits, "air pressure"}};
};

template <>
struct Schema<production::LogEntry> {
    using T = production::LogEntry;
    static constexpr std::string_view name = "log entry";
    static constexpr std::string_view about = "one thing that was done";
    static constexpr auto fields = Fields{
        Field{"date", &T::date, required, "date and time in UTC: \"2026-03-01T14:05:00Z\""},
        Field{"plan", &T::plan, required, "sha256 of the plan you worked from"},
        Field{"mix", &T::mix, optional, "mix that was made: a mix of that plan, or a paint that a coat uses"},
        Field{"weights", &T::grams, optional, items(1, 60, production::kGramsLimits),
              "grams weighed in, paint by paint"},
        Field{"batch_numbers", &T::batches, optional, items(1, 60), "batch numbers, paint by paint"},
        Field{"coat", &T::coat, optional, "coat that was sprayed or measured"},
        Field{"film", &T::film, optional, production::kMeasuredFilmLimits,
              "measured dry film of that coat alone"},
        Field{"at", &T::at, optional, plan::kPointLimits, "where on the panel it was measured"},
        Field{"temperature", &T::temperature, optional, plan::kTemperatureLimits,
              "temperature of air and paint"},
        Field{"humidity", &T::humidity, optional, range(0_pct, 100_pct), "relative humidity of the air"},
        Field{"note", &T::note, optional, "notes"},
        Field{"gun", &T::gun, optional, "gun settings that differed from the plan"}};
};

template <>
struct Schema<production::JobLog> {
    using T = production::JobLog;
    static constexpr std::string_view name = "job log";
    static constexpr std::string_view about = "what was actually mixed and sprayed; entries are only added";
    static constexpr auto fields =
        Fields{Field{"record", &T::version, required, range(1, production::kJobLogVersion),
                     "version of the job log format"},
               Field{"plans", &T::plans, optional, items(0, 10'000), "plans used"},
               Field{"entries", &T::entries, optional, items(0, 100'000), "entries, in order of time"}};
};

}  // namespace fadewright
