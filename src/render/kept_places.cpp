#include "kept_places.h"

#include <algorithm>

namespace fadewright::render {
namespace {

constexpr std::size_t kBands = colour::kBandCount;

struct Places {
    std::vector<double> x_mm, y_mm;
};

Places places_of(std::span<const PixelPlace> pixels, const Frame& frame) {
    Places places;
    for (const PixelPlace& pixel : pixels) {
        places.x_mm.push_back(frame.x_mm(pixel.x));
        places.y_mm.push_back(frame.y_mm(pixel.y));
    }
    return places;
}

bool any_film(std::span<const double> film) {
    return std::any_of(film.begin(), film.end(), [](double um) { return um != 0; });
}

}  // namespace

bool CoatsBefore::all_same() const { return gone.empty() && unchanged == coats.size(); }

std::size_t KeptPlaces::index(PixelPlace pixel) const {
    return static_cast<std::size_t>(pixel.y - block_.y) * kSide +
           static_cast<std::size_t>(pixel.x - block_.x);
}

void KeptPlaces::forget() {
    slot_of_.fill(kUnknown);
    pixels_.clear();
    films_.clear();
    below_.clear();
    lowest_ = 0;
}

// Slots from first_slot on take the places of `laid`, in order.
void KeptPlaces::store(std::size_t first_slot, const SeenJob::Laid& laid, std::span<const float> below) {
    const std::size_t count = laid.count();
    films_.resize((first_slot + count) * coats_);
    below_.resize((first_slot + count) * kBands);
    for (std::size_t i = 0; i < count; ++i) {
        for (std::size_t c = 0; c < coats_; ++c)
            films_[(first_slot + i) * coats_ + c] = laid.films[c * count + i];
    }
    std::copy(below.begin(), below.end(), below_.begin() + static_cast<std::ptrdiff_t>(first_slot * kBands));
}

void KeptPlaces::keep_new(const SeenJob& seen, std::span<const PixelPlace> pixels,
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
    const SeenJob::Laid laid = seen.laid(x, y);
    std::vector<float> below(kBands * x.size());
    seen.bare(laid, below);
    seen.lay_coats(0, lowest_, laid, below);
    store(first_slot, laid, below);
}

std::size_t KeptPlaces::recall(const SeenJob& seen, std::span<const PixelPlace> pixels,
                               std::span<const double> x_mm, std::span<const double> y_mm,
                               SeenJob::Laid& laid, std::span<float> below) {
    if (empty()) coats_ = seen.coats();
    keep_new(seen, pixels, x_mm, y_mm);
    const std::size_t count = pixels.size();
    for (std::size_t i = 0; i < count; ++i) {
        const auto slot = static_cast<std::size_t>(slot_of_[index(pixels[i])]);
        for (std::size_t c = 0; c < coats_; ++c) laid.films[c * count + i] = films_[slot * coats_ + c];
        std::copy_n(below_.begin() + static_cast<std::ptrdiff_t>(slot * kBands), kBands,
                    below.begin() + static_cast<std::ptrdiff_t>(i * kBands));
    }
    return lowest_;
}

bool KeptPlaces::renew(const SeenJob& seen, const Frame& frame, const CoatsBefore& before) {
    if (pixels_.size() > kMost) forget();
    if (empty()) return true;
    const std::size_t count = pixels_.size();
    const auto old_film = [&](std::size_t coat, std::size_t slot) { return films_[slot * coats_ + coat]; };
    const Places places = places_of(pixels_, frame);
    SeenJob::Laid laid = seen.unlaid(places.x_mm, places.y_mm);
    bool differs = false;
    for (std::size_t c = 0; c < seen.coats(); ++c) {
        const std::span<double> film = laid.film(c);
        const CoatsBefore::Coat& was = before.coats[c];
        if (was.film) {
            for (std::size_t i = 0; i < count; ++i) film[i] = old_film(*was.film, i);
        } else {
            seen.add_film(c, places.x_mm, places.y_mm, film);
        }
        if (!was.film || !was.same_paint) differs = differs || any_film(film);
    }
    for (const std::size_t coat : before.gone)
        for (std::size_t i = 0; i < count; ++i) differs = differs || old_film(coat, i) != 0;

    std::vector<float> below(kBands * count);
    const bool higher = before.unchanged >= lowest_;
    if (higher) {
        below = below_;
    } else {
        seen.bare(laid, below);
    }
    seen.lay_coats(higher ? lowest_ : 0, before.unchanged, laid, below);
    lowest_ = before.unchanged;
    coats_ = seen.coats();
    store(0, laid, below);
    return differs;
}

}  // namespace fadewright::render
