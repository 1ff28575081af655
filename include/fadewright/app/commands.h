// Everything a front end can request: one function per user command.
//
// A front end fills a request and shows the outcome; it does not handle plans, spectra or pictures. The
// fields of every request are listed once (requests_schema.h): options of the command line, their checks
// and their help come from there.
//
// Exit codes: 0 success, 1 error in the plan or the data, 2 error in the command line, 3 error of the
// system (a file cannot be read or written), 70 internal error.
#pragma once

#include "fadewright/app/measure_requests.h"
#include "fadewright/app/print_requests.h"
#include "fadewright/base/quantity.h"
#include "fadewright/render/display_shape.h"
#include "fadewright/text/diagnostic.h"

#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace fadewright::app {

enum class Exit { ok = 0, data_error = 1, usage_error = 2, system_error = 3, internal_error = 70 };

struct Outcome {
    Exit exit = Exit::ok;
    std::string out;  // the result: text, or JSON if requested
    std::string err;  // notes, warnings and errors, for the error stream
};

// A point on the panel, written "x,y" with units: "450 mm,80 mm".
struct PanelPoint {
    Millimetres x, y;
};

struct CheckRequest {
    std::vector<std::string> plans;
    std::string library;
    std::optional<UnitSystem> units;
    bool json = false;
    bool canonical = false;
};

struct PreviewRequest {
    std::string plan;
    std::string out;
    std::string show;
    int size = 1600;
    std::string light;
    bool lights = false;
    std::optional<Degrees> angle;
    bool angles = false;
    render::DisplayShape shape = render::DisplayShape::panel;
    std::optional<int> turn;
    bool without_clear = false;
    std::optional<int> after_coat;
    Millimetres margin{20.0};
    std::string profile;
    bool exact = false;
    int threads = 0;
    std::string library;
    std::optional<UnitSystem> units;
    bool json = false;
};

struct SectionRequest {
    std::string plan;
    std::optional<PanelPoint> from, to;
    std::vector<std::string> out;
    int samples = 201;
    std::string light;
    std::string library;
    std::optional<UnitSystem> units;
    bool json = false;
};

// A mix: typed paints and parts, or a mix of a plan; with the ground below it and the light to view it in.
struct MixSelection {
    std::vector<std::string> parts;
    std::string plan;
    std::string mix;
    std::optional<double> extend;
    std::optional<Share> reduce;
    std::optional<Share> white_cut;
    std::string ground;
    std::string light;
    std::string library;
    std::optional<UnitSystem> units;
    bool json = false;
};

struct MixRequest : MixSelection {
    std::optional<Micrometres> film;
    int coats = 6;
    std::string out;
};

// Exactly one of the lists has several values: that property is varied.
struct LadderRequest : MixSelection {
    std::string ratio_steps;
    std::string extend_steps;
    std::string reduce_steps;
    std::string white_cut_steps;
    std::string film_steps;
    std::string coats_steps;
    std::string loading_steps;
    std::string out;
};

// The target is one of lab, srgb, spectrum or mix.
struct MatchRequest {
    std::string lab;
    std::string srgb;
    std::string spectrum;
    std::string sample;
    std::string mix;
    std::string plan;
    std::vector<std::string> paints;
    std::vector<std::string> exclude;
    int max_paints = 4;
    std::string over;
    std::optional<Micrometres> film;
    std::string light;
    std::optional<int> observer;
    Grams batch{50.0};
    Grams scale{0.1};
    std::string library;
    std::optional<UnitSystem> units;
    bool json = false;
};

struct LibraryRequest {
    std::string item;
    std::string sheet;
    std::string shapes;
    std::string library;
    bool json = false;
};

// `on_progress` and `is_cancelled`: see TuneRequest; a cancelled comparison has no result.
struct FadeRequest {
    std::string plan;
    std::string out;
    bool expand = false;
    std::string light;
    std::string library;
    std::optional<UnitSystem> units;
    bool json = false;
    std::function<void(double)> on_progress;
    std::function<bool()> is_cancelled;
};

// `on_progress` receives the fraction of the search that is done, 0 to 1, from any thread; the search ends
// with the best result so far once `is_cancelled` returns true.
struct TuneRequest {
    std::string plan;
    std::string out;
    std::string plot;
    std::vector<std::string> vary;
    std::optional<Millimetres> width;
    std::optional<Millimetres> tolerance;
    Micrometres max_film{150.0};
    int seed = 1;
    Seconds time_limit{60.0};
    int trials = 14;
    std::string light;
    std::string library;
    std::optional<UnitSystem> units;
    bool json = false;
    std::function<void(double)> on_progress;
    std::function<bool()> is_cancelled;
};

// Adds an entry to the job log; or lists the log, prints the copy of a plan, or plans a spot repair.
struct RecordRequest {
    std::string plan;
    std::string mix;
    std::vector<std::string> weights;
    std::vector<std::string> batch_numbers;
    std::string coat;
    std::optional<Micrometres> film;
    std::optional<PanelPoint> at;
    std::string gun;
    std::optional<MillilitresPerMinute> flow;
    std::optional<MillimetresPerSecond> speed;
    std::optional<Millimetres> distance;
    std::optional<Share> needle_opening;
    std::optional<Bar> air;
    std::optional<Celsius> temperature;
    std::optional<Share> humidity;
    std::string note;
    std::string date;
    bool list = false;
    std::string show_plan;
    std::optional<PanelPoint> repair;
    Millimetres size{60.0};
    double mismatch = 1.0;
    Share film_error{0.15};
    std::string file;
    std::string library;
    std::optional<UnitSystem> units;
    bool json = false;
};

struct HelpRequest {
    std::string topic;
};

[[nodiscard]] Outcome check(const CheckRequest& request);
[[nodiscard]] Outcome preview(const PreviewRequest& request);
[[nodiscard]] Outcome section(const SectionRequest& request);
[[nodiscard]] Outcome mix(const MixRequest& request);
[[nodiscard]] Outcome ladder(const LadderRequest& request);
[[nodiscard]] Outcome match(const MatchRequest& request);
[[nodiscard]] Outcome library(const LibraryRequest& request);
[[nodiscard]] Outcome spectra(const SpectraRequest& request);
[[nodiscard]] Outcome fit_paint(const FitPaintRequest& request);
[[nodiscard]] Outcome fit_gun(const FitGunRequest& request);
[[nodiscard]] Outcome fade(const FadeRequest& request);
[[nodiscard]] Outcome tune(const TuneRequest& request);
[[nodiscard]] Outcome sheet(const SheetRequest& request);
[[nodiscard]] Outcome record(const RecordRequest& request);
[[nodiscard]] Outcome proof(const ProofRequest& request);
[[nodiscard]] Outcome outline_template(const TemplateRequest& request);
[[nodiscard]] Outcome help(const HelpRequest& request);

}  // namespace fadewright::app
