// Integration over an interval with steep ends: Gauss-Legendre quadrature on equal pieces of an angle, the
// variable being its sine, so that a root or a fractional power at either end is harmless.
//
// Source: [olver2010] 3.5(v) (Gauss-Legendre nodes).
// Accuracy   see the callers
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <vector>

namespace fadewright::spray {

struct QuadratureNode {
    double position;
    double weight;
};

inline constexpr int kGaussNodes = 6;

// Nodes and weights on -1 to 1, by Newton's method from the standard initial guess.
inline std::array<QuadratureNode, kGaussNodes> gauss_nodes() {
    constexpr int n = kGaussNodes;
    std::array<QuadratureNode, n> nodes{};
    for (int i = 0; i < n; ++i) {
        double x = -std::cos(std::numbers::pi * (i + 0.75) / (n + 0.5));
        double slope = 1;
        for (int step = 0; step < 20; ++step) {
            double p0 = 1, p1 = x;
            for (int k = 2; k <= n; ++k) {
                const double p2 = ((2 * k - 1) * x * p1 - (k - 1) * p0) / k;
                p0 = p1;
                p1 = p2;
            }
            slope = n * (x * p1 - p0) / (x * x - 1);
            x -= p1 / slope;
        }
        nodes[static_cast<std::size_t>(i)] = {x, 2 / ((1 - x * x) * slope * slope)};
    }
    return nodes;
}

// Nodes on from..to, in increasing order, with no piece longer than piece_mm. Replaces `nodes`.
inline void sine_mapped_nodes(double from, double to, double piece_mm, std::vector<QuadratureNode>& nodes) {
    static const std::array<QuadratureNode, kGaussNodes> gauss = gauss_nodes();
    nodes.clear();
    if (!(to > from)) return;
    const double half = (to - from) / 2;
    const double middle = from + half;
    const int pieces = std::max(2, static_cast<int>(std::ceil(std::numbers::pi * half / piece_mm)));
    const double step = std::numbers::pi / pieces;
    for (int i = 0; i < pieces; ++i)
        for (const QuadratureNode& g : gauss) {
            const double angle = step * (i + (g.position + 1) / 2) - std::numbers::pi / 2;
            nodes.push_back({middle + half * std::sin(angle), g.weight * step / 2 * half * std::cos(angle)});
        }
}

}  // namespace fadewright::spray
