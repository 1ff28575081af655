// Text that all formats of a proof share.
#pragma once

#include "fadewright/report/proof.h"

#include <string>
#include <string_view>
#include <vector>

namespace fadewright::report {

inline constexpr std::string_view kWatermarkText = "preview, not a colour approval";
inline constexpr std::string_view kApprovalText =
    "Only a physical sample, sprayed through all coats and clear and signed, approves a colour. "
    "A screen or print is for concept only.";
inline constexpr std::string_view kChoiceText =
    "Signing selects this option for a sample. Colour is approved only on the sprayed sample.";
inline constexpr std::string_view kEstimatedText =
    "Calculated from estimated paint data: the sample may look different.";
inline constexpr std::string_view kColoursHeading = "Colours at full strength";

// "Option A", or "Proof" if there is only one.
[[nodiscard]] std::string option_name(const Proof& proof, std::size_t index);
// "640 × 240 mm"
[[nodiscard]] std::string size_label(const Proof& proof, const ProofOption& option);
// "Not included: bodywork, other parts, wear and tear."; empty if the list is.
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
