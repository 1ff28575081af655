#include "changes.h"

#include "fadewright/plan/rename.h"
#include "fadewright/text/edit.h"
#include "fadewright/text/tree.h"

#include <fmt/core.h>

namespace fadewright::serve {
namespace {

constexpr std::size_t kMostChanges = 500;

std::string word(const Json& change, const char* key) {
    const auto found = change.find(key);
    return found != change.end() && found->is_string() ? found->get<std::string>() : "";
}

// A value as plan text: the page may send numbers and truths as they are.
std::string value_of(const Json& change) {
    const auto found = change.find("to");
    if (found == change.end()) return "";
    return found->is_string() ? found->get<std::string>() : found->dump();
}

// The first name of its kind that is free: "coat 4", "mix 2".
std::string free_name(const std::string& text, std::string_view kind) {
    for (int i = 2;; ++i) {
        std::string name = fmt::format("{} {}", kind, i);
        if (text.find('"' + name + '"') == std::string::npos) return name;
    }
}

// Coats have names of their own, so a copy needs another.
Result<std::string> added_coat(const std::string& text, const std::string& like) {
    const std::string name = free_name(text, "coat");
    if (like.empty())
        return with_item(text, "coats",
                         fmt::format("name = \"{}\"\nmix = \"gloss-clear\"\ncover.film = \"20 um\"\n", name));
    if (!like.starts_with("coats.")) return Refusal{fmt::format("'{}' is not a coat", like)};
    Result<std::string> twice = copied(text, like);
    if (!twice) return twice;
    const std::size_t dot = like.rfind('.');
    const std::string next = fmt::format("coats.{}", std::stoi(like.substr(dot + 1)) + 1);
    return with_value(twice.value(), next + ".name", '"' + name + '"');
}

Result<std::string> added(const std::string& text, const Json& change) {
    const std::string what = word(change, "add"), like = word(change, "like");
    if (what == "coats") return added_coat(text, like);
    if (what.ends_with(".passes")) {
        if (!like.empty()) return copied(text, like);
        return with_item(text, what, "path = [[\"0 mm\", \"100 mm\"], [\"300 mm\", \"100 mm\"]]\n");
    }
    const std::size_t dot = what.find('.');
    const std::string name = dot == std::string::npos ? "" : what.substr(dot + 1);
    if (name.empty()) return Refusal{fmt::format("nothing is called '{}'", what)};
    if (!like.empty()) return copied(text, like, name);
    return with_section(text, what, "parts = { titanium-white = 1 }\nreduce = \"10 %\"\n");
}

Result<std::string> one(const std::string& text, const Json& change) {
    if (!change.is_object()) return Refusal{"a change says what to set, take out, move, add or rename"};
    if (const std::string path = word(change, "set"); !path.empty())
        return with_value(text, path, value_of(change));
    if (const std::string path = word(change, "take_out"); !path.empty()) return without(text, path);
    if (const std::string path = word(change, "move"); !path.empty())
        return moved(text, path, word(change, "before"));
    if (change.contains("add")) return added(text, change);
    if (const std::string path = word(change, "rename"); !path.empty())
        return plan::with_mix_renamed(text, path, value_of(change));
    return Refusal{"a change says what to set, take out, move, add or rename"};
}

}  // namespace

Answer changed(const Asked& asked) {
    const auto changes = asked.body.find("changes");
    if (changes == asked.body.end() || !changes->is_array() || changes->size() > kMostChanges)
        return refuse(400, fmt::format("give a list of at most {} changes", kMostChanges));
    std::string text = asked.text("text");
    for (const Json& change : *changes) {
        Result<std::string> next = one(text, change);
        if (!next) return refuse(422, next.refusal().message);
        text = std::move(next).value();
    }
    return answer({{"text", text}});
}

}  // namespace fadewright::serve
