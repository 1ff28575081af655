// Gun calibration from a spray-pattern card: the picture becomes film, the film becomes a footprint and a
// deposit.
//
//     read_spray_pattern_card   the text, field by field
//     fit_gun                   its rules, the picture read, the gun fitted
//
// The light on the card is taken from the bare card at the edges of the region, as a smooth surface of second
// order per channel, and divided out. calibration/film_from_colour.h turns each pixel into dry film, and the solids
// of the mix turn that into wet film. The pixels of a pass are averaged along it, those of a spot in small
// squares. calibration/gun_fit.h finds the gun; each sample is weighted by the noise of the picture, but never
// trusted closer than a small share of the highest film, since no real spray follows a formula exactly. The
// fitted film at the edges is then subtracted from the light, and everything is read again, until size and
// amount converge; a spray so close to the edges that it does not converge in kMaxRounds rounds is an error.
//
//     landed   = amount x speed / repeats (pass), amount / dwell (spot), flow x transfer efficiency
//     weighed  = dried / dry density / (dry per wet) / time, time = length x repeats / speed, or dwell
//
// The picture gives the size; the deposit comes from the picture or, if the dried card was weighed, from the
// scale, which does not depend on K and S, lamps or dots. If the flow is known, the transfer efficiency is
// landed / flow; if not, only their product is known, and the efficiency is as given or
// kDefaultTransferEfficiency.
//
// Source: own derivation; the parts are those of the headers named.
// Holds for  an even film of one paint without flakes; a region far from the ends of the pass; films below
//            the saturation limit (film_from_colour.h)
// Accuracy   cards rendered with 8 bits, noise of one level and 6 % uneven light: sizes within 2 %, deposit
//            within 3 %. On a real card K and S add their own uncertainty to the deposit
// Checks     tests/app/fit_gun_test.cpp
#pragma once

#include "fadewright/calibration/paint_calibration.h"
#include "fadewright/calibration/spray_pattern_card.h"
#include "fadewright/plan/library_files.h"

#include <array>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace fadewright::calibration {

inline constexpr int kMaxRounds = 12;
inline constexpr double kConvergedRound = 5e-4;  // change of size and amount in the last round, as a share
inline constexpr Share kDefaultTransferEfficiency{0.6};  // common practice, no source

// Measured and fitted film on a line through the centre of the spray.
struct ProfileSample {
    double at_mm = 0;
    double measured_um = 0;  // wet
    double error_um = 0;
    double fitted_um = 0;
    bool too_dark = false;  // the measured film is not valid
};

enum class FlowSource { given, weighed, unknown };
enum class DepositSource { photo, scale };

// What to know about a fitted gun.
enum class GunRemark {
    fan_thickness_assumed,  // as thickness_share of the width
    too_dark,               // too_dark_share of the spray
    colours_differ,         // from those of the paint on this card, by residual_levels
    estimated_paint,        // K and S, hence the deposit, are estimated
    photo_and_scale_disagree,
    flow_unknown,
    taper_at_limit
};
inline constexpr std::array kGunRemarks{GunRemark::fan_thickness_assumed,
                                        GunRemark::too_dark,
                                        GunRemark::colours_differ,
                                        GunRemark::estimated_paint,
                                        GunRemark::photo_and_scale_disagree,
                                        GunRemark::flow_unknown,
                                        GunRemark::taper_at_limit};

struct GunCalibration {
    plan::GunFile gun;
    calibration::GunFit fit;
    bool thickness_measured = false;
    std::vector<ProfileSample> across, along;     // along only of a spot
    calibration::FittedValue deposit_from_photo;  // mL/min
    std::optional<double> deposit_from_scale;     // mL/min
    DepositSource deposit_source = DepositSource::photo;
    FlowSource flow_source = FlowSource::unknown;
    double max_wet_um = 0;         // wet, fitted
    double readable_up_to_um = 0;  // wet; thicker films are too dark to read
    double too_dark_share = 0;     // share of the sprayed samples that were too dark
    double residual_levels = 0;    // mean difference from the colours of the paint
    double noise_levels = 0;       // of the bare card
    double mm_per_px = 0;
    Share thickness_share;        // of the width of a fan, where it was not measured
    double photo_over_scale = 1;  // deposit by photo over deposit by scale
    std::vector<GunRemark> remarks;
};

[[nodiscard]] std::optional<SprayPatternCard> read_spray_pattern_card(std::shared_ptr<const Source> source,
                                                                      Diagnostics& diagnostics);
[[nodiscard]] std::optional<GunCalibration> fit_gun(const SprayPatternCard& card, plan::Library& library,
                                                    const CardFiles& files, Diagnostics& diagnostics);

// The gun as a library file, numbers rounded to their accuracy.
[[nodiscard]] std::string gun_text(const GunCalibration& calibration);

[[nodiscard]] std::span<const Rule> spray_pattern_card_rules();

}  // namespace fadewright::calibration
