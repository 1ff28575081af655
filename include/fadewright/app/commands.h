// Everything a front end can ask for: one function per user command.
//
// A front end fills a request and shows the outcome; it never sees plans, spectra or pictures. The fields of
// every request are listed once (requests_schema.h): the command line's options, their checks and their help
// come from there.
//
// Exit codes: 0 fine, 1 the plan or the data is wrong, 2 the command line is wrong, 3 the machine refused,
// 70 our bug.
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/text/diagnostic.h"

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
    bool json = false;
    bool canonical = false;
};

struct PreviewRequest {
    std::string plan;
    std::string out;
    int size = 1600;
    std::string light;
    std::optional<int> after_coat;
    Millimetres margin{20.0};
    std::string profile;
    bool exact = false;
    int threads = 0;
    std::string shelf;
    bool json = false;
};

struct SectionRequest {
    std::string plan;
    std::optional<PanelPlace> from, to;
    std::vector<std::string> out;
    int samples = 201;
    std::string light;
    std::string shelf;
    bool json = false;
};

struct PresetsRequest {
    std::string what;
    std::string sheet;
    std::string shelf;
    bool json = false;
};

struct HelpRequest {
    std::string topic;
};

[[nodiscard]] Outcome check(const CheckRequest& request);
[[nodiscard]] Outcome preview(const PreviewRequest& request);
[[nodiscard]] Outcome section(const SectionRequest& request);
[[nodiscard]] Outcome presets(const PresetsRequest& request);
[[nodiscard]] Outcome help(const HelpRequest& request);

}  // namespace fadewright::app
