// What every command does the same way: opening the shelf, reading the plan, telling what is wrong.
#pragma once

#include "fadewright/app/commands.h"
#include "fadewright/plan/job.h"
#include "fadewright/plan/library.h"

#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace fadewright::app {

[[nodiscard]] Outcome system_error(const Error& refusal);
[[nodiscard]] Outcome cancelled_outcome();  // by whoever asked
[[nodiscard]] Outcome data_error(const Diagnostics& diagnostics, bool json);
[[nodiscard]] Outcome usage_error(const std::string& message, const std::string& hint);

// The shelf and a plan that has been read, or the outcome that says why it cannot be.
struct OpenedPlan {
    std::optional<plan::Library> library;
    std::shared_ptr<const Source> source;
    std::optional<plan::Plan> plan;              // to be shown in the units asked for
    UnitSystem plan_units = UnitSystem::metric;  // what the plan itself says
    Diagnostics diagnostics;
    Outcome outcome;

    [[nodiscard]] bool ready() const { return plan.has_value(); }
};

// How an answer is to be given.
struct OutputOptions {
    bool json = false;
    std::optional<UnitSystem> units;

    // JSON is metric, whatever else is asked.
    [[nodiscard]] std::optional<UnitSystem> unit_system() const {
        return json ? std::optional(UnitSystem::metric) : units;
    }
    [[nodiscard]] DisplayUnits display_units() const {
        return unit_system().value_or(UnitSystem::metric);
    }  // without a plan
};

// `request` has json and units.
template <class Request>
[[nodiscard]] OutputOptions output_options(const Request& request) {
    return {request.json, request.units};
}

[[nodiscard]] OpenedPlan open_plan(const std::string& plan_path, const std::string& library_folder,
                                   const OutputOptions& output);

// A plan that is ready to work with, or the outcome that says why it is not.
struct OpenedJob {
    std::optional<plan::Library> library;
    std::shared_ptr<const Source> source;
    std::optional<plan::Job> job;
    std::optional<colour::Illuminant> light;  // the one asked for, else the plan's
    Outcome outcome;

    [[nodiscard]] bool ready() const { return job.has_value(); }
};

[[nodiscard]] OpenedJob open_job(const std::string& plan_path, const std::string& library_folder,
                                 const std::string& light, const OutputOptions& output);

// Reads a text file of the user's; standard input is called "standard input".
[[nodiscard]] Result<std::shared_ptr<const Source>> read_source(const std::string& path);

// True if a file to be written is the plan itself: a slip of the hand that would lose the plan.
[[nodiscard]] bool overwrites_plan(const std::string& out, const std::string& plan);
[[nodiscard]] Outcome refuse_overwrite(const std::string& plan);

// Names and contents.
using OutputFiles = std::vector<std::pair<std::string, std::string>>;

// Writes one after the other and says so in `outcome`; the outcome that says why one could not be written.
[[nodiscard]] std::optional<Outcome> write_files(const OutputFiles& files, Outcome& outcome, bool json);

// Adds one line to what is said when something was written.
void report_written(Outcome& outcome, const std::string& path, bool json);

}  // namespace fadewright::app
