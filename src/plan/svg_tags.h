// The elements of an SVG drawing, as far as needed to find its ids and references; librsvg reads the drawing
// itself. Attributes and texts are decoded as it decodes them: numeric entities, character data.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include <pugixml.hpp>

namespace fadewright::plan {

class SvgTags {
public:
    explicit SvgTags(const std::string& bytes);

    // Why the text could not be read to its end; empty if it was.
    [[nodiscard]] const std::string& damage() const { return damage_; }
    [[nodiscard]] std::vector<std::string> ids() const;

    // What in the drawing needs something outside itself, or hides it, as the end of a message; empty if
    // nothing. With an id, text counts only inside that element.
    [[nodiscard]] std::string external_reference(std::string_view id) const;

private:
    pugi::xml_document document_;
    std::string damage_;
};

}  // namespace fadewright::plan
