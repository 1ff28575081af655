#include "fadewright/text/unread_fields.h"

#include <algorithm>

namespace fadewright {
namespace {

bool same_span(const SourceSpan& a, const SourceSpan& b) {
    return a.source && a.source == b.source && a.begin == b.begin && a.end == b.end;
}

bool within(const SourceSpan& inner, const SourceSpan& outer) {
    return outer.source && inner.source == outer.source && outer.begin <= inner.begin &&
           inner.end <= outer.end;
}

}  // namespace

void UnreadFields::add_field(const SourceSpan& section, std::string_view field, const SourceSpan& value) {
    fields_.push_back({section, std::string(field), value});
    sections_.push_back(section);
}

void UnreadFields::add_section(const SourceSpan& section) { sections_.push_back(section); }

bool UnreadFields::has_field(const SourceSpan& section, std::string_view field) const {
    return std::any_of(fields_.begin(), fields_.end(), [&](const UnreadField& unread) {
        return same_span(unread.section, section) && (unread.name.empty() || unread.name == field);
    });
}

bool UnreadFields::is_in(const SourceSpan& section) const {
    return std::any_of(sections_.begin(), sections_.end(),
                       [&](const SourceSpan& unread) { return same_span(unread, section); });
}

bool UnreadFields::explains(const SourceSpan& span) const {
    if (!span.source) return !empty();
    return std::any_of(fields_.begin(), fields_.end(), [&](const UnreadField& unread) {
        return same_span(unread.section, span) || within(span, unread.value);
    });
}

}  // namespace fadewright
