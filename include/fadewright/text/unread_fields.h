// What of a text could not be read, so that later checks do not report mistakes that only follow from it.
//
// A section is named by its span, as the reader gives it to the struct. A section that contains a wrong field
// is still read as far as possible; a later mistake about a whole section is doubtful if one of its own
// fields is unread.
//
// Checks     tests/text/unread_fields_test.cpp
#pragma once

#include "fadewright/text/source.h"

#include <string>
#include <string_view>
#include <vector>

namespace fadewright {

class UnreadFields {
public:
    // A field of the section that is missing or could not be read, and the span of its value, if any. An
    // unknown name counts as the field that it was probably meant for; empty: it may be any.
    void add_field(const SourceSpan& section, std::string_view field, const SourceSpan& value = {});
    // Something in the section, or in a section of it, could not be read.
    void add_section(const SourceSpan& section);

    [[nodiscard]] bool empty() const noexcept { return fields_.empty() && sections_.empty(); }
    // Whether that field of the section is, or may be, unread.
    [[nodiscard]] bool has_field(const SourceSpan& section, std::string_view field) const;
    // Whether anything in the section is unread.
    [[nodiscard]] bool is_in(const SourceSpan& section) const;
    // Whether a mistake at that span is doubtful: it is about a section with an unread field of its own, about
    // an unread value, or about something that has no place in the text while anything is unread.
    [[nodiscard]] bool explains(const SourceSpan& span) const;

private:
    struct UnreadField {
        SourceSpan section;
        std::string name;
        SourceSpan value;
    };
    std::vector<UnreadField> fields_;
    std::vector<SourceSpan> sections_;
};

}  // namespace fadewright
