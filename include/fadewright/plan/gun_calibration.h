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
// Source: own derivation; the parts are those of the headers named.
// Holds for  an even film of one paint that is not a flake; a region far from the ends of the pass; films
//            thinner than darkest() (film_reading.h)
// Accuracy   cards rendered with 8 bits, noise of one code and 6 % uneven light: sizes within 2 %, landed
//            paint within 3 %. On a real card K and S add their own uncertainty to the landed paint
// Checks     tests/app/gun_test.cpp
#pragma once

#include "fadewright/plan/library_files.h"
#include "fadewright/plan/paint_calibration.h"
#include "fadewright/plan/spray_pattern_card.h"

#include <optional>
#include <span>
#include <string>
#include <vector>

namespace fadewright::plan {

inline constexpr int kMaxRounds = 12;
inline constexpr double kConvergedRound = 5e-4;  // change of size and amount in the last round, as a share
inline constexpr Share kDefaultTransferEfficiency{0.6};  // common practice, no source

// Measured film beside fitted film on a line through the middle of the spray.
struct ProfileSample {
    double at_mm = 0;
    double measured_um = 0;  // wet
    double error_um = 0;
    double fitted_um = 0;
    bool too_dark = false;  // measured means nothing
};

enum class FlowSource { given, weighed, unknown };
enum class DepositSource { photo, scale };

struct GunCalibration {
    GunFile gun;
    spray::GunFit fit;
    bool thickness_measured = false;
    std::vector<ProfileSample> across, along;  // along only of a spot
    spray::FittedValue deposit_from_photo;     // mL/min
    std::optional<double> deposit_from_scale;  // mL/min
    DepositSource deposit_source = DepositSource::photo;
    FlowSource flow_source = FlowSource::unknown;
    double max_wet_um = 0;         // wet, fitted
    double readable_up_to_um = 0;  // wet, beyond which nothing can be told
    double too_dark_share = 0;     // share of the sprayed places that were too dark
    double residual_levels = 0;    // how far the colours lie from the paint's own, on average
    double noise_levels = 0;       // of the bare card
    double mm_per_px = 0;
    std::vector<std::string> remarks;
};

[[nodiscard]] std::optional<SprayPatternCard> read_spray_pattern_card(std::shared_ptr<const Source> source,
                                                                      Diagnostics& diagnostics);
[[nodiscard]] std::optional<GunCalibration> fit_gun(const SprayPatternCard& card, Library& library,
                                                    const CardFiles& files, Diagnostics& diagnostics);

// The gun as a file of the shelf, figures rounded to what is known.
[[nodiscard]] std::string gun_text(const GunCalibration& calibration);

[[nodiscard]] std::span<const Rule> spray_pattern_card_rules();

}  // namespace fadewright::plan
