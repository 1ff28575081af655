// Everything a front end can ask for: one function per user command.
//
// A front end fills a request and shows the outcome; it never sees plans, spectra or pictures. The fields of
// every request are listed once (requests_schema.h): the command line's options, their checks and their help
// come from there.
//
// Exit codes: 0 fine, 1 the plan or the data is wrong, 2 the command line is wrong, 3 the machine refused,
// 70 our bug.
#pragma once

#include "fadewright/app/measure_requests.h"
#include "fadewright/app/print_requests.h"
#include "fadewright/base/quantity.h"
#include "fadewright/render/form.h"
#include "fadewright/text/diagnostic.h"
#include "fadewright/text/unit_system.h"

#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace fadewright::app {

enum class Exit { fine = 0, wrong_data = 1, wrong_command = 2, refused = 3, bug = 70 };

struct Outcome {
    Exit exit = Exit::fine;
    std::string out;   // the result: text, or JSON where it was asked for
    std::string talk;  // remarks and mistakes, for the error stream
};

// A place on the panel, written "x,y" with units: "450 mm,80 mm".
struct PanelPlace {
    Millimetres x, y;
};

struct CheckRequest {
    std::vector<std::string> plans;
    std::string shelf;
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
    render::Form form = render::Form::panel;
    std::optional<int> turn;
    bool before_clear = false;
    std::optional<int> after_coat;
    Millimetres margin{20.0};
    std::string profile;
    bool exact = false;
    int threads = 0;
    std::string shelf;
    std::optional<UnitSystem> units;
    bool json = false;
};

struct SectionRequest {
    std::string plan;
    std::optional<PanelPlace> from, to;
    std::vector<std::string> out;
    int samples = 201;
    std::string light;
    std::string shelf;
    std::optional<UnitSystem> units;
    bool json = false;
};

// Which mix is meant: typed paints and parts, or a mix of a plan; what it is laid over and seen in.
struct MixChoice {
    std::vector<std::string> parts;
    std::string plan;
    std::string mix;
    std::optional<double> extend;
    std::optional<Share> reduce;
    std::optional<Share> white_cut;
    std::string ground;
    std::string light;
    std::string shelf;
    std::optional<UnitSystem> units;
    bool json = false;
};

struct BlendRequest : MixChoice {
    std::optional<Micrometres> film;
    int coats = 6;
    std::string out;
};

// Exactly one of the lists has several values: that one is stepped.
struct LadderRequest : MixChoice {
    std::string steps_ratio;
    std::string steps_extend;
    std::string steps_reduce;
    std::string steps_white_cut;
    std::string steps_film;
    std::string steps_coats;
    std::string steps_loading;
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
    std::vector<std::string> without;
    int paints_at_most = 4;
    std::string over;
    std::optional<Micrometres> film;
    std::string light;
    std::optional<int> observer;
    Grams batch{50.0};
    Grams scale{0.1};
    std::string shelf;
    std::optional<UnitSystem> units;
    bool json = false;
};

struct PresetsRequest {
    std::string what;
    std::string sheet;
    std::string forms;
    std::string shelf;
    bool json = false;
};

// `told` and `stopped`: as of TuneRequest; what is stopped gives nothing.
struct FadeRequest {
    std::string plan;
    std::string out;
    bool expand = false;
    std::string light;
    std::string shelf;
    std::optional<UnitSystem> units;
    bool json = false;
    std::function<void(double)> told;
    std::function<bool()> stopped;
};

// `told` hears, from any thread, how much of the search is done; `stopped` is asked whether to end it.
struct TuneRequest {
    std::string plan;
    std::string out;
    std::string plot;
    std::vector<std::string> vary;
    std::optional<Millimetres> width;
    std::optional<Millimetres> tolerance;
    Micrometres most_film{150.0};
    int seed = 1;
    Seconds within{60.0};
    int looks = 14;
    std::string light;
    std::string shelf;
    std::optional<UnitSystem> units;
    bool json = false;
    std::function<void(double)> told;
    std::function<bool()> stopped;
};

// Adds an entry; or lists them, prints a plan that was kept, or plans the repair of a spot.
struct RecordRequest {
    std::string plan;
    std::string mix;
    std::vector<std::string> grams;
    std::vector<std::string> bottles;
    std::string coat;
    std::optional<Micrometres> film;
    std::optional<PanelPlace> at;
    std::string gun;
    std::optional<MillilitresPerMinute> flow;
    std::optional<MillimetresPerSecond> speed;
    std::optional<Millimetres> distance;
    std::optional<Share> needle;
    std::optional<Bar> air;
    std::optional<Celsius> temperature;
    std::optional<Share> humidity;
    std::string note;
    std::string date;
    bool list = false;
    std::string kept;
    std::optional<PanelPlace> repair;
    Millimetres size{60.0};
    double mismatch = 1.0;
    Share film_error{0.15};
    std::string file;
    std::string shelf;
    std::optional<UnitSystem> units;
    bool json = false;
};

struct HelpRequest {
    std::string topic;
};

[[nodiscard]] Outcome check(const CheckRequest& request);
[[nodiscard]] Outcome preview(const PreviewRequest& request);
[[nodiscard]] Outcome section(const SectionRequest& request);
[[nodiscard]] Outcome blend(const BlendRequest& request);
[[nodiscard]] Outcome ladder(const LadderRequest& request);
[[nodiscard]] Outcome match(const MatchRequest& request);
[[nodiscard]] Outcome presets(const PresetsRequest& request);
[[nodiscard]] Outcome read(const ReadRequest& request);
[[nodiscard]] Outcome card(const CardRequest& request);
[[nodiscard]] Outcome gun(const GunRequest& request);
[[nodiscard]] Outcome fade(const FadeRequest& request);
[[nodiscard]] Outcome tune(const TuneRequest& request);
[[nodiscard]] Outcome sheet(const SheetRequest& request);
[[nodiscard]] Outcome record(const RecordRequest& request);
[[nodiscard]] Outcome proof(const ProofRequest& request);
[[nodiscard]] Outcome outline_template(const TemplateRequest& request);
[[nodiscard]] Outcome help(const HelpRequest& request);

}  // namespace fadewright::app
