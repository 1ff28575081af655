// Errors and warnings about the user's text: collected and reported together, each with its span, rule and
// hint.
//
// A reader adds to the list and goes on. Messages are lower case without a full stop and say what was
// found; the hint says what to write. to_text() prints them sorted by position, at most kMaxShown of them:
//
//     plan.toml:4:14: error: 'mm' is not a unit of this kind [T011]
//     speed = "400 mm"
//                  ^~
//     hint: write one of: mm/s, cm/s, m/s, in/s, ft/min
//
// The source line is printed as it was written, with control characters and broken UTF-8 replaced; a line of
// more than 160 characters is left out. to_json() gives the same as
//   [{"file","line","column","length","rule","severity","message","hint"}, ...]
//
// Checks     tests/text/diagnostic_test.cpp
#pragma once

#include "fadewright/text/source.h"

#include <span>
#include <string>
#include <utility>
#include <vector>

namespace fadewright {

// The unit system that quantities are displayed in.
enum class UnitSystem { metric, us };

enum class DiagnosticSeverity { error, warning };

struct Diagnostic {
    std::string rule;  // letter of the layer and three digits, never reused
    DiagnosticSeverity severity = DiagnosticSeverity::error;
    SourceSpan span;
    std::string message;
    std::string hint;  // may be empty
};

class Diagnostics {
public:
    static constexpr std::size_t kMaxShown = 50;

    void error(std::string rule, SourceSpan span, std::string message, std::string hint = {});
    void warning(std::string rule, SourceSpan span, std::string message, std::string hint = {});
    void add(Diagnostic diagnostic) { list_.push_back(std::move(diagnostic)); }
    // What is there already, with the same span and message, is not added again.
    void add_all(const Diagnostics& other);

    // The units that messages show quantities in.
    void set_units(UnitSystem units) noexcept { units_ = units; }
    [[nodiscard]] UnitSystem units() const noexcept { return units_; }

    [[nodiscard]] bool has_errors() const noexcept;
    [[nodiscard]] bool empty() const noexcept { return list_.empty(); }
    [[nodiscard]] std::size_t error_count() const noexcept;
    [[nodiscard]] std::vector<Diagnostic> sorted_list() const;  // by file, position, rule

private:
    std::vector<Diagnostic> list_;
    UnitSystem units_ = UnitSystem::metric;
};

[[nodiscard]] std::string to_text(const Diagnostics& diagnostics);
[[nodiscard]] std::string to_json(const Diagnostics& diagnostics);

// One line of the list that `help rules` prints; every rule that can be reported is listed.
struct Rule {
    std::string_view id;
    std::string_view title;
};

// The name closest to what was written (edit distance); empty if none is close.
[[nodiscard]] std::string_view closest_name(std::string_view written, const std::vector<std::string>& names);

// The rules of the text layer: errors of syntax, types, units and ranges.
[[nodiscard]] std::span<const Rule> text_rules();

}  // namespace fadewright
