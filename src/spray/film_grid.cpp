#include "fadewright/spray/film_grid.h"

#include "fadewright/base/contract.h"
#include "fadewright/base/parallel.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace fadewright::spray {
namespace {

constexpr int kTile = 64;
constexpr int kMaxCoarseness = 16;
constexpr double kStepsPerFootprint = 5;  // lattice steps across the finest footprint
constexpr double kMaxError = 3e-4;        // of the tile's largest film, at the test points

std::vector<double> axis_points(double first, double step, int count) {
    std::vector<double> out(static_cast<std::size_t>(count));
    for (std::size_t i = 0; i < out.size(); ++i) out[i] = first + step * static_cast<double>(i);
    return out;
}

// Weights of the four nodes about a point between the two inner ones.
using Weights = std::array<double, 4>;
Weights cubic(double t) noexcept {
    return {t * (-0.5 + t * (1 - 0.5 * t)), 1 + t * t * (-2.5 + 1.5 * t), t * (0.5 + t * (2 - 1.5 * t)),
            t * t * (-0.5 + 0.5 * t)};
}

int coarseness(const Deposit& deposit, const PointGrid& grid) {
    int coarse = 1;
    while (coarse < kMaxCoarseness &&
           2 * coarse * grid.step_mm * kStepsPerFootprint <= deposit.min_feature_mm())
        coarse *= 2;
    return coarse;
}

class Tile {
public:
    Tile(const Deposit& deposit, const PointGrid& grid, int coarse, int column, int row)
        : deposit_(deposit),
          grid_(grid),
          coarse_(coarse),
          column_(column),
          row_(row),
          width_(std::min(kTile, grid.columns - column)),
          height_(std::min(kTile, grid.rows - row)) {}

    void fill(std::span<double> out) const {
        if (coarse_ < 2 || !fill_interpolated(out)) fill_directly(out);
    }

private:
    [[nodiscard]] double x(double column) const { return grid_.x0_mm + grid_.step_mm * (column_ + column); }
    [[nodiscard]] double y(double row) const { return grid_.y0_mm + grid_.step_mm * (row_ + row); }
    [[nodiscard]] std::size_t at(int column, int row) const {
        return static_cast<std::size_t>(row_ + row) * static_cast<std::size_t>(grid_.columns) +
               static_cast<std::size_t>(column_ + column);
    }

    void fill_directly(std::span<double> out) const {
        const std::vector<double> columns = axis_points(x(0), grid_.step_mm, width_);
        for (int j = 0; j < height_; ++j) {
            const std::span<double> row = out.subspan(at(0, j), static_cast<std::size_t>(width_));
            std::fill(row.begin(), row.end(), 0.0);
            deposit_.add_wet_um(columns, y(j), row);
        }
    }

    // One more node before the tile and two after.
    bool fill_interpolated(std::span<double> out) const {
        const int across = (width_ - 1) / coarse_ + 4, node_rows = (height_ - 1) / coarse_ + 4;
        const double step = grid_.step_mm * coarse_;
        const std::vector<double> columns = axis_points(x(-coarse_), step, across);
        std::vector<double> nodes(static_cast<std::size_t>(across) * static_cast<std::size_t>(node_rows),
                                  0.0);
        for (int j = 0; j < node_rows; ++j)
            deposit_.add_wet_um(
                columns, y(coarse_ * (j - 1)),
                std::span(nodes).subspan(static_cast<std::size_t>(j) * static_cast<std::size_t>(across),
                                         static_cast<std::size_t>(across)));
        const double max_film = *std::max_element(nodes.begin(), nodes.end());
        std::vector<Weights> weights;
        for (int i = 0; i < coarse_; ++i) weights.push_back(cubic(static_cast<double>(i) / coarse_));
        // Across at every row of nodes, then down.
        std::vector<double> rows(static_cast<std::size_t>(width_) * static_cast<std::size_t>(node_rows));
        for (int j = 0; j < node_rows; ++j)
            for (int i = 0; i < width_; ++i) {
                const double* n = nodes.data() + j * across + i / coarse_;
                const Weights& w = weights[static_cast<std::size_t>(i % coarse_)];
                rows[static_cast<std::size_t>(j) * static_cast<std::size_t>(width_) +
                     static_cast<std::size_t>(i)] = w[0] * n[0] + w[1] * n[1] + w[2] * n[2] + w[3] * n[3];
            }
        for (int j = 0; j < height_; ++j) {
            const double* r = rows.data() + static_cast<std::ptrdiff_t>(j / coarse_) * width_;
            const Weights& w = weights[static_cast<std::size_t>(j % coarse_)];
            double* to = out.data() + at(0, j);
            for (int i = 0; i < width_; ++i)
                to[i] = std::max(0.0, w[0] * r[i] + w[1] * r[i + width_] + w[2] * r[i + 2 * width_] +
                                          w[3] * r[i + 3 * width_]);
        }
        return max_film <= 0 || agrees(out, max_film);
    }

    // At the centres of all cells.
    [[nodiscard]] bool agrees(std::span<const double> out, double max_film) const {
        const int half = coarse_ / 2;
        std::vector<double> columns;
        std::vector<int> column_of;
        for (int i = half; i < width_; i += coarse_) {
            column_of.push_back(i);
            columns.push_back(x(i));
        }
        std::vector<double> film(columns.size());
        for (int j = half; j < height_; j += coarse_) {
            std::fill(film.begin(), film.end(), 0.0);
            deposit_.add_wet_um(columns, y(j), film);
            for (std::size_t k = 0; k < film.size(); ++k)
                if (std::abs(film[k] - out[at(column_of[k], j)]) > kMaxError * max_film) return false;
        }
        return true;
    }

    const Deposit& deposit_;
    const PointGrid& grid_;
    int coarse_;
    int column_, row_;
    int width_, height_;
};

}  // namespace

std::vector<double> wet_film(const Deposit& deposit, const PointGrid& grid) {
    FW_EXPECTS(grid.columns > 0 && grid.rows > 0 && grid.step_mm > 0);
    std::vector<double> out(grid.size());
    const int coarse = coarseness(deposit, grid);
    const int across = (grid.columns + kTile - 1) / kTile, node_rows = (grid.rows + kTile - 1) / kTile;
    parallel_for(static_cast<std::size_t>(across) * static_cast<std::size_t>(node_rows), [&](std::size_t i) {
        const int tile = static_cast<int>(i);
        Tile(deposit, grid, coarse, tile % across * kTile, tile / across * kTile).fill(out);
    });
    return out;
}

std::vector<double> wet_film_reference(const Deposit& deposit, const PointGrid& grid) {
    FW_EXPECTS(grid.columns > 0 && grid.rows > 0 && grid.step_mm > 0);
    const std::vector<double> columns = axis_points(grid.x0_mm, grid.step_mm, grid.columns);
    std::vector<double> out(grid.size(), 0.0);
    parallel_for(static_cast<std::size_t>(grid.rows), [&](std::size_t row) {
        deposit.add_wet_um(columns, grid.y0_mm + grid.step_mm * static_cast<double>(row),
                           std::span(out).subspan(row * columns.size(), columns.size()));
    });
    return out;
}

}  // namespace fadewright::spray
