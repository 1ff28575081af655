#include "kept_places.h"

#include <algorithm>

namespace fadewright::render {
namespace {

constexpr std::size_t kBands = colour::kBandCount;

}  // namespace

bool CoatsBefore::all_same() const { return gone.empty() && unchanged == coats.size(); }

bool CoatsBefore::each_film_where_it_was() const {
    for (std::size_t c = 0; c < coats.size(); ++c)
        if (coats[c].film && *coats[c].film != c) return false;
    return true;
}

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

// True if the film of a coat that looks different now, or did before, lies at any of the places.
bool KeptPlaces::renew_films(const SeenJob& seen, const PanelPlaces& where, const CoatsBefore& before) {
    const std::size_t count = pixels_.size(), coats = seen.coats();
    const auto any_film = [&](std::size_t coat) {
        for (std::size_t i = 0; i < count; ++i)
            if (films_[i * coats_ + coat] != 0) return true;
        return false;
    };
    bool differs = std::any_of(before.gone.begin(), before.gone.end(), any_film);
    const bool in_place = coats == coats_ && before.each_film_where_it_was();
    if (!in_place) {
        std::vector<double> moved(count * coats);
        for (std::size_t c = 0; c < coats; ++c)
            if (const auto& was = before.coats[c].film)
                for (std::size_t i = 0; i < count; ++i) moved[i * coats + c] = films_[i * coats_ + *was];
        films_ = std::move(moved);
        coats_ = coats;
    }
    std::vector<double> film;
    for (std::size_t c = 0; c < coats; ++c) {
        const CoatsBefore::Coat& was = before.coats[c];
        if (!was.film) {
            film.assign(count, 0.0);
            seen.add_film(c, where.x_mm, where.y_mm, film);
            for (std::size_t i = 0; i < count; ++i) films_[i * coats + c] = film[i];
        }
        if (!was.film || !was.same_paint) differs = differs || any_film(c);
    }
    return differs;
}

// From what lay below before, if that is not too high, else from the ground.
void KeptPlaces::renew_below(const SeenJob& seen, const PanelPlaces& where, std::size_t lowest) {
    if (lowest == lowest_) return;
    SeenJob::Laid laid = seen.unlaid(where.x_mm, where.y_mm);
    const std::size_t first = lowest > lowest_ ? lowest_ : 0;
    for (std::size_t c = first; c < lowest; ++c)
        for (std::size_t i = 0; i < pixels_.size(); ++i) laid.film(c)[i] = films_[i * coats_ + c];
    if (first == 0) seen.bare(laid, below_);
    seen.lay_coats(first, lowest, laid, below_);
    lowest_ = lowest;
}

bool KeptPlaces::renew(const SeenJob& seen, const Frame& frame, const CoatsBefore& before) {
    if (pixels_.size() > kMost) forget();
    if (empty()) return true;
    PanelPlaces where;
    for (const PixelPlace& pixel : pixels_) {
        where.x_mm.push_back(frame.x_mm(pixel.x));
        where.y_mm.push_back(frame.y_mm(pixel.y));
    }
    const bool differs = renew_films(seen, where, before);
    renew_below(seen, where, before.unchanged);
    return differs;
}

}  // namespace fadewright::render
