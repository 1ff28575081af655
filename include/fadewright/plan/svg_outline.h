// Outlines from SVG drawings: the filled area of the drawing is the piece, the mask or the region.
//
// The drawing is rendered on a fine grid of squares, and its edge is where half of a square is covered, so
// that fills, outlines, clips and holes all count as they look, however they are written. Opacity is
// coverage; colours do not matter. The origin is the lower left corner of the drawing's box, y points up.
// Everything outside the box is cut off.
//
// The true size comes from the drawing's width and height (96 px per inch) with its viewBox, or from the
// given width, with the height in proportion. A drawing without either is an error, as is one that needs
// anything outside itself: linked pictures, style sheets, text (which would need fonts: convert it to paths).
// Nothing is ever fetched.
//
// One file may contain several shapes: SvgOptions::id selects one element with all its content, in its
// position.
//
// Holds for  drawings up to kLargestDrawing_mm and kLargestSvg_bytes (larger: error)
// Accuracy   straight edges within kTraceAccuracy squares, a square being the longest side over kTraceSquares
//            (0.075 mm on 300 mm) but at least kFinestSquare_mm; corners are rounded off at most where they
//            are one square wide, ± half a square. Circles and arcs are cubic curves, with a radius up to
//            0.03 % too large
// Checks     tests/plan/svg_outline_test.cpp
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/base/result.h"
#include "fadewright/geometry/outline.h"

#include <cstddef>
#include <optional>
#include <string>

namespace fadewright::plan {

inline constexpr double kLargestDrawing_mm = 10000;
inline constexpr std::size_t kLargestSvg_bytes = 16u << 20;
inline constexpr int kTraceSquares = 4000;
inline constexpr double kFinestSquare_mm = 0.001;
inline constexpr double kTraceAccuracy = 0.15;  // of a square

struct SvgOptions {
    std::string id;                    // of one element, with or without '#'; empty: the whole drawing
    std::optional<Millimetres> width;  // of the drawing's box; nothing: as in the drawing
};

struct DrawnOutline {
    geometry::Outline outline;
    Millimetres width, height;  // of the drawing's box
};

// `name` is the drawing's name in error messages.
[[nodiscard]] Result<DrawnOutline> outline_from_svg(const std::string& bytes, const std::string& name,
                                                    const SvgOptions& options = {});

}  // namespace fadewright::plan
