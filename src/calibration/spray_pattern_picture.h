// The pixels of a spray-pattern card's picture: illumination and film.
#pragma once

#include "fadewright/base/image.h"
#include "fadewright/base/result.h"
#include "fadewright/calibration/film_from_colour.h"
#include "fadewright/calibration/gun_fit.h"

#include <array>
#include <functional>
#include <vector>

namespace fadewright::calibration {

// Left, top, width, height in pixels.
struct Rectangle {
    int left = 0, top = 0, width = 0, height = 0;

    [[nodiscard]] bool inside(const Picture& picture) const;
};

struct PatchMean {
    colour::Rgb linear;
    double overexposed = 0;  // share of the pixels
};

[[nodiscard]] PatchMean mean_of(const Picture& picture, const Rectangle& patch);

// The region and its position on the card: coordinates in mm from the region's centre, along the travel and
// to its left.
struct CardFrame {
    Rectangle region;
    double mm_per_px = 1;
    double dx = 1, dy = 0;  // direction of travel, y upwards
    calibration::ShotKind kind = calibration::ShotKind::pass;
    int step_px = 1;  // only every step_px-th pixel is read in both directions

    struct Position {
        double across_mm, along_mm;
    };
    [[nodiscard]] Position position_of(double x_px, double y_px) const;

    // The strips where the card must be bare: beside a pass, around a spot.
    [[nodiscard]] bool at_edge(int x_px, int y_px) const;
    [[nodiscard]] double half_across_mm() const;  // at the region's centre
    [[nodiscard]] double half_along_mm() const;
};

// The bare card in the picture, smooth over the region: a surface of second order per channel.
struct IlluminationField {
    Rectangle region;
    std::array<std::array<double, 6>, 3> terms{};
    double noise_levels = 0;  // of one pixel of bare card

    [[nodiscard]] colour::Rgb at(double x_px, double y_px) const;
};

// Estimated dry film at a point; only small films matter.
using FilmAt = std::function<double(double across_mm, double along_mm)>;

// A plane is robust at the centre against film that is still in the strips; a curved surface follows the
// falloff of a lamp.
enum class IlluminationShape { plane, curved };

// From the strips at the edge, with the film there subtracted. An error if too little of them is nearly
// bare, or if the bare part does not determine that shape, as one strip alone does not.
[[nodiscard]] Result<IlluminationField> fit_illumination(const Picture& picture, const CardFrame& frame,
                                                         const calibration::ThicknessScale& scale,
                                                         const FilmAt& film, IlluminationShape shape);

// Mean of the strips, including specks and film.
[[nodiscard]] PatchMean mean_of_edge(const Picture& picture, const CardFrame& frame);

// A group of pixels: a strip along a pass, or a square of a spot.
struct FilmCell {
    double across_mm = 0, along_mm = 0;
    double film_um = 0;          // dry, mean
    double residual_levels = 0;  // mean
    double too_dark_share = 0;   // share of its pixels that are too dark to read
    int pixels = 0;
};

[[nodiscard]] std::vector<FilmCell> film_cells(const Picture& picture, const CardFrame& frame,
                                               const IlluminationField& light,
                                               const calibration::ThicknessScale& scale);

}  // namespace fadewright::calibration
