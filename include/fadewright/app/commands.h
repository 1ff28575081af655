// Everything a front end can request: one function per user command.
//
// A front end fills a request and shows the outcome; it does not handle plans, spectra or pictures. The
// fields of every request are listed once (requests_schema.h): options of the command line, their checks
// and their help come from there. `library` of a request is the folder that the front end opens its session
// with. `out` names the artefacts.
#pragma once

#include "fadewright/app/session.h"
#include "fadewright/base/progress.h"
#include "fadewright/base/quantity.h"
#include "fadewright/colour/illuminant.h"
#include "fadewright/render/display_shape.h"
#include "fadewright/report/paper.h"
#include "fadewright/text/diagnostic.h"

#include <optional>
#include <string>
#include <vector>

namespace fadewright::app {

using report::Paper;

// A point on the panel, written "x,y" with units: "450 mm,80 mm".
struct PanelPoint {
    Millimetres x, y;
};

struct CheckRequest {
    std::vector<PlanInput> plans;
    std::string library;
    std::optional<UnitSystem> units;
    bool json = false;
    bool canonical = false;
};

struct PreviewRequest {
    PlanInput plan;
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
    PlanInput plan;
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
    PlanInput plan;
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
    PlanInput plan;
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

// A cancelled comparison has no result.
struct FadeRequest {
    PlanInput plan;
    std::string out;
    bool expand = false;
    std::string light;
    std::string library;
    std::optional<UnitSystem> units;
    bool json = false;
    Progress progress;
};

// A cancelled search has the best result so far.
struct TuneRequest {
    PlanInput plan;
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
    Progress progress;
};

struct SpectraRequest {
    std::vector<std::string> files;
    std::string against;
    std::string light;
    colour::Observer observer = colour::Observer::ten_degree;
    std::string library;
    std::optional<UnitSystem> units;
    bool json = false;
};

struct FitPaintRequest {
    std::string card;
    std::string out;
    bool blank = false;
    report::Paper paper = report::Paper::A4;
    std::string library;
    std::optional<UnitSystem> units;
    bool json = false;
};

struct FitGunRequest {
    std::string card;
    std::string out;
    std::string plot;
    std::string library;
    std::optional<UnitSystem> units;
    bool json = false;
};

// Adds an entry to the job log; or lists the log, prints the copy of a plan, or plans a spot repair.
struct RecordRequest {
    PlanInput plan;
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

struct SheetRequest {
    PlanInput plan;
    std::vector<std::string> out;
    std::string labels;
    report::Paper paper = report::Paper::A4;
    std::string library;
    std::optional<UnitSystem> units;
    bool json = false;
};

// Each plan is one option; `out` may name several files. A cancelled proof has none.
struct ProofRequest {
    std::vector<PlanInput> plans;
    std::vector<std::string> out;
    std::vector<std::string> lights;        // empty: the default three
    std::vector<std::string> not_included;  // empty: the default list
    bool no_watermark = false;
    report::Paper paper = report::Paper::A4;
    int threads = 0;
    std::string library;
    std::optional<UnitSystem> units;
    bool json = false;
    Progress progress;
};

struct TemplateRequest {
    PlanInput plan;
    std::string out;
    std::string mask;
    bool mirror = false;
    report::Paper paper = report::Paper::A4;
    std::string library;
    std::optional<UnitSystem> units;
    bool json = false;
};

struct HelpRequest {
    std::string topic;
};

[[nodiscard]] Outcome check(Session& session, const CheckRequest& request);
[[nodiscard]] Outcome preview(Session& session, const PreviewRequest& request);
[[nodiscard]] Outcome section(Session& session, const SectionRequest& request);
[[nodiscard]] Outcome mix(Session& session, const MixRequest& request);
[[nodiscard]] Outcome ladder(Session& session, const LadderRequest& request);
[[nodiscard]] Outcome match(Session& session, const MatchRequest& request);
[[nodiscard]] Outcome library(Session& session, const LibraryRequest& request);
[[nodiscard]] Outcome spectra(Session& session, const SpectraRequest& request);
[[nodiscard]] Outcome fit_paint(Session& session, const FitPaintRequest& request);
[[nodiscard]] Outcome fit_gun(Session& session, const FitGunRequest& request);
[[nodiscard]] Outcome fade(Session& session, const FadeRequest& request);
[[nodiscard]] Outcome tune(Session& session, const TuneRequest& request);
[[nodiscard]] Outcome sheet(Session& session, const SheetRequest& request);
[[nodiscard]] Outcome record(Session& session, const RecordRequest& request);
[[nodiscard]] Outcome proof(Session& session, const ProofRequest& request);
[[nodiscard]] Outcome outline_template(Session& session, const TemplateRequest& request);
[[nodiscard]] Outcome help(Session& session, const HelpRequest& request);

// The job log that `record` keeps beside the plan.
[[nodiscard]] std::string job_log_path(const PlanInput& plan);

}  // namespace fadewright::app
