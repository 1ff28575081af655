#include "proof_text.h"

#include "fadewright/report/canvas.h"
#include "fadewright/report/colour_naming.h"

#include <fmt/format.h>

#include <algorithm>

namespace fadewright::report {
namespace {

std::string add_exposure(const std::string& text, double exposure) {
    return exposure < 1 ? text + fmt::format(", darkened to {:.0f} % to fit the screen", 100 * exposure)
                        : text;
}

}  // namespace

std::string option_letter(std::size_t index) { return {static_cast<char>('A' + static_cast<int>(index))}; }

std::string option_name(const Proof& proof, std::size_t index) {
    return proof.options.size() == 1 ? "Proof" : "Option " + option_letter(index);
}

std::string size_label(const Proof& proof, const ProofOption& option) {
    return proof.units.size_text(option.width, option.height);
}

std::string not_included_text(const Proof& proof) {
    if (proof.not_included.empty()) return "";
    return fmt::format("Not included: {}.", fmt::join(proof.not_included, ", "));
}

std::string proof_colour_label(const ProofColour& colour) {
    return colour.lab ? colour_name(*colour.lab) : "clear";
}

std::string large_caption(const ProofOption& option) {
    return add_exposure(option.large.caption, option.exposure);
}

std::string lights_heading(const ProofOption& option) {
    return add_exposure("Under other lighting", option.exposure);
}

std::string angles_heading(const ProofOption& option) {
    return add_exposure("As the piece turns in the light", option.angles_exposure);
}

bool any_estimated(const Proof& proof) {
    return std::any_of(proof.options.begin(), proof.options.end(),
                       [](const ProofOption& option) { return option.estimated; });
}

std::string heading_of(const Proof& proof, std::size_t index) {
    const std::string& title = proof.options[index].title;
    return option_name(proof, index) + (title.empty() ? "" : "  ·  " + title);
}

std::string title_of(const Proof& proof) {
    if (proof.options.size() > 1) return "Your options";
    const std::string& title = proof.options.front().title;
    return title.empty() ? "Proof" : title;
}

Picture proof_picture(const Proof& proof, std::size_t index) {
    constexpr int kStrip = 96, kEdge = 16;
    const ProofOption& option = proof.options[index];
    const Picture& large = option.large.picture;
    Canvas canvas(large.width, large.height + kStrip);
    canvas.draw_picture(0, 0, large);
    const double wide = large.width - 2 * kEdge;
    canvas.text_to_fit(kEdge, large.height + 22, wide, heading_of(proof, index),
                       {22, kInk, Align::left, Weight::bold});
    canvas.text_to_fit(kEdge, large.height + 49, wide,
                       size_label(proof, option) + ", " + large_caption(option), {17});
    canvas.text_to_fit(kEdge, large.height + 75, wide, kApprovalText, {17, kFaintInk});
    return canvas.picture();
}

}  // namespace fadewright::report
