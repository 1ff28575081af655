#include "colour_path.h"

#include "fadewright/colour/delta_e.h"
#include "fadewright/spray/mask.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace fadewright::planner {
namespace {

using colour::Lab;

constexpr int kFilmsPerCoat = 160;       // samples while one coat builds, denser where the film is thin
constexpr double kFadeOutFrom = 0.7;     // a mid colour fades out, of the third root of the film above
constexpr std::size_t kGridSize = 401;   // samples of the target
constexpr double kCornerRounding = 0.1;  // spread that rounds the corners of the path, of 10 to 90 %
constexpr int kMaxWidthRounds = 14;

Lab lab_between(const Lab& a, const Lab& b, double t) {
    return {a.L + t * (b.L - a.L), a.a + t * (b.a - a.a), a.b + t * (b.b - a.b)};
}

double blurred_edge(double x) { return 0.5 * std::erfc(-x / std::numbers::sqrt2); }

// Film of a mid colour, as a share of full, while the coat over it builds to v^3.
double mid_colour_share(double v) {
    const double fade_out = std::clamp((v - kFadeOutFrom) / (1 - kFadeOutFrom), 0.0, 1.0);
    return 1 - fade_out * fade_out * (3 - 2 * fade_out);
}

// The target colours at even steps from first to last, for one spread and centre of the edge.
class TargetCurve {
public:
    TargetCurve(const ColourPath& path, const TargetWidth& width)
        : path_(path),
          width_(width),
          step_((width.last_mm - width.first_mm) / (kGridSize - 1)),
          spread_(width.ten_to_ninety_mm / spray::kTenToNinety) {
        const double sigma = kCornerRounding * width.ten_to_ninety_mm / step_;
        const double reach = std::min(double{kGridSize - 1}, std::ceil(4 * sigma));
        for (double i = 0; i <= reach; ++i) kernel_.push_back(std::exp(-i * i / (2 * sigma * sigma)));
    }

    void fit() {
        update();
        const double longest = 2 * (width_.last_mm - width_.first_mm);
        for (int iteration = 0; iteration < kMaxWidthRounds; ++iteration) {
            const double ten = crossing(0.1), ninety = crossing(0.9);
            const double widening = width_.ten_to_ninety_mm / std::max(step_, ninety - ten);
            spread_ = std::min(longest, spread_ * std::pow(widening, 1.4));
            centre_ = std::clamp(centre_ - 0.7 * (ten + ninety) / 2, width_.first_mm, width_.last_mm);
            update();
        }
    }

    [[nodiscard]] TargetSample at(double u_mm) const {
        const double step = std::clamp((u_mm - width_.first_mm) / step_, 0.0, double{kGridSize - 1});
        const std::size_t i = std::min(static_cast<std::size_t>(step), kGridSize - 2);
        return {lab_between(labs_[i], labs_[i + 1], step - static_cast<double>(i)),
                path_.films_um(share(u_mm))};
    }

private:
    [[nodiscard]] double share(double u_mm) const {
        const double low = blurred_edge((width_.first_mm - centre_) / spread_);
        const double high = blurred_edge((width_.last_mm - centre_) / spread_);
        return (blurred_edge((u_mm - centre_) / spread_) - low) / (high - low);
    }

    // Corners rounded by a Gaussian; beyond its ends the line is extended by point reflection.
    void update() {
        std::array<Lab, kGridSize> unsmoothed;
        for (std::size_t i = 0; i < kGridSize; ++i)
            unsmoothed[i] = path_.lab(share(width_.first_mm + step_ * static_cast<double>(i)));
        const auto reach = static_cast<std::ptrdiff_t>(kernel_.size()) - 1;
        const auto last = static_cast<std::ptrdiff_t>(kGridSize - 1);
        const auto value = [&](std::ptrdiff_t i) {
            if (i >= 0 && i <= last) return unsmoothed[static_cast<std::size_t>(i)];
            const std::ptrdiff_t end = i < 0 ? 0 : last;
            return lab_between(unsmoothed[static_cast<std::size_t>(2 * end - i)],
                               unsmoothed[static_cast<std::size_t>(end)], 2);
        };
        for (std::ptrdiff_t i = 0; i <= last; ++i) {
            Lab sum;
            double weights = 0;
            for (std::ptrdiff_t k = -reach; k <= reach; ++k) {
                const double weight = kernel_[static_cast<std::size_t>(std::abs(k))];
                const Lab sample = value(i + k);
                sum = {sum.L + weight * sample.L, sum.a + weight * sample.a, sum.b + weight * sample.b};
                weights += weight;
            }
            labs_[static_cast<std::size_t>(i)] = {sum.L / weights, sum.a / weights, sum.b / weights};
        }
    }

    // Where t first reaches the share.
    [[nodiscard]] double crossing(double target) const {
        double before = 0;
        for (std::size_t i = 1; i < kGridSize; ++i) {
            const double from_start = colour::delta_e_76(labs_[i], labs_.front());
            const double t = from_start / (from_start + colour::delta_e_76(labs_[i], labs_.back()));
            if (t >= target)
                return width_.first_mm +
                       step_ * (static_cast<double>(i) - 1 + (target - before) / (t - before));
            before = t;
        }
        return width_.last_mm;
    }

    const ColourPath& path_;
    TargetWidth width_;
    double step_, spread_, centre_ = 0;
    std::vector<double> kernel_;
    std::array<Lab, kGridSize> labs_{};
};

}  // namespace

std::vector<std::vector<double>> films_along_path(const FadeStages& stages) {
    const std::size_t count = stages.coats.size();
    std::vector<std::vector<double>> out;
    std::vector<double> films(count);
    const bool shrinks =
        !std::isfinite(stages.coats.front().zone.rise_start_mm);  // `from` fades out over `to`
    for (std::size_t c = 0; c < count; ++c)
        for (int i = c == 0 ? 0 : 1; i <= kFilmsPerCoat; ++i) {
            const double v = static_cast<double>(i) / kFilmsPerCoat;
            films[c] = std::pow(shrinks ? 1 - v : v, 3) * stages.coats[c].film.value;
            if (c > 0) films[c - 1] = mid_colour_share(v) * stages.coats[c - 1].film.value;
            out.push_back(films);
        }
    return out;
}

ColourPath::ColourPath(const film::StackColour& colours, std::vector<std::vector<double>> films_um)
    : films_(std::move(films_um)) {
    for (const std::vector<double>& films : films_) labs_.push_back(colours.lab(films));
    set_metric(1);
}

void ColourPath::set_metric(double chroma_weight) {
    cumulative_.assign(1, 0.0);
    for (std::size_t i = 1; i < labs_.size(); ++i) {
        const Lab &a = labs_[i - 1], &b = labs_[i];
        cumulative_.push_back(cumulative_.back() + std::hypot(a.L - b.L, chroma_weight * (a.a - b.a),
                                                              chroma_weight * (a.b - b.b)));
    }
    if (cumulative_.back() > 0) return;
    for (std::size_t i = 0; i < cumulative_.size(); ++i)
        cumulative_[i] = static_cast<double>(i);  // all colours are equal
}

ColourPath::Position ColourPath::position_at(double share) const {
    const double target = std::clamp(share, 0.0, 1.0) * length();
    const auto after = std::upper_bound(cumulative_.begin() + 1, cumulative_.end() - 1, target);
    const auto i = static_cast<std::size_t>(after - cumulative_.begin());
    const double step = cumulative_[i] - cumulative_[i - 1];
    return {i - 1, step > 0 ? std::clamp((target - cumulative_[i - 1]) / step, 0.0, 1.0) : 0};
}

Lab ColourPath::lab(double share) const {
    const Position at = position_at(share);
    return lab_between(labs_[at.segment], labs_[at.segment + 1], at.fraction);
}

std::vector<double> ColourPath::films_um(double share) const {
    const Position at = position_at(share);
    std::vector<double> films = films_[at.segment];
    for (std::size_t c = 0; c < films.size(); ++c)
        films[c] += at.fraction * (films_[at.segment + 1][c] - films[c]);
    return films;
}

std::vector<TargetSample> target_samples(const ColourPath& path, std::span<const double> u_mm,
                                         const TargetWidth& width) {
    TargetCurve curve(path, width);
    curve.fit();
    std::vector<TargetSample> out;
    for (const double u : u_mm) out.push_back(curve.at(u));
    return out;
}

}  // namespace fadewright::planner
