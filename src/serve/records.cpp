#include "records.h"

#include "command_failure.h"
#include "fadewright/app/commands.h"
#include "fadewright/app/requests_schema.h"
#include "fadewright/app/text_override.h"
#include "fadewright/plan/job_log.h"
#include "folder.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>

namespace fadewright::serve {
namespace {

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

std::optional<ApiResponse> add_entry(const Json& entry, const app::RecordRequest& request) {
    std::optional<ParsedTree> tree = entry_tree(entry);
    if (!tree) return error_response(400, "the entry has an unknown member, or one that is not text");
    tree->root.entries.push_back({"plan", {}, text_node("plan", request.plan)});
    Diagnostics diagnostics;
    app::RecordRequest entry_request{};
    if (!read_struct(*tree, entry_request, diagnostics))
        return json_response({{"error", diagnostics.sorted_list().front().message},
                              {"hint", diagnostics.sorted_list().front().hint},
                              {"diagnostics", Json::parse(to_json(diagnostics))}},
                             422);
    entry_request.library = request.library;
    entry_request.units = request.units;
    const app::Outcome outcome = app::record(entry_request);
    return outcome.exit == app::Exit::ok ? std::nullopt : std::optional(command_failure(outcome));
}

}  // namespace

ApiResponse job_log(PlanCache& plan_cache, const ApiRequest& api_request) {
    const std::string file = api_request.text("file");
    if (!is_plan_name(file)) return error_response(400, "the plan has no file name yet", "save it first");
    if (is_link_or_special(plan::job_log_path(file)))
        return error_response(
            403, fmt::format("'{}' is not a regular file of this folder", plan::job_log_path(file)));
    const app::TextOverride text_override(file, api_request.text("text"));
    app::RecordRequest request;
    request.plan = file;
    request.library = plan_cache.library_folder();
    request.units = requested_units(api_request);
    if (const auto entry = api_request.body.find("entry"); entry != api_request.body.end()) {
        if (!entry->is_object()) return error_response(400, "the entry must be a JSON object");
        if (entry->empty())
            return error_response(422, "the entry is empty", "enter what was mixed, sprayed or measured");
        if (const std::optional<ApiResponse> failure = add_entry(*entry, request)) return *failure;
    }
    request.list = true;
    request.json = true;
    const app::Outcome outcome = app::record(request);
    return outcome.exit == app::Exit::ok ? ApiResponse{200, outcome.out, "application/json", {}}
                                         : command_failure(outcome);
}

}  // namespace fadewright::serve
