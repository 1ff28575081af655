// Overlays of a panel's picture: gun passes, film build of one coat, defects and graininess, each with a
// legend.
//
// The panel stands at the top in its own size, the legend below it. A map of one value uses a colour map from
// dark violet over green to light yellow with evenly rising lightness, so that it reads in grey as well.
//
// Source: [okabe2008] (colours of lines and kinds); the colour map is our own derivation.
// Holds for  pictures and maps of one frame (contract)
// Checks     tests/report/overlay_test.cpp
#pragma once

#include "fadewright/assess/defects.h"
#include "fadewright/assess/maps.h"
#include "fadewright/base/image.h"
#include "fadewright/report/canvas.h"
#include "fadewright/text/display_units.h"

#include <string>
#include <vector>

namespace fadewright::report {

[[nodiscard]] Rgb colormap(double share);                // 0 to 1, clamped
[[nodiscard]] std::string colormap_label(double share);  // name of its colour there
[[nodiscard]] Rgb defect_colour(assess::DefectKind kind);
[[nodiscard]] Rgb coat_colour(std::size_t coat);

// Pictures of one size in rows, each under its caption (contract: as many captions as pictures).
[[nodiscard]] Picture contact_sheet(const std::vector<Picture>& pictures,
                                    const std::vector<std::string>& captions, const std::string& title,
                                    int max_columns = 3);
// The panel coat by coat: pictures of one size and the names of the coats (contract: as many names as
// pictures).
[[nodiscard]] Picture coats_sheet(const std::vector<Picture>& pictures, const std::vector<std::string>& names,
                                  const std::string& title);
[[nodiscard]] Picture passes_sheet(const Picture& picture, const render::Frame& frame,
                                   const std::vector<assess::PassLine>& lines,
                                   const std::vector<std::string>& coats, const std::string& title,
                                   DisplayUnits units = {});
[[nodiscard]] Picture film_sheet(const assess::PanelMap& film, const std::string& coat,
                                 const std::string& title, DisplayUnits units = {});
[[nodiscard]] Picture graininess_sheet(const assess::PanelMap& graininess, Millimetres viewing_distance,
                                       const std::string& title, DisplayUnits units = {});
[[nodiscard]] Picture defects_sheet(const Picture& picture, const render::Frame& frame,
                                    const assess::Defects& defects, const spray::Panel& panel,
                                    const std::string& title, DisplayUnits units = {});

}  // namespace fadewright::report
