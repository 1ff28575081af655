// The topics of `help`: guides (src/app/guides/NAME.md) and the reference, generated from the schemas. A
// topic that has both prints the guide, then the reference.

#include "embedded.h"
#include "fadewright/app/commands.h"
#include "fadewright/calibration/gun_calibration.h"
#include "fadewright/calibration/paint_calibration.h"
#include "fadewright/calibration/spray_out_card_schema.h"
#include "fadewright/calibration/spray_pattern_card_schema.h"
#include "fadewright/measured/spectra_file.h"
#include "fadewright/plan/library_schema.h"
#include "fadewright/plan/plan_schema.h"
#include "fadewright/plan/rules.h"
#include "fadewright/production/job_log.h"
#include "fadewright/production/job_log_schema.h"
#include "fadewright/report/cautions.h"
#include "fadewright/text/diagnostic.h"
#include "fadewright/text/reference.h"
#include "outcome.h"

#include <fmt/core.h>

#include <array>
#include <string>
#include <vector>

namespace fadewright::app {
namespace {

template <HasSchema S>
std::string reference(std::string_view title, std::string_view intro) {
    return fmt::format("# {}\n\n{}\n\n", title, intro) + reference_markdown(reference_tables<S>());
}

constexpr std::string_view kFileIntro =
    "Files are TOML. Quantities carry their unit, in double quotes: \"150 mm\", \"6 in\", \"25 %\".";
constexpr std::string_view kPlanIntro =
    "A plan is a TOML file. Quantities carry their unit, in double quotes: \"150 mm\", \"6 in\", \"25 %\". "
    "Points are [\"x\", \"y\"] from the lower left corner of the panel, y upwards.";

std::string plan_reference() { return reference<plan::Plan>("The plan file", kPlanIntro); }
std::string paint_reference() { return reference<plan::PaintFile>("The paint file", kFileIntro); }
std::string ground_reference() { return reference<plan::GroundFile>("The ground file", kFileIntro); }
std::string gun_reference() { return reference<plan::GunFile>("The gun file", kFileIntro); }
std::string panel_reference() { return reference<plan::Panel>("The panel file", kFileIntro); }
std::string light_reference() { return reference<plan::LightFile>("The light file", kFileIntro); }
std::string spray_out_card_reference() {
    return reference<calibration::SprayOutCard>("The spray-out card file", kFileIntro);
}
std::string spray_pattern_card_reference() {
    return reference<calibration::SprayPatternCard>("The spray-pattern card file", kFileIntro);
}
std::string record_reference() { return reference<production::JobLog>("The job log file", kFileIntro); }

std::string rules_reference() {
    std::string out =
        "# Rules\n\nThe checks of plans, library files, cards, job logs and measurements.\n\n| rule | title "
        "|\n|---|---|\n";
    for (const auto& rules :
         {text_rules(), plan::plan_rules(), calibration::spray_out_card_rules(),
          calibration::spray_pattern_card_rules(), production::job_log_rules(), measured::measured_rules()})
        for (const Rule& rule : rules) out += fmt::format("| {} | {} |\n", rule.id, rule.title);
    return out;
}

template <class Q>
std::string unit_row(std::string_view kind) {
    return fmt::format("| {} | {} |\n", kind, units_label(units_of<Q>()));
}

std::string units_reference() {
    return "# Units\n\nA quantity is a number and its unit in double quotes, \"150 mm\"; the unit is never "
           "left out.\n\n"
           "| quantity | units |\n|---|---|\n" +
           unit_row<Millimetres>("positions, sizes, distance") + unit_row<Micrometres>("film build") +
           unit_row<Nanometres>("wavelength") + unit_row<Degrees>("angle") + unit_row<Seconds>("time") +
           unit_row<MillimetresPerSecond>("gun speed") + unit_row<MillilitresPerMinute>("fluid flow") +
           unit_row<Millilitres>("volume") + unit_row<Grams>("weight") +
           unit_row<GramsPerMillilitre>("density") + unit_row<GramsPerLitre>("loading") +
           unit_row<Bar>("air pressure") + unit_row<Celsius>("temperature") +
           unit_row<PerMicrometre>("K and S") + unit_row<Share>("shares") +
           "\nOunces, pints, quarts and gallons are US units. A plan is shown in metric units, or with  "
           "units = \"us\"  in inches, mils, fl oz, psi and °F; --units of a command overrides it. Paint is "
           "weighed in grams in both. JSON is always metric, with the unit in every name.\n";
}

struct Topic {
    std::string_view name, summary;
    std::string (*reference)();  // null: a guide only
};

constexpr std::array<Topic, 16> kGuides{
    {{"start", "the order of a job, from plan to booth sheet", nullptr},
     {"page", "the page in the browser", nullptr},
     {"mixing", "mid colours; why extend and not reduce; matching a colour", nullptr},
     {"fades", "methods, position and width of a fade; its figures; the smoothest", nullptr},
     {"effects", "pearl, interference, metallic, candy", nullptr},
     {"sheet", "the booth sheet: amounts, drying times, cup labels", nullptr},
     {"client", "the proof for the client", nullptr},
     {"templates", "full-size outlines and mask templates", nullptr},
     {"record-and-repair", "the job log; spot repair", nullptr},
     {"piece-and-masks", "outlines, curves, ground, masks", nullptr},
     {"spray-pattern-card", "a gun file of your own gun; all keys", spray_pattern_card_reference},
     {"spray-out-card", "a paint file of your own paint; all keys", spray_out_card_reference},
     {"units", "metric and US units; all units", units_reference},
     {"glossary", "every term explained", nullptr},
     {"safety", "the cautions of every booth sheet", nullptr},
     {"trouble", "what to do when a fade goes wrong", nullptr}}};

constexpr std::array<Topic, 8> kReferences{{{"plan", "the plan file", plan_reference},
                                            {"paint", "the paint file", paint_reference},
                                            {"ground", "the ground file", ground_reference},
                                            {"gun", "the gun file", gun_reference},
                                            {"panel", "the panel file", panel_reference},
                                            {"light", "the light file", light_reference},
                                            {"record", "the job log file", record_reference},
                                            {"rules", "every check, by its number", rules_reference}}};

std::string guide_text(std::string_view topic) {
    std::string text;
    for (const EmbeddedFile& file : embedded_guides())
        if (file.path == fmt::format("{}.md", topic)) text = file.text;
    if (topic == "safety")
        for (const std::string& line : report::cautions()) text += fmt::format("- {}\n", line);
    return text;
}

std::string topic_text(const Topic& topic) {
    std::string text = guide_text(topic.name);
    if (!topic.reference) return text;
    if (!text.empty()) text += "\n";
    return text + topic.reference();
}

std::string topic_list() {
    std::string out = "Guides:\n";
    for (const Topic& topic : kGuides) out += fmt::format("  {:<20} {}\n", topic.name, topic.summary);
    out += "\nReference, with every key, its range and its default:\n";
    for (const Topic& topic : kReferences) out += fmt::format("  {:<20} {}\n", topic.name, topic.summary);
    return out +
           "\nfadewright help TOPIC prints one of them.\nfadewright COMMAND --help lists the options of a command.\n";
}

}  // namespace

Outcome help(Session&, const HelpRequest& request) {
    Outcome outcome;
    if (request.topic.empty()) outcome.out = topic_list();
    if (request.topic.empty()) return outcome;
    std::vector<Topic> topics(kGuides.begin(), kGuides.end());
    topics.insert(topics.end(), kReferences.begin(), kReferences.end());
    std::vector<std::string> names;
    for (const Topic& topic : topics) {
        if (topic.name == request.topic) outcome.out = topic_text(topic);
        if (topic.name == request.topic) return outcome;
        names.emplace_back(topic.name);
    }
    const std::string_view close = closest_name(request.topic, names);
    return failed(usage_failure(fmt::format("unknown topic: '{}'", request.topic),
                                close.empty() ? "fadewright help lists the topics"
                                              : fmt::format("did you mean '{}'?", close)),
                  false);
}

}  // namespace fadewright::app
