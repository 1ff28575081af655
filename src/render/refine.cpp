#include "fadewright/render/refine.h"

#include "fadewright/base/contract.h"

#include <algorithm>
#include <array>

namespace fadewright::render {
namespace {

constexpr int kSide = kBlock_px + 1;

// A curve may cross its chord just at the middle of a cell and look straight there. The cell it was cut from
// tells: the error of a straight line falls with the square of its length, so that a quarter, filled by
// quarters of itself, is off by a sixteenth of what its parent was. A cell is trusted only if its parent was
// off by no more than this many tolerances.
constexpr double kTrustedParent = 4;

struct Cell {
    int x, y, size;
    double parent_dE = 0;  // worst middle of the cell that it is a quarter of
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

// The largest distance of the five middle points from the interpolated corners.
double worst_middle(const Nodes& nodes, const Cell& cell, const Apart& apart) {
    const int h = cell.size / 2;
    const DeviceColour& a = nodes.at(cell.x, cell.y);
    const DeviceColour& b = nodes.at(cell.x + cell.size, cell.y);
    const DeviceColour& c = nodes.at(cell.x, cell.y + cell.size);
    const DeviceColour& d = nodes.at(cell.x + cell.size, cell.y + cell.size);
    const DeviceColour top = between(a, b, 0.5f);
    const DeviceColour bottom = between(c, d, 0.5f);
    return std::max({apart(top, nodes.at(cell.x + h, cell.y)),
                     apart(bottom, nodes.at(cell.x + h, cell.y + cell.size)),
                     apart(between(a, c, 0.5f), nodes.at(cell.x, cell.y + h)),
                     apart(between(b, d, 0.5f), nodes.at(cell.x + cell.size, cell.y + h)),
                     apart(between(top, bottom, 0.5f), nodes.at(cell.x + h, cell.y + h))});
}

void fill_quarter(const Nodes& nodes, const Cell& quarter, const Block& block,
                  std::vector<DeviceColour>& colours) {
    const DeviceColour& a = nodes.at(quarter.x, quarter.y);
    const DeviceColour& b = nodes.at(quarter.x + quarter.size, quarter.y);
    const DeviceColour& c = nodes.at(quarter.x, quarter.y + quarter.size);
    const DeviceColour& d = nodes.at(quarter.x + quarter.size, quarter.y + quarter.size);
    const float step = 1.0f / static_cast<float>(quarter.size);
    for (int y = quarter.y; y < std::min(quarter.y + quarter.size, block.height); ++y) {
        const float v = static_cast<float>(y - quarter.y) * step;
        const DeviceColour left = between(a, c, v);
        const DeviceColour right = between(b, d, v);
        DeviceColour* row = colours.data() + static_cast<std::ptrdiff_t>(y) * block.width;
        for (int x = quarter.x; x < std::min(quarter.x + quarter.size, block.width); ++x)
            row[x] = between(left, right, static_cast<float>(x - quarter.x) * step);
    }
}

void fill_leaf(const Nodes& nodes, const Cell& cell, const Block& block, std::vector<DeviceColour>& colours) {
    const int h = cell.size / 2;
    for (const Cell& quarter : {Cell{cell.x, cell.y, h}, Cell{cell.x + h, cell.y, h},
                                Cell{cell.x, cell.y + h, h}, Cell{cell.x + h, cell.y + h, h}})
        fill_quarter(nodes, quarter, block, colours);
}

// The quarters of a cell that hold any pixel of the block.
void cut(const Cell& cell, double dE, const Block& block, std::vector<Cell>& next) {
    const int h = cell.size / 2;
    for (int y = cell.y; y <= cell.y + h; y += h)
        for (int x = cell.x; x <= cell.x + h; x += h)
            if (x < block.width && y < block.height) next.push_back({x, y, h, dE});
}

}  // namespace

std::size_t fill_block(const Block& block, int largest_cell_px, double tolerance_dE,
                       const ColoursAt& colours_at, const Apart& apart, std::vector<DeviceColour>& colours) {
    FW_EXPECTS(block.width > 0 && block.width <= kBlock_px && block.height > 0 && block.height <= kBlock_px);
    FW_EXPECTS(largest_cell_px >= 2 && largest_cell_px <= kBlock_px);
    colours.resize(static_cast<std::size_t>(block.width) * static_cast<std::size_t>(block.height));
    Nodes nodes(block, colours_at);
    std::vector<Cell> cells;
    // Twice the largest cell to begin with: those are all cut, but their quarters know a parent.
    const int first_px = std::min(2 * largest_cell_px, kBlock_px);
    for (int y = 0; y < block.height; y += first_px)
        for (int x = 0; x < block.width; x += first_px) cells.push_back({x, y, first_px});
    while (!cells.empty()) {
        for (const Cell& cell : cells) want_nine(nodes, cell);
        nodes.work_out();
        std::vector<Cell> next;
        for (const Cell& cell : cells) {
            const double dE = cell.size == 2 ? 0 : worst_middle(nodes, cell, apart);
            const bool good = cell.size <= largest_cell_px && dE <= tolerance_dE &&
                              cell.parent_dE <= kTrustedParent * tolerance_dE;
            if (cell.size == 2 || good) {
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
