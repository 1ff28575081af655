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

// A curve may cross its prediction exactly at the centre of a cell and so seem accurate. The parent cell
// prevents this: the error of a parabola falls with the cube of its length, so a cell is accepted only if the
// error of its parent is at most this many tolerances.
constexpr double kMaxParentError = 8;

struct Int2 {
    int x = 0, y = 0;
};
struct CellError {
    double x = 0, y = 0;  // CIEDE2000
};

// Most fades change in one direction only: a cell is split in the direction of its error.
struct Cell {
    Int2 at, size;
    Int2 parent_at, parent_size;    // 0: no parent
    bool split_in_x = false;        // false: in y
    CellError error, parent_error;  // if known
};

DeviceColour interpolate(const DeviceColour& a, const DeviceColour& b, float t) {
    const auto mix = [t](float from, float to) { return from + t * (to - from); };
    return {mix(a.r, b.r), mix(a.g, b.g), mix(a.b, b.b), mix(a.out_of_gamut, b.out_of_gamut),
            mix(a.grain, b.grain)};
}

// The calculated points of one block, on its pixel grid with one more row and column.
class Nodes {
public:
    Nodes(const Block& block, const ShadeFn& shade) : block_(block), shade_(shade) {
        numbers_.fill(kUnknown);
    }

    void request(int x, int y) {
        std::int16_t& number = numbers_[index(x, y)];
        if (number != kUnknown) return;
        number = static_cast<std::int16_t>(pixels_.size());
        pixels_.push_back({block_.x + x, block_.y + y});
    }

    void evaluate() {
        const std::size_t known = colours_.size();
        if (known == pixels_.size()) return;
        colours_.resize(pixels_.size());
        shade_(std::span(pixels_).subspan(known), std::span(colours_).subspan(known));
    }

    [[nodiscard]] const DeviceColour& at(int x, int y) const {
        return colours_[static_cast<std::size_t>(numbers_[index(x, y)])];
    }
    [[nodiscard]] std::size_t count() const { return colours_.size(); }

private:
    static constexpr std::int16_t kUnknown = -1;
    static std::size_t index(int x, int y) {
        return static_cast<std::size_t>(y) * kSide + static_cast<std::size_t>(x);
    }

    Block block_;
    const ShadeFn& shade_;
    std::array<std::int16_t, static_cast<std::size_t>(kSide) * kSide> numbers_;
    std::vector<PixelCoord> pixels_;
    std::vector<DeviceColour> colours_;  // of the calculated points
};

void request_nodes(Nodes& nodes, const Cell& cell) {
    for (int j = 0; j <= 2; ++j)
        for (int i = 0; i <= 2; ++i)
            nodes.request(cell.at.x + i * cell.size.x / 2, cell.at.y + j * cell.size.y / 2);
}

// Weights of the parabola through the values at 0, 1/2 and 1, at every pixel across a cell.
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
    [[nodiscard]] float value_at(float a, float b, float c, int i) const {
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
constexpr Part kParts[] = {&DeviceColour::r, &DeviceColour::g, &DeviceColour::b, &DeviceColour::out_of_gamut,
                           &DeviceColour::grain};

// One plane of the nine nodes of a cell, row by row.
using NodeValues = std::array<float, 9>;
NodeValues node_values(const Nodes& nodes, const Int2& at, const Int2& size, Part part) {
    NodeValues out;
    float* to = out.data();
    for (int j = 0; j <= 2; ++j)
        for (int i = 0; i <= 2; ++i) *to++ = nodes.at(at.x + i * size.x / 2, at.y + j * size.y / 2).*part;
    return out;
}

// The colour at a point of a cell by the biquadratic through its nine nodes.
DeviceColour interpolate_quadratic(const Nodes& nodes, const Int2& at, const Int2& size, int x, int y) {
    const Parabola &across = parabola_of(size.x), &down = parabola_of(size.y);
    DeviceColour out;
    for (const Part part : kParts) {
        const NodeValues v = node_values(nodes, at, size, part);
        const int i = x - at.x, j = y - at.y;
        out.*part = across.value_at(down.value_at(v[0], v[3], v[6], j), down.value_at(v[1], v[4], v[7], j),
                                    down.value_at(v[2], v[5], v[8], j), i);
    }
    out.grain = std::max(0.0f, out.grain);
    return out;
}

DeviceColour add_scaled(const DeviceColour& a, const DeviceColour& b, float share) {
    const auto sum = [share](float p, float q) { return p + share * q; };
    return {sum(a.r, b.r), sum(a.g, b.g), sum(a.b, b.b), sum(a.out_of_gamut, b.out_of_gamut),
            sum(a.grain, b.grain)};
}

// Predicted and calculated colours, to be compared in one batch.
class Comparison {
public:
    Comparison(std::size_t count, const DifferenceFn& difference) : difference_(difference), dE_(count) {
        predicted_.resize(count);
        found_.resize(count);
    }

    void add(const DeviceColour& predicted, const DeviceColour& found) {
        predicted_.set(next_, predicted);
        found_.set(next_++, found);
    }
    void evaluate() {
        FW_EXPECTS(next_ == dE_.size());
        if (!dE_.empty()) difference_(predicted_, found_, dE_);
        next_ = 0;
    }
    // The largest of the next differences, in the order they were added.
    double max_of_next(std::size_t count) {
        const auto first = dE_.begin() + static_cast<std::ptrdiff_t>(next_);
        next_ += count;
        return *std::max_element(first, first + static_cast<std::ptrdiff_t>(count));
    }

private:
    const DifferenceFn& difference_;
    ColourPlanes predicted_, found_;
    std::vector<double> dE_;
    std::size_t next_ = 0;
};

bool is_first(const Cell& cell) { return cell.parent_size.x == 0; }

// A first cell is predicted linearly, from the ends of its rows and columns.
void compare_linear(const Nodes& nodes, const Cell& cell, Comparison& comparison) {
    const Int2 h{cell.size.x / 2, cell.size.y / 2};
    const auto node = [&](int i, int j) -> const DeviceColour& {
        return nodes.at(cell.at.x + i * h.x, cell.at.y + j * h.y);
    };
    for (int i = 0; i <= 2; ++i) comparison.add(interpolate(node(0, i), node(2, i), 0.5f), node(1, i));
    for (int i = 0; i <= 2; ++i) comparison.add(interpolate(node(i, 0), node(i, 2), 0.5f), node(i, 1));
}

CellError linear_error(Comparison& comparison) {
    const double in_x = comparison.max_of_next(3);
    return {in_x, comparison.max_of_next(3)};
}

// A half cell has three new nodes, in a row parallel to the split. Their errors are the error in the
// direction of the split; the error in the other direction is that of the middle node with the ends
// corrected.
void compare_predicted(const Nodes& nodes, const Cell& cell, Comparison& comparison) {
    const Int2 h{cell.size.x / 2, cell.size.y / 2};
    std::array<DeviceColour, 3> predicted, found;
    for (int i = 0; i <= 2; ++i) {
        const int x = cell.at.x + (cell.split_in_x ? h.x : i * h.x);
        const int y = cell.at.y + (cell.split_in_x ? i * h.y : h.y);
        const auto k = static_cast<std::size_t>(i);
        predicted[k] = interpolate_quadratic(nodes, cell.parent_at, cell.parent_size, x, y);
        found[k] = nodes.at(x, y);
        comparison.add(predicted[k], found[k]);
    }
    const DeviceColour ends = add_scaled(add_scaled(interpolate(found[0], found[2], 0.5f), predicted[1], 1),
                                         interpolate(predicted[0], predicted[2], 0.5f), -1);
    comparison.add(ends, found[1]);
}

CellError predicted_error(const Cell& cell, Comparison& comparison) {
    const double along = comparison.max_of_next(3), across = comparison.max_of_next(1);
    return cell.split_in_x ? CellError{along, std::max(cell.error.y, across)}
                           : CellError{std::max(cell.error.x, across), along};
}

// The error of every cell by its nine nodes.
void find_errors(const Nodes& nodes, std::vector<Cell>& cells, const DifferenceFn& difference) {
    std::size_t count = 0;
    for (const Cell& cell : cells) count += is_first(cell) ? 6u : 4u;
    Comparison comparison(count, difference);
    for (const Cell& cell : cells)
        (is_first(cell) ? compare_linear : compare_predicted)(nodes, cell, comparison);
    comparison.evaluate();
    for (Cell& cell : cells)
        cell.error = is_first(cell) ? linear_error(comparison) : predicted_error(cell, comparison);
}

// A first cell has no parent: two more of its points, the centres of two quarters, are verified against its
// own biquadratic.
void probe_first_cells(Nodes& nodes, std::vector<Cell>& cells, double tolerance_dE,
                       const DifferenceFn& difference) {
    std::vector<Cell*> probed;
    for (Cell& cell : cells)
        if (is_first(cell) && std::max(cell.error.x, cell.error.y) <= tolerance_dE && cell.size.x >= 4)
            probed.push_back(&cell);
    if (probed.empty()) return;
    const auto each_probe = [&](const auto& work) {
        for (const Cell* cell : probed)
            for (const int quarter : {1, 3})
                work(*cell, cell->at.x + quarter * cell->size.x / 4, cell->at.y + quarter * cell->size.y / 4);
    };
    each_probe([&](const Cell&, int x, int y) { nodes.request(x, y); });
    nodes.evaluate();
    Comparison comparison(2 * probed.size(), difference);
    each_probe([&](const Cell& cell, int x, int y) {
        comparison.add(interpolate_quadratic(nodes, cell.at, cell.size, x, y), nodes.at(x, y));
    });
    comparison.evaluate();
    for (Cell* cell : probed) {
        const double dE = comparison.max_of_next(2);
        cell->error = {std::max(cell->error.x, dE), std::max(cell->error.y, dE)};
    }
}

// One plane of a leaf's pixels.
void fill_part(const NodeValues& v, const Cell& cell, const Int2& end, int width, float* plane) {
    const Parabola &across = parabola_of(cell.size.x), &down = parabola_of(cell.size.y);
    const auto count = static_cast<std::size_t>(end.x - cell.at.x);
    const bool all_zero = std::all_of(v.begin(), v.end(), [](float value) { return value == 0; });
    for (int y = cell.at.y; y < end.y; ++y) {
        float* row = plane + static_cast<std::ptrdiff_t>(y) * width + cell.at.x;
        if (all_zero) {
            std::fill_n(row, count, 0.0f);
            continue;
        }
        const int j = y - cell.at.y;
        const float a = down.value_at(v[0], v[3], v[6], j), b = down.value_at(v[1], v[4], v[7], j),
                    c = down.value_at(v[2], v[5], v[8], j);
        for (std::size_t i = 0; i < count; ++i)
            row[i] = across.first[i] * a + across.middle[i] * b + across.last[i] * c;
    }
}

void fill_leaf(const Nodes& nodes, const Cell& cell, const Block& block, ColourPlanes& colours) {
    const Int2 end{std::min(cell.at.x + cell.size.x, block.width),
                   std::min(cell.at.y + cell.size.y, block.height)};
    std::vector<float>* const planes[] = {&colours.r, &colours.g, &colours.b, &colours.out_of_gamut,
                                          &colours.grain};
    for (std::size_t p = 0; p < std::size(kParts); ++p)
        fill_part(node_values(nodes, cell.at, cell.size, kParts[p]), cell, end, block.width,
                  planes[p]->data());
}

// Priority for splitting a cell in one direction; up to 1 it need not be split.
double refinement_need(int size, int largest_cell_px, double error, double parent_error,
                       double tolerance_dE) {
    if (size == 2) return 0;
    if (size > largest_cell_px) return std::numeric_limits<double>::infinity();
    return std::max(error, parent_error / kMaxParentError) / tolerance_dE;
}

// The halves of a cell that contain any pixel of the block.
void split(const Cell& cell, bool in_x, const Block& block, std::vector<Cell>& next) {
    Cell half = cell;
    half.parent_at = cell.at;
    half.parent_size = cell.size;
    half.split_in_x = in_x;
    (in_x ? half.size.x : half.size.y) /= 2;
    (in_x ? half.parent_error.x : half.parent_error.y) = in_x ? cell.error.x : cell.error.y;
    next.push_back(half);
    (in_x ? half.at.x : half.at.y) += in_x ? half.size.x : half.size.y;
    if (half.at.x < block.width && half.at.y < block.height) next.push_back(half);
}

}  // namespace

std::size_t fill_block(const Block& block, int largest_cell_px, double tolerance_dE, const ShadeFn& shade,
                       const DifferenceFn& difference, ColourPlanes& colours) {
    FW_EXPECTS(block.width > 0 && block.width <= kBlock_px && block.height > 0 && block.height <= kBlock_px);
    FW_EXPECTS(largest_cell_px >= 2 && largest_cell_px <= kBlock_px);
    colours.resize(static_cast<std::size_t>(block.width) * static_cast<std::size_t>(block.height));
    Nodes nodes(block, shade);
    std::vector<Cell> cells;
    // Starts with twice the largest cell: these are all split, but predict their halves.
    const int first_px = std::min(2 * largest_cell_px, kBlock_px);
    for (int y = 0; y < block.height; y += first_px)
        for (int x = 0; x < block.width; x += first_px) {
            Cell cell;
            cell.at = {x, y};
            cell.size = {first_px, first_px};
            cells.push_back(cell);
        }
    while (!cells.empty()) {
        for (const Cell& cell : cells) request_nodes(nodes, cell);
        nodes.evaluate();
        find_errors(nodes, cells, difference);
        probe_first_cells(nodes, cells, tolerance_dE, difference);
        std::vector<Cell> next;
        next.reserve(2 * cells.size());
        for (const Cell& cell : cells) {
            const double in_x = refinement_need(cell.size.x, largest_cell_px, cell.error.x,
                                                cell.parent_error.x, tolerance_dE);
            const double in_y = refinement_need(cell.size.y, largest_cell_px, cell.error.y,
                                                cell.parent_error.y, tolerance_dE);
            if (std::max(in_x, in_y) <= 1)
                fill_leaf(nodes, cell, block, colours);
            else
                split(cell, in_x > in_y, block, next);
        }
        cells = std::move(next);
    }
    for (float& grain : colours.grain) grain = std::max(0.0f, grain);
    return nodes.count();
}

}  // namespace fadewright::render
