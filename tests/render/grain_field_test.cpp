#include "fadewright/render/grain_field.h"

#include "fadewright/base/parallel.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

using namespace fadewright;
using namespace fadewright::render;
using Catch::Matchers::WithinAbs;

namespace {

std::vector<double> means_of(const GrainField& field, const GrainGrid& grid) {
    std::vector<double> means(static_cast<std::size_t>(grid.columns) * static_cast<std::size_t>(grid.rows));
    field.fill_means(grid, means);
    return means;
}

double mean_square(const std::vector<double>& v) {
    double sum = 0;
    for (const double x : v) sum += x * x;
    return sum / static_cast<double>(v.size());
}

// Means of blocks of 2 x 2 pixels.
std::vector<double> halved(const std::vector<double>& v, std::size_t columns) {
    std::vector<double> out;
    for (std::size_t y = 0; y + 1 < v.size() / columns; y += 2)
        for (std::size_t x = 0; x + 1 < columns; x += 2)
            out.push_back((v[y * columns + x] + v[y * columns + x + 1] + v[(y + 1) * columns + x] +
                           v[(y + 1) * columns + x + 1]) /
                          4);
    return out;
}

double correlation(const std::vector<double>& a, const std::vector<double>& b) {
    double ab = 0, aa = 0, bb = 0;
    for (std::size_t i = 0; i < a.size(); ++i) {
        ab += a[i] * b[i];
        aa += a[i] * a[i];
        bb += b[i] * b[i];
    }
    return ab / std::sqrt(aa * bb);
}

// An area A has the variance 1/A minus that of the root.
double expected_variance(double area_mm2) { return 1 / area_mm2 - 1 / (kGrainRoot_mm * kGrainRoot_mm); }

}  // namespace

TEST_CASE("the same seed gives the same noise, another seed or stream different noise", "[render]") {
    const GrainGrid grid{3.7, -20, 0.21, 0, 0, 60, 60};
    const auto first = means_of({5, 1}, grid);
    CHECK(first == means_of({5, 1}, grid));
    // Independent pictures of 3600 pixels correlate by about 1/60.
    CHECK(std::abs(correlation(first, means_of({6, 1}, grid))) < 3.0 / 60);
    CHECK(std::abs(correlation(first, means_of({5, 2}, grid))) < 3.0 / 60);
}

TEST_CASE("the fast computation equals the reference", "[render]") {
    const GrainField field(9, 4);
    for (const double pixel : {0.0317, 0.1, 0.125, 0.8, 5.0, 64.0, 90.0})
        for (const double x0 : {-133.1, 0.0, 40.0}) {
            const GrainGrid grid{x0, 11.3, pixel, 2, 5, 9, 7};
            const auto fast = means_of(field, grid);
            for (int row = 0; row < grid.rows; ++row)
                for (int column = 0; column < grid.columns; ++column) {
                    CAPTURE(pixel, x0, row, column);
                    const double x = x0 + (2 + column) * pixel, y = 11.3 + (5 + row) * pixel;
                    const double x1 = x0 + (3 + column) * pixel, y1 = 11.3 + (6 + row) * pixel;
                    // A position near an edge of cells is known only to rounding, and its root enters the
                    // division.
                    CHECK_THAT(fast[static_cast<std::size_t>(row * grid.columns + column)],
                               WithinAbs(field.mean_over(x, y, x1, y1), 1e-6 / pixel));
                }
        }
}

TEST_CASE("pixels of any size have the variance of white noise", "[render][property]") {
    int seed = 100;
    for (const double pixel : {0.01, 0.1, 0.125, 0.1875, 0.33, 1.0, 2.0, 3.1, 7.3})
        for (const double x0 : {0.0, 12.345}) {
            CAPTURE(pixel, x0, seed);
            const auto v = means_of(GrainField(static_cast<std::uint64_t>(++seed), 0),
                                    {x0, x0 / 3, pixel, 0, 0, 250, 250});
            const double error = std::sqrt(2.0 / static_cast<double>(v.size()));
            CHECK(mean_square(v) / expected_variance(pixel * pixel) == Approx(1).margin(3 * error));
        }
}

TEST_CASE("the variance is the same at every phase of pixels against cells", "[render][property]") {
    // Pixels a little wider than a cell drift across the cells; columns are grouped by their phase.
    constexpr double pixel = 0.135;
    constexpr int size = 600, bins = 10;
    const auto v = means_of({31, 0}, {0, 0, pixel, 0, 0, size, size});
    double squares[bins] = {};
    int count[bins] = {};
    for (int x = 0; x < size; ++x) {
        const double phase = x * pixel / 0.125;
        const int bin = std::min(bins - 1, static_cast<int>((phase - std::floor(phase)) * bins));
        for (int y = 0; y < size; ++y) {
            const double value = v[static_cast<std::size_t>(y * size + x)];
            squares[bin] += value * value;
            ++count[bin];
        }
    }
    for (int bin = 0; bin < bins; ++bin) {
        CAPTURE(bin);
        const double error = std::sqrt(2.0 / count[bin]);
        CHECK(squares[bin] / count[bin] * pixel * pixel == Approx(1).margin(4 * error));
    }
}

TEST_CASE("neighbouring pixels are uncorrelated", "[render][property]") {
    constexpr std::size_t size = 400;
    for (const double pixel : {0.1, 0.125, 0.19}) {
        const auto v = means_of({77, 3}, {1.3, 0.4, pixel, 0, 0, size, size});
        for (const auto& [dx, dy] :
             {std::pair<std::size_t, std::size_t>{1, 0}, {0, 1}, {1, 1}, {2, 0}, {5, 3}}) {
            double sum = 0;
            double count = 0;
            for (std::size_t y = 0; y + dy < size; ++y)
                for (std::size_t x = 0; x + dx < size; ++x, ++count)
                    sum += v[y * size + x] * v[(y + dy) * size + x + dx];
            CAPTURE(pixel, dx, dy);
            CHECK_THAT(sum / count * pixel * pixel, WithinAbs(0, 3.5 / std::sqrt(count)));
        }
    }
}

TEST_CASE("averaged fine pixels equal coarse pixels", "[render]") {
    const GrainField field(12, 0);
    // Power-of-two fractions of a millimetre: to rounding, over several steps.
    std::vector<double> fine = means_of(field, {3.5, -2, 1.0 / 64, 0, 0, 256, 256});
    std::size_t columns = 256;
    for (double pixel = 1.0 / 32; pixel < 1; pixel *= 2) {
        fine = halved(fine, columns);
        columns /= 2;
        const int n = static_cast<int>(columns);
        const auto coarse = means_of(field, {3.5, -2, pixel, 0, 0, n, n});
        CAPTURE(pixel);
        for (std::size_t i = 0; i < coarse.size(); ++i) CHECK_THAT(fine[i], WithinAbs(coarse[i], 1e-9));
    }
    // Any other size: similar pixel by pixel, and nearly equal over areas of eight coarse pixels, since
    // different divisions at edges inside the area cancel.
    for (const double pixel : {0.05, 0.07, 0.1, 0.11, 0.29}) {
        CAPTURE(pixel);
        auto averaged = halved(means_of(field, {0.3, 0.1, pixel, 0, 0, 512, 512}), 512);
        auto coarse = means_of(field, {0.3, 0.1, 2 * pixel, 0, 0, 256, 256});
        CHECK(correlation(averaged, coarse) > 0.8);
        for (std::size_t width = 256; width > 32; width /= 2) {
            averaged = halved(averaged, width);
            coarse = halved(coarse, width);
        }
        CHECK(correlation(averaged, coarse) > 0.97);
    }
}

TEST_CASE("roots have the mean zero", "[render]") {
    const GrainField field(3, 3);
    CHECK_THAT(field.mean_over(0, 0, 64, 64), WithinAbs(0, 1e-15));
    CHECK_THAT(field.mean_over(-128, 64, 0, 128), WithinAbs(0, 1e-15));
    double sum = 0;
    for (const double v : means_of(field, {64, -64, 0.25, 0, 0, 256, 256})) sum += v;
    CHECK_THAT(sum / (256 * 256), WithinAbs(0, 1e-12));
}

TEST_CASE("areas longer than wide are white too", "[render]") {
    double sum = 0;
    constexpr int count = 4000;
    for (int i = 0; i < count; ++i) {
        const double x = 0.9 * (i % 70), y = 0.31 * (i / 70);
        const double v = GrainField(8, 0).mean_over(x, y, x + 0.9, y + 0.31);
        sum += v * v / expected_variance(0.9 * 0.31);
    }
    CHECK(sum / count == Approx(1).margin(3 * std::sqrt(2.0 / count)));
}

TEST_CASE("parts of a picture equal the whole, for any number of threads", "[render]") {
    constexpr int size = 128, block = 32, blocks = size / block;
    const GrainField field(41, 7);
    const GrainGrid whole{-3.21, 8.8, 0.173, 0, 0, size, size};
    const auto at_once = means_of(field, whole);
    for (const int threads : {1, 2, 5}) {
        const ThreadLimit limit(threads);
        std::vector<double> picture(at_once.size());
        parallel_for(blocks * blocks, [&](std::size_t i) {
            GrainGrid part = whole;
            part.first_column = static_cast<int>(i) % blocks * block;
            part.first_row = static_cast<int>(i) / blocks * block;
            part.columns = part.rows = block;
            const auto means = means_of(field, part);
            for (int y = 0; y < block; ++y)
                std::copy_n(
                    &means[static_cast<std::size_t>(y * block)], block,
                    &picture[static_cast<std::size_t>((part.first_row + y) * size + part.first_column)]);
        });
        CHECK(picture == at_once);
    }
}

TEST_CASE("the noise has the tails of a normal distribution", "[render]") {
    auto v = means_of({55, 0}, {0, 0, 0.1, 0, 0, 1000, 1000});
    double fourth = 0;
    int beyond_2 = 0;
    for (const double x : v) {
        const double z = x * 0.1;
        fourth += z * z * z * z;
        beyond_2 += std::abs(z) > 2;
    }
    const auto n = static_cast<double>(v.size());
    CHECK(fourth / n == Approx(3).margin(3 * std::sqrt(96 / n)));
    CHECK(beyond_2 / n == Approx(0.0455).margin(3 * std::sqrt(0.0455 / n)));
}
