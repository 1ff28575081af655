// What is wrong with the user's text: collected, all at once, each with its place, rule and remedy.
//
// A reader adds to the list and goes on. Messages are lower case without a full stop and say what was
// found; the hint says what to write. to_text() prints them sorted by place, at most kShown of them, with
// the line and a caret; to_json() gives the same as
//   [{"file","line","column","length","rule","severity","message","hint"}, ...]
#pragma once

#include "fadewright/text/source.h"
#include "fadewright/text/unit_system.h"

#include <string>
#include <vector>

namespace fadewright {

enum class Severity { error, warning };

struct Diagnostic {
    std::string rule;  // letter of the layer and three digits, never reused
    Severity severity = Severity::error;
    SourceSpan span;
    std::string message;
    std::string hint;  // may be empty
};

class Diagnostics {
public:
    static constexpr std::size_t kMaxShown = 50;

    void error(std::string rule, SourceSpan span, std::string message, std::string hint = {});
    void warning(std::string rule, SourceSpan span, std::string message, std::string hint = {});

    // The units that messages show quantities in.
    void set_units(UnitSystem units) noexcept { units_ = units; }
    [[nodiscard]] UnitSystem units() const noexcept { return units_; }

    [[nodiscard]] bool has_errors() const noexcept;
    [[nodiscard]] bool empty() const noexcept { return list_.empty(); }
    [[nodiscard]] std::size_t error_count() const noexcept;
    [[nodiscard]] std::vector<Diagnostic> sorted_list() const;  // by file, then place, then rule

private:
    std::vector<Diagnostic> list_;
    UnitSystem units_ = UnitSystem::metric;
};

[[nodiscard]] std::string to_text(const Diagnostics& diagnostics);
[[nodiscard]] std::string to_json(const Diagnostics& diagnostics);

// One line of the list that `help rules` prints. Every rule that can be reported stands in one.
struct Rule {
    std::string_view id;
    std::string_view title;
};

// The closest of the names to what was written, or empty when none is close (edit distance).
[[nodiscard]] std::string_view closest_name(std::string_view written, const std::vector<std::string>& names);

}  // namespace fadewright
