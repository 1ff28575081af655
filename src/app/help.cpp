#include "fadewright/app/commands.h"
#include "fadewright/colour/spectra_file.h"
#include "fadewright/plan/gun_calibration.h"
#include "fadewright/plan/job_log.h"
#include "fadewright/plan/job_log_schema.h"
#include "fadewright/plan/library_schema.h"
#include "fadewright/plan/paint_calibration.h"
#include "fadewright/plan/plan_schema.h"
#include "fadewright/plan/rules.h"
#include "fadewright/plan/spray_out_card_schema.h"
#include "fadewright/plan/spray_pattern_card_schema.h"
#include "fadewright/text/reference.h"
#include "fadewright/text/rules.h"
#include "outcome.h"

#include <fmt/core.h>

#include <array>
#include <functional>

namespace fadewright::app {
namespace {

template <HasSchema S>
std::string reference(std::string_view title, std::string_view intro) {
    return fmt::format("# {}\n\n{}\n\n", title, intro) + reference_markdown(reference_tables<S>());
}

std::string rules_text() {
    std::string out =
        "# Rules\n\nWhat a plan, a file of the shelf, a card file or a record can be wrong in.\n\n| rule | "
        "title "
        "|\n|---|---|\n";
    for (const Rule& rule : text_rules()) out += fmt::format("| {} | {} |\n", rule.id, rule.title);
    for (const Rule& rule : plan::plan_rules()) out += fmt::format("| {} | {} |\n", rule.id, rule.title);
    for (const Rule& rule : plan::spray_out_card_rules())
        out += fmt::format("| {} | {} |\n", rule.id, rule.title);
    for (const Rule& rule : plan::spray_pattern_card_rules())
        out += fmt::format("| {} | {} |\n", rule.id, rule.title);
    for (const Rule& rule : plan::job_log_rules()) out += fmt::format("| {} | {} |\n", rule.id, rule.title);
    for (const Rule& rule : colour::measured_rules())
        out += fmt::format("| {} | {} |\n", rule.id, rule.title);
    return out;
}

template <class Q>
std::string unit_row(std::string_view kind) {
    return fmt::format("| {} | {} |\n", kind, units_label(units_of<Q>()));
}

std::string units_text() {
    return "# Units\n\nA quantity is a number and its unit in double quotes, \"150 mm\"; the unit is never "
           "left out.\n\n"
           "| quantity | units |\n|---|---|\n" +
           unit_row<Millimetres>("places, sizes, distance") + unit_row<Micrometres>("film") +
           unit_row<Nanometres>("wavelength") + unit_row<Degrees>("angle") + unit_row<Seconds>("time") +
           unit_row<MillimetresPerSecond>("speed of the gun") + unit_row<MillilitresPerMinute>("flow") +
           unit_row<Millilitres>("volume") + unit_row<Grams>("weight") +
           unit_row<GramsPerMillilitre>("density") + unit_row<GramsPerLitre>("loading") +
           unit_row<Bar>("air pressure") + unit_row<Celsius>("temperature") +
           unit_row<PerMicrometre>("K and S") + unit_row<Share>("shares") +
           "\nOunces, pints, quarts and gallons are those of the US. A plan is shown in metric units, or "
           "with  "
           "units = \"us\"  in in, mil, fl oz, psi and °F; --units of a command comes first. Paint is "
           "weighed in "
           "grams in both. JSON is always metric, with the unit in every name.\n";
}

constexpr std::string_view kFileIntro =
    "Files are TOML. Quantities carry their unit, in double quotes: \"150 mm\", \"6 in\", \"25 %\".";
constexpr std::string_view kPlanIntro =
    "A plan is a TOML file. Quantities carry their unit, in double quotes: \"150 mm\", \"6 in\", \"25 %\". "
    "Places are "
    "[\"x\", \"y\"] from the panel's lower left corner, y upwards.";

struct Topic {
    std::string_view name;
    std::function<std::string()> text;
};

const std::array<Topic, 11>& topics() {
    static const std::array<Topic, 11> all{
        {{"plan", [] { return reference<plan::Plan>("The plan file", kPlanIntro); }},
         {"paint", [] { return reference<plan::PaintFile>("A paint of the shelf", kFileIntro); }},
         {"ground", [] { return reference<plan::GroundFile>("A ground of the shelf", kFileIntro); }},
         {"gun", [] { return reference<plan::GunFile>("A gun of the shelf", kFileIntro); }},
         {"panel", [] { return reference<plan::Panel>("A panel of the shelf", kFileIntro); }},
         {"light", [] { return reference<plan::LightFile>("A light of the shelf", kFileIntro); }},
         {"card", [] { return reference<plan::SprayOutCard>("A test card", kFileIntro); }},
         {"gun-card", [] { return reference<plan::SprayPatternCard>("A gun card", kFileIntro); }},
         {"record", [] { return reference<plan::JobLog>("The record of a job", kFileIntro); }},
         {"rules", rules_text},
         {"units", units_text}}};
    return all;
}

}  // namespace

Outcome help(const HelpRequest& request) {
    Outcome outcome;
    std::vector<std::string> names;
    for (const Topic& topic : topics()) {
        names.emplace_back(topic.name);
        if (topic.name == request.topic) outcome.out = topic.text();
    }
    if (request.topic.empty()) {
        outcome.out = "fadewright help TOPIC prints the reference of:\n";
        for (const std::string& name : names) outcome.out += "  " + name + "\n";
        outcome.out += "fadewright COMMAND --help explains a command.\n";
    } else if (outcome.out.empty()) {
        return usage_error(fmt::format("there is no help on '{}'", request.topic),
                           fmt::format("topics: {}", detail::join_text(names, ", ")));
    }
    return outcome;
}

}  // namespace fadewright::app
