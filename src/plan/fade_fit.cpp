#include "fade_fit.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace fadewright::plan {
namespace {

using colour::Lab;

constexpr double kBandingWeight = 6;
constexpr double kUnevennessWeight = 5e-3;

// Dot product of two lines' films over their common samples.
double film_product(const FadeFit::Line& a, const FadeFit::Line& b) {
    const std::size_t from = std::max(a.first_sample, b.first_sample);
    const std::size_t to = std::min(a.first_sample + a.film_um.size(), b.first_sample + b.film_um.size());
    double sum = 0;
    for (std::size_t i = from; i < to; ++i)
        sum += a.film_um[i - a.first_sample] * b.film_um[i - b.first_sample];
    return sum;
}

}  // namespace

FadeFit::FadeFit(std::span<const CoatLines> coats, const film::StackColour& colours,
                 const std::vector<TargetSample>& targets, const SampleLine& sample_line)
    : coats_(coats),
      colours_(colours),
      targets_(targets),
      sample_count_(sample_line.u_mm.size()),
      film_quadratic_(0),
      film_cost_(0) {
    for (std::size_t c = 0; c < coats.size(); ++c) collect_lines(c);
    if (sample_line.evenly_spaced) banding_.emplace(sample_line, targets);
    build_film_quadratic();
}

void FadeFit::collect_lines(std::size_t coat) {
    const auto& films = coats_[coat].films_um;
    const std::vector<bool> reaches = lines_reaching_panel(films);
    for (std::size_t i = 0; i < films.size(); ++i) {
        if (!reaches[i]) continue;
        const auto has_film = [](double film) { return film > 0; };
        const auto first = std::find_if(films[i].begin(), films[i].end(), has_film);
        const auto last = std::find_if(films[i].rbegin(), films[i].rend(), has_film).base();
        lines_.push_back({coat, i, static_cast<std::size_t>(first - films[i].begin()), {first, last}});
    }
}

void FadeFit::build_film_quadratic() {
    film_quadratic_ = BoundedQuadratic(lines_.size());
    for (std::size_t a = 0; a < lines_.size(); ++a) {
        const Line& line = lines_[a];
        const double weight = film_weight(line.coat) * film_weight(line.coat);
        for (std::size_t i = 0; i < line.film_um.size(); ++i)
            film_quadratic_.rhs[a] +=
                weight * line.film_um[i] * targets_[line.first_sample + i].films_um[line.coat];
        for (std::size_t b = 0; b <= a; ++b)
            if (lines_[b].coat == line.coat)
                film_quadratic_.at(a, b) = film_quadratic_.at(b, a) = weight * film_product(line, lines_[b]);
    }
    std::vector<double> own(lines_.size());
    for (std::size_t a = 0; a < own.size(); ++a) own[a] = film_quadratic_.at(a, a);
    for (std::size_t a = 0; a + 1 < own.size(); ++a) {
        if (lines_[a].coat != lines_[a + 1].coat) continue;
        const double uneven = kUnevennessWeight * std::sqrt(own[a] * own[a + 1]);
        film_quadratic_.at(a, a) += uneven;
        film_quadratic_.at(a + 1, a + 1) += uneven;
        film_quadratic_.at(a, a + 1) -= uneven;
        film_quadratic_.at(a + 1, a) -= uneven;
    }
    for (const TargetSample& target : targets_)
        for (std::size_t c = 0; c < coats_.size(); ++c)
            film_cost_ += std::pow(film_weight(c) * target.films_um[c], 2);
}

BoundedQuadratic FadeFit::film_quadratic() const { return film_quadratic_; }

std::vector<double> FadeFit::films_um(const std::vector<double>& amounts) const {
    std::vector<double> films(sample_count_ * coats_.size());
    for (std::size_t j = 0; j < lines_.size(); ++j) {
        const Line& line = lines_[j];
        if (amounts[j] == 0) continue;
        for (std::size_t i = 0; i < line.film_um.size(); ++i)
            films[(line.first_sample + i) * coats_.size() + line.coat] += amounts[j] * line.film_um[i];
    }
    return films;
}

std::vector<double> FadeFit::colour_errors(const std::vector<double>& films_um, LabSlopes* slopes) const {
    const std::size_t coats = coats_.size();
    std::vector<double> rows(kRows * sample_count_);
    for (std::size_t i = 0; i < sample_count_; ++i) {
        const std::span<const double> films(films_um.data() + i * coats, coats);
        const Lab lab =
            slopes ? colours_.lab(films, {slopes->data() + i * coats, coats}) : colours_.lab(films);
        const Lab& target_lab = targets_[i].lab;
        rows[i] = lab.L - target_lab.L;
        rows[sample_count_ + i] = lab.a - target_lab.a;
        rows[2 * sample_count_ + i] = lab.b - target_lab.b;
    }
    if (!banding_) return rows;
    banding_->add(0, {rows.data(), sample_count_}, rows.data() + 3 * sample_count_);
    for (std::size_t i = 3 * sample_count_; i < rows.size(); ++i) rows[i] *= kBandingWeight;
    return rows;
}

double FadeFit::cost(const std::vector<double>& amounts) const {
    const std::vector<double> rows = colour_errors(films_um(amounts), nullptr);
    return std::inner_product(rows.begin(), rows.end(), rows.begin(), film_cost_) +
           film_quadratic_.value(amounts);
}

// Colours change only where a line has film, banding everywhere: the former is summed over the common samples
// of two lines, the latter sample by sample.
BoundedQuadratic FadeFit::quadratic_model(const std::vector<double>& amounts) const {
    const std::size_t coats = coats_.size(), count = lines_.size();
    LabSlopes slopes(sample_count_ * coats);
    const std::vector<double> errors = colour_errors(films_um(amounts), &slopes);
    BoundedQuadratic quadratic = film_quadratic_;
    // rhs = matrix amounts - gradient of the colour cost
    std::vector<double> own(count);
    std::vector<double> banding_slopes(banding_ ? sample_count_ * count : 0);
    const auto slope_of = [&](const Line& line, std::size_t sample) -> const Lab& {
        return slopes[sample * coats + line.coat];
    };
    std::vector<double> lightness;
    for (std::size_t a = 0; a < count; ++a) {
        const Line& line = lines_[a];
        lightness.assign(line.film_um.size(), 0.0);
        for (std::size_t i = 0; i < line.film_um.size(); ++i) {
            const std::size_t sample = line.first_sample + i;
            const Lab& slope = slope_of(line, sample);
            lightness[i] = kBandingWeight * slope.L * line.film_um[i];
            own[a] -= line.film_um[i] * (slope.L * errors[sample] + slope.a * errors[sample_count_ + sample] +
                                         slope.b * errors[2 * sample_count_ + sample]);
        }
        if (banding_) banding_->add(line.first_sample, lightness, banding_slopes.data() + a * sample_count_);
        for (std::size_t b = 0; b <= a; ++b) {
            const Line& other = lines_[b];
            const std::size_t from = std::max(line.first_sample, other.first_sample);
            const std::size_t to =
                std::min(line.first_sample + line.film_um.size(), other.first_sample + other.film_um.size());
            double sum = 0;
            for (std::size_t sample = from; sample < to; ++sample) {
                const Lab &s = slope_of(line, sample), &t = slope_of(other, sample);
                sum += line.film_um[sample - line.first_sample] * other.film_um[sample - other.first_sample] *
                       (s.L * t.L + s.a * t.a + s.b * t.b);
            }
            quadratic.at(a, b) += sum;
            if (a != b) quadratic.at(b, a) += sum;
        }
    }
    if (banding_) add_banding(banding_slopes, errors, quadratic);
    for (std::size_t a = 0; a < count; ++a) {
        quadratic.rhs[a] += own[a];
        for (std::size_t b = 0; b < count; ++b)
            quadratic.rhs[a] += (quadratic.at(a, b) - film_quadratic_.at(a, b)) * amounts[b];
    }
    return quadratic;
}

void FadeFit::add_banding(const std::vector<double>& slopes, const std::vector<double>& errors,
                          BoundedQuadratic& quadratic) const {
    const std::size_t count = lines_.size();
    // Sample by sample, all lines together.
    std::vector<double> row(count), square(count * count);
    for (std::size_t i = 0; i < sample_count_; ++i) {
        for (std::size_t a = 0; a < count; ++a) row[a] = slopes[a * sample_count_ + i];
        const double error = errors[3 * sample_count_ + i];
        for (std::size_t a = 0; a < count; ++a) {
            const double slope_a = row[a];
            double* sums = square.data() + a * count;
            for (std::size_t b = 0; b <= a; ++b) sums[b] += slope_a * row[b];
            quadratic.rhs[a] -= slope_a * error;
        }
    }
    for (std::size_t a = 0; a < count; ++a)
        for (std::size_t b = 0; b <= a; ++b) {
            quadratic.at(a, b) += square[a * count + b];
            if (a != b) quadratic.at(b, a) += square[a * count + b];
        }
}

}  // namespace fadewright::plan
