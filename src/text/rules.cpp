#include "fadewright/text/rules.h"

#include <array>

namespace fadewright {
namespace {

constexpr std::array kRules{
    Rule{"T001", "the text must be readable TOML"},
    Rule{"T002", "the file must be text"},
    Rule{"T010", "a quantity needs its unit"},
    Rule{"T011", "the unit must fit the quantity"},
    Rule{"T012", "a whole number is wanted"},
    Rule{"T013", "text is wanted"},
    Rule{"T014", "a number is wanted"},
    Rule{"T015", "another kind of value is wanted"},
    Rule{"T016", "a quantity begins with a number"},
    Rule{"T020", "a value must stay within its range"},
    Rule{"T021", "a required field must be given"},
    Rule{"T022", "only known names may be written"},
    Rule{"T023", "a choice must be one of its words"},
    Rule{"T024", "a list must have an allowed number of entries"},
};

}  // namespace

std::span<const Rule> text_rules() { return kRules; }

}  // namespace fadewright
