#include "fadewright/render/fade_metrics.h"

#include <fmt/core.h>

#include <cmath>

namespace fadewright::render {
namespace {

// Uncalibrated.
constexpr double kSoftAbruptness = 0.2,
                 kHardAbruptness = 0.3;                       // a blurred edge has 0.15, a straight ramp 0.4
constexpr double kEvenSlope = 1.1, kUnevenSlope = 1.5;        // steepest over mean
constexpr double kMinChromaLoss_C = 3, kMinHueShift_deg = 5;  // below it nobody minds
constexpr double kMinReversal_L = 0.3;                        // a sharp edge of this is seen

// To a tenth of a millimetre.
std::string position_text(Millimetres at, DisplayUnits units) { return units.text(at, 1); }

std::string describe_width(const FadeMetrics& f, DisplayUnits units) {
    return fmt::format(
        "From 10 % to 90 % the fade is {} wide, {:.1f} degrees seen from {}; it is half way at {}.",
        position_text(f.width, units), f.angular_width.value, units.viewing_distance(f.view.distance),
        position_text(f.at_half, units));
}

std::string describe_slope(const FadeMetrics& f, DisplayUnits units) {
    const char* verdict = f.steepest_over_mean < kEvenSlope ? "It runs evenly"
                          : f.steepest_over_mean < kUnevenSlope
                              ? "It is steeper in one place, as soft fades are"
                              : "It rushes in one place";
    return fmt::format("{}: steepest at {} with {} dE00 to the {}, {:.2f} times its mean.", verdict,
                       position_text(f.steepest_at, units), units.slope(f.steepest_per_mm),
                       units.length_unit_name(), f.steepest_over_mean);
}

std::string describe_step(const FadeMetrics& f, DisplayUnits units) {
    return fmt::format(
        "What the eye takes for one edge, {} degree or {}, holds {:.1f} dE00 at most, at {}.",
        colour::kRampAsStepWidth.value,
        units.text(colour::kRampAsStepWidth.value * colour::millimetres_per_degree(f.view.distance), 1),
        f.largest_step, position_text(f.largest_step_at, units));
}

std::string describe_banding(const FadeMetrics& f, DisplayUnits units) {
    if (f.banding == colour::Visibility::invisible)
        return fmt::format(
            "No bands to be seen: the strongest has {:.2f} of the contrast that an eye just sees.",
            f.banding_over_threshold);
    return fmt::format(
        "Bands are {}: the strongest, at {}, has {:.1f} times the contrast that an eye just sees.",
        colour::visibility_label(f.banding), position_text(f.banding_at, units), f.banding_over_threshold);
}

std::string describe_abruptness(const FadeMetrics& f, DisplayUnits units) {
    if (f.abruptness < kSoftAbruptness)
        return fmt::format("It starts and ends softly (corner {:.2f}).", f.abruptness);
    return fmt::format("It {} at {}: a bright or dark line {} show there (corner {:.2f}).",
                       f.abruptness < kHardAbruptness ? "turns quickly" : "has a hard corner",
                       position_text(f.abruptness_at, units), f.abruptness < kHardAbruptness ? "may" : "will",
                       f.abruptness);
}

std::string describe_chroma(const FadeMetrics& f, DisplayUnits units) {
    if (f.chroma_loss < kMinChromaLoss_C)
        return fmt::format("The colour stays as strong as in a straight blend (within {:.1f} C*).",
                           f.chroma_loss);
    return fmt::format("The colour goes dull at {}: {:.1f} C* or {:.0f} % below a straight blend.",
                       position_text(f.chroma_loss_at, units), f.chroma_loss, 100 * f.chroma_loss_share);
}

std::string describe_hue(const FadeMetrics& f, DisplayUnits units) {
    if (f.hue_shift.value < kMinHueShift_deg)
        return fmt::format("The hue keeps to a straight blend (within {:.0f} degrees).", f.hue_shift.value);
    return fmt::format("The hue swings {:.0f} degrees away from a straight blend at {}.", f.hue_shift.value,
                       position_text(f.hue_shift_at, units));
}

std::string describe_lightness(const FadeMetrics& f, DisplayUnits units) {
    if (f.reversal < kMinReversal_L)
        return fmt::format("It goes one way from light to dark (back-steps below {:.1f} L*).",
                           kMinReversal_L);
    return fmt::format("Its lightness turns back by {:.1f} L* at {}.", f.reversal,
                       position_text(f.reversal_at, units));
}

}  // namespace

std::vector<std::string> describe_fade(const FadeMetrics& metrics, DisplayUnits units) {
    return {describe_width(metrics, units),      describe_slope(metrics, units),
            describe_step(metrics, units),       describe_banding(metrics, units),
            describe_abruptness(metrics, units), describe_chroma(metrics, units),
            describe_hue(metrics, units),        describe_lightness(metrics, units)};
}

}  // namespace fadewright::render
