// What is asked of the commands that print a plan: the sheet for the booth, the pages for the client, and
// outlines at true size (commands.h).
#pragma once

#include "fadewright/report/paper.h"
#include "fadewright/text/unit_system.h"

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

// Each plan is one option; `out` may name several files. `told` and `stopped`: as of TuneRequest (commands.h); what is
// stopped is not written.
struct ProofRequest {
    std::vector<std::string> plans;
    std::vector<std::string> out;
    std::vector<std::string> lights;        // empty: the usual three
    std::vector<std::string> not_included;  // empty: the usual words
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
