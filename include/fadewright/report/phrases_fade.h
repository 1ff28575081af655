// The figures of a fade as sentences for a painter. The limits between the wordings are uncalibrated.
//
// Checks     tests/report/phrases_fade_test.cpp
#pragma once

#include "fadewright/assess/fade_methods.h"
#include "fadewright/text/display_units.h"

#include <array>
#include <string>
#include <string_view>
#include <vector>

namespace fadewright::report {

// What a sentence is about.
enum class FadeTopic { width, slope, step, banding, abruptness, chroma, hue, lightness, midpoint };
inline constexpr std::array kFadeTopics{FadeTopic::width,      FadeTopic::slope,     FadeTopic::step,
                                        FadeTopic::banding,    FadeTopic::chroma,    FadeTopic::hue,
                                        FadeTopic::abruptness, FadeTopic::lightness, FadeTopic::midpoint};
[[nodiscard]] std::string_view topic_name(FadeTopic topic) noexcept;  // in JSON

struct FadeSentence {
    FadeTopic topic;
    std::string text;
};

// One sentence for every topic but the midpoint.
[[nodiscard]] std::vector<FadeSentence> describe_fade(const assess::FadeMetrics& metrics,
                                                      DisplayUnits units = {});
// How far the visual midpoint is off the planned midline, and the remedy.
[[nodiscard]] FadeSentence describe_midpoint_offset(const assess::MidpointOffset& offset,
                                                    DisplayUnits units = {});
[[nodiscard]] std::vector<std::string> texts_of(const std::vector<FadeSentence>& sentences);

// Instead of the sentences, where both ends look the same.
inline constexpr std::string_view kFadeEndsAlike = "Both ends of the fade have the same colour.";

// The member of a JSON object that has the strongest banding as a multiple of the visible threshold.
inline constexpr const char* kBandingMember = "banding_over_threshold";

}  // namespace fadewright::report
