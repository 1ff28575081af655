// Adaptive sampling of a block of pixels: colours at few points, refined until interpolation is accurate
// enough.
//
// Films vary slowly where patterns are wide, and the spectral computation of one point costs thousands of
// times as much as an interpolated pixel. A block begins as square cells; every cell is sampled at nine
// nodes: its corners, the centres of its edges, its own centre. A cell with too large an error is halved at
// right angles to the direction of the error, as most fades change in one direction only. A half is accepted
// if its new nodes are within the tolerance of the biquadratic through the nine nodes of the whole; a first
// cell predicts its own by linear interpolation from its corners, and two more points verify it. Leaves are
// filled by the biquadratic through their nine nodes: its error falls with the cube of their length, so the
// remaining error is about an eighth of the tested one, and as large as the tested one at a crease.
//
// Source: own derivation: adaptive subdivision as in any hierarchical sampler; the test and its bound are our
//            own.
// Holds for  colours without details finer than the largest cell: the caller gives the finest width in the
//            picture, and no cell is larger than that
// Accuracy   within 0.3 CIEDE2000 of calculating every pixel, 99 % within 0.1, on the demo and on random
//            plans
// Checks     tests/render/refine_test.cpp, tests/render/preview_test.cpp
#pragma once

#include "fadewright/render/colour_planes.h"

#include <cstddef>
#include <functional>
#include <span>
#include <vector>

namespace fadewright::render {

struct PixelCoord {
    int x = 0, y = 0;
};

// Calculates the colours at the centres of the given pixels.
using ShadeFn = std::function<void(std::span<const PixelCoord>, std::span<DeviceColour>)>;
// Colour differences (CIEDE2000) pair by pair.
using DifferenceFn = std::function<void(const ColourPlanes&, const ColourPlanes&, std::span<double>)>;

inline constexpr int kBlock_px = 32;                 // a power of two
inline constexpr double kRefineTolerance_dE = 0.15;  // at the tested points; see Accuracy

struct Block {
    int x = 0, y = 0;           // upper left pixel
    int width = 0, height = 0;  // at most kBlock_px each
};

// Fills colours (row by row, width * height of them) and returns the number of calculated points.
// largest_cell_px: a power of two from 2 to kBlock_px.
std::size_t fill_block(const Block& block, int largest_cell_px, double tolerance_dE, const ShadeFn& shade,
                       const DifferenceFn& difference, ColourPlanes& colours);

}  // namespace fadewright::render
