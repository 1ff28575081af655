#include "fadewright/render/incremental_renderer.h"

#include "block_renderer.h"
#include "fadewright/base/parallel.h"
#include "fadewright/kernels/srgb_dither.h"
#include "sample_cache.h"

#include <algorithm>
#include <atomic>
#include <map>
#include <span>

namespace fadewright::render {
namespace {

// One job as it was rendered. Its renderer refers to the rest.
struct RenderedJob {
    plan::Job job;
    colour::Illuminant light;
    PreviewSettings settings;
    BlockRenderer renderer;

    RenderedJob(plan::Job the_job, colour::Illuminant the_light, const colour::OutputProfile& profile,
                const PreviewSettings& the_settings)
        : job(std::move(the_job)),
          light(std::move(the_light)),
          settings(the_settings),
          renderer(job, light, profile, settings) {}
    RenderedJob(const RenderedJob&) = delete;
    RenderedJob& operator=(const RenderedJob&) = delete;

    [[nodiscard]] std::span<const plan::ResolvedCoat> coats() const {
        return std::span(job.coats).first(renderer.shader().coats());
    }
};

bool same_masks(const std::vector<plan::ResolvedMask>& a, const std::vector<plan::ResolvedMask>& b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                      [](const plan::ResolvedMask& p, const plan::ResolvedMask& q) {
                          return p.softness == q.softness && p.mask == q.mask;
                      });
}

bool same_film(const plan::ResolvedCoat& a, const plan::ResolvedCoat& b) {
    return a.even_film == b.even_film && paint::dry_per_wet(a.mix) == paint::dry_per_wet(b.mix) &&
           a.gun == b.gun && a.passes == b.passes && same_masks(a.masks, b.masks);
}

bool same_paint(const plan::ResolvedCoat& a, const plan::ResolvedCoat& b) {
    return a.mix == b.mix && a.laydown == b.laydown && a.splat == b.splat;
}

// Coats are matched from below and from above by their films; the remaining ones in between have changed.
CoatDiff diff_coats(std::span<const plan::ResolvedCoat> old, std::span<const plan::ResolvedCoat> now) {
    std::size_t low = 0, high = 0;
    const std::size_t common = std::min(old.size(), now.size());
    while (low < common && same_film(old[low], now[low])) ++low;
    while (low + high < common && same_film(old[old.size() - 1 - high], now[now.size() - 1 - high])) ++high;
    CoatDiff diff;
    for (std::size_t c = 0; c < now.size(); ++c) {
        CoatDiff::Coat coat;
        if (c < low) coat.film = c;
        if (c >= now.size() - high) coat.film = c + old.size() - now.size();
        coat.same_paint = coat.film && same_paint(old[*coat.film], now[c]);
        diff.coats.push_back(coat);
    }
    for (std::size_t c = low; c < old.size() - high; ++c) diff.removed.push_back(c);
    while (diff.unchanged_count < low && diff.coats[diff.unchanged_count].same_paint) ++diff.unchanged_count;
    return diff;
}

bool same_regions(const plan::Job& a, const plan::Job& b) {
    return std::equal(a.regions.begin(), a.regions.end(), b.regions.begin(), b.regions.end(),
                      [](const plan::ResolvedRegion& p, const plan::ResolvedRegion& q) {
                          return p.outline == q.outline && p.ground == q.ground;
                      });
}

bool same_frame(const RenderedJob& a, const RenderedJob& b) {
    return a.settings.longest_px == b.settings.longest_px && a.settings.margin == b.settings.margin &&
           a.job.panel == b.job.panel && a.job.ground == b.job.ground && same_regions(a.job, b.job);
}

bool same_direction(const Direction& a, const Direction& b) { return a.x == b.x && a.y == b.y && a.z == b.z; }

bool same_viewing(const Viewing& a, const Viewing& b) {
    return same_direction(a.light_direction, b.light_direction) &&
           same_direction(a.eye_direction, b.eye_direction) && a.lamp_spread == b.lamp_spread &&
           a.diffuse_share == b.diffuse_share && a.shows_lamp == b.shows_lamp && a.uses_slope == b.uses_slope;
}

// Whether the surfaces of the last coats reflect alike.
bool same_surface(const RenderedJob& a, const RenderedJob& b) {
    if (a.coats().empty() || b.coats().empty()) return a.coats().empty() && b.coats().empty();
    const paint::MixedPaint &p = a.coats().back().mix, &q = b.coats().back().mix;
    return p.flatting == q.flatting && p.haze == q.haze;
}

std::vector<plan::ResolvedMask> masks_of(const RenderedJob& rendered) {
    std::vector<plan::ResolvedMask> masks;
    for (const plan::ResolvedCoat& coat : rendered.coats())
        masks.insert(masks.end(), coat.masks.begin(), coat.masks.end());
    return masks;
}

// Whether points with equal films look the same, and are sampled equally finely.
bool same_appearance(const RenderedJob& a, const RenderedJob& b) {
    return a.settings.sampling == b.settings.sampling && a.settings.grain == b.settings.grain &&
           a.settings.seed == b.settings.seed && a.settings.exposure == b.settings.exposure &&
           same_viewing(effective_viewing(a.job, a.settings), effective_viewing(b.job, b.settings)) &&
           a.light.wavelengths_nm == b.light.wavelengths_nm && a.light.power == b.light.power &&
           a.light.narrow_band == b.light.narrow_band && a.job.observer == b.job.observer &&
           a.job.surface == b.job.surface && a.job.finest_detail == b.job.finest_detail &&
           same_surface(a, b) && a.renderer.shader().has_flakes() == b.renderer.shader().has_flakes() &&
           same_masks(masks_of(a), masks_of(b));
}

struct JobDifference {
    CoatDiff coats;
    bool everywhere = false;  // looks different even where the films are the same
};

// For blocks without cached samples: whether the film of any pixel differs.
bool film_differs(const RenderedJob& old, const RenderedJob& now, const CoatDiff& diff, const Block& block) {
    const Frame& frame = now.renderer.frame();
    const auto has_film = [&](const plan::ResolvedCoat& coat) {
        for (int y = 0; y < block.height; ++y)
            for (int x = 0; x < block.width; ++x)
                if (coat.film_um(frame.x_mm(block.x + x), frame.y_mm(block.y + y)) != 0) return true;
        return false;
    };
    for (std::size_t c = 0; c < diff.coats.size(); ++c)
        if (!diff.coats[c].same_paint && has_film(now.coats()[c])) return true;
    return std::any_of(diff.removed.begin(), diff.removed.end(),
                       [&](std::size_t c) { return has_film(old.coats()[c]); });
}

struct CachedBlock {
    SampleCache samples;
    std::shared_ptr<const RenderedJob> job;  // shown by its pixels; null at first
    RenderCounts counts;
};

}  // namespace

struct IncrementalRenderer::Cache {
    colour::OutputProfile profile;
    std::vector<CachedBlock> blocks;
    Preview preview;
    std::shared_ptr<const RenderedJob> last_job;
    Stats stats;

    explicit Cache(colour::OutputProfile the_profile) : profile(std::move(the_profile)) {}

    void reset(const BlockRenderer& renderer) {
        blocks.clear();
        for (std::size_t i = 0; i < renderer.block_count(); ++i)
            blocks.push_back({SampleCache(renderer.block(i)), nullptr, {}});
        preview.picture = Picture(renderer.frame().width, renderer.frame().height, 3);
        preview.pixels_per_metre = 1000 / renderer.frame().mm_per_px;
    }

    // For every job that a block still shows.
    [[nodiscard]] std::map<const RenderedJob*, JobDifference> differences(const RenderedJob& now) const {
        std::map<const RenderedJob*, JobDifference> result;
        for (const CachedBlock& block : blocks) {
            const RenderedJob* old = block.job.get();
            if (!old || result.count(old) > 0) continue;
            result[old] = {diff_coats(old->coats(), now.coats()), !same_appearance(*old, now)};
        }
        return result;
    }

    // True if the block has to be rendered.
    static bool update_block(CachedBlock& block, const std::shared_ptr<const RenderedJob>& now,
                             const std::map<const RenderedJob*, JobDifference>& differences,
                             const Block& rect) {
        if (!block.job) return true;
        const JobDifference& difference = differences.at(block.job.get());
        if (difference.coats.all_same() && !difference.everywhere) return false;
        const bool off_panel = block.counts.panel_px == 0;
        if (off_panel && !difference.everywhere) return false;
        const bool differs =
            block.samples.empty()
                ? difference.everywhere || film_differs(*block.job, *now, difference.coats, rect)
                : block.samples.rebase(now->renderer.shader(), now->renderer.frame(), difference.coats);
        return differs || difference.everywhere;
    }

    bool render_blocks(const std::shared_ptr<const RenderedJob>& now, const Progress& progress) {
        const std::map<const RenderedJob*, JobDifference> job_differences = differences(*now);
        std::atomic<bool> cancelled{false};
        std::atomic<std::size_t> painted_count{0}, done{0};
        const RowSink sink = [&](int x, int y, const kernels::PlanarRow& row) {
            kernels::dither_to_bytes(row, x, y, {preview.picture.pixel(x, y), 3 * row[0].size()});
        };
        const auto render_one = [&](std::size_t i, BlockRenderer::Scratch& scratch) {
            CachedBlock& block = blocks[i];
            const Block rect = now->renderer.block(i);
            if (update_block(block, now, job_differences, rect)) {
                block.counts = now->renderer.render_block(rect, sink, scratch, &block.samples);
                ++painted_count;
            }
            block.job = now;
            progress.report(static_cast<double>(++done) / static_cast<double>(blocks.size()));
        };
        parallel_for(now->renderer.batch_count(), [&](std::size_t batch) {
            BlockRenderer::Scratch scratch;
            const auto [first, end] = now->renderer.batch(batch);
            for (std::size_t i = first; i < end && !cancelled; ++i)
                if (progress.is_cancelled())
                    cancelled = true;
                else
                    render_one(i, scratch);
        });
        stats = {blocks.size(), painted_count};
        return !cancelled;
    }
};

IncrementalRenderer::IncrementalRenderer(colour::OutputProfile profile)
    : cache_(std::make_unique<Cache>(std::move(profile))) {}
IncrementalRenderer::~IncrementalRenderer() = default;
IncrementalRenderer::IncrementalRenderer(IncrementalRenderer&&) noexcept = default;
IncrementalRenderer& IncrementalRenderer::operator=(IncrementalRenderer&&) noexcept = default;

const Preview* IncrementalRenderer::update(plan::Job job, const colour::Illuminant& light,
                                           const PreviewSettings& settings, const Progress& progress) {
    const auto now = std::make_shared<const RenderedJob>(std::move(job), light, cache_->profile, settings);
    if (!cache_->last_job || !same_frame(*cache_->last_job, *now)) cache_->reset(now->renderer);
    cache_->last_job = now;
    if (!cache_->render_blocks(now, progress)) return nullptr;
    Preview& preview = cache_->preview;
    preview.samples = preview.panel_px = preview.out_of_gamut_px = 0;
    for (const CachedBlock& block : cache_->blocks) {
        preview.samples += block.counts.samples;
        preview.panel_px += block.counts.panel_px;
        preview.out_of_gamut_px += block.counts.out_of_gamut_px;
    }
    return &preview;
}

IncrementalRenderer::Stats IncrementalRenderer::stats() const { return cache_->stats; }

}  // namespace fadewright::render
