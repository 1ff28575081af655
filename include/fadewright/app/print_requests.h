// Requests of the commands that print a plan: the booth sheet, the pages for the client, and full-size
// outlines (commands.h).
#pragma once

#include "fadewright/report/paper.h"
#include "fadewright/text/diagnostic.h"

#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace fadewright::app {

struct SheetRequest {
    std::string plan;
    std::vector<std::string> out;
    std::string labels;
    report::Paper paper = report::Paper::A4;
    std::string library;
    std::optional<UnitSystem> units;
    bool json = false;
};

// Each plan is one option; `out` may name several files. `on_progress` and `is_cancelled`: see TuneRequest
// (commands.h); a cancelled proof writes no file.
struct ProofRequest {
    std::vector<std::string> plans;
    std::vector<std::string> out;
    std::vector<std::string> lights;        // empty: the default three
    std::vector<std::string> not_included;  // empty: the default list
    bool no_watermark = false;
    report::Paper paper = report::Paper::A4;
    int threads = 0;
    std::string library;
    std::optional<UnitSystem> units;
    bool json = false;
    std::function<void(double)> on_progress;
    std::function<bool()> is_cancelled;
};

struct TemplateRequest {
    std::string plan;
    std::string out;
    std::string mask;
    bool mirror = false;
    report::Paper paper = report::Paper::A4;
    std::string library;
    std::optional<UnitSystem> units;
    bool json = false;
};

}  // namespace fadewright::app
