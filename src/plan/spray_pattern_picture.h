// The pixels of a gun card's picture: the light that falls on it, and the film that lies on it.
#pragma once

#include "fadewright/base/image.h"
#include "fadewright/film/film_from_colour.h"
#include "fadewright/spray/gun_fit.h"

#include <array>
#include <functional>
#include <optional>
#include <vector>

namespace fadewright::plan {

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

// What is read, and how it lies on the card: places in mm from the region's middle, along the travel and to
// its left.
struct CardFrame {
    Rectangle region;
    double mm_per_px = 1;
    double dx = 1, dy = 0;  // direction of travel, y upwards
    spray::ShotKind kind = spray::ShotKind::pass;
    int step_px = 1;  // only every so many pixels are read, each way; more than enough are left

    struct Position {
        double across_mm, along_mm;
    };
    [[nodiscard]] Position position_of(double x_px, double y_px) const;

    // The strips where the card must be bare: beside a pass, around a spot.
    [[nodiscard]] bool at_edge(int x_px, int y_px) const;
    [[nodiscard]] double half_across_mm() const;  // at the region's middle
    [[nodiscard]] double half_along_mm() const;
};

// Bare card as the picture shows it, smooth over the region: a surface of second order in each channel.
struct IlluminationField {
    Rectangle region;
    std::array<std::array<double, 6>, 3> terms{};
    double noise_levels = 0;  // of one pixel of bare card

    [[nodiscard]] colour::Rgb at(double x_px, double y_px) const;
};

// Dry film at a place, as far as it is known; small films only matter.
using FilmAt = std::function<double(double across_mm, double along_mm)>;

// A plane cannot be led far astray in the middle by film that is still in the strips; a curved surface follows
// a lamp.
enum class IlluminationShape { plane, curved };

// From the strips at the edge, the film there taken out. None if too little of them is nearly bare.
[[nodiscard]] std::optional<IlluminationField> fit_illumination(const Picture& picture,
                                                                const CardFrame& frame,
                                                                const film::ThicknessScale& scale,
                                                                const FilmAt& film, IlluminationShape shape);

// Mean of the strips as they are, specks and film and all.
[[nodiscard]] PatchMean mean_of_edge(const Picture& picture, const CardFrame& frame);

// Pixels read together: a strip along a pass, or a square of a spot.
struct FilmCell {
    double across_mm = 0, along_mm = 0;
    double film_um = 0;          // dry, mean
    double residual_levels = 0;  // mean
    double too_dark_share = 0;   // share of its pixels that are too dark to read
    int pixels = 0;
};

[[nodiscard]] std::vector<FilmCell> film_cells(const Picture& picture, const CardFrame& frame,
                                               const IlluminationField& light,
                                               const film::ThicknessScale& scale);

}  // namespace fadewright::plan
