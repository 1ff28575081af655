// Common to all commands: opening the library, reading the plan, reporting errors.
#pragma once

#include "fadewright/app/commands.h"
#include "fadewright/plan/job.h"
#include "fadewright/plan/library.h"

#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace fadewright::app {

[[nodiscard]] Outcome system_error(const Error& error);
[[nodiscard]] Outcome cancelled_outcome();
[[nodiscard]] Outcome data_error(const Diagnostics& diagnostics, bool json);
[[nodiscard]] Outcome usage_error(const std::string& message, const std::string& hint);

// The library and a plan as read, or the outcome of the failure.
struct OpenedPlan {
    std::optional<plan::Library> library;
    std::shared_ptr<const Source> source;
    std::optional<plan::Plan> plan;              // with the requested display units
    UnitSystem plan_units = UnitSystem::metric;  // as written in the plan
    Diagnostics diagnostics;
    Outcome outcome;

    [[nodiscard]] bool ready() const { return plan.has_value(); }
};

// Form of the output.
struct OutputOptions {
    bool json = false;
    std::optional<UnitSystem> units;

    // JSON is always metric.
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

// A plan as resolved job, or the outcome of the failure.
struct OpenedJob {
    std::optional<plan::Library> library;
    std::shared_ptr<const Source> source;
    std::optional<plan::Job> job;
    std::optional<colour::Illuminant> light;  // as requested; default: the plan's
    Outcome outcome;

    [[nodiscard]] bool ready() const { return job.has_value(); }
};

[[nodiscard]] OpenedJob open_job(const std::string& plan_path, const std::string& library_folder,
                                 const std::string& light, const OutputOptions& output);

// Reads a text file; "-" is standard input, named "standard input".
[[nodiscard]] Result<std::shared_ptr<const Source>> read_source(const std::string& path);

// True if an output file is the plan itself, which would be lost.
[[nodiscard]] bool overwrites_plan(const std::string& out, const std::string& plan);
[[nodiscard]] Outcome refuse_overwrite(const std::string& plan);

// Names and contents.
using OutputFiles = std::vector<std::pair<std::string, std::string>>;

// Writes the files and reports each in `outcome`; returns an outcome if one could not be written.
[[nodiscard]] std::optional<Outcome> write_files(const OutputFiles& files, Outcome& outcome, bool json);

// Adds the line "wrote PATH" to the output.
void report_written(Outcome& outcome, const std::string& path, bool json);

// The span of something typed on the command line, for diagnostics about it.
[[nodiscard]] SourceSpan command_line_span(const std::string& text);

}  // namespace fadewright::app
