// The cells that noise for grain is made of (render/grain_field.h): their sizes, the numbers that cut them, and what
// part of one a pixel covers.
#pragma once

#include "fadewright/base/normal.h"
#include "fadewright/base/random.h"

#include <algorithm>
#include <cmath>
#include <cstdint>

namespace fadewright::render {

// Level and place of a cell as one number, 29 bits for each coordinate: place_of() its column, or row_of() the rest.
constexpr int kPlaceBits = 29;
constexpr std::uint64_t kPlace = (1ull << kPlaceBits) - 1;

constexpr std::uint64_t place_of(std::int64_t ix) noexcept {
    return (static_cast<std::uint64_t>(ix) & kPlace) << kPlaceBits;
}
constexpr std::uint64_t row_of(int level, std::int64_t iy) noexcept {
    return static_cast<std::uint64_t>(level) << (2 * kPlaceBits) | (static_cast<std::uint64_t>(iy) & kPlace);
}

// What all cells of a field share: random_bits() of seed and stream as far as it goes without the cell; and the
// numbers that cut one, of its random bits: left against right, top against bottom, crosswise.
class CutKey {
public:
    CutKey(std::uint64_t seed, std::uint64_t stream) noexcept
        : mixed_(mixed_bits(mixed_bits(seed) ^ stream)), steps_(normal_steps()) {}

    [[nodiscard]] std::uint64_t mixed() const noexcept { return mixed_; }
    [[nodiscard]] float a(std::uint64_t bits) const noexcept { return normal(bits >> 9); }
    [[nodiscard]] float b(std::uint64_t bits) const noexcept { return normal(bits >> 30); }
    [[nodiscard]] float d(std::uint64_t bits) const noexcept { return normal(bits >> 51); }

private:
    [[nodiscard]] float normal(std::uint64_t bits) const noexcept {
        return steps_[bits & (steps_.size() - 1)];
    }

    std::uint64_t mixed_;
    const NormalSteps& steps_;
};

// Cells of one size, from the roots down.
struct CellLevel {
    int number;
    double side_mm, per_side;  // powers of two, so that timing by one of them rounds nothing
};
// The coarsest whose cells fit into the patch (but for rounding of its edges).
[[nodiscard]] CellLevel level_within(double patch_mm);

[[nodiscard]] inline std::int64_t cell_at(double mm, const CellLevel& level) noexcept {
    const double at = mm * level.per_side;
    const auto towards_0 = static_cast<std::int64_t>(at);
    return static_cast<double>(towards_0) > at ? towards_0 - 1 : towards_0;
}

// Part of a cell that a stretch of the axis covers.
struct CellPart {
    double u = 1;  // share of the cell
    double s = 0;  // root of u (1 - u), negative if the far end is covered
};
[[nodiscard]] inline CellPart part_of(std::int64_t cell, const CellLevel& level, double from_mm,
                                      double to_mm) noexcept {
    const double start = static_cast<double>(cell) * level.side_mm;
    const double before = std::max(0.0, from_mm - start) * level.per_side;
    const double after = std::max(0.0, start + level.side_mm - to_mm) * level.per_side;
    if (before == 0 && after == 0) return {};
    const double u = std::max(0.0, 1 - before - after);
    const double s = std::sqrt(u * std::min(1.0, before + after));
    return {u, before > after ? -s : s};
}

}  // namespace fadewright::render
