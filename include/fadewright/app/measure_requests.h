// Requests of the commands that work on measurements: spectra, spray-out cards and spray-pattern cards
// (commands.h).
#pragma once

#include "fadewright/colour/illuminant.h"
#include "fadewright/report/paper.h"
#include "fadewright/text/diagnostic.h"

#include <optional>
#include <string>
#include <vector>

namespace fadewright::app {

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

}  // namespace fadewright::app
