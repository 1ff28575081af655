#include "edits.h"

#include "fadewright/plan/rename_mix.h"
#include "fadewright/text/edit.h"
#include "fadewright/text/tree.h"

#include <fmt/core.h>

namespace fadewright::serve {
namespace {

constexpr std::size_t kMaxEdits = 500;

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

// The first unused name with this stem: "coat 4".
std::string unused_name(const std::string& text, std::string_view stem) {
    for (int i = 2;; ++i) {
        std::string name = fmt::format("{} {}", stem, i);
        if (text.find('"' + name + '"') == std::string::npos) return name;
    }
}

// Coat names must differ, so a copy gets a new one.
Result<std::string> add_coat(const std::string& text, const std::string& copy_of) {
    const std::string name = unused_name(text, "coat");
    if (copy_of.empty())
        return append_item(
            text, "coats",
            fmt::format("name = \"{}\"\nmix = \"gloss-clear\"\neven_coat.film = \"20 um\"\n", name));
    if (!copy_of.starts_with("coats.")) return Error{fmt::format("'{}' is not a coat", copy_of)};
    Result<std::string> with_copy = copy_section(text, copy_of);
    if (!with_copy) return with_copy;
    const std::size_t dot = copy_of.rfind('.');
    const std::string next = fmt::format("coats.{}", std::stoi(copy_of.substr(dot + 1)) + 1);
    return set_value(with_copy.value(), next + ".name", '"' + name + '"');
}

Result<std::string> add_item(const std::string& text, const Json& edit) {
    const std::string item = string_field(edit, "add"), copy_of = string_field(edit, "copy_of");
    if (item == "coats") return add_coat(text, copy_of);
    if (item.ends_with(".passes")) {
        if (!copy_of.empty()) return copy_section(text, copy_of);
        return append_item(text, item, "path = [[\"0 mm\", \"100 mm\"], [\"300 mm\", \"100 mm\"]]\n");
    }
    const std::size_t dot = item.find('.');
    const std::string name = dot == std::string::npos ? "" : item.substr(dot + 1);
    if (name.empty()) return Error{fmt::format("cannot add '{}'", item)};
    if (!copy_of.empty()) return copy_section(text, copy_of, name);
    return add_section(text, item, "parts = { titanium-white = 1 }\nreduce = \"10 %\"\n");
}

constexpr const char* kBadEdit = "an edit has one of set, delete, move, add, rename";

Result<std::string> apply_edit(const std::string& text, const Json& edit) {
    if (!edit.is_object()) return Error{kBadEdit};
    if (const std::string path = string_field(edit, "set"); !path.empty())
        return set_value(text, path, toml_value(edit));
    if (const std::string path = string_field(edit, "delete"); !path.empty()) return erase_entry(text, path);
    if (const std::string path = string_field(edit, "move"); !path.empty())
        return move_item(text, path, string_field(edit, "before"));
    if (edit.contains("add")) return add_item(text, edit);
    if (const std::string path = string_field(edit, "rename"); !path.empty())
        return plan::rename_mix(text, path, toml_value(edit));
    return Error{kBadEdit};
}

}  // namespace

ApiResponse apply_edits(const ApiRequest& api_request) {
    const auto edits = api_request.body.find("edits");
    if (edits == api_request.body.end() || !edits->is_array() || edits->size() > kMaxEdits)
        return error_response(400, fmt::format("expected a list of at most {} edits", kMaxEdits));
    std::string text = api_request.text("text");
    for (const Json& edit : *edits) {
        Result<std::string> next = apply_edit(text, edit);
        if (!next) return error_response(422, next.error().message);
        text = std::move(next).value();
    }
    return json_response({{"text", text}});
}

}  // namespace fadewright::serve
