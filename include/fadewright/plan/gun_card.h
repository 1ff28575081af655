// From a gun card to a gun: the picture turned into film, the film into a footprint and the paint landed.
//
//     read_gun_card   the text, field by field
//     learned_gun     its rules, the picture read, the gun fitted
//
// The light on the card is taken from the bare card at the region's edges, a smooth surface of second order in
// each channel, and divided out. film/film_reading.h turns each pixel into dry film, the mix's solids turn
// that into wet film. Of a pass the pixels are averaged along it; of a spot in small squares. spray/gun_fit.h
// finds the gun; each place is trusted as far as the picture's noise allows, but never closer than a small
// share of the highest film, since no real spray follows a formula to the last. What the fitted spray leaves at
// the edges is then taken out of the light, and all is read again, until size and amount stand still; a spray
// so near to the edges that they do not in kMostRounds is refused.
//
//     landed = amount x speed / repeats   (pass)       landed = amount / dwell   (spot)       flow x transfer
//     weighed: dried / dry density / (dry per wet) / time, time = length x repeats / speed or dwell
//
// The picture tells the size; how much landed is told by the picture or, if the dried card was weighed, by the
// scale, since a scale knows nothing of K and S, of lamps or of dots. With the flow known the transfer is
// landed / flow; else only their product is known and the transfer is taken as given, or as kUsualTransfer.
//
// Source     the method is ours; the parts are those of the headers named
// Holds for  an even film of one paint that is not a flake; a region far from the ends of the pass; films
//            thinner than darkest() (film_reading.h)
// Accuracy   cards rendered with 8 bits, noise of one code and 6 % uneven light: sizes within 2 %, landed
//            paint within 3 %. On a real card K and S add their own uncertainty to the landed paint
// Checks     tests/app/gun_test.cpp
#pragma once

#include "fadewright/plan/card.h"
#include "fadewright/plan/gun_card_file.h"
#include "fadewright/plan/shelf_files.h"

#include <optional>
#include <span>
#include <string>
#include <vector>

namespace fadewright::plan {

inline constexpr int kMostRounds = 12;
inline constexpr double kSettledRound = 5e-4;  // change of size and amount in the last round, as a share
inline constexpr Share kUsualTransfer{0.6};    // common practice, no source

// Measured film beside fitted film on a line through the middle of the spray.
struct ProfilePlace {
    double at_mm = 0;
    double measured_um = 0;  // wet
    double error_um = 0;
    double fitted_um = 0;
    bool too_dark = false;  // measured means nothing
};

enum class FlowBy { stated, cup, unknown };
enum class LandedBy { picture, scale };

struct LearnedGun {
    GunFile gun;
    spray::GunFit fit;
    bool depth_measured = false;
    std::vector<ProfilePlace> across, along;  // along only of a spot
    spray::Fitted landed_by_picture;          // mL/min
    std::optional<double> landed_by_scale;    // mL/min
    LandedBy landed_by = LandedBy::picture;
    FlowBy flow_by = FlowBy::unknown;
    double highest_um = 0;   // wet, fitted
    double darkest_um = 0;   // wet, beyond which nothing can be told
    double left_out = 0;     // share of the sprayed places that were too dark
    double off_codes = 0;    // how far the colours lie from the paint's own, on average
    double noise_codes = 0;  // of the bare card
    double mm_per_px = 0;
    std::vector<std::string> remarks;
};

[[nodiscard]] std::optional<GunCardFile> read_gun_card(std::shared_ptr<const Source> source,
                                                       Diagnostics& diagnostics);
[[nodiscard]] std::optional<LearnedGun> learned_gun(const GunCardFile& card, Shelf& shelf,
                                                    const CardFiles& files, Diagnostics& diagnostics);

// The gun as a file of the shelf, figures rounded to what is known.
[[nodiscard]] std::string gun_text(const LearnedGun& learned);

[[nodiscard]] std::span<const Rule> gun_card_rules();

}  // namespace fadewright::plan
