#include "records.h"

#include "fadewright/app/commands.h"
#include "fadewright/app/in_hand.h"
#include "fadewright/app/requests_schema.h"
#include "fadewright/plan/record.h"
#include "folder.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>

namespace fadewright::serve {
namespace {

// What an entry says; the command's other options are not for the page.
constexpr std::array<std::string_view, 15> kSaid{"mix",    "grams", "bottles",  "coat",  "film",
                                                 "at",     "gun",   "flow",     "speed", "distance",
                                                 "needle", "air",   "humidity", "note",  "temperature"};

Node said(const std::string& key, const std::string& text) {
    Node node;
    node.kind = Node::Kind::text;
    node.loose = true;
    node.text = text;
    const auto source = std::make_shared<Source>("entry", key + ": " + text);
    node.place = {source, key.size() + 2, source->text().size()};
    return node;
}

// Texts and lists of texts, as the command's reader takes them; nothing if it is anything else.
std::optional<ReadTree> tree_of(const Json& entry) {
    ReadTree tree;
    tree.root.kind = Node::Kind::table;
    for (const auto& [key, value] : entry.items()) {
        if (std::find(kSaid.begin(), kSaid.end(), key) == kSaid.end()) return std::nullopt;
        Entry one{key, {}, {}};
        if (value.is_string()) {
            one.value = said(key, value.get<std::string>());
        } else if (value.is_array()) {
            one.value.kind = Node::Kind::list;
            for (const Json& item : value) {
                if (!item.is_string()) return std::nullopt;
                one.value.items.push_back(said(key, item.get<std::string>()));
            }
        } else {
            return std::nullopt;
        }
        tree.root.entries.push_back(std::move(one));
    }
    return tree;
}

Answer failed(const app::Outcome& outcome) {
    Json json{{"refused", "this could not be kept"}, {"hint", outcome.talk}};
    if (Json::accept(outcome.out)) json["diagnostics"] = Json::parse(outcome.out);
    return answer(json, outcome.exit == app::Exit::refused ? 500 : 422);
}

std::optional<Answer> add(const Json& entry, const app::RecordRequest& request) {
    std::optional<ReadTree> tree = tree_of(entry);
    if (!tree) return refuse(400, "an entry is made of texts under the names of the command's options");
    tree->root.entries.push_back({"plan", {}, said("plan", request.plan)});
    Diagnostics mistakes;
    app::RecordRequest adding{};
    if (!read_thing(*tree, adding, mistakes))
        return answer({{"refused", mistakes.sorted().front().message},
                       {"hint", mistakes.sorted().front().hint},
                       {"diagnostics", Json::parse(to_json(mistakes))}},
                      422);
    adding.shelf = request.shelf;
    adding.units = request.units;
    const app::Outcome outcome = app::record(adding);
    return outcome.exit == app::Exit::fine ? std::nullopt : std::optional(failed(outcome));
}

}  // namespace

Answer record(Desk& desk, const Asked& asked) {
    const std::string file = asked.text("file");
    if (!is_plan_name(file)) return refuse(400, "the plan has no name yet", "save it first");
    if (leads_elsewhere(plan::record_path(file)))
        return refuse(403, fmt::format("'{}' is not a file of this folder", plan::record_path(file)));
    const app::InHand hand(file, asked.text("text"));
    app::RecordRequest request;
    request.plan = file;
    request.shelf = desk.shelf_folder();
    request.units = asked_units(asked);
    if (const auto entry = asked.body.find("entry"); entry != asked.body.end()) {
        if (!entry->is_object()) return refuse(400, "an entry is a JSON object");
        if (entry->empty()) return refuse(422, "an entry says what was done", "what was mixed, laid or read");
        if (const std::optional<Answer> wrong = add(*entry, request)) return *wrong;
    }
    request.list = true;
    request.json = true;
    const app::Outcome outcome = app::record(request);
    return outcome.exit == app::Exit::fine ? Answer{200, outcome.out, "application/json", {}}
                                           : failed(outcome);
}

}  // namespace fadewright::serve
