#include "proof_words.h"

#include "fadewright/colour/words.h"
#include "fadewright/report/canvas.h"

#include <fmt/format.h>

#include <algorithm>

namespace fadewright::report {
namespace {

std::string with_exposure(const std::string& words, double exposure) {
    return exposure < 1 ? words + fmt::format(", shown {:.2f} times as bright as it is", exposure) : words;
}

}  // namespace

std::string option_letter(std::size_t index) { return {static_cast<char>('A' + static_cast<int>(index))}; }

std::string option_name(const Proof& proof, std::size_t index) {
    return proof.options.size() == 1 ? "Proof" : "Option " + option_letter(index);
}

std::string size_words(const Proof& proof, const ProofOption& option) {
    return proof.units.size(option.width, option.height);
}

std::string not_included_words(const Proof& proof) {
    if (proof.not_included.empty()) return "";
    return fmt::format("Not included: {}.", fmt::join(proof.not_included, ", "));
}

std::string look_words(const ProofColour& colour) {
    return colour.lab ? colour::colour_words(*colour.lab) : "clear";
}

std::string large_caption(const ProofOption& option) {
    return with_exposure(option.large.caption, option.exposure);
}

std::string lights_heading(const ProofOption& option) {
    return with_exposure("In these lights", option.exposure);
}

std::string angles_heading(const ProofOption& option) {
    return with_exposure("As the piece turns in the light", option.angles_exposure);
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
    if (proof.options.size() > 1) return "Options to choose from";
    const std::string& title = proof.options.front().title;
    return title.empty() ? "Proof" : title;
}

Picture proof_picture(const Proof& proof, std::size_t index) {
    constexpr int kStrip = 96, kEdge = 16;
    const ProofOption& option = proof.options[index];
    const Picture& large = option.large.picture;
    Canvas canvas(large.width, large.height + kStrip);
    canvas.place(0, 0, large);
    const double wide = large.width - 2 * kEdge;
    canvas.text_within(kEdge, large.height + 22, wide, heading_of(proof, index),
                       {22, kInk, Align::left, Weight::bold});
    canvas.text_within(kEdge, large.height + 49, wide,
                       size_words(proof, option) + ", " + large_caption(option), {17});
    canvas.text_within(kEdge, large.height + 75, wide, kApprovalWords, {17, kFaintInk});
    return canvas.picture();
}

}  // namespace fadewright::report
