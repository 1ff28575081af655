// What all forms of the client's pages say alike.
#pragma once

#include "fadewright/report/proof.h"

#include <string>
#include <string_view>
#include <vector>

namespace fadewright::report {

inline constexpr std::string_view kWatermarkText = "preview, not a colour approval";
inline constexpr std::string_view kApprovalText =
    "Only a physical sample, sprayed through all coats and clear and signed, approves a colour. A screen or "
    "a "
    "print does not: it shows the idea.";
inline constexpr std::string_view kChoiceText =
    "With this signature the option is chosen for a sample; the colour is approved on the sample itself.";
inline constexpr std::string_view kEstimatedText =
    "Worked out from estimated paint data: the sample may look different.";
inline constexpr std::string_view kColoursHeading = "Colours, each where it lies thickest";

// "Option A", or "Proof" if there is only one.
[[nodiscard]] std::string option_name(const Proof& proof, std::size_t index);
// "640 x 240 mm"
[[nodiscard]] std::string size_label(const Proof& proof, const ProofOption& option);
// "Not included: body work, other parts, wear."; nothing if everything is.
[[nodiscard]] std::string not_included_text(const Proof& proof);
// "strong dark blue", or "clear".
[[nodiscard]] std::string proof_colour_label(const ProofColour& colour);
// The caption of the large picture, and the headings over the small ones.
[[nodiscard]] std::string large_caption(const ProofOption& option);
[[nodiscard]] std::string lights_heading(const ProofOption& option);
[[nodiscard]] std::string angles_heading(const ProofOption& option);
[[nodiscard]] bool any_estimated(const Proof& proof);
// "Option A  ·  Dusk fade"
[[nodiscard]] std::string heading_of(const Proof& proof, std::size_t index);
[[nodiscard]] std::string title_of(const Proof& proof);  // of the whole file

}  // namespace fadewright::report
