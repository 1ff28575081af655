// The picture of a panel.
//
// The panel is shown on a neutral surround (20 % reflectance, in the sense of [iso3664]) with a margin; its
// true size is recorded (pixels_per_metre). Colours are calculated spectrally and converted to the output
// profile; where they change slowly they are interpolated (render/refine.h), unless every pixel is requested.
// Eight-bit values are dithered (kernels/srgb_dither.h).
//
// Coats that dry as dots show their graininess as noise fixed to the panel (render/grain_field.h): a pixel of
// any size deviates as the mean of its dots does, and the mean luminance is unchanged.
//
// Accuracy   adaptive against exact: 0.3 CIEDE2000 at most, 99 % of pixels within 0.1
//            (tests/render/preview_test.cpp); with graininess of the relative standard deviation s from pixel
//            to pixel, 1 + 2 s times as much. Independent of the number of threads
#pragma once

#include "fadewright/base/image.h"
#include "fadewright/colour/profile.h"
#include "fadewright/plan/job.h"
#include "fadewright/render/viewing.h"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>

namespace fadewright::render {

enum class Sampling { adaptive, every_pixel };

struct PreviewSettings {
    int longest_px = 1600;
    Millimetres margin{20.0};
    std::size_t coats = 1000;  // number of coats shown, from the first
    Sampling sampling = Sampling::adaptive;
    bool grain = true;               // show the dots of fogged coats and the sparkle of flakes
    std::uint64_t seed = 1;          // of the noise: another seed, other dots
    std::optional<Viewing> viewing;  // default: the plan's, an instrument's beam, or a lamp on a relief
    double exposure = 1;             // factor on all luminances
};

// The exposure at which nothing on the panel is brighter than white: below 1 only with flakes brighter than
// white.
[[nodiscard]] double max_exposure_without_clipping(const plan::Job& job, const colour::Illuminant& light,
                                                   const PreviewSettings& settings);
// The same for several viewing geometries together.
[[nodiscard]] double max_exposure_without_clipping(const plan::Job& job, const colour::Illuminant& light,
                                                   PreviewSettings settings,
                                                   std::span<const Viewing> viewings);

struct Preview {
    Picture picture;
    double pixels_per_metre = 0;
    std::size_t samples = 0;          // calculated spectrally
    std::size_t panel_px = 0;         // pixels at least partly on the panel
    std::size_t out_of_gamut_px = 0;  // pixels outside the profile's gamut
};

[[nodiscard]] Preview preview(const plan::Job& job, const colour::Illuminant& light,
                              const colour::OutputProfile& profile, const PreviewSettings& settings);

// The same picture before dithering: values of the profile, 0 to 1, 3 channels.
[[nodiscard]] Image<float> device_picture(const plan::Job& job, const colour::Illuminant& light,
                                          const colour::OutputProfile& profile,
                                          const PreviewSettings& settings);

}  // namespace fadewright::render
