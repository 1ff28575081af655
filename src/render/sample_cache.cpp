#include "sample_cache.h"

#include <algorithm>

namespace fadewright::render {
namespace {

constexpr std::size_t kBandCount = colour::kBandCount;

}  // namespace

bool CoatDiff::all_same() const { return removed.empty() && unchanged_count == coats.size(); }

bool CoatDiff::keeps_film_order() const {
    for (std::size_t c = 0; c < coats.size(); ++c)
        if (coats[c].film && *coats[c].film != c) return false;
    return true;
}

std::size_t SampleCache::index(PixelCoord pixel) const {
    return static_cast<std::size_t>(pixel.y - block_.y) * kSide +
           static_cast<std::size_t>(pixel.x - block_.x);
}

void SampleCache::clear() {
    slot_of_.fill(kUnknown);
    pixels_.clear();
    films_.clear();
    substrate_.clear();
    lowest_coat_ = 0;
}

// Slots from first_slot on store the points of `samples`, in order.
void SampleCache::store(std::size_t first_slot, const PanelShader::Samples& samples,
                        std::span<const float> substrate) {
    const std::size_t count = samples.count();
    films_.resize((first_slot + count) * coats_);
    substrate_.resize((first_slot + count) * kBandCount);
    for (std::size_t i = 0; i < count; ++i) {
        for (std::size_t c = 0; c < coats_; ++c)
            films_[(first_slot + i) * coats_ + c] = samples.films[c * count + i];
    }
    std::copy(substrate.begin(), substrate.end(),
              substrate_.begin() + static_cast<std::ptrdiff_t>(first_slot * kBandCount));
}

void SampleCache::add_missing(const PanelShader& shader, std::span<const PixelCoord> pixels,
                              std::span<const double> x_mm, std::span<const double> y_mm) {
    const std::size_t first_slot = pixels_.size();
    std::vector<double> x, y;
    for (std::size_t i = 0; i < pixels.size(); ++i) {
        std::int16_t& slot = slot_of_[index(pixels[i])];
        if (slot != kUnknown) continue;
        slot = static_cast<std::int16_t>(pixels_.size());
        pixels_.push_back(pixels[i]);
        x.push_back(x_mm[i]);
        y.push_back(y_mm[i]);
    }
    if (x.empty()) return;
    const PanelShader::Samples samples = shader.sample(x, y);
    std::vector<float> substrate(kBandCount * x.size());
    shader.fill_substrate(samples, substrate);
    shader.lay_coats(0, lowest_coat_, samples, substrate);
    store(first_slot, samples, substrate);
}

std::size_t SampleCache::lookup(const PanelShader& shader, std::span<const PixelCoord> pixels,
                                std::span<const double> x_mm, std::span<const double> y_mm,
                                PanelShader::Samples& samples, std::span<float> substrate) {
    if (empty()) coats_ = shader.coats();
    add_missing(shader, pixels, x_mm, y_mm);
    const std::size_t count = pixels.size();
    for (std::size_t i = 0; i < count; ++i) {
        const auto slot = static_cast<std::size_t>(slot_of_[index(pixels[i])]);
        for (std::size_t c = 0; c < coats_; ++c) samples.films[c * count + i] = films_[slot * coats_ + c];
        std::copy_n(substrate_.begin() + static_cast<std::ptrdiff_t>(slot * kBandCount), kBandCount,
                    substrate.begin() + static_cast<std::ptrdiff_t>(i * kBandCount));
    }
    return lowest_coat_;
}

// True if a coat that looks different now, or was different before, has any film at the points.
bool SampleCache::rebase_films(const PanelShader& shader, const PanelPoints& points, const CoatDiff& diff) {
    const std::size_t count = pixels_.size(), coats = shader.coats();
    const auto any_film = [&](std::size_t coat) {
        for (std::size_t i = 0; i < count; ++i)
            if (films_[i * coats_ + coat] != 0) return true;
        return false;
    };
    bool differs = std::any_of(diff.removed.begin(), diff.removed.end(), any_film);
    const bool in_place = coats == coats_ && diff.keeps_film_order();
    if (!in_place) {
        std::vector<double> remapped(count * coats);
        for (std::size_t c = 0; c < coats; ++c)
            if (const auto& old = diff.coats[c].film)
                for (std::size_t i = 0; i < count; ++i) remapped[i * coats + c] = films_[i * coats_ + *old];
        films_ = std::move(remapped);
        coats_ = coats;
    }
    std::vector<double> film;
    for (std::size_t c = 0; c < coats; ++c) {
        const CoatDiff::Coat& old = diff.coats[c];
        if (!old.film) {
            film.assign(count, 0.0);
            shader.add_film(c, points.x_mm, points.y_mm, film);
            for (std::size_t i = 0; i < count; ++i) films_[i * coats + c] = film[i];
        }
        if (!old.film || !old.same_paint) differs = differs || any_film(c);
    }
    return differs;
}

// From the previous reflectance, if that is not too high in the stack, or from the ground.
void SampleCache::rebase_substrate(const PanelShader& shader, const PanelPoints& points, std::size_t lowest) {
    if (lowest == lowest_coat_) return;
    PanelShader::Samples samples = shader.uncoated_samples(points.x_mm, points.y_mm);
    const std::size_t first = lowest > lowest_coat_ ? lowest_coat_ : 0;
    for (std::size_t c = first; c < lowest; ++c)
        for (std::size_t i = 0; i < pixels_.size(); ++i) samples.film(c)[i] = films_[i * coats_ + c];
    if (first == 0) shader.fill_substrate(samples, substrate_);
    shader.lay_coats(first, lowest, samples, substrate_);
    lowest_coat_ = lowest;
}

bool SampleCache::rebase(const PanelShader& shader, const Frame& frame, const CoatDiff& diff) {
    if (pixels_.size() > kMaxSamples) clear();
    if (empty()) return true;
    PanelPoints points;
    for (const PixelCoord& pixel : pixels_) {
        points.x_mm.push_back(frame.x_mm(pixel.x));
        points.y_mm.push_back(frame.y_mm(pixel.y));
    }
    const bool differs = rebase_films(shader, points, diff);
    rebase_substrate(shader, points, diff.unchanged_count);
    return differs;
}

}  // namespace fadewright::render
