// Wet film on a grid of points: the fast version of Deposit::wet_um().
//
// Films are smooth on the scale of their footprint. So the grid is divided into tiles, each calculated on a
// coarse lattice and filled by cubic interpolation between its nodes, if it agrees with the film at test
// points between them; a tile that does not (the steep edge of a flat fan, the end of a segment with an open
// trigger) is calculated point by point.
//
// Source: [keys1981] (cubic convolution).
// Accuracy   within 1e-3 of the largest film of the tile and its neighbours, tested on many plans;
//            independent of the number of threads
// Checks     tests/spray/film_grid_test.cpp
#pragma once

#include "fadewright/spray/deposit.h"

#include <cstddef>
#include <span>
#include <vector>

namespace fadewright::spray {

// Points x0 + i step, y0 + j step; columns and rows above 0 (contract).
struct PointGrid {
    double x0_mm = 0, y0_mm = 0;
    double step_mm = 1;
    int columns = 0, rows = 0;

    [[nodiscard]] std::size_t size() const noexcept {
        return static_cast<std::size_t>(columns) * static_cast<std::size_t>(rows);
    }
};

// Row by row from y0.
[[nodiscard]] std::vector<double> wet_film(const Deposit& deposit, const PointGrid& grid);
// Reference implementation.
[[nodiscard]] std::vector<double> wet_film_reference(const Deposit& deposit, const PointGrid& grid);

}  // namespace fadewright::spray
