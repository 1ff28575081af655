// What every command does the same way: opening the shelf, reading the plan, telling what is wrong.
#pragma once

#include "fadewright/app/commands.h"
#include "fadewright/plan/job.h"
#include "fadewright/plan/shelf.h"

#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace fadewright::app {

[[nodiscard]] Outcome refused(const Refusal& refusal);
[[nodiscard]] Outcome ended_early();  // by whoever asked
[[nodiscard]] Outcome wrong_data(const Diagnostics& diagnostics, bool json);
[[nodiscard]] Outcome wrong_command(const std::string& message, const std::string& hint);

// The shelf and a plan that has been read, or the outcome that says why it cannot be.
struct OpenedPlan {
    std::optional<plan::Shelf> shelf;
    std::shared_ptr<const Source> source;
    std::optional<plan::Plan> plan;             // to be shown in the units asked for
    UnitSystem own_units = UnitSystem::metric;  // what the plan itself says
    Diagnostics diagnostics;
    Outcome outcome;

    [[nodiscard]] bool ready() const { return plan.has_value(); }
};

// How an answer is to be given.
struct Answer {
    bool json = false;
    std::optional<UnitSystem> units;

    // JSON is metric, whatever else is asked.
    [[nodiscard]] std::optional<UnitSystem> shown_in() const {
        return json ? std::optional(UnitSystem::metric) : units;
    }
    [[nodiscard]] ShownUnits shown() const {
        return shown_in().value_or(UnitSystem::metric);
    }  // without a plan
};

// `request` has json and units.
template <class Request>
[[nodiscard]] Answer answer_of(const Request& request) {
    return {request.json, request.units};
}

[[nodiscard]] OpenedPlan open_plan(const std::string& plan_path, const std::string& shelf_folder,
                                   const Answer& answer);

// A plan that is ready to work with, or the outcome that says why it is not.
struct Opened {
    std::optional<plan::Shelf> shelf;
    std::shared_ptr<const Source> source;
    std::optional<plan::Job> job;
    std::optional<colour::Light> light;  // the one asked for, else the plan's
    Outcome outcome;

    [[nodiscard]] bool ready() const { return job.has_value(); }
};

[[nodiscard]] Opened open_job(const std::string& plan_path, const std::string& shelf_folder,
                              const std::string& light, const Answer& answer);

// Reads a text file of the user's; standard input is called "standard input".
[[nodiscard]] Result<std::shared_ptr<const Source>> read_source(const std::string& path);

// True if a file to be written is the plan itself: a slip of the hand that would lose the plan.
[[nodiscard]] bool is_the_plan(const std::string& out, const std::string& plan);
[[nodiscard]] Outcome would_lose_plan(const std::string& plan);

// Names and contents.
using NewFiles = std::vector<std::pair<std::string, std::string>>;

// Writes one after the other and says so in `outcome`; the outcome that says why one could not be written.
[[nodiscard]] std::optional<Outcome> write_all(const NewFiles& files, Outcome& outcome, bool json);

// Adds one line to what is said when something was written.
void say_written(Outcome& outcome, const std::string& path, bool json);

}  // namespace fadewright::app
