// The fields of every request, each declared once: options, checks and help of the command line come from
// here.
//
// Besides `fields` a request lists `positional`, the names given without "--" in their order (the last may
// take several values if it is a list), and `examples`, one command line each.
#pragma once

#include "fadewright/app/commands.h"
#include "fadewright/production/job_log_schema.h"
#include "fadewright/text/schema.h"

#include <array>
#include <string_view>

namespace fadewright::app {

inline constexpr std::string_view kLibraryHelp =
    "folder of your own paints, guns, grounds, panels and lights";
inline constexpr std::string_view kJsonHelp = "print JSON (always metric)";
inline constexpr std::string_view kUnitsHelp = "units to show: metric or us; default: the plan's, or metric";
inline constexpr std::string_view kPartsHelp =
    "paints from the library with their parts: paint=2 by volume, paint=25% or paint=12.5g; up to 12";
inline constexpr std::string_view kMixPlanHelp = "take mix, ground and light from this plan";
inline constexpr std::string_view kPlanHelp = "the plan file; - reads standard input";

}  // namespace fadewright::app

namespace fadewright {

template <>
struct Codec<app::PanelPoint> {
    static bool read(const Node& node, const FieldContext& field, ReadContext& r, app::PanelPoint& out);
    static std::string type_label() { return "point x,y"; }
    static std::string allowed_text(const Limits&) { return ""; }
};

// A plan is given by the path of its file.
template <>
struct Codec<app::PlanInput> {
    static bool read(const Node& node, const FieldContext& field, ReadContext& r, app::PlanInput& out);
    static std::string inline_text(const app::PlanInput& plan) { return detail::toml_string(plan.name); }
    static std::string type_label() { return "file"; }
    static std::string allowed_text(const Limits&) { return ""; }
};

template <>
struct Schema<app::CheckRequest> {
    using T = app::CheckRequest;
    static constexpr std::string_view name = "check";
    static constexpr std::string_view about =
        "finds every mistake in a plan or library file, and says what to write instead";
    static constexpr auto fields =
        Fields{Field{"plans", &T::plans, required,
                     "plan or library files, or folders of them; - reads standard input"},
               Field{"library", &T::library, optional, app::kLibraryHelp},
               Field{"canonical", &T::canonical, optional, "print the plan with every default filled in"},
               Field{"units", &T::units, optional, app::kUnitsHelp},
               Field{"json", &T::json, optional, app::kJsonHelp}};
    static constexpr std::array<std::string_view, 1> positional{"plans"};
    static constexpr std::array<std::string_view, 2> examples{"fadewright check my-job.toml",
                                                              "fadewright check my-job.toml --json"};
};

template <>
struct Names<render::DisplayShape> {
    static constexpr std::array<std::pair<render::DisplayShape, std::string_view>, 4> list{
        {{render::DisplayShape::panel, "panel"},
         {render::DisplayShape::dome, "dome"},
         {render::DisplayShape::cylinder, "cylinder"},
         {render::DisplayShape::speed_shape, "speed-shape"}}};
};

template <>
struct Schema<app::PreviewRequest> {
    using T = app::PreviewRequest;
    static constexpr std::string_view name = "preview";
    static constexpr std::string_view about = "draws the finished panel";
    static constexpr auto fields = Fields{
        Field{"plan", &T::plan, required, app::kPlanHelp},
        Field{"out", &T::out, required, "the picture to write (PNG)"},
        Field{"show", &T::show, optional,
              "a sheet instead: coats (step by step), passes, defects, graininess, or film:COAT (name or "
              "number of the coat)"},
        Field{"size", &T::size, optional, range(16, 16384), "longest side of the picture, pixels"},
        Field{"light", &T::light, optional, "light to view it in; default: the plan's"},
        Field{"lights", &T::lights, optional,
              "a sheet: side by side in daylight, incandescent, fluorescent and LED"},
        Field{"angle", &T::angle, optional, range(Degrees{-15.0}, 110_deg),
              "aspecular viewing angle: 15° near-specular, 45° face, 110° flop; default: the plan's"},
        Field{"angles", &T::angles, optional, "a sheet: side by side at -15°, 15°, 25°, 45°, 75° and 110°"},
        Field{"shape", &T::shape, optional, "the same coats on a sample shape under a soft lamp"},
        Field{"turn", &T::turn, optional, range(2, 360),
              "number of frames rocking it back and forth: an animated PNG (APNG) and each frame as a PNG"},
        Field{"without_clear", &T::without_clear, optional, "without the last clear coats, dry and matt"},
        Field{"after_coat", &T::after_coat, optional, range(0, 60),
              "stop after this coat; 0 shows the ground"},
        Field{"margin", &T::margin, optional, range(0_mm, 1000_mm), "neutral grey border on every side"},
        Field{"profile", &T::profile, optional, "ICC profile of the screen or printer; default: sRGB"},
        Field{"exact", &T::exact, optional, "calculate every pixel instead of refining where colours change"},
        Field{"threads", &T::threads, optional, range(0, 256),
              "threads to use; 0 for all (the picture is the same)"},
        Field{"library", &T::library, optional, app::kLibraryHelp},
        Field{"units", &T::units, optional, app::kUnitsHelp},
        Field{"json", &T::json, optional, app::kJsonHelp}};
    static constexpr std::array<std::string_view, 1> positional{"plan"};
    static constexpr std::array<std::string_view, 6> examples{
        "fadewright preview my-job.toml -o my-job.png",
        "fadewright preview my-job.toml -o evening.png --light incandescent",
        "fadewright preview my-job.toml -o step2.png --after-coat 2 --size 800",
        "fadewright preview my-job.toml -o angles.png --angles --size 800",
        "fadewright preview my-job.toml -o drop.png --shape speed-shape --turn 24",
        "fadewright preview my-job.toml -o defects.png --show defects"};
};

template <>
struct Schema<app::SectionRequest> {
    using T = app::SectionRequest;
    static constexpr std::string_view name = "section";
    static constexpr std::string_view about = "film build of every coat, and colour, along a line";
    static constexpr auto fields = Fields{
        Field{"plan", &T::plan, required, app::kPlanHelp},
        Field{"from", &T::from, optional, "start, \"x,y\" with units; default: centre of the lower edge"},
        Field{"to", &T::to, optional, "end, \"x,y\" with units; default: centre of the upper edge"},
        Field{"out", &T::out, optional, "file to write: .csv, .json or .png (a plot); may be repeated"},
        Field{"samples", &T::samples, optional, range(2, 10000), "points along the line"},
        Field{"light", &T::light, optional, "light to view it in; default: the plan's"},
        Field{"library", &T::library, optional, app::kLibraryHelp},
        Field{"units", &T::units, optional, app::kUnitsHelp},
        Field{"json", &T::json, optional, app::kJsonHelp}};
    static constexpr std::array<std::string_view, 1> positional{"plan"};
    static constexpr std::array<std::string_view, 2> examples{
        "fadewright section my-job.toml -o fade.png",
        "fadewright section my-job.toml --from \"450 mm,0 mm\" --to \"450 mm,560 mm\" -o fade.csv"};
};

template <>
struct Schema<app::MixRequest> {
    using T = app::MixRequest;
    static constexpr std::string_view name = "mix";
    static constexpr std::string_view about = "shows what a mix looks like, coat by coat, and how it covers";
    static constexpr auto fields = Fields{
        Field{"parts", &T::parts, optional, app::kPartsHelp},
        Field{"extend", &T::extend, optional, range(0.0, 50.0), "parts of clear base to 1 part of colour"},
        Field{"reduce", &T::reduce, optional, range(0_pct, 300_pct), "reducer, % of paint"},
        Field{"white_cut", &T::white_cut, optional, range(0_pct, 99_pct),
              "share of white in the colour part"},
        Field{"plan", &T::plan, optional, app::kMixPlanHelp},
        Field{"mix", &T::mix, optional, "a mix of that plan"},
        Field{"film", &T::film, optional, range(Micrometres{0.1}, 500_um),
              "dry film of one coat; default: the paints'"},
        Field{"coats", &T::coats, optional, range(1, 6), "coats to show"},
        Field{"ground", &T::ground, optional, "ground below it; default: the plan's, or grey-sealer"},
        Field{"light", &T::light, optional, "light to view it in; default: the plan's, or day"},
        Field{"out", &T::out, optional, "sheet of swatches to write (PNG)"},
        Field{"library", &T::library, optional, app::kLibraryHelp},
        Field{"units", &T::units, optional, app::kUnitsHelp},
        Field{"json", &T::json, optional, app::kJsonHelp}};
    static constexpr std::array<std::string_view, 1> positional{"parts"};
    static constexpr std::array<std::string_view, 3> examples{
        "fadewright mix phthalo-blue-green-shade=1 titanium-white=4 -o blue.png",
        "fadewright mix hansa-yellow=10 phthalo-blue-green-shade=1 --extend 2 --reduce \"12 %\"",
        "fadewright mix --plan my-job.toml --mix mid -o mid.png"};
};

template <>
struct Schema<app::LadderRequest> {
    using T = app::LadderRequest;
    static constexpr std::string_view name = "ladder";
    static constexpr std::string_view about =
        "tint ladder: varies one property of a mix; give several values to exactly one option";
    static constexpr auto fields = Fields{
        Field{"parts", &T::parts, optional, app::kPartsHelp},
        Field{"ratio", &T::ratio_steps, optional, "ratios of the two parts: 4:1,2:1,1:1,1:2,1:4"},
        Field{"extend", &T::extend_steps, optional, "parts of clear base to 1 part of colour: 0,1,2,3,4"},
        Field{"reduce", &T::reduce_steps, optional, "reducer, % of paint: 0,10,25,50"},
        Field{"white_cut", &T::white_cut_steps, optional, "share of white, %: 0,10,25,50"},
        Field{"film", &T::film_steps, optional,
              "dry film of the coat before extending and reducing, in um or with unit: 5,10,20"},
        Field{"coats", &T::coats_steps, optional, "coats: 1,2,3,4"},
        Field{"loading", &T::loading_steps, optional,
              "flakes per litre of the one paint that has them: \"10,20,30 g/L\""},
        Field{"plan", &T::plan, optional, app::kMixPlanHelp},
        Field{"mix", &T::mix, optional, "a mix of that plan"},
        Field{"ground", &T::ground, optional, "ground below it; default: the plan's, or grey-sealer"},
        Field{"light", &T::light, optional, "light to view it in; default: the plan's, or day"},
        Field{"out", &T::out, optional, "contact sheet to write (PNG)"},
        Field{"library", &T::library, optional, app::kLibraryHelp},
        Field{"units", &T::units, optional, app::kUnitsHelp},
        Field{"json", &T::json, optional, app::kJsonHelp}};
    static constexpr std::array<std::string_view, 1> positional{"parts"};
    static constexpr std::array<std::string_view, 4> examples{
        "fadewright ladder --plan my-job.toml --mix mid --extend 0,1,2,3,4 -o extend.png",
        "fadewright ladder hansa-yellow phthalo-blue-green-shade --ratio 40:1,10:1,1:1 -o greens.png",
        "fadewright ladder quinacridone-magenta --white-cut 0,10,25,50 --coats 2",
        "fadewright ladder interference-gold --loading \"10,20,40 g/L\" --coats 3 -o loading.png"};
};

template <>
struct Schema<app::MatchRequest> {
    using T = app::MatchRequest;
    static constexpr std::string_view name = "match";
    static constexpr std::string_view about = "finds recipes from the library for a colour";
    static constexpr auto fields = Fields{
        Field{"lab", &T::lab, optional, "target as \"L*,a*,b*\", in this light and for this observer"},
        Field{"srgb", &T::srgb, optional, "target as a screen colour (sRGB), \"#rrggbb\""},
        Field{"spectrum", &T::spectrum, optional, "target as measured: a file from an instrument"},
        Field{"sample", &T::sample, optional, "sample of that file; default: the first"},
        Field{"mix", &T::mix, optional, "target: a mix of the plan; without a plan, a paint"},
        Field{"plan", &T::plan, optional, "plan of that mix"},
        Field{"paints", &T::paints, optional, "use only these paints: a,b,c"},
        Field{"exclude", &T::exclude, optional, "do not use these paints: a,b"},
        Field{"max_paints", &T::max_paints, optional, range(1, 6), "paints in one recipe, at most"},
        Field{"over", &T::over, optional, "ground below the film; default: film at full hiding"},
        Field{"film", &T::film, optional, range(Micrometres{0.1}, 500_um), "dry film over that ground"},
        Field{"light", &T::light, optional, "light to match in; default: day (D65)"},
        Field{"observer", &T::observer, optional, range(2, 10),
              "standard observer, 2° or 10°; default: 2 for a screen colour, 10 for all others"},
        Field{"batch", &T::batch, optional, range(Grams{1.0}, Grams{50000.0}), "how much to mix"},
        Field{"scale", &T::scale, optional, range(Grams{0.001}, Grams{50.0}), "smallest step of the scale"},
        Field{"library", &T::library, optional, app::kLibraryHelp},
        Field{"units", &T::units, optional, app::kUnitsHelp},
        Field{"json", &T::json, optional, app::kJsonHelp}};
    static constexpr std::array<std::string_view, 0> positional{};
    static constexpr std::array<std::string_view, 4> examples{
        "fadewright match --lab \"62,41,38\"",
        "fadewright match --srgb \"#d97a4a\" --max-paints 3 --batch \"120 g\" --scale \"0.01 g\"",
        "fadewright match --plan my-job.toml --mix mid --exclude pyrrole-red",
        "fadewright match --spectrum chip.txt --over grey-sealer --film \"12 um\""};
};

template <>
struct Names<colour::Observer> {
    static constexpr std::array<std::pair<colour::Observer, std::string_view>, 2> list{
        {{colour::Observer::two_degree, "2"}, {colour::Observer::ten_degree, "10"}}};
    static constexpr bool integers = true;
};

template <>
struct Schema<app::SpectraRequest> {
    using T = app::SpectraRequest;
    static constexpr std::string_view name = "spectra";
    static constexpr std::string_view about =
        "reads measured spectra (CGATS text, CxF3, CSV): colours and colour differences";
    static constexpr auto fields =
        Fields{Field{"files", &T::files, required, "files of measured spectra; - reads standard input"},
               Field{"against", &T::against, optional,
                     "compare with the first sample of this file; default: the first sample read"},
               Field{"light", &T::light, optional, "light to view them in; default: day"},
               Field{"observer", &T::observer, optional, "standard observer, 2° or 10°"},
               Field{"library", &T::library, optional, app::kLibraryHelp},
               Field{"units", &T::units, optional, app::kUnitsHelp},
               Field{"json", &T::json, optional, app::kJsonHelp}};
    static constexpr std::array<std::string_view, 1> positional{"files"};
    static constexpr std::array<std::string_view, 2> examples{
        "fadewright spectra drawdown.cxf",
        "fadewright spectra batch.txt --against standard.txt --light incandescent"};
};

template <>
struct Schema<app::LibraryRequest> {
    using T = app::LibraryRequest;
    static constexpr std::string_view name = "library";
    static constexpr std::string_view about =
        "lists the library (paints, grounds, guns, panels, lights, plans), or prints one item of it";
    static constexpr auto fields =
        Fields{Field{"item", &T::item, optional,
                     "paints, grounds, guns, panels, lights, plans, or the name of one item"},
               Field{"sheet", &T::sheet, optional,
                     "write swatches of all paints: over black, over white, let down (PNG)"},
               Field{"shapes", &T::shapes, optional,
                     "write all effect paints on a sample shape, over black and over white (PNG)"},
               Field{"library", &T::library, optional, app::kLibraryHelp},
               Field{"json", &T::json, optional, app::kJsonHelp}};
    static constexpr std::array<std::string_view, 1> positional{"item"};
    static constexpr std::array<std::string_view, 3> examples{"fadewright library paints",
                                                              "fadewright library titanium-white",
                                                              "fadewright library --sheet paints.png"};
};

template <>
struct Schema<app::FitPaintRequest> {
    using T = app::FitPaintRequest;
    static constexpr std::string_view name = "fit-paint";
    static constexpr std::string_view about =
        "makes a paint file from a spray-out card, or a blank card to print";
    static constexpr auto fields =
        Fields{Field{"card", &T::card, optional, "the spray-out card file; - reads standard input"},
               Field{"out", &T::out, optional, "paint file to write (TOML), or the blank card (PDF)"},
               Field{"blank", &T::blank, optional, "make a blank card instead"},
               Field{"paper", &T::paper, optional, "paper of the blank card"},
               Field{"library", &T::library, optional, app::kLibraryHelp},
               Field{"units", &T::units, optional, app::kUnitsHelp},
               Field{"json", &T::json, optional, app::kJsonHelp}};
    static constexpr std::array<std::string_view, 1> positional{"card"};
    static constexpr std::array<std::string_view, 3> examples{
        "fadewright fit-paint my-card.toml -o my-library/paints/plum.toml",
        "fadewright fit-paint my-card.toml --json",
        "fadewright fit-paint --blank -o card.pdf --paper Letter"};
};

template <>
struct Schema<app::FitGunRequest> {
    using T = app::FitGunRequest;
    static constexpr std::string_view name = "fit-gun";
    static constexpr std::string_view about =
        "makes a gun file from a photo of one pass or one spot on white card";
    static constexpr auto fields =
        Fields{Field{"card", &T::card, required, "the spray-pattern card file; - reads standard input"},
               Field{"out", &T::out, optional, "gun file to write (TOML)"},
               Field{"plot", &T::plot, optional, "plot of measured and fitted film (PNG)"},
               Field{"library", &T::library, optional, app::kLibraryHelp},
               Field{"units", &T::units, optional, app::kUnitsHelp},
               Field{"json", &T::json, optional, app::kJsonHelp}};
    static constexpr std::array<std::string_view, 1> positional{"card"};
    static constexpr std::array<std::string_view, 2> examples{
        "fadewright fit-gun my-pass.toml -o my-library/guns/my-airbrush.toml --plot fit.png",
        "fadewright fit-gun my-pass.toml --json"};
};

template <>
struct Schema<app::FadeRequest> {
    using T = app::FadeRequest;
    static constexpr std::string_view name = "fade";
    static constexpr std::string_view about =
        "compares the methods of making a plan's fade, or expands it into coats and passes";
    static constexpr auto fields = Fields{
        Field{"plan", &T::plan, required, app::kPlanHelp},
        Field{"out", &T::out, optional, "file to write: sheet of all methods (PNG), or the expanded plan"},
        Field{"expand", &T::expand, optional, "print the plan with coats and passes instead of fades"},
        Field{"light", &T::light, optional, "light to view it in; default: the plan's"},
        Field{"library", &T::library, optional, app::kLibraryHelp},
        Field{"units", &T::units, optional, app::kUnitsHelp},
        Field{"json", &T::json, optional, app::kJsonHelp}};
    static constexpr std::array<std::string_view, 1> positional{"plan"};
    static constexpr std::array<std::string_view, 2> examples{
        "fadewright fade my-job.toml -o methods.png", "fadewright fade my-job.toml --expand -o passes.toml"};
};

template <>
struct Schema<app::TuneRequest> {
    using T = app::TuneRequest;
    static constexpr std::string_view name = "tune";
    static constexpr std::string_view about =
        "finds settings for the smoothest fade and shows how much each change helps";
    static constexpr auto fields = Fields{
        Field{"plan", &T::plan, required, app::kPlanHelp},
        Field{"out", &T::out, optional, "the tuned plan to write"},
        Field{"plot", &T::plot, optional,
              "plot of the fade before and after, with the 90 % range of simulated passes (PNG)"},
        Field{"vary", &T::vary, optional,
              "what may change: method, order (colour sprayed first), mid-colours, mid-ratio, extend, passes "
              "(solved jointly), width, position, overlap, distance; default: all but order, position and "
              "distance"},
        Field{"width", &T::width, optional, range(1_mm, 10000_mm),
              "target width from 10 to 90 %; default: as planned"},
        Field{"tolerance", &T::tolerance, optional, range(1_mm, 1000_mm),
              "allowed deviation of the width; default: 5 % of it"},
        Field{"max_film", &T::max_film, optional, range(5_um, 1000_um), "dry film of all coats, at most"},
        Field{"seed", &T::seed, optional, range(0, 1000000000), "random seed for the hand simulation"},
        Field{"time_limit", &T::time_limit, optional, range(Seconds{0.1}, Seconds{3600.0}),
              "stop after this time with the best found"},
        Field{"trials", &T::trials, optional, range(1, 10000),
              "trials for each of the three most promising methods"},
        Field{"light", &T::light, optional, "light to view it in; default: the plan's"},
        Field{"library", &T::library, optional, app::kLibraryHelp},
        Field{"units", &T::units, optional, app::kUnitsHelp},
        Field{"json", &T::json, optional, app::kJsonHelp}};
    static constexpr std::array<std::string_view, 1> positional{"plan"};
    static constexpr std::array<std::string_view, 2> examples{
        "fadewright tune my-job.toml --width \"200 mm\" -o tuned.toml --plot tuned.png",
        "fadewright tune my-job.toml --vary method --vary mid-colours --time-limit \"5 s\""};
};

template <>
struct Schema<app::RecordRequest> {
    using T = app::RecordRequest;
    static constexpr std::string_view name = "record";
    static constexpr std::string_view about =
        "logs what was mixed and sprayed, and plans a spot repair from it";
    static constexpr auto fields = Fields{
        Field{"plan", &T::plan, required, "the plan you worked from"},
        Field{"mix", &T::mix, optional, "mix made"},
        Field{"weights", &T::weights, optional, "weighed amounts: \"paint=12.3 g, other=4.1 g\""},
        Field{"batch_numbers", &T::batch_numbers, optional,
              "batch numbers of the paints: \"paint=B1207, other=77\""},
        Field{"coat", &T::coat, optional, "coat sprayed, or measured"},
        Field{"film", &T::film, optional, production::kMeasuredFilmLimits,
              "measured dry film of that coat alone"},
        Field{"at", &T::at, optional,
              "where it was measured, \"x,y\" with units; default: centre of the panel"},
        Field{"gun", &T::gun, optional, "gun used, if not as planned"},
        Field{"flow", &T::flow, optional, plan::kFlowLimits, "fluid flow, if not as planned"},
        Field{"speed", &T::speed, optional, plan::kSpeedLimits, "gun speed, if not as planned"},
        Field{"distance", &T::distance, optional, plan::kDistanceLimits,
              "distance to the panel, if not as planned"},
        Field{"needle_opening", &T::needle_opening, optional, plan::kNeedleOpeningLimits,
              "needle opening, if not as planned"},
        Field{"air", &T::air, optional, plan::kAirLimits, "air pressure, if not as planned"},
        Field{"temperature", &T::temperature, optional, plan::kTemperatureLimits, "booth temperature"},
        Field{"humidity", &T::humidity, optional, range(0_pct, 100_pct), "relative humidity in the booth"},
        Field{"note", &T::note, optional, "notes"},
        Field{"date", &T::date, optional, "date and time in UTC: \"2026-03-01 14:05\"; default: now"},
        Field{"list", &T::list, optional, "list the log and what has changed in the plan since"},
        Field{"show_plan", &T::show_plan, optional,
              "print the copy of the plan with this checksum; the first characters are enough"},
        Field{"repair", &T::repair, optional, "plan a spot repair at this point, \"x,y\" with units"},
        Field{"size", &T::size, optional, range(1_mm, 5000_mm), "diameter of the damage"},
        Field{"mismatch", &T::mismatch, optional, range(0.0, 20.0), "ΔE00 of a remix from the first mix"},
        Field{"film_error", &T::film_error, optional, range(0_pct, 90_pct), "film error of a recoat"},
        Field{"file", &T::file, optional, "job log file; default: PLAN with the ending .record.toml"},
        Field{"library", &T::library, optional, app::kLibraryHelp},
        Field{"units", &T::units, optional, app::kUnitsHelp},
        Field{"json", &T::json, optional, app::kJsonHelp}};
    static constexpr std::array<std::string_view, 1> positional{"plan"};
    static constexpr std::array<std::string_view, 6> examples{
        "fadewright record my-job.toml --mix plum --weights \"carbon-black=1.1 g, cobalt-blue=12.3 g\"",
        "fadewright record my-job.toml --mix plum --batch-numbers carbon-black=B1207",
        "fadewright record my-job.toml --coat base --air \"1.2 bar\" --note \"second pass a bit wet\"",
        "fadewright record my-job.toml --coat base --film \"14 um\" --at \"450 mm,280 mm\"",
        "fadewright record my-job.toml --list",
        "fadewright record my-job.toml --repair \"450 mm,280 mm\" --size \"40 mm\""};
};

template <>
struct Names<report::Paper> {
    static constexpr std::array<std::pair<report::Paper, std::string_view>, 2> list{
        {{report::Paper::A4, "A4"}, {report::Paper::Letter, "Letter"}}};
};

template <>
struct Schema<app::SheetRequest> {
    using T = app::SheetRequest;
    static constexpr std::string_view name = "sheet";
    static constexpr std::string_view about =
        "calculates how much of everything to mix, weigh and spray, and makes the booth sheet";
    static constexpr auto fields = Fields{
        Field{"plan", &T::plan, required, app::kPlanHelp},
        Field{"out", &T::out, optional,
              "file to write: booth sheet .pdf or .html, table .csv, everything .json; may be repeated"},
        Field{"labels", &T::labels, optional, "cup labels (PDF)"},
        Field{"paper", &T::paper, optional, "paper to print on"},
        Field{"library", &T::library, optional, app::kLibraryHelp},
        Field{"units", &T::units, optional, app::kUnitsHelp},
        Field{"json", &T::json, optional, app::kJsonHelp}};
    static constexpr std::array<std::string_view, 1> positional{"plan"};
    static constexpr std::array<std::string_view, 3> examples{
        "fadewright sheet my-job.toml", "fadewright sheet my-job.toml -o booth.pdf --labels cups.pdf",
        "fadewright sheet my-job.toml -o booth.html -o recipe.csv --paper Letter"};
};

template <>
struct Schema<app::ProofRequest> {
    using T = app::ProofRequest;
    static constexpr std::string_view name = "proof";
    static constexpr std::string_view about = "makes the pages for the client; every plan is one option";
    static constexpr auto fields = Fields{
        Field{"plans", &T::plans, required, "plan files, one per option: A, B, C ..."},
        Field{"out", &T::out, required,
              "file to write: pages .pdf or .html, or one .png per option (NAME-a.png ...); may be repeated"},
        Field{"lights", &T::lights, optional,
              "light to show it in beside the plan's; may be repeated; default: day, incandescent, "
              "fluorescent"},
        Field{"not_included", &T::not_included, optional,
              "what the price does not include; may be repeated; default: bodywork, other parts, wear "
              "and tear"},
        Field{"no_watermark", &T::no_watermark, optional, "no watermark across the pictures"},
        Field{"paper", &T::paper, optional, "paper to print on"},
        Field{"threads", &T::threads, optional, range(0, 256),
              "threads to use; 0 for all (the result is the same)"},
        Field{"library", &T::library, optional, app::kLibraryHelp},
        Field{"units", &T::units, optional, app::kUnitsHelp},
        Field{"json", &T::json, optional, app::kJsonHelp}};
    static constexpr std::array<std::string_view, 1> positional{"plans"};
    static constexpr std::array<std::string_view, 2> examples{
        "fadewright proof my-job.toml -o proof.pdf -o proof.html",
        "fadewright proof dusk.toml dawn.toml -o proof.pdf --lights day --lights incandescent"};
};

template <>
struct Schema<app::TemplateRequest> {
    using T = app::TemplateRequest;
    static constexpr std::string_view name = "template";
    static constexpr std::string_view about = "prints full-size outlines, over as many pages as they need";
    static constexpr auto fields = Fields{
        Field{"plan", &T::plan, required, app::kPlanHelp},
        Field{"out", &T::out, required, "the template to write (PDF)"},
        Field{"mask", &T::mask, optional, "only this mask; default: the panel with its masks and regions"},
        Field{"mirror", &T::mirror, optional, "mirrored left to right; lettering stays readable"},
        Field{"paper", &T::paper, optional, "paper to print on"},
        Field{"library", &T::library, optional, app::kLibraryHelp},
        Field{"units", &T::units, optional, app::kUnitsHelp},
        Field{"json", &T::json, optional, app::kJsonHelp}};
    static constexpr std::array<std::string_view, 1> positional{"plan"};
    static constexpr std::array<std::string_view, 2> examples{
        "fadewright template my-job.toml -o outline.pdf",
        "fadewright template my-job.toml -o stencil.pdf --mask star --mirror"};
};

template <>
struct Schema<app::HelpRequest> {
    using T = app::HelpRequest;
    static constexpr std::string_view name = "help";
    static constexpr std::string_view about =
        "prints a guide (start, mixing, fades, safety, glossary ...) or the reference of a file (plan, "
        "paint, gun, record ...)";
    static constexpr auto fields = Fields{
        Field{"topic", &T::topic, optional, "a guide or a reference; without a topic, the list of them"}};
    static constexpr std::array<std::string_view, 1> positional{"topic"};
    static constexpr std::array<std::string_view, 3> examples{
        "fadewright help start", "fadewright help glossary", "fadewright help plan"};
};

}  // namespace fadewright
