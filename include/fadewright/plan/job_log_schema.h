// The fields of the record file, each said once (text/schema.h).
#pragma once

#include "fadewright/plan/job_log_file.h"
#include "fadewright/plan/plan_schema.h"

namespace fadewright {

namespace plan {
inline constexpr Limits kGramsLimits = range(Grams{0.0}, Grams{1e6});
inline constexpr Limits kMeasuredFilmLimits = range(Micrometres{0.0}, 2000_um);
}  // namespace plan

template <>
struct Schema<plan::PlanSnapshot> {
    using T = plan::PlanSnapshot;
    static constexpr std::string_view name = "kept plan";
    static constexpr std::string_view about = "a plan as it was when something was done by it";
    static constexpr auto fields =
        Fields{Field{"sha256", &T::sha256, required, "hash of its text, by which entries name it"},
               Field{"text", &T::text, required, "the plan, letter for letter"}};
};

template <>
struct Schema<plan::GunSettings> {
    using T = plan::GunSettings;
    static constexpr std::string_view name = "gun as set";
    static constexpr std::string_view about = "how the gun was set, where that was not as planned";
    static constexpr auto fields =
        Fields{Field{"gun", &T::gun, optional, "another gun than the coat's"},
               Field{"flow", &T::flow, optional, plan::kFlowLimits, "paint leaving the gun"},
               Field{"speed", &T::speed, optional, plan::kSpeedLimits, "travel over the panel"},
               Field{"distance", &T::distance, optional, plan::kDistanceLimits, "nozzle to panel"},
               Field{"needle_opening", &T::needle_opening, optional, plan::kNeedleOpeningLimits,
                     "how far it was drawn back"},
               Field{"air", &T::air, optional, plan::kAirLimits, "air pressure"}};
};

template <>
struct Schema<plan::LogEntry> {
    using T = plan::LogEntry;
    static constexpr std::string_view name = "record entry";
    static constexpr std::string_view about = "one thing that was done";
    static constexpr auto fields = Fields{
        Field{"date", &T::date, required, "when, in UTC: \"2026-03-01T14:05:00Z\""},
        Field{"plan", &T::plan, required, "the sha256 of the kept plan that was worked by"},
        Field{"mix", &T::mix, optional, "a mix of that plan, or a paint that a coat is made of"},
        Field{"weights", &T::grams, optional, items(1, 60, plan::kGramsLimits),
              "what was weighed in, paint by paint"},
        Field{"batch_numbers", &T::batches, optional, items(1, 60), "batch numbers, paint by paint"},
        Field{"coat", &T::coat, optional, "the coat that was laid or read"},
        Field{"film", &T::film, optional, plan::kMeasuredFilmLimits, "dry film of that coat alone, as read"},
        Field{"at", &T::at, optional, plan::kPointLimits, "where on the panel it was read"},
        Field{"temperature", &T::temperature, optional, plan::kTemperatureLimits, "of air and paint"},
        Field{"humidity", &T::humidity, optional, range(0_pct, 100_pct), "relative humidity of the air"},
        Field{"note", &T::note, optional, "whatever else should be remembered"},
        Field{"gun", &T::gun, optional, "how the gun was set, where that was not as planned"}};
};

template <>
struct Schema<plan::JobLog> {
    using T = plan::JobLog;
    static constexpr std::string_view name = "record";
    static constexpr std::string_view about = "what was really mixed and sprayed; it only ever grows";
    static constexpr auto fields = Fields{
        Field{"record", &T::version, required, range(1, plan::kJobLogVersion),
              "version of the record format"},
        Field{"plans", &T::plans, optional, items(0, 10'000), "every plan that something was done by"},
        Field{"entries", &T::entries, optional, items(0, 100'000), "what was done, one after the other"}};
};

}  // namespace fadewright
