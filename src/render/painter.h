// Paints a picture of a panel block by block. preview() paints all blocks; a picture that is worked on
// (render/redraw.h) paints those that changed, from what it has kept of their places.
#pragma once

#include "fadewright/colour/profile.h"
#include "fadewright/kernels/encode.h"
#include "fadewright/render/dot_grain.h"
#include "fadewright/render/frame.h"
#include "fadewright/render/grain_field.h"
#include "fadewright/render/preview.h"
#include "fadewright/render/refine.h"
#include "fadewright/render/spectra.h"

#include <functional>
#include <optional>
#include <span>
#include <vector>

namespace fadewright::render {

class KeptPlaces;

// Takes part of a row of the picture, from the pixel (x, y) on.
using KeepRow = std::function<void(int x, int y, const kernels::PlaneRow& row)>;

struct PaintedCounts {
    std::size_t places = 0, panel_px = 0, outside_px = 0;
};

// So many blocks one after the other take turns in the same workings.
inline constexpr std::size_t kBlocksInTurn = 8;

// The job and what else is given must outlive the painter.
class Painter {
public:
    Painter(const plan::Job& job, const colour::Light& light, const colour::OutputProfile& profile,
            const PreviewSettings& settings);

    [[nodiscard]] const Frame& frame() const { return frame_; }
    [[nodiscard]] const SeenJob& seen() const { return seen_; }
    [[nodiscard]] std::size_t blocks() const;
    [[nodiscard]] Block block(std::size_t i) const;

    // What a block is worked out in; the next one takes it over.
    struct Workings {
        std::vector<double> x_mm, y_mm;
        SeenJob::Laid laid;
        std::vector<float> reflectance;
        std::vector<colour::XYZ> xyz;
        std::vector<colour::Device> light;
        ColourPlanes colours;
    };
    // Hands every row of one block to `keep`. Places that are kept are not worked out again.
    PaintedCounts paint(const Block& block, const KeepRow& keep, Workings& at,
                        KeptPlaces* kept = nullptr) const;

private:
    void expose(std::span<colour::XYZ> xyz) const;
    void to_light(std::span<const colour::XYZ> xyz, std::vector<colour::Device>& light,
                  std::span<DeviceColour> out) const;
    void colours_at(std::span<const PixelPlace> pixels, KeptPlaces* kept, Workings& at,
                    std::span<DeviceColour> out) const;
    void add_grain(const SeenJob::Laid& laid, std::span<const double> x, std::span<const double> y,
                   std::span<const colour::XYZ> xyz, std::span<DeviceColour> out) const;
    [[nodiscard]] bool shows_grain() const { return settings_.grain && (grain_.any() || seen_.sparkles()); }
    void roughen(const Block& block, ColourPlanes& colours) const;
    // Half a pixel's diagonal and more: from here an edge cannot cross the pixel.
    [[nodiscard]] double clear_mm() const { return 0.75 * frame_.mm_per_px; }
    [[nodiscard]] std::optional<double> finest_near(const Block& block) const;
    [[nodiscard]] bool jumps_in(double x, double y) const;
    void every_colour(std::span<const PixelPlace> pixels, bool jumps, Workings& at,
                      std::span<DeviceColour> out) const;
    void apart(const ColourPlanes& a, const ColourPlanes& b, std::span<double> dE) const;
    [[nodiscard]] int largest_cell(double finest_mm) const;
    std::size_t block_colours(const Block& block, KeptPlaces* kept, Workings& at) const;
    static void count_whole(const ColourPlanes& colours, PaintedCounts& counts);
    void blend_surround(const Block& block, ColourPlanes& colours, PaintedCounts& counts) const;

    const plan::Job& job_;
    const colour::OutputProfile& profile_;
    PreviewSettings settings_;
    SeenJob seen_;
    DotGrain grain_;
    GrainField field_;
    Frame frame_;
    DeviceColour surround_;
};

// As the settings say; else an instrument's beam, or a lamp on a relief.
[[nodiscard]] Viewing viewing_of(const plan::Job& job, const PreviewSettings& settings);

}  // namespace fadewright::render
