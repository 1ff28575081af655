#include "fadewright/film/dots.h"

#include "fadewright/base/random.h"
#include "fadewright/film/layer.h"
#include "fadewright/kernels/layer_stack.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <cstdint>
#include <vector>

using namespace fadewright;
using namespace fadewright::film;
using Catch::Matchers::WithinAbs;

namespace {

// A periodic square field with splats at random points; the splat is a disc of whole cells, which is
// equivalent to a true disc for the coverage of one point. The number of droplets is itself random.
class SplatField {
public:
    explicit SplatField(std::uint64_t seed) : seed_(seed) {
        for (int y = -kRadius; y <= kRadius; ++y)
            for (int x = -kRadius; x <= kRadius; ++x)
                if (x * x + y * y <= kRadius * kRadius) disc_.push_back({x, y});
    }

    // Mean reflectance of a new field.
    double mean(const std::vector<double>& reflectances, double splats) {
        constexpr int side = kSide;
        const double expected = splats * side * side / static_cast<double>(disc_.size());
        std::vector<std::uint16_t> piled(static_cast<std::size_t>(side * side), 0);
        for (double at = -std::log1p(-next()); at < expected; at -= std::log1p(-next())) {
            const int x0 = static_cast<int>(next() * side), y0 = static_cast<int>(next() * side);
            for (const auto& d : disc_) {
                const int x = (x0 + d.x + side) % side, y = (y0 + d.y + side) % side;
                ++piled[static_cast<std::size_t>(y * side + x)];
            }
            ++droplets_;
        }
        double sum = 0;
        for (const auto k : piled) sum += reflectances[std::min<std::size_t>(k, reflectances.size() - 1)];
        return sum / (side * side);
    }

    [[nodiscard]] int droplets() const { return droplets_; }

private:
    static constexpr int kRadius = 4, kSide = 256;
    struct Cell {
        int x, y;
    };
    double next() { return uniform01(seed_, 7, index_++); }

    std::uint64_t seed_;
    std::uint64_t index_ = 0;
    std::vector<Cell> disc_;
    int droplets_ = 0;
};

}  // namespace

TEST_CASE("probabilities of splats add up to 1 and have their mean", "[film]") {
    for (const double m : {0.0, 1e-3, 0.7, 4.0, 90.0, 3000.0}) {
        CAPTURE(m);
        const auto chances = splat_probabilities(m, significant_splats(m));
        double sum = 0, mean = 0;
        for (std::size_t k = 0; k < chances.size(); ++k) {
            sum += chances[k];
            mean += chances[k] * static_cast<double>(k);
        }
        CHECK_THAT(sum, WithinAbs(1, 1e-13));
        CHECK(mean == Approx(m).epsilon(1e-12));
        CHECK(chances[0] == Approx(std::exp(-m)).epsilon(1e-11));
        CHECK(chances.back() < 1e-16);
    }
    CHECK(splat_probabilities(2, 1) == std::vector<double>{1});
    CHECK_THAT(splat_probabilities(2, 2)[1], WithinAbs(1 - std::exp(-2), 1e-15));
}

TEST_CASE("opaque dots cover by area, and more where light spreads in the ground", "[film][published]") {
    // Ground 0.85, dots 0.04; computed independently, printed to 4 places.
    const std::vector<double> opaque{0.85, 0.04};
    struct Check {
        double m, by_area, n_of_2;
    };
    for (const auto& c :
         {Check{0.1, 0.7729, 0.7280}, {0.5, 0.5313, 0.4069}, {1, 0.3380, 0.2168}, {2, 0.1496, 0.0886}}) {
        CAPTURE(c.m);
        CHECK_THAT(dot_statistics(opaque, c.m).mean, WithinAbs(c.by_area, 6e-5));
        CHECK_THAT(yule_nielsen_mean(opaque, c.m, 2), WithinAbs(c.n_of_2, 6e-5));
        CHECK_THAT(yule_nielsen_mean(opaque, c.m, 1), WithinAbs(dot_statistics(opaque, c.m).mean, 1e-15));
        CHECK(yule_nielsen_mean(opaque, c.m, 1.4) < c.by_area);
        CHECK(yule_nielsen_mean(opaque, c.m, 1.4) > c.n_of_2);
        const double bare = std::exp(-c.m);
        CHECK_THAT(dot_statistics(opaque, c.m).variance, WithinAbs(0.81 * 0.81 * bare * (1 - bare), 1e-15));
    }
}

TEST_CASE("the mean over splat counts equals the fast sum", "[film]") {
    for (const auto& [K, S] : {std::pair{0.3, 0.1}, {0.0, 0.25}, {2.0, 0.0}, {0.01, 1.0}})
        for (const double m : {0.02, 0.5, 3.0, 40.0})
            for (const double ground : {0.04, 0.9}) {
                CAPTURE(K, S, m, ground);
                std::vector<double> R{ground};
                kernels::lay_dots(std::vector<double>{m * 1.5}, 1.5, K, S, R);
                CHECK_THAT(dot_statistics(reflectance_by_splat_count(K, S, 1.5, ground, m), m).mean,
                           WithinAbs(R[0], 1e-13));
            }
}

TEST_CASE("opaque dots are an area average and fine dots are a film", "[film]") {
    const double ground = 0.7;
    const auto strong = reflectance_by_splat_count(40, 60, 5, ground, 0.8);
    CHECK_THAT(dot_statistics(strong, 0.8).mean,
               WithinAbs(r_infinity(40, 60) + (ground - r_infinity(40, 60)) * std::exp(-0.8), 1e-12));

    const double film_um = 4, K = 0.1, S = 0.2;
    const double even = reflectance_over(layer(K, S, film_um), ground);
    double before = 1;
    for (const double m : {1.0, 10.0, 100.0, 1000.0, 10000.0}) {
        const auto fine = dot_statistics(reflectance_by_splat_count(K, S, film_um / m, ground, m), m);
        const double off = std::abs(fine.mean - even);
        CAPTURE(m, off);
        CHECK(off < before / 5);
        CHECK(fine.variance < 0.02 / m);
        before = off;
    }
}

TEST_CASE("the mean of a million simulated droplets agrees with the calculated one", "[film]") {
    // Every load has fields of its own; their scatter gives the standard error.
    struct Kind {
        const char* name;
        double K, S;
    };
    int all_droplets = 0;
    std::uint64_t seed = 2024;
    for (const auto& kind : {Kind{"black", 30, 3}, {"white", 0, 0.5}, {"glaze", 0.3, 0.05}})
        for (const auto& [load, fields] :
             {std::pair{0.1, 400}, {0.3, 260}, {0.8, 160}, {1.7, 80}, {4.0, 50}}) {
            const double ground = kind.K == 0 ? 0.04 : 0.85;
            const auto R = reflectance_by_splat_count(kind.K, kind.S, 1, ground, load);
            SplatField field(++seed);
            double sum = 0, squares = 0;
            for (int i = 0; i < fields; ++i) {
                const double mean = field.mean(R, load);
                sum += mean;
                squares += mean * mean;
            }
            all_droplets += field.droplets();
            const double mean = sum / fields;
            const double error = std::sqrt((squares / fields - mean * mean) / (fields - 1));
            CAPTURE(kind.name, load, error, seed);
            CHECK_THAT(dot_statistics(R, load).mean, WithinAbs(mean, 3 * error));
            CHECK(error < 0.002);
            // The even film is excluded wherever it differs from the dots.
            if (load <= 1.7)
                CHECK(std::abs(reflectance_over(layer(kind.K, kind.S, load), ground) - mean) > 6 * error);
        }
    CHECK(all_droplets > 1000000);
}
