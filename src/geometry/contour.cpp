#include "fadewright/geometry/contour.h"

#include "fadewright/base/contract.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <unordered_map>
#include <utility>

namespace fadewright::geometry {
namespace {

// Corners and sides of a cell, anticlockwise from the lower left corner; side k joins corner k to k + 1.
constexpr std::array<GridNode, 4> kCorner{{{0, 0}, {1, 0}, {1, 1}, {0, 1}}};
constexpr std::size_t kSides = 4;
constexpr double kSameHeight_mm = 1e-5;

struct Sides {
    std::size_t from, to;
};

// The line segments in a cell, with the inside on their left. At most two.
struct CellPieces {
    std::array<Sides, 2> piece{};
    std::size_t count = 0;
};

CellPieces pieces_of(const std::array<bool, kSides>& in, const std::function<bool()>& centre_inside) {
    CellPieces pieces;
    std::array<std::size_t, kSides> leaves{}, enters{};
    std::size_t leave_count = 0, enter_count = 0;
    for (std::size_t k = 0; k < kSides; ++k) {
        const bool inside = in[k];
        const bool next = in[(k + 1) % kSides];
        if (inside && !next) leaves[leave_count++] = k;
        if (!inside && next) enters[enter_count++] = k;
    }
    if (leave_count == 1) {
        pieces.piece[pieces.count++] = {leaves[0], enters[0]};
    } else if (leave_count == 2) {
        // Alternating corners: the segments cut off the two that are unlike the centre.
        const bool cut_off = !centre_inside();
        for (std::size_t k = 0; k < kSides; ++k) {
            const std::size_t before = (k + kSides - 1) % kSides;
            if (in[k] != cut_off) continue;
            pieces.piece[pieces.count++] = cut_off ? Sides{k, before} : Sides{before, k};
        }
    }
    return pieces;
}

// Index of a side of the grid, the same from both cells that share it.
std::size_t side_of(const GridNodes& grid, int column, int row, std::size_t side) {
    const bool vertical = side % 2 == 1;
    const int c = side == 1 ? column + 1 : column;
    const int r = side == 2 ? row + 1 : row;
    return 2 * grid.index(c, r) + (vertical ? 1 : 0);
}

PlanePoint crossing_at(const GridNodes& grid, std::size_t side, const Crossings& crossings) {
    const std::size_t node = side / 2;
    const auto columns = static_cast<std::size_t>(grid.columns);
    const GridNode a{static_cast<int>(node % columns), static_cast<int>(node / columns)};
    const GridNode b = side % 2 == 1 ? GridNode{a.column, a.row + 1} : GridNode{a.column + 1, a.row};
    return grid.inside[node] ? crossings.crossing(a, b) : crossings.crossing(b, a);
}

double squared_distance(const PlanePoint& p, const PlanePoint& a, const PlanePoint& b) noexcept {
    const double dx = b.x_mm - a.x_mm, dy = b.y_mm - a.y_mm;
    const double px = p.x_mm - a.x_mm, py = p.y_mm - a.y_mm;
    const double length2 = dx * dx + dy * dy;
    const double t = length2 > 0 ? std::clamp((px * dx + py * dy) / length2, 0.0, 1.0) : 0.0;
    const double ex = px - t * dx, ey = py - t * dy;
    return ex * ex + ey * ey;
}

}  // namespace

std::vector<Ring> contours(const GridNodes& grid, const Crossings& crossings) {
    std::unordered_map<std::size_t, std::size_t> next;
    std::vector<std::size_t> starts;
    for (int row = 0; row + 1 < grid.rows; ++row)
        for (int column = 0; column + 1 < grid.columns; ++column) {
            std::array<bool, kSides> in{};
            for (std::size_t k = 0; k < kSides; ++k)
                in[k] = grid.inside[grid.index(column + kCorner[k].column, row + kCorner[k].row)] != 0;
            if (in[0] == in[1] && in[1] == in[2] && in[2] == in[3]) continue;
            const CellPieces pieces = pieces_of(in, [&] {
                return crossings.centre_inside(GridNode{column, row});
            });
            for (std::size_t i = 0; i < pieces.count; ++i) {
                starts.push_back(side_of(grid, column, row, pieces.piece[i].from));
                next[starts.back()] = side_of(grid, column, row, pieces.piece[i].to);
            }
        }
    std::vector<Ring> rings;
    for (const std::size_t start : starts) {
        Ring ring;
        std::size_t side = start;
        for (auto at = next.find(side); at != next.end(); at = next.find(side)) {
            ring.push_back(crossing_at(grid, side, crossings));
            side = at->second;
            next.erase(at);
        }
        FW_EXPECTS(side == start);  // otherwise the outermost nodes are not all outside
        if (ring.size() < 3) continue;
        start_at_lowest(ring);
        rings.push_back(std::move(ring));
    }
    return rings;
}

std::pair<double, double> lowest_first(const PlanePoint& p) noexcept {
    return {std::round(p.y_mm / kSameHeight_mm), p.x_mm};
}

void start_at_lowest(Ring& ring) {
    if (signed_area_mm2(ring) < 0) std::reverse(ring.begin(), ring.end());
    const auto lowest = std::min_element(
        ring.begin(), ring.end(),
        [](const PlanePoint& a, const PlanePoint& b) { return lowest_first(a) < lowest_first(b); });
    std::rotate(ring.begin(), lowest, ring.end());
}

Ring simplify(const Ring& ring, double tolerance_mm) {
    if (ring.size() < 4) return ring;
    // The first corner and the one farthest from it stay; of those between, the farthest from the chord.
    const auto from_first = [&](std::size_t i) { return squared_distance(ring[i], ring[0], ring[0]); };
    std::size_t farthest = 0;
    for (std::size_t i = 1; i < ring.size(); ++i)
        if (from_first(i) > from_first(farthest)) farthest = i;
    std::vector<std::uint8_t> keep(ring.size());
    keep[0] = keep[farthest] = 1;
    std::vector<std::pair<std::size_t, std::size_t>> pending{{0, farthest}, {farthest, ring.size()}};
    while (!pending.empty()) {
        const auto [first, last] = pending.back();
        pending.pop_back();
        double worst = tolerance_mm * tolerance_mm;
        std::size_t at = first;
        for (std::size_t i = first + 1; i < last; ++i) {
            const double d = squared_distance(ring[i], ring[first], ring[last % ring.size()]);
            if (d > worst) {
                worst = d;
                at = i;
            }
        }
        if (at == first) continue;
        keep[at] = 1;
        pending.emplace_back(first, at);
        pending.emplace_back(at, last);
    }
    Ring thin;
    for (std::size_t i = 0; i < ring.size(); ++i)
        if (keep[i]) thin.push_back(ring[i]);
    return thin;
}

double signed_area_mm2(const Ring& ring) noexcept {
    double doubled_area = 0;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const PlanePoint& a = ring[i];
        const PlanePoint& b = ring[(i + 1) % ring.size()];
        doubled_area += (a.x_mm - ring[0].x_mm) * (b.y_mm - ring[0].y_mm) -
                        (b.x_mm - ring[0].x_mm) * (a.y_mm - ring[0].y_mm);
    }
    return doubled_area / 2;
}

}  // namespace fadewright::geometry
