#include "fadewright/text/schema.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

namespace fadewright::detail {
namespace {

std::string about_hint(const std::string& start, const FieldContext& field) {
    return field.about.empty() ? start : fmt::format("{} ({})", start, field.about);
}

// "needle_opening" for "needle": the only name with that word among those joined by '_'; empty if there is
// none.
std::string_view name_with_word(std::string_view word, const std::vector<std::string>& names) {
    const std::string wanted = fmt::format("_{}_", word);
    std::string_view found;
    for (const std::string& name : names) {
        if (fmt::format("_{}_", name).find(wanted) == std::string::npos) continue;
        if (!found.empty()) return {};
        found = name;
    }
    return found;
}

}  // namespace

bool report_wrong_kind(const Node& node, const FieldContext& field, std::string_view expected,
                       ReadContext& context, std::string_view example) {
    const std::string message =
        node.from_cli ? fmt::format("'{}' is not {}", node.text, expected)
                      : fmt::format("'{}' is {}, not {}", field.name, kind_label(node.kind), expected);
    const std::string hint = example.empty() ? fmt::format("write {}", expected) : std::string(example);
    context.diagnostics.error("T015", node.span, message, about_hint(hint, field));
    return false;
}

bool check_range(double internal, const Node& node, const FieldContext& field, std::string_view display,
                 const std::string& allowed, ReadContext& context) {
    if (internal >= field.limits.min && internal <= field.limits.max) return true;
    context.diagnostics.error(
        "T020", node.span,
        fmt::format("{} is {}: too {}", field.name, display, internal > field.limits.max ? "large" : "small"),
        about_hint("allowed: " + allowed, field));
    return false;
}

bool check_count(std::size_t count, const Node& node, const FieldContext& field, ReadContext& context) {
    if (count >= field.limits.min_items && count <= field.limits.max_items) return true;
    context.diagnostics.error(
        "T024", node.span,
        fmt::format("{} has {} {}: too {}", field.name, count, count == 1 ? "entry" : "entries",
                    count > field.limits.max_items ? "many" : "few"),
        about_hint(fmt::format("allowed: {} to {}", field.limits.min_items, field.limits.max_items), field));
    return false;
}

bool read_number(const Node& node, const FieldContext& field, ReadContext& context, double& out) {
    double number = node.number;
    bool is_number = node.kind == Node::Kind::number || node.kind == Node::Kind::integer;
    if (node.from_cli && node.kind == Node::Kind::text) {
        const auto [end, ec] = std::from_chars(node.text.data(), node.text.data() + node.text.size(), number);
        is_number = ec == std::errc{} && end == node.text.data() + node.text.size();
    }
    if (!is_number || !std::isfinite(number)) {
        context.diagnostics.error("T014", node.span, fmt::format("'{}' is not a number", field.name),
                                  about_hint("write a plain number without quotes, for example 1.5", field));
        return false;
    }
    if (!check_range(number, node, field, number_text(number), limits_text(field.limits, {}), context))
        return false;
    out = number;
    return true;
}

bool read_integer(const Node& node, const FieldContext& field, ReadContext& context, int& out) {
    double number = node.number;
    bool is_whole = node.kind == Node::Kind::integer;
    if (node.from_cli && node.kind == Node::Kind::text) {
        int parsed = 0;
        const auto [end, ec] = std::from_chars(node.text.data(), node.text.data() + node.text.size(), parsed);
        is_whole = ec == std::errc{} && end == node.text.data() + node.text.size();
        number = parsed;
    }
    if (!is_whole || std::abs(number) > 2e9) {
        const std::string allowed = limits_text(field.limits, {});
        context.diagnostics.error(
            "T012", node.span, fmt::format("'{}' is not a whole number", field.name),
            about_hint(fmt::format("write a whole number{}{}", node.from_cli ? "" : " without quotes",
                                   allowed.empty() ? "" : ": " + allowed),
                       field));
        return false;
    }
    if (!check_range(number, node, field, number_text(number), limits_text(field.limits, {}), context))
        return false;
    out = static_cast<int>(number);
    return true;
}

bool read_boolean(const Node& node, const FieldContext& field, ReadContext& context, bool& out) {
    if (node.kind == Node::Kind::boolean) {
        out = node.boolean;
        return true;
    }
    if (node.from_cli && (node.text == "true" || node.text == "false")) {
        out = node.text == "true";
        return true;
    }
    return report_wrong_kind(node, field, "true or false", context);
}

bool read_text(const Node& node, const FieldContext& field, ReadContext& context, std::string& out) {
    if (node.kind != Node::Kind::text) {
        context.diagnostics.error("T013", node.span,
                                  fmt::format("'{}' is {}, not text", field.name, kind_label(node.kind)),
                                  about_hint("write it in double quotes", field));
        return false;
    }
    out = node.text;
    return true;
}

std::string british_spelling(std::string_view written) {
    constexpr std::array<std::pair<std::string_view, std::string_view>, 4> kSpellings{
        {{"matte", "matt"}, {"gray", "grey"}, {"center", "centre"}, {"aluminum", "aluminium"}}};
    std::string british;
    while (true) {
        const std::size_t hyphen = std::min(written.find('-'), written.size());
        const std::string_view word = written.substr(0, hyphen);
        const auto* const found = std::find_if(kSpellings.begin(), kSpellings.end(),
                                               [&](const auto& spelling) { return spelling.first == word; });
        british += found == kSpellings.end() ? word : found->second;
        if (hyphen == written.size()) return british;
        british += '-';
        written.remove_prefix(hyphen + 1);
    }
}

bool read_choice(const Node& node, const FieldContext& field, const std::vector<std::string>& names,
                 ReadContext& context, std::size_t& out) {
    std::string written;
    if (!read_text(node, field, context, written)) return false;
    auto found = std::find(names.begin(), names.end(), written);
    if (found == names.end()) found = std::find(names.begin(), names.end(), british_spelling(written));
    if (found == names.end()) {
        const std::string_view close = closest_name(written, names);
        context.diagnostics.error(
            "T023", node.span, fmt::format("'{}' is not a choice for {}", written, field.name),
            close.empty() ? fmt::format("write one of: {}", join_text(names, ", "))
                          : fmt::format("did you mean '{}'? allowed: {}", close, join_text(names, ", ")));
        return false;
    }
    out = static_cast<std::size_t>(found - names.begin());
    return true;
}

bool read_integer_choice(const Node& node, const FieldContext& field, const std::vector<std::string>& names,
                         ReadContext& context, std::size_t& out) {
    const bool is_integer = node.kind == Node::Kind::integer;
    if (is_integer || (node.from_cli && node.kind == Node::Kind::text)) {
        const std::string written = is_integer ? std::to_string(node.integer) : node.text;
        const auto found = std::find(names.begin(), names.end(), written);
        if (found != names.end()) {
            out = static_cast<std::size_t>(found - names.begin());
            return true;
        }
    }
    const std::string assignment = node.from_cli ? "" : fmt::format("{} = ", field.name);
    context.diagnostics.error(
        "T023", node.span, fmt::format("{} must be {}", field.name, join_text(names, " or ")),
        about_hint(fmt::format("write {}{}{}", assignment, join_text(names, " or " + assignment),
                               node.from_cli ? "" : ", without quotes"),
                   field));
    return false;
}

bool read_quantity_node(const Node& node, const FieldContext& field, std::span<const Unit> units,
                        ReadContext& context, double& out) {
    if (node.kind == Node::Kind::number && !std::isfinite(node.number)) {
        context.diagnostics.error(
            "T016", node.span, fmt::format("'{}' is not a number", field.name),
            about_hint(fmt::format("write \"{}\"", with_display_unit("100", units.front().name)), field));
        return false;
    }
    if (node.kind == Node::Kind::number || node.kind == Node::Kind::integer) {
        const std::string number = number_text(node.number);
        context.diagnostics.error(
            "T010", node.span, fmt::format("'{}' has no unit", field.name),
            about_hint(fmt::format("write \"{}\"; units: {}", with_display_unit(number, units.front().name),
                                   units_label(units)),
                       field));
        return false;
    }
    if (node.kind != Node::Kind::text)
        return report_wrong_kind(
            node, field,
            fmt::format("a quantity such as \"{}\"", with_display_unit("100", units.front().name)), context);
    const std::optional<double> internal = read_quantity(node.text, node.span, units, context.diagnostics);
    if (!internal) return false;
    if (!check_range(*internal, node, field, node.text,
                     limits_text(field.limits, units, context.diagnostics.units()), context))
        return false;
    out = *internal;
    return true;
}

Section::Section(const Node& table, std::string_view struct_name, ReadContext& context)
    : table_(table), struct_name_(struct_name), context_(context) {}

const Node* Section::take_field(std::string_view name, std::string_view about, Presence presence,
                                bool section) {
    known_names_.emplace_back(name);
    const Node* value = table_.find(name);
    if (!value && presence == Presence::required) missing_.push_back({name, about, section});
    return value;
}

void Section::add_result(const FieldContext& field, const Node& value, bool ok, bool sections) {
    if (ok) return;
    ok_ = false;
    const auto is_table = [](const Node& node) { return node.kind == Node::Kind::table; };
    const std::size_t count = is_table(value) ? value.entries.size() : value.items.size();
    const bool kept = sections && count >= field.limits.min_items && count <= field.limits.max_items &&
                      (is_table(value) || (value.kind == Node::Kind::list &&
                                           std::all_of(value.items.begin(), value.items.end(), is_table)));
    if (!kept) context_.unread.add_field(table_.span, field.name, value.span);
}

bool Section::finish() {
    std::vector<std::string> explained;  // missing names that a misspelt name accounts for
    for (const Entry& entry : table_.entries) {
        if (std::find(known_names_.begin(), known_names_.end(), entry.key) != known_names_.end()) continue;
        ok_ = false;
        std::string_view close = closest_name(entry.key, known_names_);
        if (close.empty()) close = name_with_word(entry.key, known_names_);
        const bool is_given = !close.empty() && table_.find(close) != nullptr;
        context_.diagnostics.error(
            "T022", entry.key_span, fmt::format("unknown name '{}' in {}", entry.key, struct_name_),
            close.empty() || is_given
                ? fmt::format("names of {}: {}", struct_name_, join_text(known_names_, ", "))
                : fmt::format("did you mean '{}'?", close));
        if (!close.empty()) explained.emplace_back(close);
        context_.unread.add_field(table_.span, is_given ? std::string_view{} : close, entry.key_span);
    }
    for (const MissingField& field : missing_) context_.unread.add_field(table_.span, field.name);
    if (!ok_) context_.unread.add_section(table_.span);
    if (context_.complete) report_missing(explained);
    return ok_ && missing_.empty();
}

void Section::report_missing(const std::vector<std::string>& explained) {
    for (const MissingField& field : missing_) {
        if (std::find(explained.begin(), explained.end(), field.name) != explained.end()) continue;
        const std::string line =
            field.section ? fmt::format("[{}]", field.name) : fmt::format("{} = ...", field.name);
        context_.diagnostics.error(
            "T021", table_.span, fmt::format("{} needs '{}'", struct_name_, field.name),
            fmt::format("add the {}  {}  ({})", field.section ? "section" : "line", line, field.about));
    }
}

std::string section_hint(std::string_view name, const std::vector<std::string>& required_names) {
    std::string fields;
    for (const std::string& field : required_names) fields += field + " = ..., ";
    if (fields.empty()) return fmt::format("write  {} = {{ ... }}  or a section of that name", name);
    return fmt::format("write  {} = {{ {} }}", name, fields.substr(0, fields.size() - 2));
}

std::string toml_string(std::string_view text) {
    std::string out = "\"";
    for (const char c : text) {
        if (c == '"' || c == '\\') {
            out += '\\';
            out += c;
        } else if (c == '\n') {
            out += "\\n";
        } else if (c == '\t') {
            out += "\\t";
        } else if (static_cast<unsigned char>(c) < 32 || c == 127) {
            out += fmt::format("\\u{:04X}", static_cast<unsigned>(static_cast<unsigned char>(c)));
        } else {
            out += c;
        }
    }
    return out + "\"";
}

std::string toml_key(std::string_view key) {
    const bool bare = !key.empty() && std::all_of(key.begin(), key.end(), [](char c) {
        return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' ||
               c == '_';
    });
    return bare ? std::string(key) : toml_string(key);
}

std::string limits_text(const Limits& limits, std::span<const Unit> units, DisplayUnits display_units) {
    const auto display = [&](double v) {
        if (units.empty()) return number_text(v);
        return display_units.bound_text(v, v == limits.max ? Bound::upper : Bound::lower, units);
    };
    const bool has_lowest = std::isfinite(limits.min);
    const bool has_highest = std::isfinite(limits.max);
    if (has_lowest && limits.min == limits.max) return display(limits.min);
    if (has_lowest && has_highest) return fmt::format("{} to {}", display(limits.min), display(limits.max));
    if (has_lowest) return fmt::format("{} or more", display(limits.min));
    if (has_highest) return fmt::format("at most {}", display(limits.max));
    return "";
}

std::string join_text(const std::vector<std::string>& parts, std::string_view between) {
    return fmt::format("{}", fmt::join(parts, between));
}

}  // namespace fadewright::detail

void fadewright::detail::print_line(std::string_view name, const std::string& value, std::string& out) {
    out.append(name).append(" = ").append(value).append("\n");
}
