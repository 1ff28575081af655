// Renders a picture of a panel block by block. preview() renders all blocks; IncrementalRenderer renders the
// changed ones, from its cached samples.
#pragma once

#include "fadewright/colour/profile.h"
#include "fadewright/kernels/srgb_dither.h"
#include "fadewright/render/dot_graininess.h"
#include "fadewright/render/frame.h"
#include "fadewright/render/grain_field.h"
#include "fadewright/render/panel_shader.h"
#include "fadewright/render/preview.h"
#include "fadewright/render/refine.h"

#include <functional>
#include <optional>
#include <span>
#include <vector>

namespace fadewright::render {

class SampleCache;

// Receives part of a row of the picture, from the pixel (x, y) on.
using RowSink = std::function<void(int x, int y, const kernels::PlanarRow& row)>;

struct RenderCounts {
    std::size_t samples = 0, panel_px = 0, out_of_gamut_px = 0;
};

// The job and the other arguments must outlive the renderer.
class BlockRenderer {
public:
    BlockRenderer(const plan::Job& job, const colour::Illuminant& light, const colour::OutputProfile& profile,
                  const PreviewSettings& settings);

    [[nodiscard]] const Frame& frame() const { return frame_; }
    [[nodiscard]] const PanelShader& shader() const { return shader_; }
    [[nodiscard]] std::size_t block_count() const;
    [[nodiscard]] Block block(std::size_t i) const;

    // Neighbouring blocks that are rendered in turn with the same scratch memory.
    struct Batch {
        std::size_t first, end;
    };
    [[nodiscard]] std::size_t batch_count() const;
    [[nodiscard]] Batch batch(std::size_t i) const;

    // Scratch memory of a block, reused for the next one.
    struct Scratch {
        std::vector<double> x_mm, y_mm;
        PanelShader::Samples samples;
        std::vector<float> reflectance;
        std::vector<colour::XYZ> xyz;
        std::vector<colour::DeviceRgb> linear;
        ColourPlanes colours;
        // Noise of the pixels from one block of a batch to its last, row by row.
        int noise_x = 0, noise_width = 0;
        std::vector<float> noise;
        std::vector<float> factors;
    };
    // Passes every row of one block to `keep`. Cached samples are not calculated again.
    RenderCounts render_block(const Block& block, const RowSink& sink, Scratch& scratch,
                              SampleCache* cache = nullptr) const;

private:
    void apply_exposure(std::span<colour::XYZ> xyz) const;
    void to_linear(std::span<const colour::XYZ> xyz, std::vector<colour::DeviceRgb>& light,
                   std::span<DeviceColour> out) const;
    void shade_pixels(std::span<const PixelCoord> pixels, SampleCache* cache, Scratch& scratch,
                      std::span<DeviceColour> out) const;
    void find_grain(const PanelShader::Samples& samples, std::span<const colour::XYZ> xyz,
                    std::span<DeviceColour> out) const;
    [[nodiscard]] bool shows_grain() const {
        return settings_.grain && (graininess_.has_dots() || shader_.has_flakes());
    }
    void fill_noise(const Block& block, Scratch& scratch) const;
    void apply_grain(const Block& block, Scratch& scratch) const;
    // More than half of a pixel's diagonal: an edge at this distance cannot cross the pixel.
    [[nodiscard]] double edge_reach_mm() const { return 0.75 * frame_.mm_per_px; }
    [[nodiscard]] std::optional<double> finest_edge_near(const Block& block) const;
    [[nodiscard]] bool has_edge(double x, double y) const;
    void supersample(std::span<const PixelCoord> pixels, bool has_edges, Scratch& scratch,
                     std::span<DeviceColour> out) const;
    void colour_differences(const ColourPlanes& a, const ColourPlanes& b, std::span<double> dE) const;
    [[nodiscard]] int largest_cell(double finest_mm) const;
    std::size_t shade_block(const Block& block, SampleCache* cache, Scratch& scratch) const;
    static void count_interior(const ColourPlanes& colours, RenderCounts& counts);
    void blend_surround(const Block& block, ColourPlanes& colours, RenderCounts& counts) const;

    const plan::Job& job_;
    const colour::OutputProfile& profile_;
    PreviewSettings settings_;
    PanelShader shader_;
    DotGraininess graininess_;
    GrainField grain_field_;
    Frame frame_;
    DeviceColour surround_;
};

// As the settings say; default: an instrument's beam, or a lamp on a relief.
[[nodiscard]] Viewing effective_viewing(const plan::Job& job, const PreviewSettings& settings);

}  // namespace fadewright::render
