// Outlines from SVG drawings: what is painted in the drawing is the piece, or the mask, or the region.
//
// The drawing is laid on a fine grid of squares and its edge is where half of a square is covered, so that
// fills, strokes, clips and holes all count as they look, in whatever way they are written. Paint covers as
// far as it is opaque; colours do not matter. The lower left corner of the drawing's own box is the origin,
// y runs up. What lies outside the box is cut off.
//
// The true size comes from the drawing's width and height (px are 96 to the inch) with its viewBox; or from
// the width that is asked for, its height then following in proportion. A drawing without either is refused,
// as is one that needs anything outside itself: linked pictures, style sheets, lettering (which would need
// fonts: turn it into paths). Nothing is ever fetched.
//
// One file may hold several shapes: SvgWish::id takes one element with all it holds, at its place.
//
// Holds for  drawings up to kLargestDrawing_mm and kLargestSvg_bytes (refused)
// Accuracy   straight edges within kTraceAccuracy squares, a square being the longest side over kTraceSquares
//            (0.075 mm on 300 mm) but never less than kFinestSquare_mm; corners are blunted, at most back
//            to where they are one square wide, give or take half a square. Circles and arcs are drawn as
//            cubic curves, whose radius is up to 0.03 % large
// Checks     tests/plan/svg_outline_test.cpp
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/base/result.h"
#include "fadewright/spray/outline.h"

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
    std::optional<Millimetres> width;  // of the drawing's box; none: as the drawing says
};

struct DrawnOutline {
    spray::Outline outline;
    Millimetres width, height;  // of the drawing's box
};

// `name` is what a refusal calls the drawing.
[[nodiscard]] Result<DrawnOutline> outline_from_svg(const std::string& bytes, const std::string& name,
                                                    const SvgOptions& options = {});

}  // namespace fadewright::plan
