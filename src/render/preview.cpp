#include "fadewright/render/preview.h"

#include "fadewright/base/parallel.h"
#include "fadewright/kernels/encode.h"
#include "fadewright/render/panel_places.h"
#include "painter.h"

#include <algorithm>

namespace fadewright::render {
double exposure_without_glare(const plan::Job& job, const colour::Light& light,
                              const PreviewSettings& settings) {
    constexpr int looks = 48;  // along each side
    const SeenJob seen(job, light, settings.coats, viewing_of(job, settings));
    if (!seen.sparkles()) return 1;
    const PanelPlaces places = places_over(job.panel, looks);
    std::vector<colour::XYZ> xyz(places.x_mm.size());
    seen.xyz(places.x_mm, places.y_mm, xyz);
    double most = seen.white().Y;
    for (const colour::XYZ& c : xyz) most = std::max(most, c.Y);
    return seen.white().Y / most;
}

double exposure_without_glare(const plan::Job& job, const colour::Light& light, PreviewSettings settings,
                              std::span<const Viewing> viewings) {
    double exposure = 1;
    for (const Viewing& viewing : viewings) {
        settings.viewing = viewing;
        exposure = std::min(exposure, exposure_without_glare(job, light, settings));
    }
    return exposure;
}

namespace {

// All of the preview but its picture. keep is called from many threads, once for each row of a block.
Preview painted(const Painter& painter, const KeepRow& keep) {
    Preview preview;
    preview.pixels_per_metre = 1000 / painter.frame().mm_per_px;
    std::vector<PaintedCounts> counts(painter.blocks());
    for_each_turn(counts.size(), kBlocksInTurn, [&](std::size_t first, std::size_t end) {
        Painter::Workings at;
        for (std::size_t i = first; i < end; ++i) counts[i] = painter.paint(painter.block(i), keep, at);
    });
    for (const PaintedCounts& c : counts) {
        preview.places += c.places;
        preview.panel_px += c.panel_px;
        preview.outside_px += c.outside_px;
    }
    return preview;
}

}  // namespace

Preview preview(const plan::Job& job, const colour::Light& light, const colour::OutputProfile& profile,
                const PreviewSettings& settings) {
    const Painter painter(job, light, profile, settings);
    Picture picture(painter.frame().width, painter.frame().height, 3);
    Preview preview = painted(painter, [&](int x, int y, const kernels::PlaneRow& row) {
        kernels::to_8_bits(row, x, y, {picture.pixel(x, y), 3 * row[0].size()});
    });
    preview.picture = std::move(picture);
    return preview;
}

Image<float> device_picture(const plan::Job& job, const colour::Light& light,
                            const colour::OutputProfile& profile, const PreviewSettings& settings) {
    const Painter painter(job, light, profile, settings);
    Image<float> picture(painter.frame().width, painter.frame().height, 3);
    painted(painter, [&](int x, int y, const kernels::PlaneRow& row) {
        float* to = picture.pixel(x, y);
        for (std::size_t i = 0; i < row[0].size(); ++i)
            for (const std::span<const float> plane : row) *to++ = plane[i];
    });
    return picture;
}

}  // namespace fadewright::render
