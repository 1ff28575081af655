#include "fadewright/render/preview.h"

#include "fadewright/base/parallel.h"
#include "fadewright/colour/delta_e.h"
#include "fadewright/colour/srgb.h"
#include "fadewright/kernels/encode.h"
#include "fadewright/render/dot_grain.h"
#include "fadewright/render/frame.h"
#include "fadewright/render/grain_field.h"
#include "fadewright/render/refine.h"
#include "fadewright/render/spectra.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <optional>

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

// Takes part of a row of the picture, from the pixel (x, y) on; 3 values to a pixel.
using KeepRow = std::function<void(int x, int y, std::span<const float> row)>;

std::size_t place_in(const Block& block, int x, int y) {
    return static_cast<std::size_t>(y) * static_cast<std::size_t>(block.width) + static_cast<std::size_t>(x);
}

Viewing viewing_of(const plan::Job& job, const PreviewSettings& settings) {
    if (settings.viewing) return *settings.viewing;
    if (!job.panel.relief) return instrument(job.view_angle);
    Viewing viewing = on_body();
    viewing.shine = false;
    return viewing;
}

class Painter {
public:
    Painter(const plan::Job& job, const colour::Light& light, const colour::OutputProfile& profile,
            const PreviewSettings& settings)
        : job_(job),
          profile_(profile),
          settings_(settings),
          seen_(job, light, settings.coats, viewing_of(job, settings)),
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

    [[nodiscard]] int width() const { return frame_.width; }
    [[nodiscard]] int height() const { return frame_.height; }

    // Works out every block and hands it to `keep`; all of the preview but its picture. keep is called from
    // many threads, once for each row of a block.
    Preview painted(const KeepRow& keep) const {
        Preview preview;
        preview.pixels_per_metre = 1000 / frame_.mm_per_px;
        const int across = (frame_.width + kBlock_px - 1) / kBlock_px;
        const int down = (frame_.height + kBlock_px - 1) / kBlock_px;
        std::vector<Counts> counts(static_cast<std::size_t>(across) * static_cast<std::size_t>(down));
        for_each_index(counts.size(), [&](std::size_t i) {
            const int bx = static_cast<int>(i) % across * kBlock_px,
                      by = static_cast<int>(i) / across * kBlock_px;
            const Block block{bx, by, std::min(kBlock_px, frame_.width - bx),
                              std::min(kBlock_px, frame_.height - by)};
            counts[i] = paint_block(block, keep);
        });
        for (const Counts& c : counts) {
            preview.places += c.places;
            preview.panel_px += c.panel_px;
            preview.outside_px += c.outside_px;
        }
        return preview;
    }

private:
    struct Counts {
        std::size_t places = 0, panel_px = 0, outside_px = 0;
    };

    void expose(std::span<colour::XYZ> xyz) const {
        const double e = settings_.exposure;
        if (e == 1) return;
        for (colour::XYZ& c : xyz) c = {e * c.X, e * c.Y, e * c.Z};
    }

    void to_device(std::span<const colour::XYZ> xyz, std::span<DeviceColour> out) const {
        std::vector<colour::Device> device(xyz.size());
        profile_.to_device(xyz, seen_.white(), device);
        for (std::size_t i = 0; i < xyz.size(); ++i)
            out[i] = {device[i].r, device[i].g, device[i].b, device[i].outside ? 1.0f : 0.0f, 0};
    }

    void colours_at(std::span<const PixelPlace> pixels, std::span<DeviceColour> out) const {
        std::vector<double> x(pixels.size()), y(pixels.size());
        for (std::size_t i = 0; i < pixels.size(); ++i) {
            x[i] = frame_.x_mm(pixels[i].x);
            y[i] = frame_.y_mm(pixels[i].y);
        }
        std::vector<colour::XYZ> xyz(pixels.size());
        std::vector<double> roots(pixels.size(), 0.0), flashes(pixels.size(), 0.0);
        if (shows_grain())
            seen_.xyz_and_sparkle(x, y, xyz, flashes);
        else
            seen_.xyz(x, y, xyz);
        expose(xyz);
        to_device(xyz, out);
        if (!shows_grain()) return;
        if (grain_.any()) grain_.roots_mm(x, y, roots);
        for (std::size_t i = 0; i < pixels.size(); ++i) {
            const double Y = xyz[i].Y / (settings_.exposure * seen_.white().Y);
            const double flashing = Y > 0 ? std::sqrt(flashes[i]) / Y : 0;
            const double deviation = std::hypot(roots[i], flashing) / frame_.mm_per_px;
            out[i].grain = static_cast<float>(std::sqrt(std::log1p(deviation * deviation)));
        }
    }

    [[nodiscard]] bool shows_grain() const { return settings_.grain && (grain_.any() || seen_.sparkles()); }

    // Luminance times a factor of mean 1 that is never negative, exp(s z - s^2/2), as the power of sRGB's curve
    // does it to encoded values; s^2 = ln(1 + variance) is the grain of the colours.
    void roughen(const Block& block, std::vector<DeviceColour>& colours) const {
        constexpr float gamma = 2.4f, offset = 0.055f;
        const bool any = std::any_of(colours.begin(), colours.end(),
                                     [](const DeviceColour& c) { return c.grain > kUnseenGrain; });
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
        for (int y = 0; y < block.height; ++y)
            for (int x = 0; x < block.width; ++x) {
                DeviceColour& c = colours[place_in(block, x, y)];
                const float s = c.grain;
                if (s <= 0) continue;
                const float z =
                    static_cast<float>(noise[place_in(block, x, block.height - 1 - y)]) * mm_per_px;
                const float f = std::exp((s * z - s * s / 2) / gamma);
                const auto rough = [f](float v) { return (v + offset) * f - offset; };
                c = {rough(c.r), rough(c.g), rough(c.b), c.outside, 0};
            }
    }

    // Half a pixel's diagonal and more: from here an edge cannot cross the pixel.
    [[nodiscard]] double clear_mm() const { return 0.75 * frame_.mm_per_px; }

    // What the edges near a block ask of it: the finest width (0: a jump), none if no edge is near.
    [[nodiscard]] std::optional<double> finest_near(const Block& block) const {
        const double x = frame_.x_mm(block.x + block.width / 2), y = frame_.y_mm(block.y + block.height / 2);
        const double reach_mm = (kBlock_px + 1) * frame_.mm_per_px;
        std::optional<double> finest;
        for (const plan::Edge& edge : job_.edges)
            if (edge.distance_mm(x, y) <= reach_mm + edge.band.value)
                finest = std::min(finest.value_or(edge.fine.value), edge.fine.value);
        return finest;
    }

    [[nodiscard]] bool jumps_in(double x, double y) const {
        return std::any_of(job_.edges.begin(), job_.edges.end(), [&](const plan::Edge& edge) {
            return edge.fine.value < frame_.mm_per_px &&
                   edge.distance_mm(x, y) <= clear_mm() + edge.band.value;
        });
    }

    // Every pixel of a block; those that an edge crosses as the mean of what is seen at kFine x kFine places.
    void every_colour(std::span<const PixelPlace> pixels, bool jumps, std::span<DeviceColour> out) const {
        colours_at(pixels, out);
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
            to_device({&mean, 1}, out.subspan(i, 1));
        }
    }

    // Grain hides small differences below it.
    [[nodiscard]] double apart(const DeviceColour& a, const DeviceColour& b) const {
        const double hidden = 1 + kGrainHides * std::min(a.grain, b.grain);
        return colour::delta_e_2000(profile_.lab_of({a.r, a.g, a.b, false}),
                                    profile_.lab_of({b.r, b.g, b.b, false})) /
               hidden;
    }

    // No cell may be so large that a change of film fits between the places worked out in it.
    [[nodiscard]] int largest_cell(double finest_mm) const {
        if (finest_mm <= 0) return kBlock_px;
        int cell = 2;
        while (cell < kBlock_px && 2 * cell * frame_.mm_per_px <= finest_mm) cell *= 2;
        return cell;
    }

    Counts paint_block(const Block& block, const KeepRow& keep) const {
        Counts counts;
        const double reach_mm = (kBlock_px + 1) * frame_.mm_per_px;
        const double middle_mm = job_.panel.signed_distance_mm(frame_.x_mm(block.x + block.width / 2),
                                                               frame_.y_mm(block.y + block.height / 2));
        std::vector<DeviceColour> colours;
        if (middle_mm > reach_mm) {
            colours.assign(static_cast<std::size_t>(block.width) * static_cast<std::size_t>(block.height),
                           surround_);
        } else {
            counts.places = block_colours(block, colours);
            if (shows_grain()) roughen(block, colours);
            blend_surround(block, middle_mm > -reach_mm, colours, counts);
        }
        hand_over(block, colours, keep);
        return counts;
    }

    std::size_t block_colours(const Block& block, std::vector<DeviceColour>& colours) const {
        const ColoursAt at = [this](std::span<const PixelPlace> p, std::span<DeviceColour> out) {
            colours_at(p, out);
        };
        const std::optional<double> near = finest_near(block);
        const bool jumps = near && *near < frame_.mm_per_px;
        const double all = job_.finest.value;
        const double finest = near ? (all > 0 ? std::min(*near, all) : *near) : all;
        if (settings_.work == Work::refined && !jumps) {
            const Apart apart_of = [this](const DeviceColour& a, const DeviceColour& b) {
                return apart(a, b);
            };
            return fill_block(block, largest_cell(finest), kRefineTolerance_dE, at, apart_of, colours);
        }
        std::vector<PixelPlace> pixels;
        for (int y = 0; y < block.height; ++y)
            for (int x = 0; x < block.width; ++x) pixels.push_back({block.x + x, block.y + y});
        colours.resize(pixels.size());
        every_colour(pixels, jumps, colours);
        return pixels.size();
    }

    void blend_surround(const Block& block, bool at_outline, std::vector<DeviceColour>& colours,
                        Counts& counts) const {
        for (int y = 0; y < block.height; ++y)
            for (int x = 0; x < block.width; ++x) {
                DeviceColour& c = colours[place_in(block, x, y)];
                double share = 1;
                if (at_outline)
                    share = coverage(
                        job_.panel.signed_distance_mm(frame_.x_mm(block.x + x), frame_.y_mm(block.y + y)),
                        frame_.mm_per_px);
                if (share > 0) ++counts.panel_px;
                if (share > 0 && c.outside > 0.5f) ++counts.outside_px;
                if (share >= 1) continue;
                const auto t = static_cast<float>(share);
                c = {surround_.r + t * (c.r - surround_.r), surround_.g + t * (c.g - surround_.g),
                     surround_.b + t * (c.b - surround_.b), 0, 0};
            }
    }

    static void hand_over(const Block& block, const std::vector<DeviceColour>& colours, const KeepRow& keep) {
        std::vector<float> row(static_cast<std::size_t>(block.width) * 3);
        for (int y = 0; y < block.height; ++y) {
            for (int x = 0; x < block.width; ++x) {
                const DeviceColour& c = colours[place_in(block, x, y)];
                float* out = row.data() + static_cast<std::ptrdiff_t>(x) * 3;
                out[0] = c.r;
                out[1] = c.g;
                out[2] = c.b;
            }
            keep(block.x, block.y + y, row);
        }
    }

    const plan::Job& job_;
    const colour::OutputProfile& profile_;
    PreviewSettings settings_;
    SeenJob seen_;
    DotGrain grain_;
    GrainField field_;
    Frame frame_;
    DeviceColour surround_;
};

}  // namespace

double exposure_without_glare(const plan::Job& job, const colour::Light& light,
                              const PreviewSettings& settings) {
    constexpr int looks = 48;  // along each side
    const SeenJob seen(job, light, settings.coats, viewing_of(job, settings));
    if (!seen.sparkles()) return 1;
    std::vector<double> x, y;
    for (int j = 0; j < looks; ++j)
        for (int i = 0; i < looks; ++i) {
            const double px = (i + 0.5) / looks * job.panel.width.value,
                         py = (j + 0.5) / looks * job.panel.height.value;
            if (!job.panel.inside(px, py)) continue;
            x.push_back(px);
            y.push_back(py);
        }
    std::vector<colour::XYZ> xyz(x.size());
    seen.xyz(x, y, xyz);
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

Preview preview(const plan::Job& job, const colour::Light& light, const colour::OutputProfile& profile,
                const PreviewSettings& settings) {
    const Painter painter(job, light, profile, settings);
    Picture picture(painter.width(), painter.height(), 3);
    Preview preview = painter.painted([&](int x, int y, std::span<const float> row) {
        kernels::to_8_bits(row, 3, x, y, {picture.pixel(x, y), row.size()});
    });
    preview.picture = std::move(picture);
    return preview;
}

Image<float> device_picture(const plan::Job& job, const colour::Light& light,
                            const colour::OutputProfile& profile, const PreviewSettings& settings) {
    const Painter painter(job, light, profile, settings);
    Image<float> picture(painter.width(), painter.height(), 3);
    painter.painted([&](int x, int y, std::span<const float> row) {
        std::copy(row.begin(), row.end(), picture.pixel(x, y));
    });
    return picture;
}

}  // namespace fadewright::render
