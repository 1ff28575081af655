#include "fade_road.h"

#include "fadewright/colour/delta_e.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace fadewright::plan {
namespace {

using colour::Lab;

constexpr int kFilmsEach = 160;     // looked at while one coat grows, closer where the film is thin
constexpr double kGoesFrom = 0.7;   // of the third root of the film above it, a middle goes
constexpr std::size_t kGrid = 401;  // places that the wish is worked out at
constexpr double kRounding = 0.1;   // spread that rounds corners of the road, of 10 to 90 %
constexpr int kWidthRounds = 14;
constexpr double kAlike_dE = 1;     // no fade is seen between colours nearer than this
constexpr double kNoWay_dE = 0.01;  // a road so short is rounding, no colours

Lab mixed(const Lab& a, const Lab& b, double t) {
    return {a.L + t * (b.L - a.L), a.a + t * (b.a - a.a), a.b + t * (b.b - a.b)};
}

double blurred_edge(double x) { return 0.5 * std::erfc(-x / std::numbers::sqrt2); }

// A middle's film, as a share of full, while the coat over it grows to v^3.
double still_there(double v) {
    const double gone = std::clamp((v - kGoesFrom) / (1 - kGoesFrom), 0.0, 1.0);
    return 1 - gone * gone * (3 - 2 * gone);
}

// The wished colours at even steps from first to last, for one spread and middle of the edge.
class Wish {
public:
    Wish(const FadeRoad& road, const WishedWidth& width)
        : road_(road),
          width_(width),
          step_((width.last_mm - width.first_mm) / (kGrid - 1)),
          spread_(width.ten_to_ninety_mm / (2 * kNinety)) {
        const double sigma = kRounding * width.ten_to_ninety_mm / step_;
        const double reach = std::min(double{kGrid - 1}, std::ceil(4 * sigma));
        for (double i = 0; i <= reach; ++i) bell_.push_back(std::exp(-i * i / (2 * sigma * sigma)));
    }

    void fit() {
        lay_out();
        if (colour::delta_e_76(labs_.front(), labs_.back()) < kAlike_dE) return;
        const double longest = 2 * (width_.last_mm - width_.first_mm);
        for (int round = 0; round < kWidthRounds; ++round) {
            const double ten = crossing(0.1), ninety = crossing(0.9);
            const double wider = width_.ten_to_ninety_mm / std::max(step_, ninety - ten);
            spread_ = std::min(longest, spread_ * std::pow(wider, 1.4));
            middle_ = std::clamp(middle_ - 0.7 * (ten + ninety) / 2, width_.first_mm, width_.last_mm);
            lay_out();
        }
    }

    [[nodiscard]] WishedPlace at(double u_mm) const {
        const double step = std::clamp((u_mm - width_.first_mm) / step_, 0.0, double{kGrid - 1});
        const std::size_t i = std::min(static_cast<std::size_t>(step), kGrid - 2);
        return {mixed(labs_[i], labs_[i + 1], step - static_cast<double>(i)), road_.films_um(share(u_mm))};
    }

private:
    static constexpr double kNinety = 1.2815515655446004;  // deviations to the normal distribution's 90 %

    [[nodiscard]] double share(double u_mm) const {
        const double low = blurred_edge((width_.first_mm - middle_) / spread_);
        const double high = blurred_edge((width_.last_mm - middle_) / spread_);
        return (blurred_edge((u_mm - middle_) / spread_) - low) / (high - low);
    }

    // Corners rounded by a Gaussian; beyond its ends the line is turned about them.
    void lay_out() {
        std::array<Lab, kGrid> sharp;
        for (std::size_t i = 0; i < kGrid; ++i)
            sharp[i] = road_.lab(share(width_.first_mm + step_ * static_cast<double>(i)));
        const auto reach = static_cast<std::ptrdiff_t>(bell_.size()) - 1;
        const auto last = static_cast<std::ptrdiff_t>(kGrid - 1);
        const auto value = [&](std::ptrdiff_t i) {
            if (i >= 0 && i <= last) return sharp[static_cast<std::size_t>(i)];
            const std::ptrdiff_t end = i < 0 ? 0 : last;
            return mixed(sharp[static_cast<std::size_t>(2 * end - i)], sharp[static_cast<std::size_t>(end)],
                         2);
        };
        for (std::ptrdiff_t i = 0; i <= last; ++i) {
            Lab sum;
            double weights = 0;
            for (std::ptrdiff_t k = -reach; k <= reach; ++k) {
                const double weight = bell_[static_cast<std::size_t>(std::abs(k))];
                const Lab one = value(i + k);
                sum = {sum.L + weight * one.L, sum.a + weight * one.a, sum.b + weight * one.b};
                weights += weight;
            }
            labs_[static_cast<std::size_t>(i)] = {sum.L / weights, sum.a / weights, sum.b / weights};
        }
    }

    // Where t first comes to the share.
    [[nodiscard]] double crossing(double wanted) const {
        double before = 0;
        for (std::size_t i = 1; i < kGrid; ++i) {
            const double come = colour::delta_e_76(labs_[i], labs_.front());
            const double t = come / (come + colour::delta_e_76(labs_[i], labs_.back()));
            if (t >= wanted)
                return width_.first_mm +
                       step_ * (static_cast<double>(i) - 1 + (wanted - before) / (t - before));
            before = t;
        }
        return width_.last_mm;
    }

    const FadeRoad& road_;
    WishedWidth width_;
    double step_, spread_, middle_ = 0;
    std::vector<double> bell_;
    std::array<Lab, kGrid> labs_{};
};

}  // namespace

std::vector<std::vector<double>> films_along_road(const Grades& grades) {
    const std::size_t count = grades.grades.size();
    std::vector<std::vector<double>> out;
    std::vector<double> films(count);
    const bool shrinks = !std::isfinite(grades.grades.front().band.up_mm);  // `from` goes, off `to`
    for (std::size_t c = 0; c < count; ++c)
        for (int i = c == 0 ? 0 : 1; i <= kFilmsEach; ++i) {
            const double v = static_cast<double>(i) / kFilmsEach;
            films[c] = std::pow(shrinks ? 1 - v : v, 3) * grades.grades[c].film.value;
            if (c > 0) films[c - 1] = still_there(v) * grades.grades[c - 1].film.value;
            out.push_back(films);
        }
    return out;
}

FadeRoad::FadeRoad(const film::StackColour& colours, std::vector<std::vector<double>> films_um)
    : films_(std::move(films_um)) {
    for (const std::vector<double>& films : films_) labs_.push_back(colours.lab(films));
    measure(1);
}

void FadeRoad::measure(double colour_counts) {
    way_.assign(1, 0.0);
    for (std::size_t i = 1; i < labs_.size(); ++i) {
        const Lab &a = labs_[i - 1], &b = labs_[i];
        way_.push_back(way_.back() +
                       std::hypot(a.L - b.L, colour_counts * (a.a - b.a), colour_counts * (a.b - b.b)));
    }
    if (way_.back() > kNoWay_dE) return;
    for (std::size_t i = 0; i < way_.size(); ++i) way_[i] = static_cast<double>(i);  // all of one colour
}

FadeRoad::Between FadeRoad::between(double share) const {
    const double wanted = std::clamp(share, 0.0, 1.0) * length();
    const auto after = std::upper_bound(way_.begin() + 1, way_.end() - 1, wanted);
    const auto i = static_cast<std::size_t>(after - way_.begin());
    const double step = way_[i] - way_[i - 1];
    return {i - 1, step > 0 ? std::clamp((wanted - way_[i - 1]) / step, 0.0, 1.0) : 0};
}

Lab FadeRoad::lab(double share) const {
    const Between at = between(share);
    return mixed(labs_[at.first], labs_[at.first + 1], at.part);
}

std::vector<double> FadeRoad::films_um(double share) const {
    const Between at = between(share);
    std::vector<double> films = films_[at.first];
    for (std::size_t c = 0; c < films.size(); ++c) films[c] += at.part * (films_[at.first + 1][c] - films[c]);
    return films;
}

std::vector<WishedPlace> wished_places(const FadeRoad& road, std::span<const double> u_mm,
                                       const WishedWidth& width) {
    Wish wish(road, width);
    wish.fit();
    std::vector<WishedPlace> out;
    for (const double u : u_mm) out.push_back(wish.at(u));
    return out;
}

}  // namespace fadewright::plan
