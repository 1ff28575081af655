#include "fadewright/text/schema.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>

namespace fadewright::reading {
namespace {

std::string about_hint(const std::string& start, const FieldWords& field) {
    return field.about.empty() ? start : fmt::format("{} ({})", start, field.about);
}

}  // namespace

bool wrong_kind(const Node& node, const FieldWords& field, std::string_view wanted, Reading& reading,
                std::string_view example) {
    const std::string message =
        node.loose ? fmt::format("'{}' is not {}", node.text, wanted)
                   : fmt::format("'{}' is {}, not {}", field.name, kind_words(node.kind), wanted);
    const std::string hint = example.empty() ? fmt::format("write {}", wanted) : std::string(example);
    reading.diagnostics.error("T015", node.place, message, about_hint(hint, field));
    return false;
}

bool in_range(double inner, const Node& node, const FieldWords& field, std::string_view shown,
              const std::string& allowed, Reading& reading) {
    if (inner >= field.limits.lowest && inner <= field.limits.highest) return true;
    reading.diagnostics.error(
        "T020", node.place,
        fmt::format("{} is {}: too {}", field.name, shown, inner > field.limits.highest ? "large" : "small"),
        about_hint("allowed: " + allowed, field));
    return false;
}

bool count_allowed(std::size_t count, const Node& node, const FieldWords& field, Reading& reading) {
    if (count >= field.limits.fewest && count <= field.limits.most) return true;
    reading.diagnostics.error(
        "T024", node.place,
        fmt::format("{} has {} {}: too {}", field.name, count, count == 1 ? "entry" : "entries",
                    count > field.limits.most ? "many" : "few"),
        about_hint(fmt::format("allowed: {} to {}", field.limits.fewest, field.limits.most), field));
    return false;
}

bool read_number(const Node& node, const FieldWords& field, Reading& reading, double& out) {
    double number = node.number;
    bool is_number = node.kind == Node::Kind::number || node.kind == Node::Kind::whole;
    if (node.loose && node.kind == Node::Kind::text) {
        const auto [end, fault] =
            std::from_chars(node.text.data(), node.text.data() + node.text.size(), number);
        is_number = fault == std::errc{} && end == node.text.data() + node.text.size();
    }
    if (!is_number || !std::isfinite(number)) {
        reading.diagnostics.error("T014", node.place, fmt::format("'{}' is not a number here", field.name),
                                  about_hint("write a plain number without quotes, for example 1.5", field));
        return false;
    }
    if (!in_range(number, node, field, number_text(number), limits_words(field.limits, {}), reading))
        return false;
    out = number;
    return true;
}

bool read_whole_number(const Node& node, const FieldWords& field, Reading& reading, int& out) {
    double number = node.number;
    bool is_whole = node.kind == Node::Kind::whole;
    if (node.loose && node.kind == Node::Kind::text) {
        int parsed = 0;
        const auto [end, fault] =
            std::from_chars(node.text.data(), node.text.data() + node.text.size(), parsed);
        is_whole = fault == std::errc{} && end == node.text.data() + node.text.size();
        number = parsed;
    }
    if (!is_whole || std::abs(number) > 2e9) {
        const std::string allowed = limits_words(field.limits, {});
        reading.diagnostics.error(
            "T012", node.place, fmt::format("'{}' is not a whole number", field.name),
            about_hint(fmt::format("write a whole number{}{}", node.loose ? "" : " without quotes",
                                   allowed.empty() ? "" : ": " + allowed),
                       field));
        return false;
    }
    if (!in_range(number, node, field, number_text(number), limits_words(field.limits, {}), reading))
        return false;
    out = static_cast<int>(number);
    return true;
}

bool read_truth(const Node& node, const FieldWords& field, Reading& reading, bool& out) {
    if (node.kind == Node::Kind::truth) {
        out = node.truth;
        return true;
    }
    if (node.loose && (node.text == "true" || node.text == "false")) {
        out = node.text == "true";
        return true;
    }
    return wrong_kind(node, field, "true or false", reading);
}

bool read_text(const Node& node, const FieldWords& field, Reading& reading, std::string& out) {
    if (node.kind != Node::Kind::text) {
        reading.diagnostics.error("T013", node.place,
                                  fmt::format("'{}' is {}, not text", field.name, kind_words(node.kind)),
                                  about_hint("write it in double quotes", field));
        return false;
    }
    out = node.text;
    return true;
}

bool read_choice(const Node& node, const FieldWords& field, const std::vector<std::string>& names,
                 Reading& reading, std::size_t& out) {
    std::string written;
    if (!read_text(node, field, reading, written)) return false;
    const auto found = std::find(names.begin(), names.end(), written);
    if (found == names.end()) {
        const std::string_view close = closest_name(written, names);
        reading.diagnostics.error(
            "T023", node.place, fmt::format("'{}' is not a choice for {}", written, field.name),
            close.empty() ? fmt::format("write one of: {}", joined(names, ", "))
                          : fmt::format("did you mean '{}'? allowed: {}", close, joined(names, ", ")));
        return false;
    }
    out = static_cast<std::size_t>(found - names.begin());
    return true;
}

bool read_quantity_node(const Node& node, const FieldWords& field, std::span<const Unit> units,
                        Reading& reading, double& out) {
    if (node.kind == Node::Kind::number && !std::isfinite(node.number)) {
        reading.diagnostics.error("T016", node.place, fmt::format("'{}' is not a number", field.name),
                                  about_hint(fmt::format("write \"100 {}\"", units.front().name), field));
        return false;
    }
    if (node.kind == Node::Kind::number || node.kind == Node::Kind::whole) {
        const std::string number = number_text(node.number);
        reading.diagnostics.error("T010", node.place, fmt::format("'{}' has no unit", field.name),
                                  about_hint(fmt::format("write \"{} {}\"; units: {}", number,
                                                         units.front().name, units_words(units)),
                                             field));
        return false;
    }
    if (node.kind != Node::Kind::text)
        return wrong_kind(node, field, fmt::format("a quantity such as \"100 {}\"", units.front().name),
                          reading);
    const std::optional<double> inner = read_quantity(node.text, node.place, units, reading.diagnostics);
    if (!inner) return false;
    if (!in_range(*inner, node, field, node.text,
                  limits_words(field.limits, units, reading.diagnostics.units()), reading))
        return false;
    out = *inner;
    return true;
}

Section::Section(const Node& table, std::string_view thing, Reading& reading)
    : table_(table), thing_(thing), reading_(reading) {}

const Node* Section::value_of(std::string_view name, std::string_view about, Presence presence,
                              bool section) {
    known_.emplace_back(name);
    const Node* value = table_.find(name);
    if (!value && presence == Presence::required) missing_.push_back({name, about, section});
    return value;
}

bool Section::end() {
    std::vector<std::string> explained;  // missing names that a near miss accounts for
    for (const Entry& entry : table_.entries) {
        if (std::find(known_.begin(), known_.end(), entry.key) != known_.end()) continue;
        good_ = false;
        const std::string_view close = closest_name(entry.key, known_);
        const bool taken = !close.empty() && table_.find(close) != nullptr;
        reading_.diagnostics.error(
            "T022", entry.key_place, fmt::format("unknown name '{}' in {}", entry.key, thing_),
            close.empty() || taken ? fmt::format("names of {}: {}", thing_, joined(known_, ", "))
                                   : fmt::format("did you mean '{}'?", close));
        if (!close.empty()) explained.emplace_back(close);
    }
    if (reading_.whole) report_missing(explained);
    return good_ && missing_.empty();
}

void Section::report_missing(const std::vector<std::string>& explained) {
    for (const MissingField& field : missing_) {
        if (std::find(explained.begin(), explained.end(), field.name) != explained.end()) continue;
        const std::string line =
            field.section ? fmt::format("[{}]", field.name) : fmt::format("{} = ...", field.name);
        reading_.diagnostics.error(
            "T021", table_.place, fmt::format("{} needs '{}'", thing_, field.name),
            fmt::format("add the {}  {}  ({})", field.section ? "section" : "line", line, field.about));
    }
}

std::string section_hint(std::string_view name, const std::vector<std::string>& required_names) {
    std::string fields;
    for (const std::string& field : required_names) fields += field + " = ..., ";
    if (fields.empty()) return fmt::format("write  {} = {{ ... }}  or a section of that name", name);
    return fmt::format("write  {} = {{ {} }}", name, fields.substr(0, fields.size() - 2));
}

std::string quoted(std::string_view text) {
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

std::string key_text(std::string_view key) {
    const bool bare = !key.empty() && std::all_of(key.begin(), key.end(), [](char c) {
        return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' ||
               c == '_';
    });
    return bare ? std::string(key) : quoted(key);
}

std::string limits_words(const Limits& limits, std::span<const Unit> units, ShownUnits shown_units) {
    const auto shown = [&](double v) {
        if (units.empty()) return number_text(v);
        return shown_units.bound(v, v == limits.highest ? Bound::highest : Bound::lowest, units);
    };
    const bool has_lowest = std::isfinite(limits.lowest);
    const bool has_highest = std::isfinite(limits.highest);
    if (has_lowest && limits.lowest == limits.highest) return shown(limits.lowest);
    if (has_lowest && has_highest)
        return fmt::format("{} to {}", shown(limits.lowest), shown(limits.highest));
    if (has_lowest) return fmt::format("{} or more", shown(limits.lowest));
    if (has_highest) return fmt::format("at most {}", shown(limits.highest));
    return "";
}

std::string joined(const std::vector<std::string>& parts, std::string_view between) {
    return fmt::format("{}", fmt::join(parts, between));
}

}  // namespace fadewright::reading

void fadewright::printing::print_line(std::string_view name, const std::string& value, std::string& out) {
    out.append(name).append(" = ").append(value).append("\n");
}
