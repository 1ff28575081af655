// The fields of every request, each said once: options, checks and help of the command line.
//
// Besides `fields` a request lists: `positional`, the names given without "--" in their order (the last may
// take several values if it is a list), and `examples`, one command line each.
#pragma once

#include "fadewright/app/commands.h"
#include "fadewright/text/schema.h"

namespace fadewright {

namespace app {
inline constexpr std::string_view kShelfWords = "folder of your own paints, guns, grounds, panels and lights";
inline constexpr std::string_view kJsonWords = "answer as JSON";
inline constexpr std::string_view kPlanWords = "the plan file; - reads standard input";
}  // namespace app

template <>
struct Codec<app::PanelPlace> {
    static bool read(const Node& node, const FieldWords& field, Reading& r, app::PanelPlace& out);
    static std::string type_words() { return "place x,y"; }
    static std::string allowed_words(const Limits&) { return ""; }
};

template <>
struct Schema<app::CheckRequest> {
    using T = app::CheckRequest;
    static constexpr std::string_view name = "check";
    static constexpr std::string_view about =
        "finds every mistake in a plan or preset file, and says what to write";
    static constexpr auto fields =
        std::tuple{Field{"plans", &T::plans, required,
                         "plan or preset files, or folders of presets; - reads standard input"},
                   Field{"shelf", &T::shelf, optional, app::kShelfWords},
                   Field{"canonical", &T::canonical, optional, "print the plan with every default filled in"},
                   Field{"json", &T::json, optional, app::kJsonWords}};
    static constexpr std::array<std::string_view, 1> positional{"plans"};
    static constexpr std::array<std::string_view, 2> examples{"fadewright check my-job.toml",
                                                              "fadewright check my-job.toml --json"};
};

template <>
struct Schema<app::PreviewRequest> {
    using T = app::PreviewRequest;
    static constexpr std::string_view name = "preview";
    static constexpr std::string_view about = "paints the picture of the finished panel";
    static constexpr auto fields = std::tuple{
        Field{"plan", &T::plan, required, app::kPlanWords},
        Field{"out", &T::out, required, "the picture to write (PNG)"},
        Field{"size", &T::size, optional, range(16, 16384), "longest side of the picture in pixels"},
        Field{"light", &T::light, optional, "light to look at it in; else the plan's"},
        Field{"after_coat", &T::after_coat, optional, range(0, 60),
              "stop after this coat; 0 shows the ground"},
        Field{"margin", &T::margin, optional, range(0_mm, 1000_mm), "neutral surround on every side"},
        Field{"profile", &T::profile, optional, "ICC profile of the screen or printer; else sRGB"},
        Field{"exact", &T::exact, optional, "work out every pixel instead of refining where colours change"},
        Field{"threads", &T::threads, optional, range(0, 256),
              "threads to use; 0 for all (the picture is the same)"},
        Field{"shelf", &T::shelf, optional, app::kShelfWords},
        Field{"json", &T::json, optional, app::kJsonWords}};
    static constexpr std::array<std::string_view, 1> positional{"plan"};
    static constexpr std::array<std::string_view, 3> examples{
        "fadewright preview my-job.toml -o my-job.png",
        "fadewright preview my-job.toml -o evening.png --light warm-lamp",
        "fadewright preview my-job.toml -o step2.png --after-coat 2 --size 800"};
};

template <>
struct Schema<app::SectionRequest> {
    using T = app::SectionRequest;
    static constexpr std::string_view name = "section";
    static constexpr std::string_view about =
        "film of every coat and colour along a straight line over the panel";
    static constexpr auto fields = std::tuple{
        Field{"plan", &T::plan, required, app::kPlanWords},
        Field{"from", &T::from, optional, "start, \"x,y\" with units; else the middle of the lower edge"},
        Field{"to", &T::to, optional, "end, \"x,y\" with units; else the middle of the upper edge"},
        Field{"out", &T::out, optional,
              "files to write: .csv, .json or .png (a plot); may be given several times"},
        Field{"samples", &T::samples, optional, range(2, 10000), "points along the line"},
        Field{"light", &T::light, optional, "light to look at it in; else the plan's"},
        Field{"shelf", &T::shelf, optional, app::kShelfWords},
        Field{"json", &T::json, optional, app::kJsonWords}};
    static constexpr std::array<std::string_view, 1> positional{"plan"};
    static constexpr std::array<std::string_view, 2> examples{
        "fadewright section my-job.toml -o fade.png",
        "fadewright section my-job.toml --from \"450 mm,0 mm\" --to \"450 mm,560 mm\" -o fade.csv -o "
        "fade.png"};
};

template <>
struct Schema<app::PresetsRequest> {
    using T = app::PresetsRequest;
    static constexpr std::string_view name = "presets";
    static constexpr std::string_view about = "lists the shelf, or shows one thing on it";
    static constexpr auto fields =
        std::tuple{Field{"what", &T::what, optional,
                         "paints, grounds, guns, panels, lights, plans, or the name of one thing"},
                   Field{"sheet", &T::sheet, optional,
                         "write a picture of all paints over black and white and let down (PNG)"},
                   Field{"shelf", &T::shelf, optional, app::kShelfWords},
                   Field{"json", &T::json, optional, app::kJsonWords}};
    static constexpr std::array<std::string_view, 1> positional{"what"};
    static constexpr std::array<std::string_view, 3> examples{"fadewright presets paints",
                                                              "fadewright presets titanium-white",
                                                              "fadewright presets --sheet paints.png"};
};

template <>
struct Schema<app::HelpRequest> {
    using T = app::HelpRequest;
    static constexpr std::string_view name = "help";
    static constexpr std::string_view about =
        "the reference: plan, paint, gun, ground, panel, light, rules, units";
    static constexpr auto fields = std::tuple{
        Field{"topic", &T::topic, optional, "plan, paint, gun, ground, panel, light, rules or units"}};
    static constexpr std::array<std::string_view, 1> positional{"topic"};
    static constexpr std::array<std::string_view, 2> examples{"fadewright help plan",
                                                              "fadewright help rules"};
};

}  // namespace fadewright
