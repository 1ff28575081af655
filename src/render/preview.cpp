#include "fadewright/render/preview.h"

#include "block_renderer.h"
#include "fadewright/base/parallel.h"
#include "fadewright/kernels/srgb_dither.h"
#include "fadewright/render/frame.h"

#include <algorithm>

namespace fadewright::render {
double max_exposure_without_clipping(const plan::Job& job, const colour::Illuminant& light,
                                     const PreviewSettings& settings) {
    constexpr int points_per_side = 48;  // along each side
    const PanelShader shader(job, light, settings.coats, effective_viewing(job, settings));
    if (!shader.has_flakes()) return 1;
    const PanelPoints points = panel_points(job.panel, points_per_side);
    std::vector<colour::XYZ> xyz(points.x_mm.size());
    shader.xyz(points.x_mm, points.y_mm, xyz);
    double max_Y = shader.white().Y;
    for (const colour::XYZ& c : xyz) max_Y = std::max(max_Y, c.Y);
    return shader.white().Y / max_Y;
}

double max_exposure_without_clipping(const plan::Job& job, const colour::Illuminant& light,
                                     PreviewSettings settings, std::span<const Viewing> viewings) {
    double exposure = 1;
    for (const Viewing& viewing : viewings) {
        settings.viewing = viewing;
        exposure = std::min(exposure, max_exposure_without_clipping(job, light, settings));
    }
    return exposure;
}

namespace {

// The preview without its picture. keep is called from several threads, once for each row of a block.
Preview render_blocks(const BlockRenderer& renderer, const RowSink& sink) {
    Preview preview;
    preview.pixels_per_metre = 1000 / renderer.frame().mm_per_px;
    std::vector<RenderCounts> counts(renderer.block_count());
    parallel_for(renderer.batch_count(), [&](std::size_t batch) {
        BlockRenderer::Scratch scratch;
        const auto [first, end] = renderer.batch(batch);
        for (std::size_t i = first; i < end; ++i)
            counts[i] = renderer.render_block(renderer.block(i), sink, scratch);
    });
    for (const RenderCounts& c : counts) {
        preview.samples += c.samples;
        preview.panel_px += c.panel_px;
        preview.out_of_gamut_px += c.out_of_gamut_px;
    }
    return preview;
}

}  // namespace

Preview preview(const plan::Job& job, const colour::Illuminant& light, const colour::OutputProfile& profile,
                const PreviewSettings& settings) {
    const BlockRenderer renderer(job, light, profile, settings);
    Picture picture(renderer.frame().width, renderer.frame().height, 3);
    Preview preview = render_blocks(renderer, [&](int x, int y, const kernels::PlanarRow& row) {
        kernels::dither_to_bytes(row, x, y, {picture.pixel(x, y), 3 * row[0].size()});
    });
    preview.picture = std::move(picture);
    return preview;
}

Image<float> device_picture(const plan::Job& job, const colour::Illuminant& light,
                            const colour::OutputProfile& profile, const PreviewSettings& settings) {
    const BlockRenderer renderer(job, light, profile, settings);
    Image<float> picture(renderer.frame().width, renderer.frame().height, 3);
    render_blocks(renderer, [&](int x, int y, const kernels::PlanarRow& row) {
        float* to = picture.pixel(x, y);
        for (std::size_t i = 0; i < row[0].size(); ++i)
            for (const std::span<const float> plane : row) *to++ = plane[i];
    });
    return picture;
}

}  // namespace fadewright::render
