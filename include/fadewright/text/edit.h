// Changes to a TOML text that leave everything else as it was written: comments, order, spacing, units.
//
// A path names a value by its keys and, within lists, its number: "mixes.middle.extend",
// "coats.1.passes.0.speed". What is already there is replaced where it stands; what is new goes where a painter
// would write it: behind the last line of its section, or in a section of its own.
//
// A section or a list's item is moved, copied and taken out with all sections below it and with the remarks
// that stand directly above its heading.
//
// Values are TOML: 2, "20 mm", [["0 mm", "5 mm"], ["90 mm", "5 mm"]]. Whether they make sense is for the reader of
// the text to say; here only what would not be TOML any more is refused.
//
// Checks     tests/text/edit_test.cpp
#pragma once

#include "fadewright/base/result.h"

#include <string>
#include <string_view>

namespace fadewright {

// Each gives the new text, or says why it cannot.
[[nodiscard]] Result<std::string> set_value(const std::string& text, std::string_view path,
                                            std::string_view value);
// A value, a section, or an item of a list.
[[nodiscard]] Result<std::string> erase_entry(const std::string& text, std::string_view path);
// An item of a list of sections, put before another of the same list; "end" puts it last.
[[nodiscard]] Result<std::string> move_item(const std::string& text, std::string_view path,
                                            std::string_view before);
// A copy of a section or of an item, behind it. A copied section takes the last key of `name`.
[[nodiscard]] Result<std::string> copy_section(const std::string& text, std::string_view path,
                                               std::string_view name = {});
// A new section with the lines of `body`, behind the last of its kind.
[[nodiscard]] Result<std::string> add_section(const std::string& text, std::string_view path,
                                              std::string_view body);
// A new last item of a list of sections: "coats", "coats.1.passes".
[[nodiscard]] Result<std::string> append_item(const std::string& text, std::string_view list,
                                              std::string_view body);
// Another last key for a section or a value.
[[nodiscard]] Result<std::string> rename_key(const std::string& text, std::string_view path,
                                             std::string_view name);

}  // namespace fadewright
