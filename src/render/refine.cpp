#include "fadewright/render/refine.h"

#include "fadewright/base/contract.h"

#include <algorithm>
#include <array>
#include <bit>
#include <cstdint>
#include <limits>

namespace fadewright::render {
namespace {

constexpr int kSide = kBlock_px + 1;

// A curve may cross what was foretold of it just at the middle of a cell and look good there. The cell it was cut
// from tells: the error of a parabola falls with the cube of its length, so a cell is trusted only if its parent
// was off by no more than this many tolerances.
constexpr double kTrustedParent = 8;

struct Along {
    int x = 0, y = 0;
};
struct Off {
    double x = 0, y = 0;  // CIEDE2000
};

// Fades mostly change one way only: a cell is cut across the way in which it is off.
struct Cell {
    Along at, size;
    Along parent_at, parent_size;  // 0: not cut from any
    bool cut_in_x = false;         // else in y
    Off off, parent_off;           // as far as is known
};

DeviceColour between(const DeviceColour& a, const DeviceColour& b, float t) {
    const auto mix = [t](float from, float to) { return from + t * (to - from); };
    return {mix(a.r, b.r), mix(a.g, b.g), mix(a.b, b.b), mix(a.outside, b.outside), mix(a.grain, b.grain)};
}

// The worked-out places of one block, on its pixel grid with one row and column more.
class Nodes {
public:
    Nodes(const Block& block, const ColoursAt& colours_at) : block_(block), colours_at_(colours_at) {
        number_.fill(kUnknown);
    }

    void want(int x, int y) {
        std::int16_t& number = number_[index(x, y)];
        if (number != kUnknown) return;
        number = static_cast<std::int16_t>(places_.size());
        places_.push_back({block_.x + x, block_.y + y});
    }

    void work_out() {
        const std::size_t known = colours_.size();
        if (known == places_.size()) return;
        colours_.resize(places_.size());
        colours_at_(std::span(places_).subspan(known), std::span(colours_).subspan(known));
    }

    [[nodiscard]] const DeviceColour& at(int x, int y) const {
        return colours_[static_cast<std::size_t>(number_[index(x, y)])];
    }
    [[nodiscard]] std::size_t count() const { return colours_.size(); }

private:
    static constexpr std::int16_t kUnknown = -1;
    static std::size_t index(int x, int y) {
        return static_cast<std::size_t>(y) * kSide + static_cast<std::size_t>(x);
    }

    Block block_;
    const ColoursAt& colours_at_;
    std::array<std::int16_t, static_cast<std::size_t>(kSide) * kSide> number_;
    std::vector<PixelPlace> places_;
    std::vector<DeviceColour> colours_;  // of the places that are worked out
};

void want_nine(Nodes& nodes, const Cell& cell) {
    for (int j = 0; j <= 2; ++j)
        for (int i = 0; i <= 2; ++i)
            nodes.want(cell.at.x + i * cell.size.x / 2, cell.at.y + j * cell.size.y / 2);
}

// The parabola through the values at 0, 1/2 and 1: how much of each a cell takes at every pixel across it.
struct Parabola {
    std::array<float, kSide> first{}, middle{}, last{};

    explicit Parabola(int size) {
        for (int i = 0; i <= size; ++i) {
            const float t = static_cast<float>(i) / static_cast<float>(size);
            const auto at = static_cast<std::size_t>(i);
            first[at] = (1 - 2 * t) * (1 - t);
            middle[at] = 4 * t * (1 - t);
            last[at] = t * (2 * t - 1);
        }
    }
    [[nodiscard]] float through(float a, float b, float c, int i) const {
        const auto at = static_cast<std::size_t>(i);
        return first[at] * a + middle[at] * b + last[at] * c;
    }
};

const Parabola& parabola_of(int size) {
    static_assert(kBlock_px == 32);
    static const std::array<Parabola, 5> of_powers{Parabola(2), Parabola(4), Parabola(8), Parabola(16),
                                                   Parabola(32)};
    return of_powers[static_cast<std::size_t>(std::countr_zero(static_cast<unsigned>(size))) - 1];
}

using Part = float DeviceColour::*;
constexpr Part kParts[] = {&DeviceColour::r, &DeviceColour::g, &DeviceColour::b, &DeviceColour::outside,
                           &DeviceColour::grain};

// One part of the nine nodes of a cell, row by row.
using Nine = std::array<float, 9>;
Nine nine_of(const Nodes& nodes, const Along& at, const Along& size, Part part) {
    Nine out;
    float* to = out.data();
    for (int j = 0; j <= 2; ++j)
        for (int i = 0; i <= 2; ++i) *to++ = nodes.at(at.x + i * size.x / 2, at.y + j * size.y / 2).*part;
    return out;
}

// The colour at a place of a cell by the parabolas through its nine nodes.
DeviceColour curved(const Nodes& nodes, const Along& at, const Along& size, int x, int y) {
    const Parabola &across = parabola_of(size.x), &down = parabola_of(size.y);
    DeviceColour out;
    for (const Part part : kParts) {
        const Nine v = nine_of(nodes, at, size, part);
        const int i = x - at.x, j = y - at.y;
        out.*part = across.through(down.through(v[0], v[3], v[6], j), down.through(v[1], v[4], v[7], j),
                                   down.through(v[2], v[5], v[8], j), i);
    }
    out.grain = std::max(0.0f, out.grain);
    return out;
}

DeviceColour sum_of(const DeviceColour& a, const DeviceColour& b, float share) {
    const auto sum = [share](float p, float q) { return p + share * q; };
    return {sum(a.r, b.r), sum(a.g, b.g), sum(a.b, b.b), sum(a.outside, b.outside), sum(a.grain, b.grain)};
}

// Colours foretold and found, to be compared all at once.
class Comparison {
public:
    Comparison(std::size_t count, const Apart& apart) : apart_(apart), dE_(count) {
        told_.resize(count);
        found_.resize(count);
    }

    void add(const DeviceColour& told, const DeviceColour& found) {
        told_.put(next_, told);
        found_.put(next_++, found);
    }
    void make() {
        FW_EXPECTS(next_ == dE_.size());
        if (!dE_.empty()) apart_(told_, found_, dE_);
        next_ = 0;
    }
    // The largest of the next ones, in the order they were added.
    double worst_of_next(std::size_t count) {
        const auto first = dE_.begin() + static_cast<std::ptrdiff_t>(next_);
        next_ += count;
        return *std::max_element(first, first + static_cast<std::ptrdiff_t>(count));
    }

private:
    const Apart& apart_;
    ColourPlanes told_, found_;
    std::vector<double> dE_;
    std::size_t next_ = 0;
};

bool is_first(const Cell& cell) { return cell.parent_size.x == 0; }

// A first cell is foretold straight, from the ends of its rows and columns.
void compare_straight(const Nodes& nodes, const Cell& cell, Comparison& comparison) {
    const Along h{cell.size.x / 2, cell.size.y / 2};
    const auto node = [&](int i, int j) -> const DeviceColour& {
        return nodes.at(cell.at.x + i * h.x, cell.at.y + j * h.y);
    };
    for (int i = 0; i <= 2; ++i) comparison.add(between(node(0, i), node(2, i), 0.5f), node(1, i));
    for (int i = 0; i <= 2; ++i) comparison.add(between(node(i, 0), node(i, 2), 0.5f), node(i, 1));
}

Off off_straight(Comparison& comparison) {
    const double in_x = comparison.worst_of_next(3);
    return {in_x, comparison.worst_of_next(3)};
}

// A cell that was cut from another has three new nodes, in a row across the cut. The way it was cut is off by what
// they are; the other way by how far the middle one is off when the ends are put right.
void compare_foretold(const Nodes& nodes, const Cell& cell, Comparison& comparison) {
    const Along h{cell.size.x / 2, cell.size.y / 2};
    std::array<DeviceColour, 3> told, found;
    for (int i = 0; i <= 2; ++i) {
        const int x = cell.at.x + (cell.cut_in_x ? h.x : i * h.x);
        const int y = cell.at.y + (cell.cut_in_x ? i * h.y : h.y);
        const auto k = static_cast<std::size_t>(i);
        told[k] = curved(nodes, cell.parent_at, cell.parent_size, x, y);
        found[k] = nodes.at(x, y);
        comparison.add(told[k], found[k]);
    }
    const DeviceColour ends =
        sum_of(sum_of(between(found[0], found[2], 0.5f), told[1], 1), between(told[0], told[2], 0.5f), -1);
    comparison.add(ends, found[1]);
}

Off off_foretold(const Cell& cell, Comparison& comparison) {
    const double along = comparison.worst_of_next(3), across = comparison.worst_of_next(1);
    return cell.cut_in_x ? Off{along, std::max(cell.off.y, across)}
                         : Off{std::max(cell.off.x, across), along};
}

// How far every cell is off, as far as its nine nodes tell.
void find_off(const Nodes& nodes, std::vector<Cell>& cells, const Apart& apart) {
    std::size_t count = 0;
    for (const Cell& cell : cells) count += is_first(cell) ? 6u : 4u;
    Comparison comparison(count, apart);
    for (const Cell& cell : cells)
        (is_first(cell) ? compare_straight : compare_foretold)(nodes, cell, comparison);
    comparison.make();
    for (Cell& cell : cells)
        cell.off = is_first(cell) ? off_straight(comparison) : off_foretold(cell, comparison);
}

// A first cell has no parent that could tell: two more of its points, the middles of two quarters, have to lie on
// its own parabolas.
void probe_first_cells(Nodes& nodes, std::vector<Cell>& cells, double tolerance_dE, const Apart& apart) {
    std::vector<Cell*> probed;
    for (Cell& cell : cells)
        if (is_first(cell) && std::max(cell.off.x, cell.off.y) <= tolerance_dE && cell.size.x >= 4)
            probed.push_back(&cell);
    if (probed.empty()) return;
    const auto each_probe = [&](const auto& work) {
        for (const Cell* cell : probed)
            for (const int quarter : {1, 3})
                work(*cell, cell->at.x + quarter * cell->size.x / 4, cell->at.y + quarter * cell->size.y / 4);
    };
    each_probe([&](const Cell&, int x, int y) { nodes.want(x, y); });
    nodes.work_out();
    Comparison comparison(2 * probed.size(), apart);
    each_probe([&](const Cell& cell, int x, int y) {
        comparison.add(curved(nodes, cell.at, cell.size, x, y), nodes.at(x, y));
    });
    comparison.make();
    for (Cell* cell : probed) {
        const double dE = comparison.worst_of_next(2);
        cell->off = {std::max(cell->off.x, dE), std::max(cell->off.y, dE)};
    }
}

// One part of a leaf's pixels.
void fill_part(const Nine& v, const Cell& cell, const Along& end, int width, float* plane) {
    const Parabola &across = parabola_of(cell.size.x), &down = parabola_of(cell.size.y);
    const auto count = static_cast<std::size_t>(end.x - cell.at.x);
    const bool nothing = std::all_of(v.begin(), v.end(), [](float value) { return value == 0; });
    for (int y = cell.at.y; y < end.y; ++y) {
        float* row = plane + static_cast<std::ptrdiff_t>(y) * width + cell.at.x;
        if (nothing) {
            std::fill_n(row, count, 0.0f);
            continue;
        }
        const int j = y - cell.at.y;
        const float a = down.through(v[0], v[3], v[6], j), b = down.through(v[1], v[4], v[7], j),
                    c = down.through(v[2], v[5], v[8], j);
        for (std::size_t i = 0; i < count; ++i)
            row[i] = across.first[i] * a + across.middle[i] * b + across.last[i] * c;
    }
}

void fill_leaf(const Nodes& nodes, const Cell& cell, const Block& block, ColourPlanes& colours) {
    const Along end{std::min(cell.at.x + cell.size.x, block.width),
                    std::min(cell.at.y + cell.size.y, block.height)};
    std::vector<float>* const planes[] = {&colours.r, &colours.g, &colours.b, &colours.outside,
                                          &colours.grain};
    for (std::size_t p = 0; p < std::size(kParts); ++p)
        fill_part(nine_of(nodes, cell.at, cell.size, kParts[p]), cell, end, block.width, planes[p]->data());
}

// How badly a cell wants to be cut in one way; up to 1 it need not be.
double need(int size, int largest_cell_px, double off, double parent_off, double tolerance_dE) {
    if (size == 2) return 0;
    if (size > largest_cell_px) return std::numeric_limits<double>::infinity();
    return std::max(off, parent_off / kTrustedParent) / tolerance_dE;
}

// The halves of a cell that hold any pixel of the block.
void cut(const Cell& cell, bool in_x, const Block& block, std::vector<Cell>& next) {
    Cell half = cell;
    half.parent_at = cell.at;
    half.parent_size = cell.size;
    half.cut_in_x = in_x;
    (in_x ? half.size.x : half.size.y) /= 2;
    (in_x ? half.parent_off.x : half.parent_off.y) = in_x ? cell.off.x : cell.off.y;
    next.push_back(half);
    (in_x ? half.at.x : half.at.y) += in_x ? half.size.x : half.size.y;
    if (half.at.x < block.width && half.at.y < block.height) next.push_back(half);
}

}  // namespace

std::size_t fill_block(const Block& block, int largest_cell_px, double tolerance_dE,
                       const ColoursAt& colours_at, const Apart& apart, ColourPlanes& colours) {
    FW_EXPECTS(block.width > 0 && block.width <= kBlock_px && block.height > 0 && block.height <= kBlock_px);
    FW_EXPECTS(largest_cell_px >= 2 && largest_cell_px <= kBlock_px);
    colours.resize(static_cast<std::size_t>(block.width) * static_cast<std::size_t>(block.height));
    Nodes nodes(block, colours_at);
    std::vector<Cell> cells;
    // Twice the largest cell to begin with: those are all cut, but foretell their parts.
    const int first_px = std::min(2 * largest_cell_px, kBlock_px);
    for (int y = 0; y < block.height; y += first_px)
        for (int x = 0; x < block.width; x += first_px) {
            Cell cell;
            cell.at = {x, y};
            cell.size = {first_px, first_px};
            cells.push_back(cell);
        }
    while (!cells.empty()) {
        for (const Cell& cell : cells) want_nine(nodes, cell);
        nodes.work_out();
        find_off(nodes, cells, apart);
        probe_first_cells(nodes, cells, tolerance_dE, apart);
        std::vector<Cell> next;
        next.reserve(2 * cells.size());
        for (const Cell& cell : cells) {
            const double in_x =
                need(cell.size.x, largest_cell_px, cell.off.x, cell.parent_off.x, tolerance_dE);
            const double in_y =
                need(cell.size.y, largest_cell_px, cell.off.y, cell.parent_off.y, tolerance_dE);
            if (std::max(in_x, in_y) <= 1)
                fill_leaf(nodes, cell, block, colours);
            else
                cut(cell, in_x > in_y, block, next);
        }
        cells = std::move(next);
    }
    for (float& grain : colours.grain) grain = std::max(0.0f, grain);
    return nodes.count();
}

}  // namespace fadewright::render
