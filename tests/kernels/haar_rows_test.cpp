#include "fadewright/kernels/haar_rows.h"

#include <catch2/catch.hpp>

#include <random>
#include <vector>

using namespace fadewright;
using namespace fadewright::kernels;
using Catch::Matchers::WithinAbs;

namespace {

// Counts that fill whole vectors, and others.
constexpr std::size_t kCounts[] = {1, 2, 3, 7, 8, 33, 64};

struct Cells {
    std::vector<double> means;
    std::vector<float> a, b, d;
    [[nodiscard]] HaarRow row(double per_width) const { return {means, a, b, d, per_width}; }
};

Cells random_cells(std::size_t count) {
    std::mt19937 random(static_cast<unsigned>(count));
    std::normal_distribution<double> bell;
    Cells out;
    for (std::size_t i = 0; i < count; ++i) {
        out.means.push_back(bell(random));
        for (auto* details : {&out.a, &out.b, &out.d}) details->push_back(static_cast<float>(bell(random)));
    }
    return out;
}

// The formula of the header.
double child_of(const Cells& cells, std::size_t i, bool right, bool lower, double per_width) {
    const double x = right ? -1 : 1, y = lower ? -1 : 1;
    return cells.means[i] + (x * static_cast<double>(cells.a[i]) + y * static_cast<double>(cells.b[i]) +
                             x * y * static_cast<double>(cells.d[i])) *
                                per_width;
}

}  // namespace

TEST_CASE("a row of cells is split into two rows of quarters", "[kernels]") {
    for (const std::size_t count : kCounts) {
        const Cells cells = random_cells(count);
        for (const bool lower : {false, true}) {
            std::vector<double> children(2 * count);
            child_row(cells.row(0.37), lower, children);
            for (std::size_t i = 0; i < count; ++i) {
                CHECK_THAT(children[2 * i], WithinAbs(child_of(cells, i, false, lower, 0.37), 1e-14));
                CHECK_THAT(children[2 * i + 1], WithinAbs(child_of(cells, i, true, lower, 0.37), 1e-14));
            }
        }
    }
}

TEST_CASE("weighted sums of quarters are the same without storing the quarters", "[kernels]") {
    for (const std::size_t count : kCounts) {
        const Cells cells = random_cells(count);
        std::vector<double> upper(2 * count), lower(2 * count), sums(2 * count, 5.0);
        child_row(cells.row(2.5), false, upper);
        child_row(cells.row(2.5), true, lower);
        add_child_rows(cells.row(2.5), 0.7, -0.2, sums);
        for (std::size_t i = 0; i < sums.size(); ++i)
            CHECK_THAT(sums[i], WithinAbs(5 + 0.7 * upper[i] - 0.2 * lower[i], 1e-13));
        set_child_rows(cells.row(2.5), 0.7, -0.2, sums);
        for (std::size_t i = 0; i < sums.size(); ++i)
            CHECK_THAT(sums[i], WithinAbs(0.7 * upper[i] - 0.2 * lower[i], 1e-13));
    }
}

TEST_CASE("rows are added with a factor", "[kernels]") {
    for (const std::size_t count : kCounts) {
        const Cells cells = random_cells(count);
        std::vector<double> first_sums = cells.means, second_sums = cells.means;
        first_sums.push_back(9);  // behind the row, not to be touched
        axpy(1.5, cells.a, first_sums);
        axpy(1.5, cells.a, -0.25, cells.b, second_sums);
        for (std::size_t i = 0; i < count; ++i) {
            const double a = static_cast<double>(cells.a[i]), b = static_cast<double>(cells.b[i]);
            CHECK_THAT(first_sums[i], WithinAbs(cells.means[i] + 1.5 * a, 1e-14));
            CHECK_THAT(second_sums[i], WithinAbs(cells.means[i] + 1.5 * a - 0.25 * b, 1e-14));
        }
        CHECK(first_sums.back() == 9);
    }
}
