// How a flow cup reading is written in a plan (text/schema.h).
#pragma once

#include "fadewright/plan/flow_cup.h"
#include "fadewright/text/schema.h"

namespace fadewright {

namespace plan {
// A time without a cup is one of a DIN 4 cup. Reports and returns false if it is wrong.
[[nodiscard]] bool read_flow_cup(const Node& node, const FieldContext& field, ReadContext& context,
                                 FlowCupTime& out);
}  // namespace plan

// "17 s" (DIN 4), "DIN 4 17 s", "Ford 4 20 s", "Zahn 2 22 s"; the canonical text names the cup.
template <>
struct Codec<plan::FlowCupTime> {
    static bool read(const Node& node, const FieldContext& field, ReadContext& context,
                     plan::FlowCupTime& out) {
        return plan::read_flow_cup(node, field, context, out);
    }
    static std::string inline_text(const plan::FlowCupTime& reading) {
        return detail::toml_string(plan::flow_cup_text(reading));
    }
    static std::string type_label() { return "flow cup and time"; }
    static std::string allowed_text(const Limits&) { return plan::flow_cup_ranges(); }
};

}  // namespace fadewright
