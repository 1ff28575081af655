#include "plan_requests.h"

#include "fadewright/app/page.h"
#include "fadewright/app/requests_schema.h"
#include "fadewright/serve/serve.h"
#include "fadewright/text/schema.h"

#include <fmt/core.h>

#include <glib.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <filesystem>
#include <memory>

namespace fadewright::serve {
namespace {

constexpr std::size_t kMaxEdits = 500;
constexpr int kMinPicture_px = 32, kMaxThumbnail_px = 400;

enum class UsageStatus { bad_request = 400, unprocessable = 422 };

ApiResponse failure_response(const app::Failure& failure, UsageStatus usage_status) {
    if (failure.cancelled) return cancelled_response();
    int status = 422;
    if (failure.exit == app::Exit::system_error) status = 500;
    if (failure.exit == app::Exit::usage_error) status = static_cast<int>(usage_status);
    Json json{{"error", failure.message}, {"hint", failure.hint}};
    if (!failure.diagnostics.empty()) json["diagnostics"] = Json::parse(to_json(failure.diagnostics));
    return json_response(json, status);
}

// The response of one of the functions for pages, whose wrong arguments are the page's own mistake.
ApiResponse page_response(const app::Outcome& outcome) {
    if (outcome.failure) return failure_response(*outcome.failure, UsageStatus::bad_request);
    return {200, outcome.out, "application/json", {}};
}

template <class Request>
Request page_request(const Workspace& workspace, const ApiRequest& api_request) {
    Request request;
    request.plan = plan_of(workspace, api_request);
    request.units = requested_units(api_request);
    return request;
}

std::optional<app::PanelPoint> point_of(const ApiRequest& api_request, const char* key) {
    const auto found = api_request.body.find(key);
    if (found == api_request.body.end() || !found->is_array() || found->size() != 2 ||
        !(*found)[0].is_number() || !(*found)[1].is_number())
        return std::nullopt;
    return app::PanelPoint{Millimetres{(*found)[0].get<double>()}, Millimetres{(*found)[1].get<double>()}};
}

std::optional<std::size_t> index_of(const ApiRequest& api_request, const char* key) {
    const std::optional<long> number = api_request.integer(key);
    return number && *number >= 0 ? std::optional(static_cast<std::size_t>(*number)) : std::nullopt;
}

app::PictureRequest picture_request(const Workspace& workspace, const ApiRequest& api_request) {
    auto request = page_request<app::PictureRequest>(workspace, api_request);
    request.page = api_request.page;
    request.sequence = api_request.sequence;
    request.size_px = static_cast<int>(std::clamp<long>(api_request.integer("size").value_or(request.size_px),
                                                        kMinPicture_px, kMaxPicture_px));
    request.after = index_of(api_request, "after");
    if (const auto hidden = api_request.body.find("hidden");
        hidden != api_request.body.end() && hidden->is_array())
        for (const Json& index : *hidden)
            if (index.is_number_unsigned()) request.hidden.push_back(index.get<std::size_t>());
    request.light = api_request.text("light");
    request.angle = api_request.text("angle");
    request.shape = api_request.text("shape", request.shape);
    request.without_clear = api_request.boolean("without_clear");
    request.overlay = api_request.text("overlay");
    request.coat = index_of(api_request, "coat");
    request.wide_gamut = api_request.boolean("wide_gamut");
    request.draft = api_request.boolean("draft");
    return request;
}

std::string percent_encoded(const std::string& text) {
    const std::unique_ptr<char, decltype(&g_free)> escaped(g_uri_escape_string(text.c_str(), " ", FALSE),
                                                           &g_free);
    return escaped.get();
}

// The options that both commands share.
template <class Request>
Request fade_request(const Workspace& workspace, const ApiRequest& api_request, Task& task) {
    auto request = page_request<Request>(workspace, api_request);
    request.json = true;
    request.progress = task.progress();
    return request;
}

std::string string_field(const Json& edit, const char* key) {
    const auto found = edit.find(key);
    return found != edit.end() && found->is_string() ? found->get<std::string>() : "";
}

// A value as plan text; numbers and booleans may come as JSON.
std::string toml_value(const Json& edit) {
    const auto found = edit.find("to");
    if (found == edit.end()) return "";
    return found->is_string() ? found->get<std::string>() : found->dump();
}

// Nothing if it is none of the edits.
std::optional<app::PlanEdit> edit_of(const Json& edit) {
    using Kind = app::PlanEdit::Kind;
    if (!edit.is_object()) return std::nullopt;
    if (const std::string path = string_field(edit, "set"); !path.empty())
        return app::PlanEdit{Kind::set, path, toml_value(edit)};
    if (const std::string path = string_field(edit, "delete"); !path.empty())
        return app::PlanEdit{Kind::erase, path, ""};
    if (const std::string path = string_field(edit, "move"); !path.empty())
        return app::PlanEdit{Kind::move, path, string_field(edit, "before")};
    if (edit.contains("add"))
        return app::PlanEdit{Kind::add, string_field(edit, "add"), string_field(edit, "copy_of")};
    if (const std::string path = string_field(edit, "rename"); !path.empty())
        return app::PlanEdit{Kind::rename, path, toml_value(edit)};
    return std::nullopt;
}

// The members of an entry; the other options of the command are not for the page.
constexpr std::array<std::string_view, 15> kEntryFields{
    "mix",   "weights",  "batch_numbers",  "coat", "film",     "at",   "gun",        "flow",
    "speed", "distance", "needle_opening", "air",  "humidity", "note", "temperature"};

Node text_node(const std::string& key, const std::string& text) {
    Node node;
    node.kind = Node::Kind::text;
    node.from_cli = true;
    node.text = text;
    const auto source = std::make_shared<Source>("entry", key + ": " + text);
    node.span = {source, key.size() + 2, source->text().size()};
    return node;
}

// Texts and lists of texts as options of the command; nothing if the entry has anything else.
std::optional<ParsedTree> entry_tree(const Json& entry) {
    ParsedTree tree;
    tree.root.kind = Node::Kind::table;
    for (const auto& [key, value] : entry.items()) {
        if (std::find(kEntryFields.begin(), kEntryFields.end(), key) == kEntryFields.end())
            return std::nullopt;
        Entry field{key, {}, {}};
        if (value.is_string()) {
            field.value = text_node(key, value.get<std::string>());
        } else if (value.is_array()) {
            field.value.kind = Node::Kind::list;
            for (const Json& item : value) {
                if (!item.is_string()) return std::nullopt;
                field.value.items.push_back(text_node(key, item.get<std::string>()));
            }
        } else {
            return std::nullopt;
        }
        tree.root.entries.push_back(std::move(field));
    }
    return tree;
}

std::optional<ApiResponse> add_entry(const Workspace& workspace, const Json& entry,
                                     const app::RecordRequest& request) {
    std::optional<ParsedTree> tree = entry_tree(entry);
    if (!tree) return error_response(400, "the entry has an unknown member, or one that is not text");
    tree->root.entries.push_back({"plan", {}, text_node("plan", request.plan.name)});
    Diagnostics diagnostics;
    app::RecordRequest entry_request{};
    if (!read_struct(*tree, entry_request, diagnostics)) {
        const Diagnostic first = diagnostics.sorted_list().front();
        return failure_response({app::Exit::data_error, first.message, first.hint, "", diagnostics, false},
                                UsageStatus::unprocessable);
    }
    entry_request.plan = request.plan;
    entry_request.units = request.units;
    const app::Outcome outcome = app::record(workspace.session, entry_request);
    return outcome.failure ? std::optional(command_response(outcome)) : std::nullopt;
}

}  // namespace

app::PlanInput plan_of(const Workspace& workspace, const ApiRequest& api_request) {
    return {api_request.text("file", "plan.toml"), workspace.folder.path(), api_request.text("text")};
}

std::optional<UnitSystem> requested_units(const ApiRequest& api_request) {
    const std::string units = api_request.text("units");
    for (const auto& [system, name] : Names<UnitSystem>::list)
        if (name == units) return system;
    return std::nullopt;
}

ApiResponse command_response(const app::Outcome& outcome) {
    if (outcome.failure) return failure_response(*outcome.failure, UsageStatus::unprocessable);
    return {200, outcome.out, "application/json", {}};
}

ApiResponse check_plan(const Workspace& workspace, const ApiRequest& api_request) {
    app::CheckRequest request;
    request.plans = {plan_of(workspace, api_request)};
    request.json = true;
    return {200, app::check(workspace.session, request).out, "application/json", {}};
}

ApiResponse plan_model(const Workspace& workspace, const ApiRequest& api_request) {
    return page_response(
        app::model(workspace.session, page_request<app::PageRequest>(workspace, api_request)));
}

ApiResponse plan_forecast(const Workspace& workspace, const ApiRequest& api_request) {
    return page_response(
        app::forecast(workspace.session, page_request<app::PageRequest>(workspace, api_request)));
}

ApiResponse plan_section(const Workspace& workspace, const ApiRequest& api_request) {
    auto request = page_request<app::PanelSectionRequest>(workspace, api_request);
    request.from = point_of(api_request, "from");
    request.to = point_of(api_request, "to");
    request.light = api_request.text("light");
    return page_response(app::panel_section(workspace.session, request));
}

ApiResponse plan_picture(const Workspace& workspace, const ApiRequest& api_request) {
    const auto begin = std::chrono::steady_clock::now();
    const auto drawn = app::picture(workspace.session, picture_request(workspace, api_request));
    if (!drawn) return failure_response(drawn.error(), UsageStatus::bad_request);
    const app::PagePicture& shown = drawn.value();
    const std::chrono::duration<double, std::milli> duration = std::chrono::steady_clock::now() - begin;
    return {200,
            shown.picture.bytes,
            shown.picture.mime_type,
            {{"Fadewright-Frame", fmt::format("{} {} {} {} {}", shown.left_mm, shown.top_mm, shown.mm_per_px,
                                              shown.width_px, shown.height_px)},
             {"Fadewright-Duration", fmt::format("{:.1f}", duration.count())},
             {"Fadewright-Note", percent_encoded(shown.note)}}};
}

ApiResponse plan_thumbnails(const Workspace& workspace, const ApiRequest& api_request, Task& task) {
    auto request = page_request<app::ThumbnailsRequest>(workspace, api_request);
    request.light = api_request.text("light");
    request.height_px = static_cast<int>(std::clamp<long>(
        api_request.integer("height").value_or(request.height_px), kMinPicture_px, kMaxThumbnail_px));
    request.progress = task.progress();
    return page_response(app::thumbnails(workspace.session, request));
}

ApiResponse compare_methods(const Workspace& workspace, const ApiRequest& api_request, Task& task) {
    const app::Outcome outcome =
        app::fade(workspace.session, fade_request<app::FadeRequest>(workspace, api_request, task));
    return task.is_cancelled() ? cancelled_response() : command_response(outcome);
}

ApiResponse tune_fade(const Workspace& workspace, const ApiRequest& api_request, Task& task) {
    const app::Outcome outcome =
        app::tune(workspace.session, fade_request<app::TuneRequest>(workspace, api_request, task));
    return task.is_disconnected() ? cancelled_response() : command_response(outcome);
}

ApiResponse apply_edits(const ApiRequest& api_request) {
    const auto listed = api_request.body.find("edits");
    if (listed == api_request.body.end() || !listed->is_array() || listed->size() > kMaxEdits)
        return error_response(400, fmt::format("expected a list of at most {} edits", kMaxEdits));
    std::vector<app::PlanEdit> edits;
    for (const Json& json : *listed) {
        const std::optional<app::PlanEdit> edit = edit_of(json);
        if (!edit) return error_response(422, "an edit has one of set, delete, move, add, rename");
        edits.push_back(*edit);
    }
    const Result<std::string, app::Failure> edited = app::edit_plan(api_request.text("text"), edits);
    if (!edited) return failure_response(edited.error(), UsageStatus::unprocessable);
    return json_response({{"text", edited.value()}});
}

ApiResponse job_log(const Workspace& workspace, const ApiRequest& api_request) {
    const std::string file = api_request.text("file");
    if (!is_plan_name(file)) return error_response(400, "the plan has no file name yet", "save it first");
    app::RecordRequest request;
    request.plan = plan_of(workspace, api_request);
    const std::string log = std::filesystem::path(app::job_log_path(request.plan)).filename().string();
    if (workspace.folder.is_link_or_special(log))
        return error_response(403, fmt::format("'{}' is not a regular file of this folder", log));
    request.units = requested_units(api_request);
    if (const auto entry = api_request.body.find("entry"); entry != api_request.body.end()) {
        if (!entry->is_object()) return error_response(400, "the entry must be a JSON object");
        if (entry->empty())
            return error_response(422, "the entry is empty", "enter what was mixed, sprayed or measured");
        if (const std::optional<ApiResponse> failure = add_entry(workspace, *entry, request)) return *failure;
    }
    request.list = true;
    request.json = true;
    return command_response(app::record(workspace.session, request));
}

}  // namespace fadewright::serve
