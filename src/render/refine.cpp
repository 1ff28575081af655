#include "fadewright/render/refine.h"

#include "fadewright/base/contract.h"

#include <algorithm>
#include <array>
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
    Nodes(const Block& block, const ColoursAt& colours_at) : block_(block), colours_at_(colours_at) {}

    void want(int x, int y) {
        const std::size_t i = index(x, y);
        if (known_[i]) return;
        known_[i] = true;
        wanted_.push_back({x, y});
    }

    void work_out() {
        if (wanted_.empty()) return;
        std::vector<PixelPlace> places(wanted_);
        for (PixelPlace& place : places) place = {block_.x + place.x, block_.y + place.y};
        std::vector<DeviceColour> colours(places.size());
        colours_at_(places, colours);
        for (std::size_t i = 0; i < wanted_.size(); ++i) at_[index(wanted_[i].x, wanted_[i].y)] = colours[i];
        count_ += wanted_.size();
        wanted_.clear();
    }

    [[nodiscard]] const DeviceColour& at(int x, int y) const { return at_[index(x, y)]; }
    [[nodiscard]] std::size_t count() const { return count_; }

private:
    static std::size_t index(int x, int y) {
        return static_cast<std::size_t>(y) * kSide + static_cast<std::size_t>(x);
    }

    Block block_;
    const ColoursAt& colours_at_;
    std::array<DeviceColour, kSide * kSide> at_{};
    std::array<bool, kSide * kSide> known_{};
    std::vector<PixelPlace> wanted_;
    std::size_t count_ = 0;
};

void want_nine(Nodes& nodes, const Cell& cell) {
    for (int j = 0; j <= 2; ++j)
        for (int i = 0; i <= 2; ++i)
            nodes.want(cell.at.x + i * cell.size.x / 2, cell.at.y + j * cell.size.y / 2);
}

// The parabola through the values at 0, 1/2 and 1.
struct Parabola {
    float first, middle, last;
    explicit Parabola(float t)
        : first((1 - 2 * t) * (1 - t)), middle(4 * t * (1 - t)), last(t * (2 * t - 1)) {}
    [[nodiscard]] DeviceColour through(const DeviceColour& a, const DeviceColour& b,
                                       const DeviceColour& c) const {
        const auto mix = [this](float p, float q, float r) { return first * p + middle * q + last * r; };
        return {mix(a.r, b.r, c.r), mix(a.g, b.g, c.g), mix(a.b, b.b, c.b),
                mix(a.outside, b.outside, c.outside), std::max(0.0f, mix(a.grain, b.grain, c.grain))};
    }
};

// The colour at a place of a cell by the parabolas through its nine nodes: down its columns, then across.
DeviceColour curved(const Nodes& nodes, const Along& at, const Along& size, int x, int y) {
    const Parabola down(static_cast<float>(y - at.y) / static_cast<float>(size.y));
    const auto column = [&](int i) {
        const int column_x = at.x + i * size.x / 2;
        return down.through(nodes.at(column_x, at.y), nodes.at(column_x, at.y + size.y / 2),
                            nodes.at(column_x, at.y + size.y));
    };
    return Parabola(static_cast<float>(x - at.x) / static_cast<float>(size.x))
        .through(column(0), column(1), column(2));
}

DeviceColour sum_of(const DeviceColour& a, const DeviceColour& b, float share) {
    const auto sum = [share](float p, float q) { return p + share * q; };
    return {sum(a.r, b.r), sum(a.g, b.g), sum(a.b, b.b), sum(a.outside, b.outside), sum(a.grain, b.grain)};
}

// A first cell is foretold straight, from the ends of its rows and columns.
Off off_straight(const Nodes& nodes, const Cell& cell, const Apart& apart) {
    Off worst;
    const Along h{cell.size.x / 2, cell.size.y / 2};
    const auto node = [&](int i, int j) -> const DeviceColour& {
        return nodes.at(cell.at.x + i * h.x, cell.at.y + j * h.y);
    };
    for (int i = 0; i <= 2; ++i) {
        worst.x = std::max(worst.x, apart(between(node(0, i), node(2, i), 0.5f), node(1, i)));
        worst.y = std::max(worst.y, apart(between(node(i, 0), node(i, 2), 0.5f), node(i, 1)));
    }
    return worst;
}

// A cell that was cut from another has three new nodes, in a row across the cut. The way it was cut is off by what
// they are; the other way by how far the middle one is off when the ends are put right.
Off off_foretold(const Nodes& nodes, const Cell& cell, const Apart& apart) {
    const Along h{cell.size.x / 2, cell.size.y / 2};
    std::array<DeviceColour, 3> told, found;
    for (int i = 0; i <= 2; ++i) {
        const int x = cell.at.x + (cell.cut_in_x ? h.x : i * h.x);
        const int y = cell.at.y + (cell.cut_in_x ? i * h.y : h.y);
        told[static_cast<std::size_t>(i)] = curved(nodes, cell.parent_at, cell.parent_size, x, y);
        found[static_cast<std::size_t>(i)] = nodes.at(x, y);
    }
    const double along =
        std::max({apart(told[0], found[0]), apart(told[1], found[1]), apart(told[2], found[2])});
    const DeviceColour ends =
        sum_of(sum_of(between(found[0], found[2], 0.5f), told[1], 1), between(told[0], told[2], 0.5f), -1);
    const double across = apart(ends, found[1]);
    return cell.cut_in_x ? Off{along, std::max(cell.off.y, across)}
                         : Off{std::max(cell.off.x, across), along};
}

// A first cell has no parent that could tell: two more of its points, the middles of two quarters, have to lie on
// its own parabolas.
double worst_probe(Nodes& nodes, const Cell& cell, const Apart& apart) {
    const Along q{cell.size.x / 4, cell.size.y / 4};
    const std::array probes{PixelPlace{cell.at.x + q.x, cell.at.y + q.y},
                            PixelPlace{cell.at.x + 3 * q.x, cell.at.y + 3 * q.y}};
    for (const PixelPlace& at : probes) nodes.want(at.x, at.y);
    nodes.work_out();
    double worst = 0;
    for (const PixelPlace& at : probes)
        worst = std::max(worst, apart(curved(nodes, cell.at, cell.size, at.x, at.y), nodes.at(at.x, at.y)));
    return worst;
}

Off off_by(Nodes& nodes, const Cell& cell, double tolerance_dE, const Apart& apart) {
    if (cell.parent_size.x > 0) return off_foretold(nodes, cell, apart);
    Off off = off_straight(nodes, cell, apart);
    if (std::max(off.x, off.y) > tolerance_dE || cell.size.x < 4) return off;
    const double dE = worst_probe(nodes, cell, apart);
    return {std::max(off.x, dE), std::max(off.y, dE)};
}

void fill_leaf(const Nodes& nodes, const Cell& cell, const Block& block, std::vector<DeviceColour>& colours) {
    const Along h{cell.size.x / 2, cell.size.y / 2};
    const int right = std::min(cell.at.x + cell.size.x, block.width);
    const int bottom = std::min(cell.at.y + cell.size.y, block.height);
    std::vector<Parabola> across;
    for (int x = cell.at.x; x < right; ++x)
        across.emplace_back(static_cast<float>(x - cell.at.x) / static_cast<float>(cell.size.x));
    for (int y = cell.at.y; y < bottom; ++y) {
        const Parabola down(static_cast<float>(y - cell.at.y) / static_cast<float>(cell.size.y));
        std::array<DeviceColour, 3> column;
        for (int i = 0; i < 3; ++i) {
            const int x = cell.at.x + i * h.x;
            column[static_cast<std::size_t>(i)] = down.through(
                nodes.at(x, cell.at.y), nodes.at(x, cell.at.y + h.y), nodes.at(x, cell.at.y + cell.size.y));
        }
        DeviceColour* row = colours.data() + static_cast<std::ptrdiff_t>(y) * block.width + cell.at.x;
        for (const Parabola& parabola : across) *row++ = parabola.through(column[0], column[1], column[2]);
    }
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
                       const ColoursAt& colours_at, const Apart& apart, std::vector<DeviceColour>& colours) {
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
        std::vector<Cell> next;
        for (Cell& cell : cells) {
            cell.off = off_by(nodes, cell, tolerance_dE, apart);
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
    return nodes.count();
}

}  // namespace fadewright::render
