#include "fadewright/render/fade_figures.h"

#include <fmt/core.h>

#include <cmath>

namespace fadewright::render {
namespace {

// Uncalibrated.
constexpr double kSoftCorner = 0.2, kHardCorner = 0.3;  // a blurred edge has 0.15, a straight ramp 0.4
constexpr double kEvenSlope = 1.1, kUnevenSlope = 1.5;  // steepest over mean
constexpr double kDull_C = 3, kSwing_deg = 5;           // below it nobody minds
constexpr double kBackStep_L = 0.3;                     // a sharp edge of this is seen

// To a tenth of a millimetre.
std::string place(Millimetres at, ShownUnits units) { return units.text(at, 1); }

std::string width_words(const FadeFigures& f, ShownUnits units) {
    return fmt::format(
        "From 10 % to 90 % the fade is {} wide, {:.1f} degrees seen from {}; it is half way at {}.",
        place(f.width, units), f.width_at_eye.value, units.distance(f.seen_by.distance),
        place(f.at_half, units));
}

std::string slope_words(const FadeFigures& f, ShownUnits units) {
    const char* how = f.steepest_over_mean < kEvenSlope     ? "It runs evenly"
                      : f.steepest_over_mean < kUnevenSlope ? "It is steeper in one place, as soft fades are"
                                                            : "It rushes in one place";
    return fmt::format("{}: steepest at {} with {} dE00 to the {}, {:.2f} times its mean.", how,
                       place(f.steepest_at, units), units.slope(f.steepest_per_mm), units.length(),
                       f.steepest_over_mean);
}

std::string step_words(const FadeFigures& f, ShownUnits units) {
    return fmt::format(
        "What the eye takes for one edge, {} degree or {}, holds {:.1f} dE00 at most, at {}.",
        colour::kRampIsStep.value,
        units.text(colour::kRampIsStep.value * colour::millimetres_per_degree(f.seen_by.distance), 1),
        f.largest_step, place(f.largest_step_at, units));
}

std::string band_words(const FadeFigures& f, ShownUnits units) {
    if (f.bands == colour::Visibility::invisible)
        return fmt::format(
            "No bands to be seen: the strongest has {:.2f} of the contrast that an eye just sees.",
            f.band_times_threshold);
    return fmt::format(
        "Bands are {}: the strongest, at {}, has {:.1f} times the contrast that an eye just sees.",
        colour::visibility_words(f.bands), place(f.band_at, units), f.band_times_threshold);
}

std::string corner_words(const FadeFigures& f, ShownUnits units) {
    if (f.corner < kSoftCorner) return fmt::format("It starts and ends softly (corner {:.2f}).", f.corner);
    return fmt::format("It {} at {}: a bright or dark line {} show there (corner {:.2f}).",
                       f.corner < kHardCorner ? "turns quickly" : "has a hard corner",
                       place(f.corner_at, units), f.corner < kHardCorner ? "may" : "will", f.corner);
}

std::string chroma_words(const FadeFigures& f, ShownUnits units) {
    if (f.chroma_dip < kDull_C)
        return fmt::format("The colour stays as strong as in a straight blend (within {:.1f} C*).",
                           f.chroma_dip);
    return fmt::format("The colour goes dull at {}: {:.1f} C* or {:.0f} % below a straight blend.",
                       place(f.chroma_dip_at, units), f.chroma_dip, 100 * f.chroma_dip_share);
}

std::string hue_words(const FadeFigures& f, ShownUnits units) {
    if (f.hue_swing.value < kSwing_deg)
        return fmt::format("The hue keeps to a straight blend (within {:.0f} degrees).", f.hue_swing.value);
    return fmt::format("The hue swings {:.0f} degrees away from a straight blend at {}.", f.hue_swing.value,
                       place(f.hue_swing_at, units));
}

std::string light_words(const FadeFigures& f, ShownUnits units) {
    if (f.back_step < kBackStep_L)
        return fmt::format("It goes one way from light to dark (back-steps below {:.1f} L*).", kBackStep_L);
    return fmt::format("Its lightness turns back by {:.1f} L* at {}.", f.back_step,
                       place(f.back_step_at, units));
}

}  // namespace

std::vector<std::string> fade_words(const FadeFigures& figures, ShownUnits units) {
    return {width_words(figures, units), slope_words(figures, units),  step_words(figures, units),
            band_words(figures, units),  corner_words(figures, units), chroma_words(figures, units),
            hue_words(figures, units),   light_words(figures, units)};
}

}  // namespace fadewright::render
