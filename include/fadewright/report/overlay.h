// Sheets over a panel's picture: the way of the gun, the film of one coat, faults and grain, each with a legend.
//
// The panel lies at the top as large as it was painted, the legend below it. A map of one value is drawn in a ramp
// from dark violet over green to light yellow that grows evenly in lightness, so that it reads in grey as well.
//
// Source     colours of lines and kinds: Okabe & Ito 2008, Color Universal Design; the ramp is our own
// Holds for  pictures and maps of one frame (contract)
// Checks     tests/report/overlay_test.cpp
#pragma once

#include "fadewright/base/image.h"
#include "fadewright/render/faults.h"
#include "fadewright/render/maps.h"
#include "fadewright/report/canvas.h"
#include "fadewright/text/shown_units.h"

#include <string>
#include <vector>

namespace fadewright::report {

[[nodiscard]] Rgb ramp(double share);                // 0 to 1, beyond as at the ends
[[nodiscard]] std::string ramp_words(double share);  // its colour there, as one says it
[[nodiscard]] Rgb kind_colour(render::FaultKind kind);
[[nodiscard]] Rgb coat_colour(std::size_t coat);

// Worst first; what is fine is left out.
[[nodiscard]] std::vector<render::Fault> pressing(const std::vector<render::Fault>& faults);
// "sag in 'plum': wrong: ..."
[[nodiscard]] std::string fault_line(const render::Fault& fault);
[[nodiscard]] std::string fault_words(const render::Fault& fault);  // without the level

// The panel step by step: pictures of one size, each with what was laid last (contract: as many).
// Pictures of one size in rows, each under its caption (contract: as many captions as pictures).
[[nodiscard]] Picture side_by_side(const std::vector<Picture>& pictures,
                                   const std::vector<std::string>& captions, const std::string& title,
                                   int most_across = 3);
[[nodiscard]] Picture coats_sheet(const std::vector<Picture>& pictures, const std::vector<std::string>& names,
                                  const std::string& title);
[[nodiscard]] Picture passes_sheet(const Picture& painted, const render::Frame& frame,
                                   const std::vector<render::PassLine>& lines,
                                   const std::vector<std::string>& coats, const std::string& title,
                                   ShownUnits units = {});
[[nodiscard]] Picture film_sheet(const render::PanelMap& film, const std::string& coat,
                                 const std::string& title, ShownUnits units = {});
[[nodiscard]] Picture grain_sheet(const render::PanelMap& grain, Millimetres viewing_distance,
                                  const std::string& title, ShownUnits units = {});
[[nodiscard]] Picture faults_sheet(const Picture& painted, const render::Frame& frame,
                                   const render::Faults& faults, const spray::Panel& panel,
                                   const std::string& title);

}  // namespace fadewright::report
