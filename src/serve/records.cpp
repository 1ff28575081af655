#include "records.h"

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

// What an entry says; the command's other options are not for the page.
constexpr std::array<std::string_view, 15> kEntryFields{
    "mix",   "grams",    "bottles", "coat", "film",     "at",   "gun",        "flow",
    "speed", "distance", "needle",  "air",  "humidity", "note", "temperature"};

Node text_node(const std::string& key, const std::string& text) {
    Node node;
    node.kind = Node::Kind::text;
    node.from_cli = true;
    node.text = text;
    const auto source = std::make_shared<Source>("entry", key + ": " + text);
    node.span = {source, key.size() + 2, source->text().size()};
    return node;
}

// Texts and lists of texts, as the command's reader takes them; nothing if it is anything else.
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

ApiResponse failure_response(const app::Outcome& outcome) {
    Json json{{"refused", "this could not be kept"}, {"hint", outcome.err}};
    if (Json::accept(outcome.out)) json["diagnostics"] = Json::parse(outcome.out);
    return json_response(json, outcome.exit == app::Exit::system_error ? 500 : 422);
}

std::optional<ApiResponse> add_entry(const Json& entry, const app::RecordRequest& request) {
    std::optional<ParsedTree> tree = entry_tree(entry);
    if (!tree)
        return error_response(400, "an entry is made of texts under the names of the command's options");
    tree->root.entries.push_back({"plan", {}, text_node("plan", request.plan)});
    Diagnostics mistakes;
    app::RecordRequest adding{};
    if (!read_struct(*tree, adding, mistakes))
        return json_response({{"refused", mistakes.sorted_list().front().message},
                              {"hint", mistakes.sorted_list().front().hint},
                              {"diagnostics", Json::parse(to_json(mistakes))}},
                             422);
    adding.library = request.library;
    adding.units = request.units;
    const app::Outcome outcome = app::record(adding);
    return outcome.exit == app::Exit::ok ? std::nullopt : std::optional(failure_response(outcome));
}

}  // namespace

ApiResponse record(PlanCache& plan_cache, const ApiRequest& api_request) {
    const std::string file = api_request.text("file");
    if (!is_plan_name(file)) return error_response(400, "the plan has no name yet", "save it first");
    if (is_link_or_special(plan::job_log_path(file)))
        return error_response(403,
                              fmt::format("'{}' is not a file of this folder", plan::job_log_path(file)));
    const app::TextOverride text_override(file, api_request.text("text"));
    app::RecordRequest request;
    request.plan = file;
    request.library = plan_cache.library_folder();
    request.units = requested_units(api_request);
    if (const auto entry = api_request.body.find("entry"); entry != api_request.body.end()) {
        if (!entry->is_object()) return error_response(400, "an entry is a JSON object");
        if (entry->empty())
            return error_response(422, "an entry says what was done", "what was mixed, laid or read");
        if (const std::optional<ApiResponse> failure = add_entry(*entry, request)) return *failure;
    }
    request.list = true;
    request.json = true;
    const app::Outcome outcome = app::record(request);
    return outcome.exit == app::Exit::ok ? ApiResponse{200, outcome.out, "application/json", {}}
                                         : failure_response(outcome);
}

}  // namespace fadewright::serve
