// Proofs for the client: every option under several lights, with its colours and a signature box.
//
// The pictures are given; here they are watermarked, arranged and written: as PDF with a page for each option
// and, of several, a first page with all of them; as one self-contained HTML file; or as a picture of each.
// No file, folder or user is named in them. The same proof gives the same bytes.
//
// Symbols    sizes in millimetres; pictures are 8-bit sRGB
// Holds for  up to kMaxOptions options, kMaxLights lights (contract); of more colours than fit, the others
//            are only counted
// Checks     tests/app/proof_test.cpp
#pragma once

#include "fadewright/base/image.h"
#include "fadewright/base/quantity.h"
#include "fadewright/colour/lab.h"
#include "fadewright/report/paper.h"
#include "fadewright/text/display_units.h"

#include <optional>
#include <string>
#include <vector>

namespace fadewright::report {

inline constexpr std::size_t kMaxOptions = 9;
inline constexpr std::size_t kMaxLights = 6;

struct ProofPicture {
    Picture picture;
    std::string caption;
};

// One mix: its name, its coats, and the colour of the piece where the last of them is thickest.
struct ProofColour {
    std::string mix, coats;
    std::optional<colour::Lab> lab;  // none of a clear
};

struct ProofOption {
    std::string title;
    Millimetres width, height;
    ProofPicture large;
    Picture overview;  // the same, smaller: for the page with all options
    std::vector<ProofPicture> lights, angles;
    std::vector<ProofColour> colours;
    double exposure = 1, angles_exposure = 1;  // brightness of the pictures, 1 = true
    bool estimated = false;                    // from estimated paint data
};

struct Proof {
    std::vector<ProofOption> options;
    std::vector<std::string> not_included;
    DisplayUnits units;
};

// "A" for the first.
[[nodiscard]] std::string option_letter(std::size_t index);

// The picture with "preview, not a colour approval" across it: light letters with dark outlines.
[[nodiscard]] Picture add_watermark(const Picture& picture);

[[nodiscard]] std::string proof_pdf(const Proof& proof, Paper paper);
[[nodiscard]] std::string proof_html(const Proof& proof);
// The large picture over a strip with option, size and the note that it is not an approval.
[[nodiscard]] Picture proof_picture(const Proof& proof, std::size_t index);

}  // namespace fadewright::report
