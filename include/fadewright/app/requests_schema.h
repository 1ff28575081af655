// The fields of every request, each said once: options, checks and help of the command line.
//
// Besides `fields` a request lists: `positional`, the names given without "--" in their order (the last may
// take several values if it is a list), and `examples`, one command line each.
#pragma once

#include "fadewright/app/commands.h"
#include "fadewright/plan/job_log_schema.h"
#include "fadewright/text/schema.h"

namespace fadewright {

namespace app {
inline constexpr std::string_view kLibraryHelp =
    "folder of your own paints, guns, grounds, panels and lights";
inline constexpr std::string_view kJsonHelp = "answer as JSON, in metric units whatever else is asked";
inline constexpr std::string_view kUnitsHelp = "show quantities in these; else as the plan says, or metric";
inline constexpr std::string_view kPartsHelp =
    "paints of the shelf with their parts: paint=2 by volume, paint=25% or paint=12.5g; up to 12";
inline constexpr std::string_view kMixPlanHelp = "take the mix and the ground from this plan";
inline constexpr std::string_view kPlanHelp = "the plan file; - reads standard input";
}  // namespace app

template <>
struct Codec<app::PanelPoint> {
    static bool read(const Node& node, const FieldContext& field, ReadContext& r, app::PanelPoint& out);
    static std::string type_label() { return "place x,y"; }
    static std::string allowed_text(const Limits&) { return ""; }
};

template <>
struct Schema<app::CheckRequest> {
    using T = app::CheckRequest;
    static constexpr std::string_view name = "check";
    static constexpr std::string_view about =
        "finds every mistake in a plan or preset file, and says what to write";
    static constexpr auto fields =
        Fields{Field{"plans", &T::plans, required,
                     "plan or preset files, or folders of presets; - reads standard input"},
               Field{"shelf", &T::library, optional, app::kLibraryHelp},
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
    static constexpr std::string_view about = "paints the picture of the finished panel";
    static constexpr auto fields = Fields{
        Field{"plan", &T::plan, required, app::kPlanHelp},
        Field{"out", &T::out, required, "the picture to write (PNG)"},
        Field{"show", &T::show, optional,
              "a sheet instead: coats (step by step), passes, faults, grain, or film:COAT with a coat's name "
              "or number"},
        Field{"size", &T::size, optional, range(16, 16384), "longest side of the picture in pixels"},
        Field{"light", &T::light, optional, "light to look at it in; else the plan's"},
        Field{"lights", &T::lights, optional, "a sheet: side by side in daylight, lamp, shop tube and LED"},
        Field{"angle", &T::angle, optional, range(Degrees{-15.0}, 110_deg),
              "of the eye from the shine: 15 deg near it, 45 deg straight on; else the plan's"},
        Field{"angles", &T::angles, optional, "a sheet: side by side at -15, 15, 25, 45, 75 and 110 deg"},
        Field{"form", &T::shape, optional, "the same coats on a sample form under a soft lamp"},
        Field{"turn", &T::turn, optional, range(2, 360),
              "so many pictures of it turned to and fro: a moving PNG, and each picture beside it"},
        Field{"before_clear", &T::without_clear, optional, "without its last clear coats, dry and matt"},
        Field{"after_coat", &T::after_coat, optional, range(0, 60),
              "stop after this coat; 0 shows the ground"},
        Field{"margin", &T::margin, optional, range(0_mm, 1000_mm), "neutral surround on every side"},
        Field{"profile", &T::profile, optional, "ICC profile of the screen or printer; else sRGB"},
        Field{"exact", &T::exact, optional, "work out every pixel instead of refining where colours change"},
        Field{"threads", &T::threads, optional, range(0, 256),
              "threads to use; 0 for all (the picture is the same)"},
        Field{"shelf", &T::library, optional, app::kLibraryHelp},
        Field{"units", &T::units, optional, app::kUnitsHelp},
        Field{"json", &T::json, optional, app::kJsonHelp}};
    static constexpr std::array<std::string_view, 1> positional{"plan"};
    static constexpr std::array<std::string_view, 6> examples{
        "fadewright preview my-job.toml -o my-job.png",
        "fadewright preview my-job.toml -o evening.png --light warm-lamp",
        "fadewright preview my-job.toml -o step2.png --after-coat 2 --size 800",
        "fadewright preview my-job.toml -o angles.png --angles --size 800",
        "fadewright preview my-job.toml -o drop.png --form speed-shape --turn 24",
        "fadewright preview my-job.toml -o faults.png --show faults"};
};

template <>
struct Schema<app::SectionRequest> {
    using T = app::SectionRequest;
    static constexpr std::string_view name = "section";
    static constexpr std::string_view about =
        "film of every coat and colour along a straight line over the panel";
    static constexpr auto fields = Fields{
        Field{"plan", &T::plan, required, app::kPlanHelp},
        Field{"from", &T::from, optional, "start, \"x,y\" with units; else the middle of the lower edge"},
        Field{"to", &T::to, optional, "end, \"x,y\" with units; else the middle of the upper edge"},
        Field{"out", &T::out, optional,
              "files to write: .csv, .json or .png (a plot); may be given several times"},
        Field{"samples", &T::samples, optional, range(2, 10000), "points along the line"},
        Field{"light", &T::light, optional, "light to look at it in; else the plan's"},
        Field{"shelf", &T::library, optional, app::kLibraryHelp},
        Field{"units", &T::units, optional, app::kUnitsHelp},
        Field{"json", &T::json, optional, app::kJsonHelp}};
    static constexpr std::array<std::string_view, 1> positional{"plan"};
    static constexpr std::array<std::string_view, 2> examples{
        "fadewright section my-job.toml -o fade.png",
        "fadewright section my-job.toml --from \"450 mm,0 mm\" --to \"450 mm,560 mm\" -o fade.csv -o "
        "fade.png"};
};

template <>
struct Schema<app::MixRequest> {
    using T = app::MixRequest;
    static constexpr std::string_view name = "blend";
    static constexpr std::string_view about =
        "what a mix will look like, coat by coat, and what to expect of it";
    static constexpr auto fields = Fields{
        Field{"parts", &T::parts, optional, app::kPartsHelp},
        Field{"extend", &T::extend, optional, range(0.0, 50.0), "parts of clear base to one part of colour"},
        Field{"reduce", &T::reduce, optional, range(0_pct, 300_pct), "reducer, as % of paint"},
        Field{"white_cut", &T::white_cut, optional, range(0_pct, 99_pct),
              "share of white in the colour part"},
        Field{"plan", &T::plan, optional, app::kMixPlanHelp},
        Field{"mix", &T::mix, optional, "a mix of that plan"},
        Field{"film", &T::film, optional, range(Micrometres{0.1}, 500_um),
              "dry film of one coat; else the paints' own"},
        Field{"coats", &T::coats, optional, range(1, 6), "coats to show"},
        Field{"ground", &T::ground, optional, "what it is laid over; else the plan's, or grey-sealer"},
        Field{"light", &T::light, optional, "light to look at it in; else the plan's, or day"},
        Field{"out", &T::out, optional, "sheet of swatches to write (PNG)"},
        Field{"shelf", &T::library, optional, app::kLibraryHelp},
        Field{"units", &T::units, optional, app::kUnitsHelp},
        Field{"json", &T::json, optional, app::kJsonHelp}};
    static constexpr std::array<std::string_view, 1> positional{"parts"};
    static constexpr std::array<std::string_view, 3> examples{
        "fadewright blend phthalo-blue-green-shade=1 titanium-white=4 -o blue.png",
        "fadewright blend hansa-yellow=10 phthalo-blue-green-shade=1 --extend 2 --reduce \"12 %\"",
        "fadewright blend --plan my-job.toml --mix middle -o middle.png"};
};

template <>
struct Schema<app::LadderRequest> {
    using T = app::LadderRequest;
    static constexpr std::string_view name = "ladder";
    static constexpr std::string_view about =
        "steps one thing of a mix and shows the steps side by side; the list with several values is stepped";
    static constexpr auto fields = Fields{
        Field{"parts", &T::parts, optional, app::kPartsHelp},
        Field{"ratio", &T::ratio_steps, optional, "ratios of the mix's two parts: 4:1,2:1,1:1,1:2,1:4"},
        Field{"extend", &T::extend_steps, optional, "parts of clear base to one of colour: 0,1,2,3,4"},
        Field{"reduce", &T::reduce_steps, optional, "reducer, % of paint: 0,10,25,50"},
        Field{"white_cut", &T::white_cut_steps, optional, "share of white, %: 0,10,25,50"},
        Field{"film", &T::film_steps, optional,
              "dry film of the coat before it is extended or reduced, um or with its unit: 5,10,20"},
        Field{"coats", &T::coats_steps, optional, "coats: 1,2,3,4"},
        Field{"loading", &T::loading_steps, optional,
              "flakes stirred into a litre of the one paint that has them: \"10,20,30 g/L\""},
        Field{"plan", &T::plan, optional, app::kMixPlanHelp},
        Field{"mix", &T::mix, optional, "a mix of that plan"},
        Field{"ground", &T::ground, optional, "what it is laid over; else the plan's, or grey-sealer"},
        Field{"light", &T::light, optional, "light to look at it in; else the plan's, or day"},
        Field{"out", &T::out, optional, "contact sheet to write (PNG)"},
        Field{"shelf", &T::library, optional, app::kLibraryHelp},
        Field{"units", &T::units, optional, app::kUnitsHelp},
        Field{"json", &T::json, optional, app::kJsonHelp}};
    static constexpr std::array<std::string_view, 1> positional{"parts"};
    static constexpr std::array<std::string_view, 4> examples{
        "fadewright ladder --plan my-job.toml --mix middle --extend 0,1,2,3,4 -o extend.png",
        "fadewright ladder hansa-yellow phthalo-blue-green-shade --ratio 40:1,20:1,10:1,5:1,1:1 -o "
        "greens.png",
        "fadewright ladder quinacridone-magenta --white-cut 0,10,25,50 --coats 2",
        "fadewright ladder interference-gold --loading \"10,20,40 g/L\" --coats 3 -o loading.png"};
};

template <>
struct Schema<app::MatchRequest> {
    using T = app::MatchRequest;
    static constexpr std::string_view name = "match";
    static constexpr std::string_view about = "a recipe from the shelf for a colour, and others beside it";
    static constexpr auto fields = Fields{
        Field{"lab", &T::lab, optional, "the colour as \"L,a,b\", in this light and for this observer"},
        Field{"srgb", &T::srgb, optional, "the colour as a screen shows it, \"#rrggbb\""},
        Field{"spectrum", &T::spectrum, optional, "the colour as measured: a file of an instrument"},
        Field{"sample", &T::sample, optional, "which sample of that file; else the first"},
        Field{"mix", &T::mix, optional, "the colour of a mix of the plan; without a plan, of a paint"},
        Field{"plan", &T::plan, optional, "the plan that mix is in"},
        Field{"paints", &T::paints, optional, "use only these paints: a,b,c"},
        Field{"without", &T::exclude, optional, "leave these paints on the shelf: a,b"},
        Field{"paints_at_most", &T::max_paints, optional, range(1, 6), "paints in one recipe"},
        Field{"over", &T::over, optional, "ground under the film; else it is laid until it hides"},
        Field{"film", &T::film, optional, range(Micrometres{0.1}, 500_um), "dry film over that ground"},
        Field{"light", &T::light, optional, "light to match in; else day (D65)"},
        Field{"observer", &T::observer, optional, range(2, 10),
              "2 or 10 degrees; else 2 for a screen's colour and 10 for all others"},
        Field{"batch", &T::batch, optional, range(Grams{1.0}, Grams{50000.0}), "how much to mix"},
        Field{"scale", &T::scale, optional, range(Grams{0.001}, Grams{50.0}),
              "smallest step the scale shows"},
        Field{"shelf", &T::library, optional, app::kLibraryHelp},
        Field{"units", &T::units, optional, app::kUnitsHelp},
        Field{"json", &T::json, optional, app::kJsonHelp}};
    static constexpr std::array<std::string_view, 0> positional{};
    static constexpr std::array<std::string_view, 4> examples{
        "fadewright match --lab \"62,41,38\"",
        "fadewright match --srgb \"#d97a4a\" --paints-at-most 3 --batch \"120 g\" --scale \"0.01 g\"",
        "fadewright match --plan my-job.toml --mix middle --without pyrrole-red",
        "fadewright match --spectrum chip.txt --over grey-sealer --film \"12 um\""};
};

template <>
struct Names<colour::Observer> {
    static constexpr std::array<std::pair<colour::Observer, std::string_view>, 2> list{
        {{colour::Observer::two_degree, "2 deg"}, {colour::Observer::ten_degree, "10 deg"}}};
};

template <>
struct Schema<app::SpectraRequest> {
    using T = app::SpectraRequest;
    static constexpr std::string_view name = "read";
    static constexpr std::string_view about =
        "reads measured spectra (CGATS text, CxF3, CSV): their colours, and how far they are apart";
    static constexpr auto fields =
        Fields{Field{"files", &T::files, required, "files of measured spectra; - reads standard input"},
               Field{"against", &T::against, optional,
                     "compare with the first sample of this file; else with the first sample read"},
               Field{"light", &T::light, optional, "light to look at them in; else day"},
               Field{"observer", &T::observer, optional, "field of view of the eye"},
               Field{"shelf", &T::library, optional, app::kLibraryHelp},
               Field{"units", &T::units, optional, app::kUnitsHelp},
               Field{"json", &T::json, optional, app::kJsonHelp}};
    static constexpr std::array<std::string_view, 1> positional{"files"};
    static constexpr std::array<std::string_view, 2> examples{
        "fadewright read drawdown.cxf", "fadewright read batch.txt --against standard.txt --light warm-lamp"};
};

template <>
struct Schema<app::LibraryRequest> {
    using T = app::LibraryRequest;
    static constexpr std::string_view name = "presets";
    static constexpr std::string_view about = "lists the shelf, or shows one thing on it";
    static constexpr auto fields =
        Fields{Field{"what", &T::item, optional,
                     "paints, grounds, guns, panels, lights, plans, or the name of one thing"},
               Field{"sheet", &T::sheet, optional,
                     "write a picture of all paints over black and white and let down (PNG)"},
               Field{"forms", &T::shapes, optional,
                     "write a picture of all effect paints on a form, over black and white (PNG)"},
               Field{"shelf", &T::library, optional, app::kLibraryHelp},
               Field{"json", &T::json, optional, app::kJsonHelp}};
    static constexpr std::array<std::string_view, 1> positional{"what"};
    static constexpr std::array<std::string_view, 3> examples{"fadewright presets paints",
                                                              "fadewright presets titanium-white",
                                                              "fadewright presets --sheet paints.png"};
};

template <>
struct Names<report::Paper> {
    static constexpr std::array<std::pair<report::Paper, std::string_view>, 2> list{
        {{report::Paper::A4, "A4"}, {report::Paper::Letter, "Letter"}}};
};

template <>
struct Schema<app::FitPaintRequest> {
    using T = app::FitPaintRequest;
    static constexpr std::string_view name = "card";
    static constexpr std::string_view about =
        "learns a paint from a test card, or makes a blank card to print and spray on";
    static constexpr auto fields =
        Fields{Field{"card", &T::card, optional, "the card file; - reads standard input"},
               Field{"out", &T::out, optional, "the paint file to write (TOML), or the blank card (PDF)"},
               Field{"blank", &T::blank, optional, "make a blank card instead"},
               Field{"paper", &T::paper, optional, "of the blank card"},
               Field{"shelf", &T::library, optional, app::kLibraryHelp},
               Field{"units", &T::units, optional, app::kUnitsHelp},
               Field{"json", &T::json, optional, app::kJsonHelp}};
    static constexpr std::array<std::string_view, 1> positional{"card"};
    static constexpr std::array<std::string_view, 3> examples{
        "fadewright card my-card.toml -o my-shelf/paints/plum.toml", "fadewright card my-card.toml --json",
        "fadewright card --blank -o card.pdf --paper Letter"};
};

template <>
struct Schema<app::FitGunRequest> {
    using T = app::FitGunRequest;
    static constexpr std::string_view name = "gun";
    static constexpr std::string_view about =
        "learns a gun from the picture of one pass or one spot sprayed on white card";
    static constexpr auto fields =
        Fields{Field{"card", &T::card, required, "the gun card file; - reads standard input"},
               Field{"out", &T::out, optional, "the gun file to write (TOML)"},
               Field{"plot", &T::plot, optional, "plot of the measured film against the fitted (PNG)"},
               Field{"shelf", &T::library, optional, app::kLibraryHelp},
               Field{"units", &T::units, optional, app::kUnitsHelp},
               Field{"json", &T::json, optional, app::kJsonHelp}};
    static constexpr std::array<std::string_view, 1> positional{"card"};
    static constexpr std::array<std::string_view, 2> examples{
        "fadewright gun my-pass.toml -o my-shelf/guns/my-airbrush.toml --plot fit.png",
        "fadewright gun my-pass.toml --json"};
};

template <>
struct Schema<app::FadeRequest> {
    using T = app::FadeRequest;
    static constexpr std::string_view name = "fade";
    static constexpr std::string_view about =
        "compares the ways of making a plan's fade, or writes the fade out as coats and passes";
    static constexpr auto fields = Fields{
        Field{"plan", &T::plan, required, app::kPlanHelp},
        Field{"out", &T::out, optional, "the file to write; else standard output"},
        Field{"expand", &T::expand, optional, "print the plan with coats and passes instead of its fades"},
        Field{"light", &T::light, optional, "light to look at it in; else the plan's"},
        Field{"shelf", &T::library, optional, app::kLibraryHelp},
        Field{"units", &T::units, optional, app::kUnitsHelp},
        Field{"json", &T::json, optional, app::kJsonHelp}};
    static constexpr std::array<std::string_view, 1> positional{"plan"};
    static constexpr std::array<std::string_view, 2> examples{
        "fadewright fade my-job.toml -o ways.png", "fadewright fade my-job.toml --expand -o passes.toml"};
};

template <>
struct Schema<app::TuneRequest> {
    using T = app::TuneRequest;
    static constexpr std::string_view name = "tune";
    static constexpr std::string_view about =
        "searches the measures that make a plan's fade smoothest, and shows what each of them buys";
    static constexpr auto fields = Fields{
        Field{"plan", &T::plan, required, app::kPlanHelp},
        Field{"out", &T::out, optional, "the tuned plan to write"},
        Field{"plot", &T::plot, optional, "before and after along the fade, with an unsteady hand (PNG)"},
        Field{
            "vary", &T::vary, optional,
            "what may change: method, order (which end is laid first), middles, middle_ratio, extend, passes "
            "(found together), width, place, overlap, distance; else all but order, place and distance"},
        Field{"width", &T::width, optional, range(1_mm, 10000_mm), "wanted from 10 to 90 %; else as planned"},
        Field{"tolerance", &T::tolerance, optional, range(1_mm, 1000_mm),
              "by which the width may miss; else 5 % of it"},
        Field{"most_film", &T::max_film, optional, range(5_um, 1000_um),
              "dry film of all coats to stay under"},
        Field{"seed", &T::seed, optional, range(0, 1000000000), "of the unsteady hand"},
        Field{"within", &T::time_limit, optional, range(Seconds{0.1}, Seconds{3600.0}),
              "stop with the best after so long"},
        Field{"looks", &T::trials, optional, range(1, 10000),
              "trials for each of the three most promising ways"},
        Field{"light", &T::light, optional, "light to look at it in; else the plan's"},
        Field{"shelf", &T::library, optional, app::kLibraryHelp},
        Field{"units", &T::units, optional, app::kUnitsHelp},
        Field{"json", &T::json, optional, app::kJsonHelp}};
    static constexpr std::array<std::string_view, 1> positional{"plan"};
    static constexpr std::array<std::string_view, 2> examples{
        "fadewright tune my-job.toml --width \"200 mm\" -o tuned.toml --plot tuned.png",
        "fadewright tune my-job.toml --vary method --vary middles --vary extend --within \"5 s\""};
};

template <>
struct Schema<app::SheetRequest> {
    using T = app::SheetRequest;
    static constexpr std::string_view name = "sheet";
    static constexpr std::string_view about =
        "says how much of everything to mix, weigh and spray, and makes the sheet for the booth";
    static constexpr auto fields = Fields{
        Field{"plan", &T::plan, required, app::kPlanHelp},
        Field{"out", &T::out, optional,
              "file to write: sheet to print .pdf or .html, table .csv, everything .json; may be repeated"},
        Field{"labels", &T::labels, optional, "labels for the cups (PDF)"},
        Field{"paper", &T::paper, optional, "to print on"},
        Field{"shelf", &T::library, optional, app::kLibraryHelp},
        Field{"units", &T::units, optional, app::kUnitsHelp},
        Field{"json", &T::json, optional, app::kJsonHelp}};
    static constexpr std::array<std::string_view, 1> positional{"plan"};
    static constexpr std::array<std::string_view, 3> examples{
        "fadewright sheet my-job.toml", "fadewright sheet my-job.toml -o booth.pdf --labels cups.pdf",
        "fadewright sheet my-job.toml -o booth.html -o recipe.csv --paper Letter"};
};

template <>
struct Schema<app::RecordRequest> {
    using T = app::RecordRequest;
    static constexpr std::string_view name = "record";
    static constexpr std::string_view about =
        "keeps what was really mixed and sprayed, beside the plan; and from that plans the repair of a spot";
    static constexpr auto fields = Fields{
        Field{"plan", &T::plan, required, "the plan file that was worked by"},
        Field{"mix", &T::mix, optional, "a mix of the plan that was mixed"},
        Field{"grams", &T::weights, optional, "what was poured: \"paint=12.3 g, other=4.1 g\""},
        Field{"bottles", &T::batch_numbers, optional, "batch numbers: \"paint=B1207, other=77\""},
        Field{"coat", &T::coat, optional, "a coat of the plan that was laid, or read"},
        Field{"film", &T::film, optional, plan::kMeasuredFilmLimits, "dry film of that coat alone, as read"},
        Field{"at", &T::at, optional, "where it was read, \"x,y\" with units; else the middle of the panel"},
        Field{"gun", &T::gun, optional, "another gun than planned"},
        Field{"flow", &T::flow, optional, plan::kFlowLimits, "as set, if not as planned"},
        Field{"speed", &T::speed, optional, plan::kSpeedLimits, "as moved, if not as planned"},
        Field{"distance", &T::distance, optional, plan::kDistanceLimits, "as held, if not as planned"},
        Field{"needle", &T::needle_opening, optional, plan::kNeedleOpeningLimits,
              "as drawn back, if not as planned"},
        Field{"air", &T::air, optional, plan::kAirLimits, "as set, if not as planned"},
        Field{"temperature", &T::temperature, optional, plan::kTemperatureLimits, "of the air"},
        Field{"humidity", &T::humidity, optional, range(0_pct, 100_pct), "of the air"},
        Field{"note", &T::note, optional, "whatever else should be remembered"},
        Field{"date", &T::date, optional, "when, in UTC: \"2026-03-01 14:05\"; else now"},
        Field{"list", &T::list, optional, "tell what was kept, and how its plans differ from the plan now"},
        Field{"kept", &T::show_plan, optional,
              "print the plan kept under this hash; its beginning is enough"},
        Field{"repair", &T::repair, optional, "plan the repair of a spot here, \"x,y\" with units"},
        Field{"size", &T::size, optional, range(1_mm, 5000_mm), "of the damage to repair, across"},
        Field{"mismatch", &T::mismatch, optional, range(0.0, 20.0), "dE00 of a mix made again"},
        Field{"film_error", &T::film_error, optional, range(0_pct, 90_pct), "of a film laid again"},
        Field{"file", &T::file, optional, "the record file; else PLAN with the ending .record.toml"},
        Field{"shelf", &T::library, optional, app::kLibraryHelp},
        Field{"units", &T::units, optional, app::kUnitsHelp},
        Field{"json", &T::json, optional, app::kJsonHelp}};
    static constexpr std::array<std::string_view, 1> positional{"plan"};
    static constexpr std::array<std::string_view, 6> examples{
        "fadewright record my-job.toml --mix plum --grams \"quinacridone-violet=12.3 g, carbon-black=1.1 g\"",
        "fadewright record my-job.toml --mix plum --bottles \"carbon-black=B1207\" --temperature \"22 degC\"",
        "fadewright record my-job.toml --coat middle --air \"1.2 bar\" --note \"second pass a bit wet\"",
        "fadewright record my-job.toml --coat middle --film \"14 um\" --at \"450 mm,280 mm\"",
        "fadewright record my-job.toml --list",
        "fadewright record my-job.toml --repair \"450 mm,280 mm\" --size \"40 mm\""};
};

template <>
struct Schema<app::ProofRequest> {
    using T = app::ProofRequest;
    static constexpr std::string_view name = "proof";
    static constexpr std::string_view about =
        "makes the pages for the client: every plan is an option to choose";
    static constexpr auto fields = Fields{
        Field{"plans", &T::plans, required, "plan files, one for each option: A, B, C ..."},
        Field{"out", &T::out, required,
              "file to write: pages .pdf or .html, or .png for a picture of each (NAME-a.png ...); may be "
              "repeated"},
        Field{"lights", &T::lights, optional,
              "a light to show it in besides the plan's; may be repeated; else day, warm-lamp, shop-tube"},
        Field{"not_included", &T::not_included, optional,
              "what the price does not hold; may be repeated; else body work, other parts, wear"},
        Field{"no_watermark", &T::no_watermark, optional, "no words across the pictures"},
        Field{"paper", &T::paper, optional, "to print on"},
        Field{"threads", &T::threads, optional, range(0, 256),
              "threads to use; 0 for all (the result is the same)"},
        Field{"shelf", &T::library, optional, app::kLibraryHelp},
        Field{"units", &T::units, optional, app::kUnitsHelp},
        Field{"json", &T::json, optional, app::kJsonHelp}};
    static constexpr std::array<std::string_view, 1> positional{"plans"};
    static constexpr std::array<std::string_view, 2> examples{
        "fadewright proof my-job.toml -o proof.pdf -o proof.html",
        "fadewright proof dusk.toml dawn.toml -o proof.pdf --lights day --lights warm-lamp"};
};

template <>
struct Schema<app::TemplateRequest> {
    using T = app::TemplateRequest;
    static constexpr std::string_view name = "template";
    static constexpr std::string_view about =
        "prints the outlines at true size, over as many pages as it takes";
    static constexpr auto fields =
        Fields{Field{"plan", &T::plan, required, app::kPlanHelp},
               Field{"out", &T::out, required, "the template to write (PDF)"},
               Field{"mask", &T::mask, optional,
                     "only this mask of the plan; else the panel, its masks and regions"},
               Field{"mirror", &T::mirror, optional, "mirrored left to right; the lettering is not"},
               Field{"paper", &T::paper, optional, "to print on"},
               Field{"shelf", &T::library, optional, app::kLibraryHelp},
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
        "the reference: plan, paint, gun, ground, panel, light, card, gun-card, rules, units";
    static constexpr auto fields =
        Fields{Field{"topic", &T::topic, optional,
                     "plan, paint, gun, ground, panel, light, card, gun-card, rules or units"}};
    static constexpr std::array<std::string_view, 1> positional{"topic"};
    static constexpr std::array<std::string_view, 2> examples{"fadewright help plan",
                                                              "fadewright help rules"};
};

}  // namespace fadewright
