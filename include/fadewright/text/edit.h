// Edits of a TOML text that keep the rest as written: comments, order, spacing, units.
//
// A path names a value by its keys and, within lists, its number: "mixes.middle.extend",
// "coats.1.passes.0.speed". An existing value is replaced in its line; a new one is added after the last line
// of its section, or in a new section.
//
// A section or an item of a list is moved, copied and deleted with all sections below it and with the
// comments directly above its heading.
//
// Values are TOML: 2, "20 mm", [["0 mm", "5 mm"], ["90 mm", "5 mm"]]. Here only a value that would break the
// TOML is refused; its meaning is checked when the plan is read.
//
// Checks     tests/text/edit_test.cpp
#pragma once

#include "fadewright/base/result.h"

#include <string>
#include <string_view>

namespace fadewright {

// Each returns the new text, or an error.
[[nodiscard]] Result<std::string> set_value(const std::string& text, std::string_view path,
                                            std::string_view value);
// A value, a section, or an item of a list.
[[nodiscard]] Result<std::string> erase_entry(const std::string& text, std::string_view path);
// An item of a list of sections, moved before another of the same list; "end" moves it to the end.
[[nodiscard]] Result<std::string> move_item(const std::string& text, std::string_view path,
                                            std::string_view before);
// A copy of a section or of an item, after it. A copied section takes the last key of `name`.
[[nodiscard]] Result<std::string> copy_section(const std::string& text, std::string_view path,
                                               std::string_view name = {});
// A new section with the lines of `body`, after the last of its kind.
[[nodiscard]] Result<std::string> add_section(const std::string& text, std::string_view path,
                                              std::string_view body);
// A new last item of a list of sections: "coats", "coats.1.passes".
[[nodiscard]] Result<std::string> append_item(const std::string& text, std::string_view list,
                                              std::string_view body);
// A new last key for a section or a value.
[[nodiscard]] Result<std::string> rename_key(const std::string& text, std::string_view path,
                                             std::string_view name);

}  // namespace fadewright
