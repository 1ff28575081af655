// Sheets over a panel's picture: the way of the gun, the film of one coat, faults and grain, each with a legend.
//
// The panel lies at the top as large as it was painted, the legend below it. A map of one value is drawn in a ramp
// from dark violet over green to light yellow that grows evenly in lightness, so that it reads in grey as well.
//
// Source: [okabe2008] (colours of lines and kinds); the colour map is our own derivation.
// Holds for  pictures and maps of one frame (contract)
// Checks     tests/report/overlay_test.cpp
#pragma once

#include "fadewright/base/image.h"
#include "fadewright/render/defects.h"
#include "fadewright/render/maps.h"
#include "fadewright/report/canvas.h"
#include "fadewright/text/display_units.h"

#include <string>
#include <vector>

namespace fadewright::report {

[[nodiscard]] Rgb colormap(double share);                // 0 to 1, beyond as at the ends
[[nodiscard]] std::string colormap_label(double share);  // its colour there, as one says it
[[nodiscard]] Rgb defect_colour(render::DefectKind kind);
[[nodiscard]] Rgb coat_colour(std::size_t coat);

// Worst first; what is fine is left out.
[[nodiscard]] std::vector<render::Defect> significant_defects(const std::vector<render::Defect>& defects);
// "sag in 'plum': wrong: ..."
[[nodiscard]] std::string defect_text(const render::Defect& defect);
[[nodiscard]] std::string describe_defect(const render::Defect& defect);  // without the level

// The panel step by step: pictures of one size, each with what was laid last (contract: as many).
// Pictures of one size in rows, each under its caption (contract: as many captions as pictures).
[[nodiscard]] Picture contact_sheet(const std::vector<Picture>& pictures,
                                    const std::vector<std::string>& captions, const std::string& title,
                                    int max_columns = 3);
[[nodiscard]] Picture coats_sheet(const std::vector<Picture>& pictures, const std::vector<std::string>& names,
                                  const std::string& title);
[[nodiscard]] Picture passes_sheet(const Picture& picture, const render::Frame& frame,
                                   const std::vector<render::PassLine>& lines,
                                   const std::vector<std::string>& coats, const std::string& title,
                                   DisplayUnits units = {});
[[nodiscard]] Picture film_sheet(const render::PanelMap& film, const std::string& coat,
                                 const std::string& title, DisplayUnits units = {});
[[nodiscard]] Picture graininess_sheet(const render::PanelMap& graininess, Millimetres viewing_distance,
                                       const std::string& title, DisplayUnits units = {});
[[nodiscard]] Picture defects_sheet(const Picture& picture, const render::Frame& frame,
                                    const render::Defects& defects, const spray::Panel& panel,
                                    const std::string& title);

}  // namespace fadewright::report
