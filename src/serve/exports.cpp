#include "exports.h"

#include <fmt/core.h>

#include <algorithm>
#include <filesystem>
#include <vector>

namespace fadewright::serve {
namespace {

bool is_one_of(const std::string& word, std::initializer_list<const char*> choices) {
    return std::find(choices.begin(), choices.end(), word) != choices.end();
}

struct ExportRequest {
    const Workspace& workspace;
    Task& task;
    app::PlanInput plan;
    std::string document, format, light;
    app::Paper paper = app::Paper::A4;
    std::vector<app::PlanInput> options;  // of a proof
    std::optional<UnitSystem> units;
};

// The options that all commands share.
template <class Request>
Request command_request(const ExportRequest& wanted) {
    Request request;
    if constexpr (requires { request.plan; }) request.plan = wanted.plan;
    if constexpr (requires { request.paper; }) request.paper = wanted.paper;
    request.units = wanted.units;
    return request;
}

app::Outcome export_sheet(const ExportRequest& wanted, const std::string& out) {
    auto request = command_request<app::SheetRequest>(wanted);
    request.json = true;
    if (wanted.document == "labels")
        request.labels = out;
    else
        request.out = {out};
    return app::sheet(wanted.workspace.session, request);
}

app::Outcome export_proof(const ExportRequest& wanted, const std::string& out) {
    auto request = command_request<app::ProofRequest>(wanted);
    request.plans = wanted.options;
    request.out = {out};
    request.json = true;
    request.progress = wanted.task.progress();
    return app::proof(wanted.workspace.session, request);
}

app::Outcome export_picture(const ExportRequest& wanted, const std::string& out) {
    auto request = command_request<app::PreviewRequest>(wanted);
    request.out = out;
    request.light = wanted.light;
    request.size = 2400;
    request.json = true;
    return app::preview(wanted.workspace.session, request);
}

app::Outcome export_template(const ExportRequest& wanted, const std::string& out) {
    auto request = command_request<app::TemplateRequest>(wanted);
    request.out = out;
    request.json = true;
    return app::outline_template(wanted.workspace.session, request);
}

// The job log as plain text.
app::Outcome export_record(const ExportRequest& wanted, const std::string& out) {
    auto request = command_request<app::RecordRequest>(wanted);
    request.list = true;
    app::Outcome outcome = app::record(wanted.workspace.session, request);
    if (!outcome.failure) outcome.artefacts = {{out, "text/plain; charset=utf-8", outcome.out}};
    return outcome;
}

app::Outcome run_export(const ExportRequest& wanted, const std::string& out) {
    if (wanted.document == "proof") return export_proof(wanted, out);
    if (wanted.document == "picture") return export_picture(wanted, out);
    if (wanted.document == "template") return export_template(wanted, out);
    if (wanted.document == "record") return export_record(wanted, out);
    return export_sheet(wanted, out);
}

bool is_supported_format(const std::string& document, const std::string& format) {
    if (document == "sheet") return is_one_of(format, {"pdf", "html", "csv", "json"});
    if (document == "proof") return is_one_of(format, {"pdf", "html", "png"});
    if (document == "picture") return format == "png";
    if (document == "record") return format == "txt";
    return is_one_of(document, {"template", "labels"}) && format == "pdf";
}

// The options of a proof are plans whose texts are not on disk; each gets the plan's name with a number.
std::vector<app::PlanInput> proof_options(const ApiRequest& api_request, const app::PlanInput& plan) {
    const auto listed = api_request.body.find("options");
    if (listed == api_request.body.end() || !listed->is_array() || listed->empty()) return {plan};
    std::vector<app::PlanInput> options;
    for (const Json& option : *listed)
        if (option.is_object() && option.contains("text") && option["text"].is_string())
            options.push_back({fmt::format("option {} of {}", options.size() + 1, plan.name), plan.folder,
                               option["text"].get<std::string>()});
    return options;
}

ApiResponse file_response(const app::Artefact& file) {
    return {200,
            file.bytes,
            file.mime_type,
            {{"Content-Disposition", fmt::format("attachment; filename=\"{}\"", file.name)}}};
}

}  // namespace

ApiResponse export_file(const Workspace& workspace, const ApiRequest& api_request, Task& task) {
    ExportRequest wanted{workspace,
                         task,
                         plan_of(workspace, api_request),
                         api_request.text("document"),
                         api_request.text("format"),
                         api_request.text("light"),
                         api_request.text("paper") == "Letter" ? app::Paper::Letter : app::Paper::A4,
                         {},
                         requested_units(api_request)};
    const std::string file = api_request.text("file");
    if (!is_plan_name(file)) return error_response(400, "the plan has no file name yet", "save it first");
    if (!is_supported_format(wanted.document, wanted.format))
        return error_response(
            400, fmt::format("cannot export '{}' as '{}'", wanted.document, wanted.format),
            "sheet: pdf, html, csv, json; proof: pdf, html, png; picture: png; template, labels: pdf; "
            "record: txt");
    wanted.options = proof_options(api_request, wanted.plan);
    const std::string name =
        fmt::format("{}-{}.{}", std::filesystem::path(file).stem().string(), wanted.document, wanted.format);
    const app::Outcome outcome = run_export(wanted, name);
    if (task.is_cancelled()) return cancelled_response();
    if (outcome.failure || outcome.artefacts.empty()) return command_response(outcome);
    return file_response(outcome.artefacts.front());
}

}  // namespace fadewright::serve
