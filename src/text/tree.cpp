#include "fadewright/text/tree.h"

#include <algorithm>

namespace fadewright {

const Node* Node::find(std::string_view key) const {
    const auto found =
        std::find_if(entries.begin(), entries.end(), [&](const Entry& e) { return e.key == key; });
    return found == entries.end() ? nullptr : &found->value;
}

std::string_view kind_label(Node::Kind kind) {
    switch (kind) {
        case Node::Kind::table:
            return "a table";
        case Node::Kind::list:
            return "a list";
        case Node::Kind::text:
            return "text";
        case Node::Kind::number:
            return "a number";
        case Node::Kind::integer:
            return "a whole number";
        case Node::Kind::boolean:
            return "true or false";
        case Node::Kind::other:
            break;
    }
    return "a date or time";
}

}  // namespace fadewright
