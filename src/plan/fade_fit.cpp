#include "fade_fit.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace fadewright::plan {
namespace {

using colour::Lab;

constexpr double kStripeCounts = 6;
constexpr double kUnevenCounts = 5e-3;

// Of two lines' films where both lie.
double together(const FadeFit::Line& a, const FadeFit::Line& b) {
    const std::size_t from = std::max(a.first, b.first);
    const std::size_t to = std::min(a.first + a.film_um.size(), b.first + b.film_um.size());
    double sum = 0;
    for (std::size_t i = from; i < to; ++i) sum += a.film_um[i - a.first] * b.film_um[i - b.first];
    return sum;
}

}  // namespace

FadeFit::FadeFit(std::span<const CoatLines> coats, const film::StackColour& colours,
                 const std::vector<WishedPlace>& wished, const SpotsAcross& spots)
    : coats_(coats), colours_(colours), wished_(wished), spots_(spots.u_mm.size()), films_(0), film_cost_(0) {
    for (std::size_t c = 0; c < coats.size(); ++c) take_lines(c);
    if (spots.even) stripes_.emplace(spots, wished);
    take_films();
}

void FadeFit::take_lines(std::size_t coat) {
    const auto& films = coats_[coat].films_um;
    const std::vector<bool> meet = meet_panel(films);
    for (std::size_t i = 0; i < films.size(); ++i) {
        if (!meet[i]) continue;
        const auto lies = [](double film) { return film > 0; };
        const auto first = std::find_if(films[i].begin(), films[i].end(), lies);
        const auto last = std::find_if(films[i].rbegin(), films[i].rend(), lies).base();
        lines_.push_back({coat, i, static_cast<std::size_t>(first - films[i].begin()), {first, last}});
    }
}

void FadeFit::take_films() {
    films_ = Bowl(lines_.size());
    for (std::size_t a = 0; a < lines_.size(); ++a) {
        const Line& line = lines_[a];
        const double counts = film_counts(line.coat) * film_counts(line.coat);
        for (std::size_t i = 0; i < line.film_um.size(); ++i)
            films_.right[a] += counts * line.film_um[i] * wished_[line.first + i].films_um[line.coat];
        for (std::size_t b = 0; b <= a; ++b)
            if (lines_[b].coat == line.coat)
                films_.at(a, b) = films_.at(b, a) = counts * together(line, lines_[b]);
    }
    std::vector<double> own(lines_.size());
    for (std::size_t a = 0; a < own.size(); ++a) own[a] = films_.at(a, a);
    for (std::size_t a = 0; a + 1 < own.size(); ++a) {
        if (lines_[a].coat != lines_[a + 1].coat) continue;
        const double uneven = kUnevenCounts * std::sqrt(own[a] * own[a + 1]);
        films_.at(a, a) += uneven;
        films_.at(a + 1, a + 1) += uneven;
        films_.at(a, a + 1) -= uneven;
        films_.at(a + 1, a) -= uneven;
    }
    for (const WishedPlace& place : wished_)
        for (std::size_t c = 0; c < coats_.size(); ++c)
            film_cost_ += std::pow(film_counts(c) * place.films_um[c], 2);
}

Bowl FadeFit::film_bowl() const { return films_; }

std::vector<double> FadeFit::films_um(const std::vector<double>& amounts) const {
    std::vector<double> films(spots_ * coats_.size());
    for (std::size_t j = 0; j < lines_.size(); ++j) {
        const Line& line = lines_[j];
        if (amounts[j] == 0) continue;
        for (std::size_t i = 0; i < line.film_um.size(); ++i)
            films[(line.first + i) * coats_.size() + line.coat] += amounts[j] * line.film_um[i];
    }
    return films;
}

std::vector<double> FadeFit::colour_errors(const std::vector<double>& films_um, Slopes* slopes) const {
    const std::size_t coats = coats_.size();
    std::vector<double> rows(kRows * spots_);
    for (std::size_t i = 0; i < spots_; ++i) {
        const std::span<const double> films(films_um.data() + i * coats, coats);
        const Lab lab =
            slopes ? colours_.lab(films, {slopes->data() + i * coats, coats}) : colours_.lab(films);
        const Lab& wish = wished_[i].lab;
        rows[i] = lab.L - wish.L;
        rows[spots_ + i] = lab.a - wish.a;
        rows[2 * spots_ + i] = lab.b - wish.b;
    }
    if (!stripes_) return rows;
    stripes_->add(0, {rows.data(), spots_}, rows.data() + 3 * spots_);
    for (std::size_t i = 3 * spots_; i < rows.size(); ++i) rows[i] *= kStripeCounts;
    return rows;
}

double FadeFit::cost(const std::vector<double>& amounts) const {
    const std::vector<double> rows = colour_errors(films_um(amounts), nullptr);
    return std::inner_product(rows.begin(), rows.end(), rows.begin(), film_cost_) + films_.height(amounts);
}

// Colours change only where a line lies, stripes all along: the one is summed over where two lines meet, the other
// spot by spot.
Bowl FadeFit::bowl(const std::vector<double>& amounts) const {
    const std::size_t coats = coats_.size(), count = lines_.size();
    Slopes slopes(spots_ * coats);
    const std::vector<double> errors = colour_errors(films_um(amounts), &slopes);
    Bowl bowl = films_;
    // right = square amounts - slope of the colours' cost
    std::vector<double> own(count);
    std::vector<double> stripe_slopes(stripes_ ? spots_ * count : 0);
    const auto slope_of = [&](const Line& line, std::size_t spot) -> const Lab& {
        return slopes[spot * coats + line.coat];
    };
    std::vector<double> lightness;
    for (std::size_t a = 0; a < count; ++a) {
        const Line& line = lines_[a];
        lightness.assign(line.film_um.size(), 0.0);
        for (std::size_t i = 0; i < line.film_um.size(); ++i) {
            const std::size_t spot = line.first + i;
            const Lab& slope = slope_of(line, spot);
            lightness[i] = kStripeCounts * slope.L * line.film_um[i];
            own[a] -= line.film_um[i] * (slope.L * errors[spot] + slope.a * errors[spots_ + spot] +
                                         slope.b * errors[2 * spots_ + spot]);
        }
        if (stripes_) stripes_->add(line.first, lightness, stripe_slopes.data() + a * spots_);
        for (std::size_t b = 0; b <= a; ++b) {
            const Line& other = lines_[b];
            const std::size_t from = std::max(line.first, other.first);
            const std::size_t to =
                std::min(line.first + line.film_um.size(), other.first + other.film_um.size());
            double sum = 0;
            for (std::size_t spot = from; spot < to; ++spot) {
                const Lab &s = slope_of(line, spot), &t = slope_of(other, spot);
                sum += line.film_um[spot - line.first] * other.film_um[spot - other.first] *
                       (s.L * t.L + s.a * t.a + s.b * t.b);
            }
            bowl.at(a, b) += sum;
            if (a != b) bowl.at(b, a) += sum;
        }
    }
    if (stripes_) add_stripes(stripe_slopes, errors, bowl);
    for (std::size_t a = 0; a < count; ++a) {
        bowl.right[a] += own[a];
        for (std::size_t b = 0; b < count; ++b)
            bowl.right[a] += (bowl.at(a, b) - films_.at(a, b)) * amounts[b];
    }
    return bowl;
}

void FadeFit::add_stripes(const std::vector<double>& slopes, const std::vector<double>& errors,
                          Bowl& bowl) const {
    const std::size_t count = lines_.size();
    // Spot by spot, all lines side by side.
    std::vector<double> row(count), square(count * count);
    for (std::size_t i = 0; i < spots_; ++i) {
        for (std::size_t a = 0; a < count; ++a) row[a] = slopes[a * spots_ + i];
        const double error = errors[3 * spots_ + i];
        for (std::size_t a = 0; a < count; ++a) {
            const double mine = row[a];
            double* sums = square.data() + a * count;
            for (std::size_t b = 0; b <= a; ++b) sums[b] += mine * row[b];
            bowl.right[a] -= mine * error;
        }
    }
    for (std::size_t a = 0; a < count; ++a)
        for (std::size_t b = 0; b <= a; ++b) {
            bowl.at(a, b) += square[a * count + b];
            if (a != b) bowl.at(b, a) += square[a * count + b];
        }
}

}  // namespace fadewright::plan
