#include "fadewright/render/refine.h"

#include "fadewright/base/contract.h"

#include <algorithm>
#include <array>

namespace fadewright::render {
namespace {

constexpr int kSide = kBlock_px + 1;

// A curve may cross what was foretold of it just at the middle of a cell and look good there. The cell it was cut
// from tells: the error of a parabola falls with the cube of its length, so a cell is trusted only if its parent
// was off by no more than this many tolerances.
constexpr double kTrustedParent = 8;

struct Cell {
    int x, y, size;
    double parent_dE = 0;
    int parent_x = 0, parent_y = 0, parent_size = 0;  // 0: not cut from any
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
        for (int i = 0; i <= 2; ++i) nodes.want(cell.x + i * cell.size / 2, cell.y + j * cell.size / 2);
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

// Of a square of nodes: parabolas down its three columns, then a parabola across.
DeviceColour curved(const Nodes& nodes, int x, int y, int size, float across, float down) {
    const int h = size / 2;
    const Parabola v(down);
    const auto column = [&](int i) {
        return v.through(nodes.at(x + i * h, y), nodes.at(x + i * h, y + h), nodes.at(x + i * h, y + size));
    };
    return Parabola(across).through(column(0), column(1), column(2));
}

// What was to be expected at the pixel (x, y) of a cell before it was worked out.
DeviceColour foretold(const Nodes& nodes, const Cell& cell, int x, int y) {
    if (cell.parent_size > 0) {
        const auto side = static_cast<float>(cell.parent_size);
        return curved(nodes, cell.parent_x, cell.parent_y, cell.parent_size,
                      static_cast<float>(x - cell.parent_x) / side,
                      static_cast<float>(y - cell.parent_y) / side);
    }
    const auto side = static_cast<float>(cell.size);
    const float across = static_cast<float>(x - cell.x) / side;
    const float down = static_cast<float>(y - cell.y) / side;
    const int right = cell.x + cell.size, bottom = cell.y + cell.size;
    return between(between(nodes.at(cell.x, cell.y), nodes.at(right, cell.y), across),
                   between(nodes.at(cell.x, bottom), nodes.at(right, bottom), across), down);
}

// The largest distance of the five middle points from what was foretold.
double worst_middle(const Nodes& nodes, const Cell& cell, const Apart& apart) {
    const int h = cell.size / 2;
    double worst = 0;
    for (const PixelPlace& at : {PixelPlace{cell.x + h, cell.y}, PixelPlace{cell.x + h, cell.y + cell.size},
                                 PixelPlace{cell.x, cell.y + h}, PixelPlace{cell.x + cell.size, cell.y + h},
                                 PixelPlace{cell.x + h, cell.y + h}})
        worst = std::max(worst, apart(foretold(nodes, cell, at.x, at.y), nodes.at(at.x, at.y)));
    return worst;
}

void fill_leaf(const Nodes& nodes, const Cell& cell, const Block& block, std::vector<DeviceColour>& colours) {
    const int h = cell.size / 2;
    const float step = 1.0f / static_cast<float>(cell.size);
    const int right = std::min(cell.x + cell.size, block.width);
    std::vector<Parabola> across;
    for (int x = cell.x; x < right; ++x) across.emplace_back(static_cast<float>(x - cell.x) * step);
    for (int y = cell.y; y < std::min(cell.y + cell.size, block.height); ++y) {
        const Parabola down(static_cast<float>(y - cell.y) * step);
        std::array<DeviceColour, 3> column;
        for (int i = 0; i < 3; ++i)
            column[static_cast<std::size_t>(i)] =
                down.through(nodes.at(cell.x + i * h, cell.y), nodes.at(cell.x + i * h, cell.y + h),
                             nodes.at(cell.x + i * h, cell.y + cell.size));
        DeviceColour* row = colours.data() + static_cast<std::ptrdiff_t>(y) * block.width + cell.x;
        for (const Parabola& parabola : across) *row++ = parabola.through(column[0], column[1], column[2]);
    }
}

// The quarters of a cell that hold any pixel of the block.
void cut(const Cell& cell, double dE, const Block& block, std::vector<Cell>& next) {
    const int h = cell.size / 2;
    for (int y = cell.y; y <= cell.y + h; y += h)
        for (int x = cell.x; x <= cell.x + h; x += h)
            if (x < block.width && y < block.height) next.push_back({x, y, h, dE, cell.x, cell.y, cell.size});
}

}  // namespace

std::size_t fill_block(const Block& block, int largest_cell_px, double tolerance_dE,
                       const ColoursAt& colours_at, const Apart& apart, std::vector<DeviceColour>& colours) {
    FW_EXPECTS(block.width > 0 && block.width <= kBlock_px && block.height > 0 && block.height <= kBlock_px);
    FW_EXPECTS(largest_cell_px >= 2 && largest_cell_px <= kBlock_px);
    colours.resize(static_cast<std::size_t>(block.width) * static_cast<std::size_t>(block.height));
    Nodes nodes(block, colours_at);
    std::vector<Cell> cells;
    // Twice the largest cell to begin with: those are all cut, but foretell their quarters.
    const int first_px = std::min(2 * largest_cell_px, kBlock_px);
    for (int y = 0; y < block.height; y += first_px)
        for (int x = 0; x < block.width; x += first_px) cells.push_back({x, y, first_px});
    while (!cells.empty()) {
        for (const Cell& cell : cells) want_nine(nodes, cell);
        nodes.work_out();
        std::vector<Cell> next;
        for (const Cell& cell : cells) {
            const double dE = cell.size == 2 ? 0 : worst_middle(nodes, cell, apart);
            const bool good = cell.size == 2 || (cell.size <= largest_cell_px && dE <= tolerance_dE &&
                                                 cell.parent_dE <= kTrustedParent * tolerance_dE);
            if (good) {
                fill_leaf(nodes, cell, block, colours);
            } else {
                cut(cell, dE, block, next);
            }
        }
        cells = std::move(next);
    }
    return nodes.count();
}

}  // namespace fadewright::render
