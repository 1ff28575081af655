// The pages for the client: every option as a picture, in several lights, with its colours and a place to sign.
//
// Pictures come painted; here they are stamped, laid out and written: on paper with one page for each option
// and, of several, a first page with all of them; as one HTML file that needs nothing but itself; or as a
// picture of each. Nothing written names a file, a folder or a user. The same proof gives the same bytes.
//
// Symbols    sizes in millimetres; pictures are 8-bit sRGB
// Holds for  up to kMostOptions options, kMostLights lights (contract); of more colours than fit the rest is
//            counted
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

// One mix: its name, the coats it is sprayed in, and how the piece looks where the last of them is thickest.
struct ProofColour {
    std::string mix, coats;
    std::optional<colour::Lab> lab;  // none of a clear
};

struct ProofOption {
    std::string title;
    Millimetres width, height;
    ProofPicture large;
    Picture overview;  // the same, smaller: for the page where options stand side by side
    std::vector<ProofPicture> lights, angles;
    std::vector<ProofColour> colours;
    double exposure = 1, angles_exposure = 1;  // everything shown so many times as bright as it is
    bool estimated = false;                    // from estimated paint data
};

struct Proof {
    std::vector<ProofOption> options;
    std::vector<std::string> not_included;
    DisplayUnits units;
};

// "A" for the first.
[[nodiscard]] std::string option_letter(std::size_t index);

// The picture with "preview, not a colour approval" across it: light letters with dark rims.
[[nodiscard]] Picture add_watermark(const Picture& picture);

[[nodiscard]] std::string proof_pdf(const Proof& proof, Paper paper);
[[nodiscard]] std::string proof_html(const Proof& proof);
// The large picture over a strip that says which option it is, its size and that it is no approval.
[[nodiscard]] Picture proof_picture(const Proof& proof, std::size_t index);

}  // namespace fadewright::report
