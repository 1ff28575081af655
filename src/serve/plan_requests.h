// Requests about a plan that is being edited: the body as a request to app, its result as the response.
//
// Every request carries the whole text of the plan, which lies in the served folder: drawings and the job log
// are found there.
#pragma once

#include "api_message.h"
#include "fadewright/app/commands.h"
#include "folder.h"
#include "tasks.h"

namespace fadewright::serve {

// What requests about plans need of the server.
struct Workspace {
    app::Session& session;
    const Folder& folder;
};

[[nodiscard]] app::PlanInput plan_of(const Workspace& workspace, const ApiRequest& api_request);
// The units the page asks for; nothing if it asks for none.
[[nodiscard]] std::optional<UnitSystem> requested_units(const ApiRequest& api_request);

// The output of a command, or its failure: 409 if it was cancelled, 500 for an error of the system, otherwise
// 422 with the diagnostics of a wrong plan. Hints about options of the command line are left out.
[[nodiscard]] ApiResponse command_response(const app::Outcome& outcome);

// The output of `check --json`, byte for byte.
[[nodiscard]] ApiResponse check_plan(const Workspace& workspace, const ApiRequest& api_request);
[[nodiscard]] ApiResponse plan_model(const Workspace& workspace, const ApiRequest& api_request);
[[nodiscard]] ApiResponse plan_forecast(const Workspace& workspace, const ApiRequest& api_request);
[[nodiscard]] ApiResponse plan_section(const Workspace& workspace, const ApiRequest& api_request);
[[nodiscard]] ApiResponse plan_picture(const Workspace& workspace, const ApiRequest& api_request);
[[nodiscard]] ApiResponse plan_thumbnails(const Workspace& workspace, const ApiRequest& api_request,
                                          Task& task);
// The fade methods for the plan, compared.
[[nodiscard]] ApiResponse compare_methods(const Workspace& workspace, const ApiRequest& api_request,
                                          Task& task);
// The search for a smoother fade; if the page cancels it, the best found so far.
[[nodiscard]] ApiResponse tune_fade(const Workspace& workspace, const ApiRequest& api_request, Task& task);
// What was really mixed and sprayed: adds an entry if the request has one, and lists the log.
[[nodiscard]] ApiResponse job_log(const Workspace& workspace, const ApiRequest& api_request);
// All of the edits, or none with the reason.
[[nodiscard]] ApiResponse apply_edits(const ApiRequest& api_request);

}  // namespace fadewright::serve
