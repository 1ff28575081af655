#include "painter.h"

#include "fadewright/colour/delta_e.h"
#include "fadewright/kernels/quick_noise.h"
#include "kept_places.h"

#include <algorithm>
#include <cmath>

namespace fadewright::render {
namespace {

constexpr double kSurround_Y = 20;  // of 100
// A deviation of luminance so small that dithering hides it: 0.05 of CIEDE2000.
constexpr float kUnseenGrain = 1e-3f;
// Times as far apart as where there is none, for each unit of grain (our choice: noise that deviates by a quarter
// of the luminance from pixel to pixel is some ten units of CIEDE2000).
constexpr double kGrainHides = 2;

// The share of a pixel that lies on the panel, from its distance to the outline.
double coverage(double outline_mm, double mm_per_px) {
    return std::clamp(0.5 - outline_mm / mm_per_px, 0.0, 1.0);
}

std::size_t place_in(const Block& block, int x, int y) {
    return static_cast<std::size_t>(y) * static_cast<std::size_t>(block.width) + static_cast<std::size_t>(x);
}

int blocks_along(int px) { return (px + kBlock_px - 1) / kBlock_px; }

// From light to the values of the picture.
void encode(ColourPlanes& colours) {
    for (std::vector<float>* plane : {&colours.r, &colours.g, &colours.b}) kernels::encode_srgb(*plane);
}

void hand_over(const Block& block, const ColourPlanes& colours, const KeepRow& keep) {
    const auto width = static_cast<std::size_t>(block.width);
    for (int y = 0; y < block.height; ++y) {
        const auto row = [&](const std::vector<float>& plane) {
            return std::span(plane).subspan(place_in(block, 0, y), width);
        };
        keep(block.x, block.y + y, {row(colours.r), row(colours.g), row(colours.b)});
    }
}

}  // namespace

Viewing viewing_of(const plan::Job& job, const PreviewSettings& settings) {
    if (settings.viewing) return *settings.viewing;
    if (!job.panel.relief) return instrument(job.view_angle);
    Viewing viewing = on_body();
    viewing.shine = false;
    return viewing;
}

Painter::Painter(const plan::Job& job, const colour::Light& light, const colour::OutputProfile& profile,
                 const PreviewSettings& settings)
    : job_(job),
      profile_(profile),
      settings_(settings),
      seen_(job, light, settings.coats, viewing_of(job, settings),
            settings.work == Work::every_pixel ? Loops::plain : Loops::for_pictures),
      grain_(job, settings.coats),
      field_(settings.seed, 0),
      frame_(framed(job.panel, settings.longest_px, settings.margin)) {
    const colour::XYZ& white = seen_.white();
    const double share = kSurround_Y / 100;
    const colour::XYZ grey{share * white.X, share * white.Y, share * white.Z};
    colour::Device device;
    profile.to_device({&grey, 1}, white, {&device, 1});
    surround_ = {device.r, device.g, device.b, 0, 0};
}

std::size_t Painter::blocks() const {
    return static_cast<std::size_t>(blocks_along(frame_.width)) *
           static_cast<std::size_t>(blocks_along(frame_.height));
}

Block Painter::block(std::size_t i) const {
    const int across = blocks_along(frame_.width);
    const int x = static_cast<int>(i) % across * kBlock_px, y = static_cast<int>(i) / across * kBlock_px;
    return {x, y, std::min(kBlock_px, frame_.width - x), std::min(kBlock_px, frame_.height - y)};
}

PaintedCounts Painter::paint(const Block& block, const KeepRow& keep, Workings& at, KeptPlaces* kept) const {
    PaintedCounts counts;
    const double reach_mm = (kBlock_px + 1) * frame_.mm_per_px;
    const double middle_mm = job_.panel.signed_distance_mm(frame_.x_mm(block.x + block.width / 2),
                                                           frame_.y_mm(block.y + block.height / 2));
    ColourPlanes& colours = at.colours;
    if (middle_mm > reach_mm) {
        colours.assign(static_cast<std::size_t>(block.width) * static_cast<std::size_t>(block.height),
                       surround_);
    } else {
        counts.places = block_colours(block, kept, at);
        if (shows_grain()) roughen(block, colours);
        encode(colours);
        if (middle_mm < -reach_mm)
            count_whole(colours, counts);
        else
            blend_surround(block, colours, counts);
    }
    hand_over(block, colours, keep);
    return counts;
}

void Painter::expose(std::span<colour::XYZ> xyz) const {
    const double e = settings_.exposure;
    if (e == 1) return;
    for (colour::XYZ& c : xyz) c = {e * c.X, e * c.Y, e * c.Z};
}

void Painter::to_light(std::span<const colour::XYZ> xyz, std::vector<colour::Device>& light,
                       std::span<DeviceColour> out) const {
    light.resize(xyz.size());
    profile_.to_light(xyz, seen_.white(), light);
    for (std::size_t i = 0; i < xyz.size(); ++i)
        out[i] = {light[i].r, light[i].g, light[i].b, light[i].outside ? 1.0f : 0.0f, 0};
}

void Painter::colours_at(std::span<const PixelPlace> pixels, KeptPlaces* kept, Workings& at,
                         std::span<DeviceColour> out) const {
    at.x_mm.clear();
    at.y_mm.clear();
    for (const PixelPlace& pixel : pixels) {
        at.x_mm.push_back(frame_.x_mm(pixel.x));
        at.y_mm.push_back(frame_.y_mm(pixel.y));
    }
    at.xyz.resize(pixels.size());
    if (kept) {
        seen_.unlay(at.x_mm, at.y_mm, at.laid);
        at.reflectance.resize(colour::kBandCount * pixels.size());
        const std::size_t lowest = kept->recall(seen_, pixels, at.x_mm, at.y_mm, at.laid, at.reflectance);
        seen_.lay_coats(lowest, seen_.coats(), at.laid, at.reflectance);
        seen_.see(at.laid, at.reflectance, at.xyz);
    } else {
        at.laid = seen_.laid(at.x_mm, at.y_mm);
        seen_.xyz(at.laid, at.xyz);
    }
    expose(at.xyz);
    to_light(at.xyz, at.light, out);
    if (shows_grain()) add_grain(at.laid, at.x_mm, at.y_mm, at.xyz, out);
}

void Painter::add_grain(const SeenJob::Laid& laid, std::span<const double> x, std::span<const double> y,
                        std::span<const colour::XYZ> xyz, std::span<DeviceColour> out) const {
    std::vector<double> roots(out.size(), 0.0), flashes(out.size(), 0.0);
    seen_.sparkle(laid, flashes);
    if (grain_.any()) grain_.roots_mm(x, y, roots);
    const double area = frame_.mm_per_px * frame_.mm_per_px;
    for (std::size_t i = 0; i < out.size(); ++i) {
        const double Y = xyz[i].Y / (settings_.exposure * seen_.white().Y);
        const double flashing = Y > 0 ? std::sqrt(flashes[i]) / Y : 0;
        const double variance = (roots[i] * roots[i] + flashing * flashing) / area;
        out[i].grain = static_cast<float>(std::sqrt(std::log1p(variance)));
    }
}

// Light times a factor of mean 1 that is never negative, exp(s z - s^2/2); s^2 = ln(1 + variance) is the grain of the
// colours.
void Painter::roughen(const Block& block, ColourPlanes& colours) const {
    const bool any = std::any_of(colours.grain.begin(), colours.grain.end(),
                                 [](float grain) { return grain > kUnseenGrain; });
    if (!any) return;
    std::vector<double> noise(colours.size());
    // The grid's rows run up, the picture's run down: from the block's lowest row.
    GrainGrid grid;
    grid.x0_mm = frame_.left_mm;
    grid.y0_mm = frame_.top_mm - frame_.height * frame_.mm_per_px;
    grid.pixel_mm = frame_.mm_per_px;
    grid.first_column = block.x;
    grid.first_row = frame_.height - (block.y + block.height);
    grid.columns = block.width;
    grid.rows = block.height;
    field_.means(grid, noise);
    const auto mm_per_px = static_cast<float>(frame_.mm_per_px);
    const auto width = static_cast<std::size_t>(block.width);
    std::vector<float> z(width), factors(width);
    for (int y = 0; y < block.height; ++y) {
        const std::size_t row = place_in(block, 0, y);
        const double* const of_row = &noise[place_in(block, 0, block.height - 1 - y)];
        for (std::size_t x = 0; x < width; ++x) z[x] = static_cast<float>(of_row[x]) * mm_per_px;
        kernels::quick::noise_factors(std::span(colours.grain).subspan(row, width), z, factors);
        for (std::vector<float>* plane : {&colours.r, &colours.g, &colours.b})
            for (std::size_t x = 0; x < width; ++x) (*plane)[row + x] *= factors[x];
    }
}

// What the edges near a block ask of it: the finest width (0: a jump), none if no edge is near.
std::optional<double> Painter::finest_near(const Block& block) const {
    const double x = frame_.x_mm(block.x + block.width / 2), y = frame_.y_mm(block.y + block.height / 2);
    const double reach_mm = (kBlock_px + 1) * frame_.mm_per_px;
    std::optional<double> finest;
    for (const plan::Edge& edge : job_.edges)
        if (edge.distance_mm(x, y) <= reach_mm + edge.band.value)
            finest = std::min(finest.value_or(edge.fine.value), edge.fine.value);
    return finest;
}

bool Painter::jumps_in(double x, double y) const {
    return std::any_of(job_.edges.begin(), job_.edges.end(), [&](const plan::Edge& edge) {
        return edge.fine.value < frame_.mm_per_px && edge.distance_mm(x, y) <= clear_mm() + edge.band.value;
    });
}

// Every pixel of a block; those that an edge crosses as the mean of what is seen at kFine x kFine places.
void Painter::every_colour(std::span<const PixelPlace> pixels, bool jumps, Workings& at,
                           std::span<DeviceColour> out) const {
    colours_at(pixels, nullptr, at, out);
    if (!jumps) return;
    constexpr int kFine = 6;
    for (std::size_t i = 0; i < pixels.size(); ++i) {
        const double x0 = frame_.x_mm(pixels[i].x), y0 = frame_.y_mm(pixels[i].y);
        if (!jumps_in(x0, y0)) continue;
        std::vector<double> x, y;
        for (int j = 0; j < kFine; ++j)
            for (int k = 0; k < kFine; ++k) {
                x.push_back(x0 + frame_.mm_per_px * ((k + 0.5) / kFine - 0.5));
                y.push_back(y0 + frame_.mm_per_px * ((j + 0.5) / kFine - 0.5));
            }
        std::vector<colour::XYZ> xyz(x.size());
        seen_.xyz(x, y, xyz);
        expose(xyz);
        colour::XYZ mean{};
        for (const colour::XYZ& one : xyz)
            mean = {mean.X + one.X / (kFine * kFine), mean.Y + one.Y / (kFine * kFine),
                    mean.Z + one.Z / (kFine * kFine)};
        to_light({&mean, 1}, at.light, out.subspan(i, 1));
    }
}

// Grain hides small differences below it. Where the Euclidean distance is far below the tolerance, CIEDE2000 is too:
// its weights of lightness, chroma and hue are at least 1, but a* counts up to 1.5 times and blue hues turn.
void Painter::apart(const ColourPlanes& a, const ColourPlanes& b, std::span<double> dE) const {
    constexpr double kMoreThan76 = 2.2;
    const kernels::LabPlanes p = profile_.labs_of_light(a.r, a.g, a.b),
                             q = profile_.labs_of_light(b.r, b.g, b.b);
    for (std::size_t i = 0; i < dE.size(); ++i) {
        const colour::Lab one{p.L[i], p.a[i], p.b[i]}, other{q.L[i], q.a[i], q.b[i]};
        dE[i] = kMoreThan76 * colour::delta_e_76(one, other);
        if (dE[i] > kRefineTolerance_dE)
            dE[i] = colour::delta_e_2000(one, other) / (1 + kGrainHides * std::min(a.grain[i], b.grain[i]));
    }
}

// No cell may be so large that a change of film fits between the places worked out in it.
int Painter::largest_cell(double finest_mm) const {
    if (finest_mm <= 0) return kBlock_px;
    int cell = 2;
    while (cell < kBlock_px && 2 * cell * frame_.mm_per_px <= finest_mm) cell *= 2;
    return cell;
}

std::size_t Painter::block_colours(const Block& block, KeptPlaces* kept, Workings& at) const {
    const std::optional<double> near = finest_near(block);
    const bool jumps = near && *near < frame_.mm_per_px;
    const double all = job_.finest.value;
    const double finest = near ? (all > 0 ? std::min(*near, all) : *near) : all;
    if (settings_.work == Work::refined && !jumps) {
        const ColoursAt colours_of = [&](std::span<const PixelPlace> p, std::span<DeviceColour> out) {
            colours_at(p, kept, at, out);
        };
        const Apart apart_of = [this](const ColourPlanes& a, const ColourPlanes& b, std::span<double> dE) {
            apart(a, b, dE);
        };
        return fill_block(block, largest_cell(finest), kRefineTolerance_dE, colours_of, apart_of, at.colours);
    }
    std::vector<PixelPlace> pixels;
    for (int y = 0; y < block.height; ++y)
        for (int x = 0; x < block.width; ++x) pixels.push_back({block.x + x, block.y + y});
    std::vector<DeviceColour> found(pixels.size());
    every_colour(pixels, jumps, at, found);
    at.colours.resize(found.size());
    for (std::size_t i = 0; i < found.size(); ++i) at.colours.put(i, found[i]);
    return pixels.size();
}

void Painter::count_whole(const ColourPlanes& colours, PaintedCounts& counts) {
    counts.panel_px = colours.size();
    counts.outside_px = static_cast<std::size_t>(std::count_if(colours.outside.begin(), colours.outside.end(),
                                                               [](float mark) { return mark > 0.5f; }));
}

void Painter::blend_surround(const Block& block, ColourPlanes& colours, PaintedCounts& counts) const {
    for (int y = 0; y < block.height; ++y)
        for (int x = 0; x < block.width; ++x) {
            const double share =
                coverage(job_.panel.signed_distance_mm(frame_.x_mm(block.x + x), frame_.y_mm(block.y + y)),
                         frame_.mm_per_px);
            const std::size_t i = place_in(block, x, y);
            if (share > 0) ++counts.panel_px;
            if (share > 0 && colours.outside[i] > 0.5f) ++counts.outside_px;
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
