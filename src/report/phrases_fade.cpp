#include "fadewright/report/phrases_fade.h"

#include "fadewright/report/phrases.h"

#include <fmt/core.h>

namespace fadewright::report {
namespace {

using assess::FadeMetrics;

// Starting values, uncalibrated.
constexpr double kSoftAbruptness = 0.2, kHardAbruptness = 0.3;  // blurred edge 0.15, linear ramp 0.4
constexpr double kEvenSlope = 1.1, kUnevenSlope = 1.5;          // steepest over mean
constexpr double kMinChromaLoss_C = 3, kMinHueShift_deg = 5;    // smaller ones do not matter
constexpr double kMinReversal_L = 0.3;                          // visible as a sharp edge

std::string describe_width(const FadeMetrics& f, DisplayUnits units) {
    return fmt::format("The fade is {} wide (10-90 %), {:.1f}° seen from {}; halfway at {}.",
                       units.text(f.width), f.angular_width.value, units.viewing_distance(f.view.distance),
                       units.text(f.at_half));
}

std::string describe_slope(const FadeMetrics& f, DisplayUnits units) {
    const char* verdict = f.steepest_over_mean < kEvenSlope ? "Even fade"
                          : f.steepest_over_mean < kUnevenSlope
                              ? "Steeper in the middle, normal for a soft fade"
                              : "Changes too fast in one place";
    return fmt::format("{}: steepest at {}, {} ΔE00 per {}, {:.2f}× the average.", verdict,
                       units.text(f.steepest_at), units.slope(f.steepest_per_mm), units.length_unit_name(),
                       f.steepest_over_mean);
}

std::string describe_step(const FadeMetrics& f, DisplayUnits units) {
    const Millimetres step_width =
        colour::kRampAsStepWidth.value * colour::millimetres_per_degree(f.view.distance);
    return fmt::format("Largest colour step across {}: {:.1f} ΔE00, at {}.", units.text(step_width),
                       f.largest_step, units.text(f.largest_step_at));
}

std::string describe_banding(const FadeMetrics& f, DisplayUnits units) {
    if (f.banding == colour::Visibility::invisible)
        return fmt::format("No visible banding: at most {:.2f}× the contrast the eye can just see.",
                           f.banding_over_threshold);
    return fmt::format("Banding is {}: strongest at {}, {:.1f}× the contrast the eye can just see.",
                       visibility_label(f.banding), units.text(f.banding_at), f.banding_over_threshold);
}

std::string describe_abruptness(const FadeMetrics& f, DisplayUnits units) {
    if (f.abruptness < kSoftAbruptness)
        return fmt::format("The fade starts and ends softly (abruptness {:.2f}).", f.abruptness);
    return fmt::format(
        "The fade starts or stops {} at {}; a light or dark line (Mach band) {} show there (abruptness {:.2f}).",
        f.abruptness < kHardAbruptness ? "quickly" : "abruptly", units.text(f.abruptness_at),
        f.abruptness < kHardAbruptness ? "may" : "will", f.abruptness);
}

std::string describe_chroma(const FadeMetrics& f, DisplayUnits units) {
    if (f.chroma_loss < kMinChromaLoss_C)
        return fmt::format("The colour stays as strong as in a straight blend (within {:.1f} C*).",
                           f.chroma_loss);
    return fmt::format("The colour goes dull at {}: {:.1f} C* or {:.0f} % below a straight blend.",
                       units.text(f.chroma_loss_at), f.chroma_loss, 100 * f.chroma_loss_share);
}

std::string describe_hue(const FadeMetrics& f, DisplayUnits units) {
    if (f.hue_shift.value < kMinHueShift_deg)
        return fmt::format("The hue stays close to a straight blend (within {:.0f}°).", f.hue_shift.value);
    return fmt::format("The hue shifts by {:.0f}° from a straight blend at {}.", f.hue_shift.value,
                       units.text(f.hue_shift_at));
}

std::string describe_lightness(const FadeMetrics& f, DisplayUnits units) {
    if (f.reversal < kMinReversal_L)
        return fmt::format("Lightness changes steadily (reverses by less than {:.1f} L*).", kMinReversal_L);
    return fmt::format("Lightness reverses by {:.1f} L* at {}.", f.reversal, units.text(f.reversal_at));
}

}  // namespace

std::string_view topic_name(FadeTopic topic) noexcept {
    switch (topic) {
        case FadeTopic::width:
            return "width";
        case FadeTopic::slope:
            return "slope";
        case FadeTopic::step:
            return "step";
        case FadeTopic::banding:
            return "banding";
        case FadeTopic::abruptness:
            return "abruptness";
        case FadeTopic::chroma:
            return "chroma";
        case FadeTopic::hue:
            return "hue";
        case FadeTopic::lightness:
            return "lightness";
        case FadeTopic::midpoint:
            break;
    }
    return "midpoint";
}

std::vector<FadeSentence> describe_fade(const FadeMetrics& metrics, DisplayUnits units) {
    return {{FadeTopic::width, describe_width(metrics, units)},
            {FadeTopic::slope, describe_slope(metrics, units)},
            {FadeTopic::step, describe_step(metrics, units)},
            {FadeTopic::banding, describe_banding(metrics, units)},
            {FadeTopic::abruptness, describe_abruptness(metrics, units)},
            {FadeTopic::chroma, describe_chroma(metrics, units)},
            {FadeTopic::hue, describe_hue(metrics, units)},
            {FadeTopic::lightness, describe_lightness(metrics, units)}};
}

FadeSentence describe_midpoint_offset(const assess::MidpointOffset& offset, DisplayUnits units) {
    const std::string distance = units.text(offset.distance);
    return {FadeTopic::midpoint,
            fmt::format("The visual midpoint is {} off the planned line, towards '{}'. Move the fade {} "
                        "towards '{}'.",
                        distance, offset.towards, distance, offset.away_from)};
}

std::vector<std::string> texts_of(const std::vector<FadeSentence>& sentences) {
    std::vector<std::string> texts;
    for (const FadeSentence& sentence : sentences) texts.push_back(sentence.text);
    return texts;
}

}  // namespace fadewright::report
