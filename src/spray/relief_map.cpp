#include "fadewright/base/contract.h"
#include "fadewright/spray/relief.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace fadewright::spray {
namespace {

// Shares of four neighbours at t between the two in the middle, and how they change with t: the cubic
// convolution of Keys with a = -1/2, which passes through the values and has continuous slopes.
struct Cubic {
    std::array<double, 4> share, change;
};

Cubic cubic_at(double t) noexcept {
    return {
        {((-t + 2) * t - 1) * t / 2, ((3 * t - 5) * t * t + 2) / 2, ((-3 * t + 4) * t + 1) * t / 2,
         (t - 1) * t * t / 2},
        {((-3 * t + 4) * t - 1) / 2, (9 * t - 10) * t / 2, ((-9 * t + 8) * t + 1) / 2, (3 * t - 2) * t / 2}};
}

// The cell before a place in a row of cells, and how far it is from there to the next.
struct Between {
    std::array<std::size_t, 4> cell;
    double t;
    bool beyond;  // outside the outermost middles: goes on as there
};

Between between(double place, int cells) noexcept {
    const double last = cells - 1;
    const double held = std::clamp(place, 0.0, last);
    const int before = std::clamp(static_cast<int>(held), 0, std::max(0, cells - 2));
    Between b{{}, held - before, place < 0 || place > last};
    for (int k = 0; k < 4; ++k)
        b.cell[static_cast<std::size_t>(k)] =
            static_cast<std::size_t>(std::clamp(before - 1 + k, 0, cells - 1));
    return b;
}

// The cubic's negative shares add up to no more than this at any place: its overshoot in shares of the span.
constexpr double kOvershoot = 0.125;

}  // namespace

HeightMap::HeightMap(Box over, int columns, int rows, std::vector<float> heights_mm)
    : over_(over), columns_(columns), rows_(rows) {
    FW_EXPECTS(columns >= 1 && rows >= 1 && over.x1 > over.x0 && over.y1 > over.y0);
    FW_EXPECTS(heights_mm.size() == static_cast<std::size_t>(columns) * static_cast<std::size_t>(rows));
    const auto [least, most] = std::minmax_element(heights_mm.begin(), heights_mm.end());
    // Shares s in one direction run from -kOvershoot to 1 + kOvershoot; in two, by their product.
    const double span = static_cast<double>(*most) - static_cast<double>(*least);
    const double negative = 2 * kOvershoot * (1 + kOvershoot);
    lowest_ = static_cast<double>(*least) - negative * span;
    highest_ = static_cast<double>(*most) + negative * span;
    heights_ = std::make_shared<const std::vector<float>>(std::move(heights_mm));
}

Slope HeightMap::at(double x_mm, double y_mm) const noexcept {
    const double per_x = columns_ / (over_.x1 - over_.x0);
    const double per_y = rows_ / (over_.y1 - over_.y0);
    const Between across = between((x_mm - over_.x0) * per_x - 0.5, columns_);
    const Between up = between((y_mm - over_.y0) * per_y - 0.5, rows_);
    const Cubic cx = cubic_at(across.t), cy = cubic_at(up.t);
    Slope slope;
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
    slope.dz_dx *= across.beyond ? 0 : per_x;
    slope.dz_dy *= up.beyond ? 0 : per_y;
    return slope;
}

bool operator==(const HeightMap& a, const HeightMap& b) noexcept {
    const auto same = [](const Box& p, const Box& q) {
        return p.x0 == q.x0 && p.y0 == q.y0 && p.x1 == q.x1 && p.y1 == q.y1;
    };
    return a.columns_ == b.columns_ && a.rows_ == b.rows_ && same(a.over_, b.over_) &&
           *a.heights_ == *b.heights_;
}

}  // namespace fadewright::spray
