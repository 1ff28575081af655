// Methods of a fade and settings of a tuned one in words.
//
// Checks     tests/report/phrases_methods_test.cpp
#pragma once

#include "fadewright/assess/fade_methods.h"
#include "fadewright/assess/tune.h"

#include <string>
#include <string_view>
#include <vector>

namespace fadewright::report {

// "one mid colour, extended 2:1". The fade gives its two mixes and its ratio.
[[nodiscard]] std::string variation_label(assess::FadeVariation variation, const plan::Fade& fade);
// "your plan", "your plan: one mid colour, extended 2:1", "tuned", or the label of a variation.
[[nodiscard]] std::string method_name(const assess::FadeMethodResult& method);

// "banding 0.4× the visible threshold instead of 1.2×"
[[nodiscard]] std::string describe_advantage(const assess::FadeAdvantage& advantage);
// "NAME: REASON. Runner-up: NAME"
[[nodiscard]] std::string advice_text(const assess::FadeMethodComparison& methods);

// One method in a few words, for choosing between several.
[[nodiscard]] std::vector<std::string> fade_summary(const assess::FadeMethodResult& method);

// Extending against thinning as much: the same colour, another film. Empty unless both were compared.
[[nodiscard]] std::string describe_extension(const assess::FadeMethodComparison& methods);

// What was tuned, and its value in a plan; the plan has a fade (contract).
[[nodiscard]] std::string_view setting_label(assess::Vary setting) noexcept;
[[nodiscard]] std::string setting_text(assess::Vary setting, const plan::Plan& plan);

}  // namespace fadewright::report
