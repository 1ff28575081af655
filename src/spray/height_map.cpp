#include "fadewright/base/contract.h"
#include "fadewright/spray/relief.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace fadewright::spray {
namespace {

// Weights of four neighbours at t between the two inner ones, and their derivatives: the cubic
// convolution of Keys with a = -1/2, which passes through the values and has continuous slopes.
struct CubicWeights {
    std::array<double, 4> share, change;
};

CubicWeights cubic_weights(double t) noexcept {
    return {
        {((-t + 2) * t - 1) * t / 2, ((3 * t - 5) * t * t + 2) / 2, ((-3 * t + 4) * t + 1) * t / 2,
         (t - 1) * t * t / 2},
        {((-3 * t + 4) * t - 1) / 2, (9 * t - 10) * t / 2, ((-9 * t + 8) * t + 1) / 2, (3 * t - 2) * t / 2}};
}

// The cell before a position in a row of cells, and the fraction of the way to the next.
struct CubicCells {
    std::array<std::size_t, 4> cell;
    double t;
    bool outside;  // outside the outermost centres: constant from there
};

CubicCells cubic_cells(double position, int cells) noexcept {
    const double last = cells - 1;
    const double clamped = std::clamp(position, 0.0, last);
    const int before = std::clamp(static_cast<int>(clamped), 0, std::max(0, cells - 2));
    CubicCells b{{}, clamped - before, position < 0 || position > last};
    for (int k = 0; k < 4; ++k)
        b.cell[static_cast<std::size_t>(k)] =
            static_cast<std::size_t>(std::clamp(before - 1 + k, 0, cells - 1));
    return b;
}

// Bound of the sum of the cubic's negative weights: its overshoot as a share of the range.
constexpr double kOvershoot = 0.125;

}  // namespace

HeightMap::HeightMap(Box area, int columns, int rows, std::vector<float> heights_mm)
    : area_(area), columns_(columns), rows_(rows) {
    FW_EXPECTS(columns >= 1 && rows >= 1 && area.x1 > area.x0 && area.y1 > area.y0);
    FW_EXPECTS(heights_mm.size() == static_cast<std::size_t>(columns) * static_cast<std::size_t>(rows));
    const auto [min_height, max_height] = std::minmax_element(heights_mm.begin(), heights_mm.end());
    // Weights s in one direction range from -kOvershoot to 1 + kOvershoot; in two, by their product.
    const double height_range = static_cast<double>(*max_height) - static_cast<double>(*min_height);
    const double negative = 2 * kOvershoot * (1 + kOvershoot);
    lowest_ = static_cast<double>(*min_height) - negative * height_range;
    highest_ = static_cast<double>(*max_height) + negative * height_range;
    heights_ = std::make_shared<const std::vector<float>>(std::move(heights_mm));
}

SurfaceSample HeightMap::at(double x_mm, double y_mm) const noexcept {
    const double per_x = columns_ / (area_.x1 - area_.x0);
    const double per_y = rows_ / (area_.y1 - area_.y0);
    const CubicCells across = cubic_cells((x_mm - area_.x0) * per_x - 0.5, columns_);
    const CubicCells up = cubic_cells((y_mm - area_.y0) * per_y - 0.5, rows_);
    const CubicWeights cx = cubic_weights(across.t), cy = cubic_weights(up.t);
    SurfaceSample slope;
    for (std::size_t j = 0; j < 4; ++j) {
        const float* row = heights_->data() + up.cell[j] * static_cast<std::size_t>(columns_);
        double height = 0, change = 0;
        for (std::size_t i = 0; i < 4; ++i) {
            const double z = static_cast<double>(row[across.cell[i]]);
            height += cx.share[i] * z;
            change += cx.change[i] * z;
        }
        slope.height_mm += cy.share[j] * height;
        slope.dz_dx += cy.share[j] * change;
        slope.dz_dy += cy.change[j] * height;
    }
    slope.dz_dx *= across.outside ? 0 : per_x;
    slope.dz_dy *= up.outside ? 0 : per_y;
    return slope;
}

bool operator==(const HeightMap& a, const HeightMap& b) noexcept {
    const auto same = [](const Box& p, const Box& q) {
        return p.x0 == q.x0 && p.y0 == q.y0 && p.x1 == q.x1 && p.y1 == q.y1;
    };
    return a.columns_ == b.columns_ && a.rows_ == b.rows_ && same(a.area_, b.area_) &&
           *a.heights_ == *b.heights_;
}

}  // namespace fadewright::spray
