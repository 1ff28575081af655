// The wet film over a whole picture's worth of places: the quick road, held to Deposit's.
//
// Films are smooth on the scale of the footprint that laid them. So the grid is cut into tiles, each worked
// out on a coarse lattice and filled by cubic interpolation between its nodes, if it agrees with the film
// itself at places between them; a tile that does not (the steep edge of a flat fan, the end of a stroke with
// an open trigger) is worked out place by place.
//
// Source: [keys1981] (cubic convolution).
// Accuracy   within 1e-3 of the largest film of the tile and its neighbours, tested on many plans; the same
//            for any number of threads
// Checks     tests/spray/film_grid_test.cpp
#pragma once

#include "fadewright/spray/deposit.h"

#include <cstddef>
#include <span>
#include <vector>

namespace fadewright::spray {

// Places x0 + i step, y0 + j step; columns and rows above 0 (contract).
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
// The plain road.
[[nodiscard]] std::vector<double> wet_film_reference(const Deposit& deposit, const PointGrid& grid);

}  // namespace fadewright::spray
