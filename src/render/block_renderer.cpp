#include "block_renderer.h"

#include "fadewright/colour/delta_e.h"
#include "fadewright/kernels/hash_gaussian.h"
#include "sample_cache.h"

#include <algorithm>
#include <cmath>

namespace fadewright::render {
namespace {

constexpr double kSurround_Y = 20;  // of 100
// A deviation of luminance that dithering hides: 0.05 of CIEDE2000.
constexpr float kInvisibleGrain = 1e-3f;
// Increase of the tolerance per unit of graininess (our choice: noise with a standard deviation of a quarter
// of the luminance from pixel to pixel is about ten units of CIEDE2000).
constexpr double kGrainMasking = 2;

// The share of a pixel that is on the panel, from its distance to the outline.
double coverage(double outline_mm, double mm_per_px) {
    return std::clamp(0.5 - outline_mm / mm_per_px, 0.0, 1.0);
}

std::size_t pixel_index(const Block& block, int x, int y) {
    return static_cast<std::size_t>(y) * static_cast<std::size_t>(block.width) + static_cast<std::size_t>(x);
}

int blocks_along(int px) { return (px + kBlock_px - 1) / kBlock_px; }

constexpr int kBlocksPerBatch = 8;

int batches_along(int px) { return (blocks_along(px) + kBlocksPerBatch - 1) / kBlocksPerBatch; }

// From linear light to the values of the picture.
void encode(ColourPlanes& colours) {
    for (std::vector<float>* plane : {&colours.r, &colours.g, &colours.b}) kernels::encode_srgb(*plane);
}

void emit_rows(const Block& block, const ColourPlanes& colours, const RowSink& sink) {
    const auto width = static_cast<std::size_t>(block.width);
    for (int y = 0; y < block.height; ++y) {
        const auto row = [&](const std::vector<float>& plane) {
            return std::span(plane).subspan(pixel_index(block, 0, y), width);
        };
        sink(block.x, block.y + y, {row(colours.r), row(colours.g), row(colours.b)});
    }
}

}  // namespace

Viewing effective_viewing(const plan::Job& job, const PreviewSettings& settings) {
    if (settings.viewing) return *settings.viewing;
    if (!job.panel.relief) return goniometer_viewing(job.view_angle);
    Viewing viewing = shape_viewing();
    viewing.shows_lamp = false;
    return viewing;
}

BlockRenderer::BlockRenderer(const plan::Job& job, const colour::Illuminant& light,
                             const colour::OutputProfile& profile, const PreviewSettings& settings)
    : job_(job),
      profile_(profile),
      settings_(settings),
      shader_(job, light, settings.coats, effective_viewing(job, settings),
              settings.sampling == Sampling::every_pixel ? Precision::reference : Precision::preview),
      graininess_(job, settings.coats),
      grain_field_(settings.seed, 0),
      frame_(panel_frame(job.panel, settings.longest_px, settings.margin)) {
    const colour::XYZ& white = shader_.white();
    const double share = kSurround_Y / 100;
    const colour::XYZ grey{share * white.X, share * white.Y, share * white.Z};
    colour::DeviceRgb device;
    profile.to_device({&grey, 1}, white, {&device, 1});
    surround_ = {device.r, device.g, device.b, 0, 0};
}

std::size_t BlockRenderer::block_count() const {
    return static_cast<std::size_t>(blocks_along(frame_.width)) *
           static_cast<std::size_t>(blocks_along(frame_.height));
}

Block BlockRenderer::block(std::size_t i) const {
    const int across = blocks_along(frame_.width);
    const int x = static_cast<int>(i) % across * kBlock_px, y = static_cast<int>(i) / across * kBlock_px;
    return {x, y, std::min(kBlock_px, frame_.width - x), std::min(kBlock_px, frame_.height - y)};
}

std::size_t BlockRenderer::batch_count() const {
    return static_cast<std::size_t>(batches_along(frame_.width)) *
           static_cast<std::size_t>(blocks_along(frame_.height));
}

BlockRenderer::Batch BlockRenderer::batch(std::size_t i) const {
    const auto across = static_cast<std::size_t>(blocks_along(frame_.width));
    const auto batches = static_cast<std::size_t>(batches_along(frame_.width));
    const std::size_t row = i / batches * across, first = i % batches * kBlocksPerBatch;
    return {row + first, row + std::min(across, first + kBlocksPerBatch)};
}

RenderCounts BlockRenderer::render_block(const Block& block, const RowSink& sink, Scratch& scratch,
                                         SampleCache* cache) const {
    RenderCounts counts;
    const double reach_mm = (kBlock_px + 1) * frame_.mm_per_px;
    const double centre_mm = job_.panel.signed_distance_mm(frame_.x_mm(block.x + block.width / 2),
                                                           frame_.y_mm(block.y + block.height / 2));
    ColourPlanes& colours = scratch.colours;
    if (centre_mm > reach_mm) {
        colours.assign(static_cast<std::size_t>(block.width) * static_cast<std::size_t>(block.height),
                       surround_);
    } else {
        counts.samples = shade_block(block, cache, scratch);
        if (shows_grain()) apply_grain(block, scratch);
        encode(colours);
        if (centre_mm < -reach_mm)
            count_interior(colours, counts);
        else
            blend_surround(block, colours, counts);
    }
    emit_rows(block, colours, sink);
    return counts;
}

void BlockRenderer::apply_exposure(std::span<colour::XYZ> xyz) const {
    const double e = settings_.exposure;
    if (e == 1) return;
    for (colour::XYZ& c : xyz) c = {e * c.X, e * c.Y, e * c.Z};
}

void BlockRenderer::to_linear(std::span<const colour::XYZ> xyz, std::vector<colour::DeviceRgb>& light,
                              std::span<DeviceColour> out) const {
    light.resize(xyz.size());
    profile_.to_linear(xyz, shader_.white(), light);
    for (std::size_t i = 0; i < xyz.size(); ++i)
        out[i] = {light[i].r, light[i].g, light[i].b, light[i].out_of_gamut ? 1.0f : 0.0f, 0};
}

void BlockRenderer::shade_pixels(std::span<const PixelCoord> pixels, SampleCache* cache, Scratch& scratch,
                                 std::span<DeviceColour> out) const {
    scratch.x_mm.clear();
    scratch.y_mm.clear();
    for (const PixelCoord& pixel : pixels) {
        scratch.x_mm.push_back(frame_.x_mm(pixel.x));
        scratch.y_mm.push_back(frame_.y_mm(pixel.y));
    }
    scratch.xyz.resize(pixels.size());
    if (cache) {
        shader_.reset_samples(scratch.x_mm, scratch.y_mm, scratch.samples);
        scratch.reflectance.resize(colour::kBandCount * pixels.size());
        const std::size_t lowest =
            cache->lookup(shader_, pixels, scratch.x_mm, scratch.y_mm, scratch.samples, scratch.reflectance);
        shader_.lay_coats(lowest, shader_.coats(), scratch.samples, scratch.reflectance);
        shader_.integrate(scratch.samples, scratch.reflectance, scratch.xyz);
    } else {
        scratch.samples = shader_.sample(scratch.x_mm, scratch.y_mm);
        shader_.xyz(scratch.samples, scratch.xyz);
    }
    apply_exposure(scratch.xyz);
    to_linear(scratch.xyz, scratch.linear, out);
    if (shows_grain()) find_grain(scratch.samples, scratch.xyz, out);
}

void BlockRenderer::find_grain(const PanelShader::Samples& samples, std::span<const colour::XYZ> xyz,
                               std::span<DeviceColour> out) const {
    std::vector<double> roots(out.size(), 0.0), sparkle_power(out.size(), 0.0);
    shader_.sparkle_power(samples, sparkle_power);
    if (graininess_.has_dots()) graininess_.graininess_mm(samples.films, samples.grounds, roots);
    const double area = frame_.mm_per_px * frame_.mm_per_px;
    for (std::size_t i = 0; i < out.size(); ++i) {
        const double Y = xyz[i].Y / (settings_.exposure * shader_.white().Y);
        const double sparkle = Y > 0 ? std::sqrt(sparkle_power[i]) / Y : 0;
        const double variance = (roots[i] * roots[i] + sparkle * sparkle) / area;
        out[i].grain = static_cast<float>(std::sqrt(std::log1p(variance)));
    }
}

// From the block to the end of its batch, so that the next blocks find their noise.
void BlockRenderer::fill_noise(const Block& block, Scratch& scratch) const {
    constexpr int kTurn_px = kBlocksPerBatch * kBlock_px;
    const int end = std::min(frame_.width, (block.x / kTurn_px + 1) * kTurn_px);
    scratch.noise_x = block.x;
    scratch.noise_width = end - block.x;
    // The rows of the grid go up, those of the picture down: from the lowest row of the block.
    GrainGrid grid;
    grid.x0_mm = frame_.left_mm;
    grid.y0_mm = frame_.top_mm - frame_.height * frame_.mm_per_px;
    grid.pixel_mm = frame_.mm_per_px;
    grid.first_column = block.x;
    grid.first_row = frame_.height - (block.y + block.height);
    grid.columns = scratch.noise_width;
    grid.rows = block.height;
    const auto width = static_cast<std::ptrdiff_t>(scratch.noise_width);
    std::vector<double> means(static_cast<std::size_t>(width * block.height));
    grain_field_.fill_means(grid, means);
    scratch.noise.resize(means.size());
    for (int y = 0; y < block.height; ++y)
        std::transform(
            means.begin() + (block.height - 1 - y) * width, means.begin() + (block.height - y) * width,
            scratch.noise.begin() + y * width,
            [this](double mean) { return static_cast<float>(mean) * static_cast<float>(frame_.mm_per_px); });
}

// Linear light times a factor of mean 1 that is never negative, exp(s z - s^2/2); s^2 = ln(1 + variance) is
// the graininess of the colours.
void BlockRenderer::apply_grain(const Block& block, Scratch& scratch) const {
    ColourPlanes& colours = scratch.colours;
    const bool any = std::any_of(colours.grain.begin(), colours.grain.end(),
                                 [](float grain) { return grain > kInvisibleGrain; });
    if (!any) return;
    if (block.x < scratch.noise_x || block.x >= scratch.noise_x + scratch.noise_width)
        fill_noise(block, scratch);
    const auto width = static_cast<std::size_t>(block.width);
    scratch.factors.resize(colours.size());
    for (int y = 0; y < block.height; ++y) {
        const std::size_t row = pixel_index(block, 0, y);
        const auto noise =
            std::span(scratch.noise)
                .subspan(static_cast<std::size_t>(y * scratch.noise_width + block.x - scratch.noise_x),
                         width);
        kernels::fast::lognormal_factors(std::span(colours.grain).subspan(row, width), noise,
                                         std::span(scratch.factors).subspan(row, width));
    }
    for (std::vector<float>* plane : {&colours.r, &colours.g, &colours.b})
        for (std::size_t i = 0; i < scratch.factors.size(); ++i) (*plane)[i] *= scratch.factors[i];
}

// The finest width of the edges near a block (0: a jump); nothing if no edge is near.
std::optional<double> BlockRenderer::finest_edge_near(const Block& block) const {
    const double x = frame_.x_mm(block.x + block.width / 2), y = frame_.y_mm(block.y + block.height / 2);
    const double reach_mm = (kBlock_px + 1) * frame_.mm_per_px;
    std::optional<double> finest;
    for (const plan::Edge& edge : job_.edges)
        if (edge.distance_mm(x, y) <= reach_mm + edge.reach.value)
            finest = std::min(finest.value_or(edge.fine_width.value), edge.fine_width.value);
    return finest;
}

bool BlockRenderer::has_edge(double x, double y) const {
    return std::any_of(job_.edges.begin(), job_.edges.end(), [&](const plan::Edge& edge) {
        return edge.fine_width.value < frame_.mm_per_px &&
               edge.distance_mm(x, y) <= edge_reach_mm() + edge.reach.value;
    });
}

// Every pixel of a block; pixels that an edge crosses as the mean of kFine x kFine samples.
void BlockRenderer::supersample(std::span<const PixelCoord> pixels, bool has_edges, Scratch& scratch,
                                std::span<DeviceColour> out) const {
    shade_pixels(pixels, nullptr, scratch, out);
    if (!has_edges) return;
    constexpr int kFine = 6;
    for (std::size_t i = 0; i < pixels.size(); ++i) {
        const double x0 = frame_.x_mm(pixels[i].x), y0 = frame_.y_mm(pixels[i].y);
        if (!has_edge(x0, y0)) continue;
        std::vector<double> x, y;
        for (int j = 0; j < kFine; ++j)
            for (int k = 0; k < kFine; ++k) {
                x.push_back(x0 + frame_.mm_per_px * ((k + 0.5) / kFine - 0.5));
                y.push_back(y0 + frame_.mm_per_px * ((j + 0.5) / kFine - 0.5));
            }
        std::vector<colour::XYZ> xyz(x.size());
        shader_.xyz(x, y, xyz);
        apply_exposure(xyz);
        colour::XYZ mean{};
        for (const colour::XYZ& current : xyz)
            mean = {mean.X + current.X / (kFine * kFine), mean.Y + current.Y / (kFine * kFine),
                    mean.Z + current.Z / (kFine * kFine)};
        to_linear({&mean, 1}, scratch.linear, out.subspan(i, 1));
    }
}

// Graininess masks small differences. Where the Euclidean distance is far below the tolerance, CIEDE2000 is
// too: its weights of lightness, chroma and hue are at least 1, but a* counts up to 1.5 times and blue hues
// are rotated.
void BlockRenderer::colour_differences(const ColourPlanes& a, const ColourPlanes& b,
                                       std::span<double> dE) const {
    constexpr double kMoreThan76 = 2.2;
    const kernels::LabPlanes p = profile_.linear_to_lab(a.r, a.g, a.b),
                             q = profile_.linear_to_lab(b.r, b.g, b.b);
    for (std::size_t i = 0; i < dE.size(); ++i) {
        const colour::Lab current{p.L[i], p.a[i], p.b[i]}, other{q.L[i], q.a[i], q.b[i]};
        dE[i] = kMoreThan76 * colour::delta_e_76(current, other);
        if (dE[i] > kRefineTolerance_dE)
            dE[i] =
                colour::delta_e_2000(current, other) / (1 + kGrainMasking * std::min(a.grain[i], b.grain[i]));
    }
}

// No cell may be so large that a change of film fits between its samples.
int BlockRenderer::largest_cell(double finest_mm) const {
    if (finest_mm <= 0) return kBlock_px;
    int cell = 2;
    while (cell < kBlock_px && 2 * cell * frame_.mm_per_px <= finest_mm) cell *= 2;
    return cell;
}

std::size_t BlockRenderer::shade_block(const Block& block, SampleCache* cache, Scratch& scratch) const {
    const std::optional<double> nearest_finest = finest_edge_near(block);
    const bool has_edges = nearest_finest && *nearest_finest < frame_.mm_per_px;
    const double job_finest = job_.finest_detail.value;
    const double finest = nearest_finest
                              ? (job_finest > 0 ? std::min(*nearest_finest, job_finest) : *nearest_finest)
                              : job_finest;
    if (settings_.sampling == Sampling::adaptive && !has_edges) {
        const ShadeFn shade = [&](std::span<const PixelCoord> p, std::span<DeviceColour> out) {
            shade_pixels(p, cache, scratch, out);
        };
        const DifferenceFn difference = [this](const ColourPlanes& a, const ColourPlanes& b,
                                               std::span<double> dE) { colour_differences(a, b, dE); };
        return fill_block(block, largest_cell(finest), kRefineTolerance_dE, shade, difference,
                          scratch.colours);
    }
    std::vector<PixelCoord> pixels;
    for (int y = 0; y < block.height; ++y)
        for (int x = 0; x < block.width; ++x) pixels.push_back({block.x + x, block.y + y});
    std::vector<DeviceColour> shaded(pixels.size());
    supersample(pixels, has_edges, scratch, shaded);
    scratch.colours.resize(shaded.size());
    for (std::size_t i = 0; i < shaded.size(); ++i) scratch.colours.set(i, shaded[i]);
    return pixels.size();
}

void BlockRenderer::count_interior(const ColourPlanes& colours, RenderCounts& counts) {
    counts.panel_px = colours.size();
    counts.out_of_gamut_px = static_cast<std::size_t>(std::count_if(
        colours.out_of_gamut.begin(), colours.out_of_gamut.end(), [](float flag) { return flag > 0.5f; }));
}

void BlockRenderer::blend_surround(const Block& block, ColourPlanes& colours, RenderCounts& counts) const {
    for (int y = 0; y < block.height; ++y)
        for (int x = 0; x < block.width; ++x) {
            const double share =
                coverage(job_.panel.signed_distance_mm(frame_.x_mm(block.x + x), frame_.y_mm(block.y + y)),
                         frame_.mm_per_px);
            const std::size_t i = pixel_index(block, x, y);
            if (share > 0) ++counts.panel_px;
            if (share > 0 && colours.out_of_gamut[i] > 0.5f) ++counts.out_of_gamut_px;
            if (share >= 1) continue;
            const auto t = static_cast<float>(share);
            const auto blend = [&](std::vector<float>& plane, float surround) {
                plane[i] = surround + t * (plane[i] - surround);
            };
            blend(colours.r, surround_.r);
            blend(colours.g, surround_.g);
            blend(colours.b, surround_.b);
        }
}

}  // namespace fadewright::render
