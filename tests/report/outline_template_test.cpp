#include "fadewright/report/outline_template.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <vector>

using namespace fadewright;
using namespace fadewright::report;

namespace {

OutlineTemplate rectangle(double width, double height, Facing facing = Facing::as_seen) {
    OutlineTemplate outlines;
    outlines.outlines.push_back(
        {"", OutlineKind::panel,
         geometry::Outline::rectangle(Millimetres{width}, Millimetres{height}, Millimetres{0.0})});
    outlines.area = outlines.outlines.front().outline.bounds();
    outlines.mirror_about_mm = width / 2;
    outlines.facing = facing;
    return outlines;
}

bool within(const Window& window, std::pair<double, double> at, double inset = 0) {
    return at.first >= window.x + inset && at.first <= window.x + window.w - inset &&
           at.second >= window.y + inset && at.second <= window.y + window.h - inset;
}

}  // namespace

TEST_CASE("the pages of a template cover the outline and 3 mm around it", "[report][template]") {
    for (const Paper paper : {Paper::A4, Paper::Letter})
        for (const double width : {10.0, 186.0, 187.0, 368.0, 369.0, 900.0, 2400.0})
            for (const double height : {10.0, 249.0, 250.0, 560.0, 1210.0}) {
                INFO(width << " x " << height);
                const PageGrid grid = page_grid(rectangle(width, height), paper);
                for (double x = -3; x <= width + 3; x += (width + 6) / 97)
                    for (double y = -3; y <= height + 3; y += (height + 6) / 83) {
                        int shown = 0;
                        for (int row = 0; row < grid.rows; ++row)
                            for (int column = 0; column < grid.columns; ++column)
                                if (within(grid.window, grid.on_page(row, column, x, y), -1e-9)) ++shown;
                        REQUIRE(shown >= 1);
                    }
                // One page fewer is not enough.
                const auto covered = [](int count, double window) {
                    return window + (count - 1) * (window - kOverlap_mm);
                };
                CHECK(covered(grid.columns, grid.window.w) >= width + 6 - 1e-9);
                CHECK(covered(grid.rows, grid.window.h) >= height + 6 - 1e-9);
                if (grid.columns > 1) CHECK(covered(grid.columns - 1, grid.window.w) < width + 6);
                if (grid.rows > 1) CHECK(covered(grid.rows - 1, grid.window.h) < height + 6);
            }
}

TEST_CASE("neighbouring pages share ten millimetres", "[report][template]") {
    const PageGrid grid = page_grid(rectangle(900, 560), Paper::A4);
    REQUIRE(grid.rows == 3);
    REQUIRE(grid.columns == 5);
    const Window& w = grid.window;
    for (int column = 0; column + 1 < grid.columns; ++column) {
        // A point at the right edge of one window lies ten millimetres into the next one.
        const double x = grid.left_mm + w.w + column * (w.w - kOverlap_mm);
        CHECK(grid.on_page(0, column, x, 0).first == Approx(w.x + w.w));
        CHECK(grid.on_page(0, column + 1, x, 0).first == Approx(w.x + 10));
    }
    const double y = grid.top_mm - w.h;
    CHECK(grid.on_page(0, 0, 0, y).second == Approx(w.y + w.h));
    CHECK(grid.on_page(1, 0, 0, y).second == Approx(w.y + 10));
}

TEST_CASE("drawings stay inside the margin that printers can print", "[report][template]") {
    for (const Paper paper : {Paper::A4, Paper::Letter}) {
        const Window w = page_grid(rectangle(900, 560), paper).window;
        const PaperSize size = size_of(paper);
        CHECK(w.x >= 8);
        CHECK(w.y >= 8);
        CHECK(w.x + w.w <= size.width_mm - 8);
        CHECK(w.y + w.h <= size.height_mm - 8);
    }
}
