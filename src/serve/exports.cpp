#include "exports.h"

#include "command_failure.h"
#include "fadewright/app/commands.h"
#include "fadewright/app/text_override.h"
#include "fadewright/base/files.h"
#include "folder.h"

#include <fmt/core.h>

#include <algorithm>
#include <filesystem>
#include <memory>
#include <vector>

#include <unistd.h>

namespace fadewright::serve {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t kMaxExport_bytes = 64u << 20;

// A new folder, deleted once the response has been built.
class TempFolder {
public:
    TempFolder() {
        std::string pattern = (fs::temp_directory_path() / "fadewright-XXXXXX").string();
        if (::mkdtemp(pattern.data()) != nullptr) path_ = pattern;
    }
    ~TempFolder() {
        std::error_code error;
        if (!path_.empty()) fs::remove_all(path_, error);
    }
    TempFolder(const TempFolder&) = delete;
    TempFolder& operator=(const TempFolder&) = delete;
    [[nodiscard]] bool ready() const { return !path_.empty(); }
    [[nodiscard]] std::string file(const std::string& name) const { return path_ + "/" + name; }

private:
    std::string path_;
};

ApiResponse file_response(const std::string& path, const std::string& name, const std::string& type) {
    Result<std::string> bytes = read_file_bytes(path, kMaxExport_bytes);
    if (!bytes) return error_response(500, bytes.error().message);
    return {200,
            std::move(bytes).value(),
            type,
            {{"Content-Disposition", fmt::format("attachment; filename=\"{}\"", name)}}};
}

std::string content_type(const std::string& ending) {
    if (ending == "pdf") return "application/pdf";
    if (ending == "html") return "text/html; charset=utf-8";
    if (ending == "csv") return "text/csv; charset=utf-8";
    if (ending == "png") return "image/png";
    if (ending == "txt") return "text/plain; charset=utf-8";
    return "application/json";
}

bool is_one_of(const std::string& word, std::initializer_list<const char*> choices) {
    return std::find(choices.begin(), choices.end(), word) != choices.end();
}

struct ExportRequest {
    std::string file, document, format;
    report::Paper paper = report::Paper::A4;
    std::string light;
    std::vector<std::string> plans;  // of a proof: the names of the overridden texts
    std::string library;
    std::optional<UnitSystem> units;
    Task* task = nullptr;
};

template <class Request>
void connect_task(Request& request, Task& task) {
    const render::Progress progress = task.progress();
    request.on_progress = progress.on_report;
    request.is_cancelled = progress.cancel_requested;
}

// The options that all commands share.
template <class Request>
Request command_request(const ExportRequest& export_request) {
    Request request;
    if constexpr (requires { request.plan; }) request.plan = export_request.file;
    if constexpr (requires { request.paper; }) request.paper = export_request.paper;
    request.library = export_request.library;
    request.units = export_request.units;
    return request;
}

app::Outcome export_sheet(const ExportRequest& export_request, const std::string& out) {
    auto request = command_request<app::SheetRequest>(export_request);
    request.json = true;
    if (export_request.document == "labels")
        request.labels = out;
    else
        request.out = {out};
    return app::sheet(request);
}

app::Outcome export_proof(const ExportRequest& export_request, const std::string& out) {
    auto request = command_request<app::ProofRequest>(export_request);
    request.plans = export_request.plans;
    request.out = {out};
    request.json = true;
    connect_task(request, *export_request.task);
    return app::proof(request);
}

app::Outcome export_picture(const ExportRequest& export_request, const std::string& out) {
    auto request = command_request<app::PreviewRequest>(export_request);
    request.out = out;
    request.light = export_request.light;
    request.size = 2400;
    request.json = true;
    return app::preview(request);
}

app::Outcome export_template(const ExportRequest& export_request, const std::string& out) {
    auto request = command_request<app::TemplateRequest>(export_request);
    request.out = out;
    request.json = true;
    return app::outline_template(request);
}

// The job log as plain text.
app::Outcome export_record(const ExportRequest& export_request, const std::string& out) {
    auto request = command_request<app::RecordRequest>(export_request);
    request.list = true;
    app::Outcome outcome = app::record(request);
    if (outcome.exit != app::Exit::ok) return outcome;
    if (const Result<Success> done = write_file_atomic(out, outcome.out); !done)
        return {app::Exit::system_error, "", done.error().message};
    return outcome;
}

app::Outcome run_export(const ExportRequest& export_request, const std::string& out) {
    if (export_request.document == "proof") return export_proof(export_request, out);
    if (export_request.document == "picture") return export_picture(export_request, out);
    if (export_request.document == "template") return export_template(export_request, out);
    if (export_request.document == "record") return export_record(export_request, out);
    return export_sheet(export_request, out);
}

bool is_supported_format(const std::string& document, const std::string& format) {
    if (document == "sheet") return is_one_of(format, {"pdf", "html", "csv", "json"});
    if (document == "proof") return is_one_of(format, {"pdf", "html", "png"});
    if (document == "picture") return format == "png";
    if (document == "record") return format == "txt";
    return is_one_of(document, {"template", "labels"}) && format == "pdf";
}

// The options of a proof are plans whose texts are not on disk; each gets the plan's name with a number.
void override_texts(const ApiRequest& api_request, ExportRequest& export_request,
                    std::vector<std::unique_ptr<app::TextOverride>>& text_overrides) {
    text_overrides.push_back(
        std::make_unique<app::TextOverride>(export_request.file, api_request.text("text")));
    const auto options = api_request.body.find("options");
    if (options == api_request.body.end() || !options->is_array() || options->empty()) {
        export_request.plans = {export_request.file};
        return;
    }
    for (const Json& option : *options) {
        if (!option.is_object() || !option.contains("text") || !option["text"].is_string()) continue;
        const std::string name =
            fmt::format("option {} of {}", export_request.plans.size() + 1, export_request.file);
        text_overrides.push_back(
            std::make_unique<app::TextOverride>(name, option["text"].get<std::string>()));
        export_request.plans.push_back(name);
    }
}

}  // namespace

ApiResponse export_file(PlanCache& plan_cache, const ApiRequest& api_request, Task& task) {
    ExportRequest export_request;
    export_request.task = &task;
    export_request.file = api_request.text("file");
    export_request.document = api_request.text("document");
    export_request.format = api_request.text("format");
    export_request.light = api_request.text("light");
    export_request.library = plan_cache.library_folder();
    export_request.units = requested_units(api_request);
    if (!is_plan_name(export_request.file))
        return error_response(400, "the plan has no file name yet", "save it first");
    if (!is_supported_format(export_request.document, export_request.format))
        return error_response(
            400, fmt::format("cannot export '{}' as '{}'", export_request.document, export_request.format),
            "sheet: pdf, html, csv, json; proof: pdf, html, png; picture: png; template, labels: pdf; "
            "record: txt");
    if (api_request.text("paper") == "Letter") export_request.paper = report::Paper::Letter;
    const TempFolder temp_folder;
    if (!temp_folder.ready()) return error_response(500, "cannot create temporary files");
    std::vector<std::unique_ptr<app::TextOverride>> text_overrides;
    override_texts(api_request, export_request, text_overrides);
    const std::string name = fmt::format("{}-{}.{}", fs::path(export_request.file).stem().string(),
                                         export_request.document, export_request.format);
    const app::Outcome outcome = run_export(export_request, temp_folder.file(name));
    if (task.is_cancelled()) return cancelled_response();
    return outcome.exit == app::Exit::ok
               ? file_response(temp_folder.file(name), name, content_type(export_request.format))
               : command_failure(outcome);
}

ApiResponse check_plan(PlanCache& plan_cache, const ApiRequest& api_request) {
    const std::string file = api_request.text("file", "plan.toml");
    const app::TextOverride text_override(file, api_request.text("text"));
    app::CheckRequest request;
    request.plans = {file};
    request.library = plan_cache.library_folder();
    request.json = true;
    const app::Outcome outcome = app::check(request);
    return {200, outcome.out, "application/json", {}};
}

namespace {

// The options that both commands share.
template <class Request>
Request fade_request(PlanCache& plan_cache, const ApiRequest& api_request, Task& task) {
    Request request;
    request.plan = api_request.text("file", "plan.toml");
    request.library = plan_cache.library_folder();
    request.units = requested_units(api_request);
    request.json = true;
    connect_task(request, task);
    return request;
}

ApiResponse outcome_response(const app::Outcome& outcome) {
    return outcome.exit == app::Exit::ok ? ApiResponse{200, outcome.out, "application/json", {}}
                                         : command_failure(outcome);
}

}  // namespace

ApiResponse compare_methods(PlanCache& plan_cache, const ApiRequest& api_request, Task& task) {
    const app::TextOverride text_override(api_request.text("file", "plan.toml"), api_request.text("text"));
    const app::Outcome outcome = app::fade(fade_request<app::FadeRequest>(plan_cache, api_request, task));
    return task.is_cancelled() ? cancelled_response() : outcome_response(outcome);
}

// A search that is cancelled returns the best found so far.
ApiResponse tune_fade(PlanCache& plan_cache, const ApiRequest& api_request, Task& task) {
    const app::TextOverride text_override(api_request.text("file", "plan.toml"), api_request.text("text"));
    const app::Outcome outcome = app::tune(fade_request<app::TuneRequest>(plan_cache, api_request, task));
    return task.is_disconnected() ? cancelled_response() : outcome_response(outcome);
}

}  // namespace fadewright::serve
