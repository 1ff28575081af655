// Cached samples of one block from one picture to the next: the films of all coats, and the reflectance below
// the lowest coat that changes, so that an edit costs only the coats above it.
#pragma once

#include "fadewright/render/frame.h"
#include "fadewright/render/panel_shader.h"
#include "fadewright/render/refine.h"

#include <array>
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

namespace fadewright::render {

// Differences between the coats of a job and those of the previous job.
struct CoatDiff {
    struct Coat {
        std::optional<std::size_t> film;  // the previous coat that has the same film everywhere
        bool same_paint = false;          // and looks the same
    };
    std::vector<Coat> coats;           // of the new job
    std::vector<std::size_t> removed;  // previous coats whose film none of the new ones has
    std::size_t unchanged_count = 0;   // number of lowest coats that are the same in everything
    [[nodiscard]] bool all_same() const;
    [[nodiscard]] bool keeps_film_order() const;
};

class SampleCache {
public:
    explicit SampleCache(const Block& block) : block_(block) { slot_of_.fill(kUnknown); }

    // Fills films and the reflectance below a coat; returns that coat. New points are calculated and cached.
    std::size_t lookup(const PanelShader& shader, std::span<const PixelCoord> pixels,
                       std::span<const double> x_mm, std::span<const double> y_mm,
                       PanelShader::Samples& samples, std::span<float> substrate);

    // Updates the cache to another job on the same frame. False if no cached sample looks different.
    bool rebase(const PanelShader& shader, const Frame& frame, const CoatDiff& diff);

    [[nodiscard]] bool empty() const { return pixels_.empty(); }
    void clear();

private:
    static constexpr int kSide = kBlock_px + 1;
    static constexpr std::int16_t kUnknown = -1;
    // Where nearly every pixel is calculated a cache gains little and would fill the memory.
    static constexpr std::size_t kMaxSamples = 400;

    [[nodiscard]] std::size_t index(PixelCoord pixel) const;
    void add_missing(const PanelShader& shader, std::span<const PixelCoord> pixels,
                     std::span<const double> x_mm, std::span<const double> y_mm);
    void store(std::size_t first_slot, const PanelShader::Samples& samples, std::span<const float> substrate);
    [[nodiscard]] bool rebase_films(const PanelShader& shader, const PanelPoints& points,
                                    const CoatDiff& diff);
    void rebase_substrate(const PanelShader& shader, const PanelPoints& points, std::size_t lowest);

    Block block_;
    std::array<std::int16_t, static_cast<std::size_t>(kSide) * kSide> slot_of_{};
    std::vector<PixelCoord> pixels_;  // of the slots
    std::size_t coats_ = 0;
    std::size_t lowest_coat_ = 0;   // below_ is the reflectance below this coat
    std::vector<double> films_;     // slot by slot, coats side by side
    std::vector<float> substrate_;  // slot by slot, bands side by side
};

}  // namespace fadewright::render
