#include "fadewright/plan/flow_cup.h"

#include "fadewright/base/contract.h"
#include "fadewright/plan/flow_cup_schema.h"
#include "fadewright/spray/sag_levelling.h"

#include <fmt/core.h>

#include <algorithm>
#include <cctype>

namespace fadewright::plan {
namespace {

// mm2/s = a (t - b), t in seconds. Source: [astmD4212].
constexpr double kZahn2_a = 3.5;
constexpr double kZahn2_b = 14;

const FlowCupRange& range_of(FlowCup cup) {
    return *std::find_if(kFlowCups.begin(), kFlowCups.end(),
                         [&](const FlowCupRange& range) { return range.cup == cup; });
}

// In any case of letters.
bool starts_with_name(std::string_view text, std::string_view name) {
    const auto is_same = [](char a, char b) {
        return std::tolower(static_cast<unsigned char>(a)) == std::tolower(static_cast<unsigned char>(b));
    };
    return text.size() > name.size() && text[name.size()] == ' ' &&
           std::equal(name.begin(), name.end(), text.begin(), is_same);
}

std::string range_text(const FlowCupRange& range) {
    return fmt::format("{} {} to {}", range.name, to_text(range.min_time), to_text(range.max_time));
}

bool report_unknown_cup(const Node& node, const FieldContext& field, ReadContext& context) {
    std::vector<std::string> names;
    for (const FlowCupRange& range : kFlowCups) names.emplace_back(range.name);
    context.diagnostics.error(
        "T023", node.span, fmt::format("'{}' is not the time of a known flow cup", node.text),
        fmt::format("write {} = \"17 s\" (DIN 4), or name the cup: \"Ford 4 20 s\"; known cups: {}",
                    field.name, detail::join_text(names, ", ")));
    return false;
}

}  // namespace

double kinematic_viscosity_mm2_per_s(const FlowCupTime& reading) {
    const double t = reading.time.value;
    FW_EXPECTS(t >= range_of(reading.cup).min_time.value);
    FW_EXPECTS(t <= range_of(reading.cup).max_time.value);
    switch (reading.cup) {
        case FlowCup::din_4:
            return spray::din4_mm2_per_s(reading.time);
        case FlowCup::ford_4:
            return spray::astm4_mm2_per_s(reading.time);
        case FlowCup::zahn_2:
            return kZahn2_a * (t - kZahn2_b);
    }
    return 0;
}

std::string flow_cup_text(const FlowCupTime& reading) {
    return fmt::format("{} {}", range_of(reading.cup).name, to_text(reading.time));
}

std::string flow_cup_ranges() {
    std::vector<std::string> ranges;
    for (const FlowCupRange& range : kFlowCups) ranges.push_back(range_text(range));
    return detail::join_text(ranges, ", ");
}

bool read_flow_cup(const Node& node, const FieldContext& field, ReadContext& context, FlowCupTime& out) {
    const FlowCupRange* range = &range_of(FlowCup::din_4);
    Node time = node;
    if (node.kind == Node::Kind::text) {
        const auto* const named = std::find_if(
            kFlowCups.begin(), kFlowCups.end(),
            [&](const FlowCupRange& candidate) { return starts_with_name(node.text, candidate.name); });
        if (named != kFlowCups.end()) {
            range = named;
            time.text = node.text.substr(named->name.size());
        } else if (!node.text.empty() && std::isalpha(static_cast<unsigned char>(node.text.front())) != 0) {
            return report_unknown_cup(node, field, context);
        }
    }
    Seconds seconds;
    if (!Codec<Seconds>::read(time, {field.name, field.about, {}}, context, seconds)) return false;
    const FieldContext limited{field.name, field.about, {range->min_time.value, range->max_time.value}};
    if (!detail::check_range(seconds.value, node, limited, node.text, range_text(*range), context))
        return false;
    out = {range->cup, seconds};
    return true;
}

}  // namespace fadewright::plan
