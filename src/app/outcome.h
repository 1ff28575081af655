// Common to all commands: reading files and plans, failures, artefacts.
#pragma once

#include "fadewright/app/commands.h"
#include "fadewright/colour/illuminant.h"
#include "prepared_plan.h"

#include <nlohmann/json_fwd.hpp>

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace fadewright::app {

// A value, or why there is none.
template <class T>
using Attempt = Result<T, Failure>;
using Check = Attempt<Success>;

[[nodiscard]] Failure system_failure(const Error& error);
[[nodiscard]] Failure cancelled_failure();
[[nodiscard]] Failure data_failure(const Diagnostics& diagnostics);
[[nodiscard]] Failure data_failure(const std::string& message, const std::string& hint);
[[nodiscard]] Failure usage_failure(const std::string& message, const std::string& hint);
// What to do is an option of the command line, which other front ends do not show.
[[nodiscard]] Failure option_failure(const std::string& message, const std::string& option_hint);

// The outcome of a failed command: its diagnostics as JSON if that is requested, otherwise text.
[[nodiscard]] Outcome failed(const Failure& failure, bool json);
template <class Request>
[[nodiscard]] Outcome failed(const Failure& failure, const Request& request) {
    return failed(failure, request.json);
}

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

// A plan that is read and not resolved, for the commands that need no job of the plan itself.
struct OpenedPlan {
    PlanInput input;  // with its text, so that it need not be read again
    std::shared_ptr<const Source> source;
    plan::Plan plan;  // with the requested display units
    UnitSystem written_units = UnitSystem::metric;
};
// Of a plan that cannot be read, the mistakes of all stages.
[[nodiscard]] Attempt<OpenedPlan> open_plan(Session& session, const PlanInput& plan,
                                            const OutputOptions& output);

// A plan that has a job.
[[nodiscard]] Attempt<std::shared_ptr<const PreparedPlan>> open_job(Session& session, const PlanInput& plan,
                                                                    const OutputOptions& output);

// The same, viewed in another light; for an empty name in the plan's own.
[[nodiscard]] Attempt<std::shared_ptr<const PreparedPlan>> open_job_in_light(Session& session,
                                                                             const PlanInput& plan,
                                                                             const std::string& light,
                                                                             const OutputOptions& output);

// The light of that name.
[[nodiscard]] Attempt<colour::Illuminant> find_light(plan::Library library, const std::string& name);
// The same; for an empty name the plan's own light.
[[nodiscard]] Attempt<colour::Illuminant> find_light(const PreparedPlan& prepared, const std::string& name);

// Reads a text file; "-" is standard input, named "standard input".
[[nodiscard]] Result<std::shared_ptr<const Source>> read_source(const std::string& path);

// Path of a file beside the plan, named in messages by the plan's path.
[[nodiscard]] std::string path_in_folder(const PlanInput& plan, const std::string& name);

// An output file must not be the plan itself, which would be lost.
[[nodiscard]] Check check_overwrite(const std::string& out, const PlanInput& plan);

// Indented, with a last line end. Bytes that are not UTF-8 become replacement characters.
[[nodiscard]] std::string json_text(const nlohmann::ordered_json& json);

// Its type follows from the ending of the name; a name without a known one is plain text.
[[nodiscard]] Artefact artefact(const std::string& name, std::string bytes);

// Adds artefacts with the line "wrote NAME" of each, which JSON leaves out.
void add_artefacts(Outcome& outcome, std::vector<Artefact> artefacts, bool json);
void add_artefact(Outcome& outcome, const std::string& name, std::string bytes, bool json);

// The span of something typed on the command line, for diagnostics about it.
[[nodiscard]] SourceSpan command_line_span(const std::string& text);

}  // namespace fadewright::app
