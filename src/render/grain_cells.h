// Cells of the noise pyramid (render/grain_field.h): their sizes, the random numbers that divide them, and
// the part of a cell that a pixel covers.
#pragma once

#include "fadewright/base/random.h"

#include <algorithm>
#include <cmath>
#include <cstdint>

namespace fadewright::render {

// The numbers that divide a cell: left against right, top against bottom, diagonal.
enum class Split : std::uint64_t { horizontal, vertical, diagonal };

// Hash keys of a field. The numbers of a row of cells are hashed normals (kernels/hash_gaussian.h): the key
// is that of the row, the counter that of the column.
class HaarKey {
public:
    HaarKey(std::uint64_t seed, std::uint64_t stream) noexcept
        : mixed_(splitmix64(splitmix64(seed) ^ stream)) {}

    [[nodiscard]] std::uint64_t of_row(int level, std::int64_t iy, Split split) const noexcept {
        constexpr int kRowBits = 56, kCuttingBits = 2;
        constexpr std::uint64_t kRow = (1ull << kRowBits) - 1;
        const std::uint64_t packed = static_cast<std::uint64_t>(level) << (kRowBits + kCuttingBits) |
                                     static_cast<std::uint64_t>(split) << kRowBits |
                                     (static_cast<std::uint64_t>(iy) & kRow);
        return splitmix64(mixed_ ^ packed);
    }
    [[nodiscard]] static std::uint32_t column(std::int64_t ix) noexcept {
        return static_cast<std::uint32_t>(ix);
    }

private:
    std::uint64_t mixed_;
};

// Cells of one size, from the roots down.
struct CellLevel {
    int number;
    double side_mm, per_side;  // powers of two: products with them are exact
};
// The coarsest level whose cells fit into the area (except for rounding of its edges).
[[nodiscard]] CellLevel level_for_patch(double patch_mm);

[[nodiscard]] inline std::int64_t cell_at(double mm, const CellLevel& level) noexcept {
    const double at = mm * level.per_side;
    const auto truncated = static_cast<std::int64_t>(at);
    return static_cast<double>(truncated) > at ? truncated - 1 : truncated;
}

// Part of a cell that an interval of the axis covers.
struct CellPart {
    double u = 1;  // share of the cell
    double s = 0;  // root of u (1 - u), negative if the far end is covered
};
[[nodiscard]] inline CellPart cell_part(std::int64_t cell, const CellLevel& level, double from_mm,
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
