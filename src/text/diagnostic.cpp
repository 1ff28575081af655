#include "fadewright/text/diagnostic.h"

#include "fadewright/base/strings.h"

#include <fmt/core.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <array>
#include <numeric>
#include <set>
#include <tuple>

namespace fadewright {
namespace {

struct Location {
    std::string file;
    std::size_t line = 0;
    std::size_t column = 0;
    std::size_t length = 1;  // characters, within the line
};

Location locate(const SourceSpan& span) {
    if (!span.source) return {};
    const Source& source = *span.source;
    const auto begin = source.position(span.begin);
    const auto end = source.position(std::max(span.end, span.begin));
    const std::size_t line_end = character_count(source.line(begin.line)) + 1;
    const std::size_t stop = end.line == begin.line ? end.column : line_end;
    return {source.name(), begin.line, begin.column, stop > begin.column ? stop - begin.column : 1};
}

// A message or hint may quote what the user wrote, however long that was.
std::string truncate(std::string_view text) {
    constexpr std::size_t kMaxLength = 2000;
    if (text.size() <= kMaxLength) return sanitise_for_terminal(text);
    std::size_t end = kMaxLength;
    while (end > 0 && (static_cast<unsigned char>(text[end]) & 0xC0u) == 0x80u) --end;
    return sanitise_for_terminal(text.substr(0, end)) + " ...";
}

// The line as it was written, and under it a caret; nothing for a line that no terminal shows whole.
std::string source_lines(const SourceSpan& span, const Location& at) {
    const std::string_view line = span.source->line(at.line);
    if (character_count(line) > 160) return {};
    return fmt::format("{}\n{}^{}\n", sanitise_for_terminal(line), std::string(at.column - 1, ' '),
                       std::string(at.length - 1, '~'));
}

const char* severity_label(DiagnosticSeverity severity) {
    return severity == DiagnosticSeverity::error ? "error" : "warning";
}

constexpr std::array kTextRules{
    Rule{"T001", "the file must be valid TOML"},
    Rule{"T002", "the file must be text"},
    Rule{"T010", "a quantity needs a unit"},
    Rule{"T011", "the unit must suit the quantity"},
    Rule{"T012", "a whole number is expected"},
    Rule{"T013", "text is expected"},
    Rule{"T014", "a number is expected"},
    Rule{"T015", "a different type of value is expected"},
    Rule{"T016", "a quantity starts with a number"},
    Rule{"T020", "value out of range"},
    Rule{"T021", "required field missing"},
    Rule{"T022", "unknown name"},
    Rule{"T023", "value not in the list"},
    Rule{"T024", "too many or too few entries in a list"},
};

}  // namespace

void Diagnostics::error(std::string rule, SourceSpan span, std::string message, std::string hint) {
    list_.push_back(
        {std::move(rule), DiagnosticSeverity::error, std::move(span), std::move(message), std::move(hint)});
}

void Diagnostics::warning(std::string rule, SourceSpan span, std::string message, std::string hint) {
    list_.push_back(
        {std::move(rule), DiagnosticSeverity::warning, std::move(span), std::move(message), std::move(hint)});
}

void Diagnostics::add_all(const Diagnostics& other) {
    using Key = std::tuple<const Source*, std::size_t, std::size_t, std::string_view, std::string_view>;
    const auto key = [](const Diagnostic& d) {
        return Key(d.span.source.get(), d.span.begin, d.span.end, d.rule, d.message);
    };
    list_.reserve(list_.size() + other.list_.size());  // so that the texts of the keys stay where they are
    std::set<Key> known;
    for (const Diagnostic& d : list_) known.insert(key(d));
    for (const Diagnostic& d : other.list_) {
        if (known.contains(key(d))) continue;
        list_.push_back(d);
        known.insert(key(list_.back()));
    }
}

bool Diagnostics::has_errors() const noexcept { return error_count() > 0; }

std::size_t Diagnostics::error_count() const noexcept {
    return static_cast<std::size_t>(std::count_if(list_.begin(), list_.end(), [](const Diagnostic& d) {
        return d.severity == DiagnosticSeverity::error;
    }));
}

std::vector<Diagnostic> Diagnostics::sorted_list() const {
    std::vector<Diagnostic> sorted = list_;
    const auto key = [](const Diagnostic& d) {
        return std::tuple(d.span.source ? d.span.source->name() : std::string(), d.span.begin, d.rule);
    };
    std::stable_sort(sorted.begin(), sorted.end(),
                     [&](const Diagnostic& a, const Diagnostic& b) { return key(a) < key(b); });
    return sorted;
}

std::string to_text(const Diagnostics& diagnostics) {
    const std::vector<Diagnostic> list = diagnostics.sorted_list();
    std::string out;
    for (std::size_t i = 0; i < std::min(list.size(), Diagnostics::kMaxShown); ++i) {
        const Diagnostic& d = list[i];
        const Location at = locate(d.span);
        if (at.line > 0) {
            out += fmt::format("{}:{}:{}: {}: {} [{}]\n", sanitise_for_terminal(at.file), at.line, at.column,
                               severity_label(d.severity), truncate(d.message), d.rule);
            out += source_lines(d.span, at);
        } else {
            out += fmt::format("{}: {} [{}]\n", severity_label(d.severity), truncate(d.message), d.rule);
        }
        if (!d.hint.empty()) out += fmt::format("hint: {}\n", truncate(d.hint));
    }
    if (list.size() > Diagnostics::kMaxShown)
        out += fmt::format("and {} more; fix these first\n", list.size() - Diagnostics::kMaxShown);
    return out;
}

std::string to_json(const Diagnostics& diagnostics) {
    nlohmann::ordered_json json = nlohmann::ordered_json::array();
    for (const Diagnostic& d : diagnostics.sorted_list()) {
        const Location at = locate(d.span);
        json.push_back({{"file", at.file},
                        {"line", at.line},
                        {"column", at.column},
                        {"length", at.length},
                        {"rule", d.rule},
                        {"severity", severity_label(d.severity)},
                        {"message", d.message},
                        {"hint", d.hint}});
    }
    return json.dump(2, ' ', false, nlohmann::json::error_handler_t::replace) + "\n";
}

std::string_view closest_name(std::string_view written, const std::vector<std::string>& names) {
    std::string_view best;
    std::size_t best_distance = written.size() < 4 ? 2 : std::max<std::size_t>(2, written.size() / 3) + 1;
    for (const std::string& name : names) {
        const std::size_t longer = std::max(name.size(), written.size());
        if (longer - std::min(name.size(), written.size()) >= best_distance) continue;  // cannot be close
        // Edit distance with neighbour swaps, row by row. Source: [damerau1964].
        std::vector<std::size_t> before(name.size() + 1), last(name.size() + 1), row(name.size() + 1);
        std::iota(last.begin(), last.end(), std::size_t{0});
        for (std::size_t i = 1; i <= written.size(); ++i) {
            row[0] = i;
            for (std::size_t j = 1; j <= name.size(); ++j) {
                const bool same = written[i - 1] == name[j - 1];
                row[j] = std::min({last[j] + 1, row[j - 1] + 1, last[j - 1] + (same ? 0u : 1u)});
                if (i > 1 && j > 1 && written[i - 1] == name[j - 2] && written[i - 2] == name[j - 1])
                    row[j] = std::min(row[j], before[j - 2] + 1);
            }
            std::swap(before, last);
            std::swap(last, row);
        }
        if (last[name.size()] < best_distance) {
            best_distance = last[name.size()];
            best = name;
        }
    }
    return best;
}

std::span<const Rule> text_rules() { return kTextRules; }

}  // namespace fadewright
