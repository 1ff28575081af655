// The picture of a panel.
//
// The panel lies on a neutral surround (20 % reflectance, in the sense of [iso3664]) with a margin;
// its true size is kept (pixels_per_metre). Colours are worked out spectrally and turned into the output
// profile's values; where they change slowly they are interpolated (render/refine.h), unless every pixel is
// asked for. Eight bits are dithered (kernels/encode.h).
//
// Coats that dry as dots show their grain as noise that belongs to places on the panel (render/grain_field.h):
// pixels of any size show what dots of that many would leave in them, the mean luminance stays.
//
// Accuracy   adaptive against exact: 0.3 CIEDE2000 at most, 99 % of pixels within 0.1
//            (tests/render/preview_test.cpp); under grain that deviates by s of the luminance from pixel to pixel,
//            1 + 2 s times as much. The picture does not depend on the number of threads
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
    std::size_t coats = 1000;  // how many coats are on, from the first
    Sampling sampling = Sampling::adaptive;
    bool grain = true;               // show the dots of fog coats and the sparkle of flakes
    std::uint64_t seed = 1;          // of the grain: another seed, other dots
    std::optional<Viewing> viewing;  // else as the plan says: an instrument's beam, or a lamp on a relief
    double exposure = 1;             // everything so much brighter than it is
};

// The exposure at which nothing on the panel is brighter than white; 1 unless flakes outshine it.
[[nodiscard]] double max_exposure_without_clipping(const plan::Job& job, const colour::Illuminant& light,
                                                   const PreviewSettings& settings);
// The same for all of those ways of looking together.
[[nodiscard]] double max_exposure_without_clipping(const plan::Job& job, const colour::Illuminant& light,
                                                   PreviewSettings settings,
                                                   std::span<const Viewing> viewings);

struct Preview {
    Picture picture;
    double pixels_per_metre = 0;
    std::size_t samples = 0;          // worked out spectrally
    std::size_t panel_px = 0;         // pixels at least partly on the panel
    std::size_t out_of_gamut_px = 0;  // pixels whose colour the profile cannot hold
};

[[nodiscard]] Preview preview(const plan::Job& job, const colour::Illuminant& light,
                              const colour::OutputProfile& profile, const PreviewSettings& settings);

// The same picture before it is dithered to eight bits: the profile's values, 0 to 1, 3 channels.
[[nodiscard]] Image<float> device_picture(const plan::Job& job, const colour::Illuminant& light,
                                          const colour::OutputProfile& profile,
                                          const PreviewSettings& settings);

}  // namespace fadewright::render
