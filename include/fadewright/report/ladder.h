// A tint ladder: one thing varied, everything else fixed. Sheet of swatches, difference from step to step,
// table.
#pragma once

#include "fadewright/formulation/tint_ladder.h"
#include "fadewright/report/mix_report.h"

#include <optional>
#include <string>
#include <vector>

namespace fadewright::report {

struct Rung : formulation::LadderRung {
    plan::FlakeContent content;
};

struct Ladder {
    std::string title;
    std::string varied;  // the varied quantity, as text
    std::string fixed;   // the fixed ones, as text
    std::string ground_name;
    colour::Lab ground;
    std::string light;
    std::vector<Rung> rungs;
    DisplayUnits units;
    bool varies_film_or_loading =
        false;  // rungs differ in coats, film or loading: the chroma peak is reported
};

[[nodiscard]] std::string ladder_text(const Ladder& ladder);
[[nodiscard]] std::string ladder_json(const Ladder& ladder);
[[nodiscard]] Picture ladder_sheet(const Ladder& ladder);

}  // namespace fadewright::report
