#include "fadewright/text/rules.h"

#include <array>

namespace fadewright {
namespace {

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

std::span<const Rule> text_rules() { return kTextRules; }

}  // namespace fadewright
