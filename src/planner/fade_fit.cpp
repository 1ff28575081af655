#include "fade_fit.h"

#include <algorithm>
#include <iterator>

namespace fadewright::planner {
namespace {

using colour::Lab;
using Eigen::Index;

constexpr double kBandingWeight = 6;
constexpr double kUnevennessWeight = 5e-3;

// Sum of the products of two lines' rows over their common samples.
template <class Rows>
double product(const FadeFit::Line& line, const Rows& rows, const FadeFit::Line& other,
               const Rows& other_rows) {
    const Index from = std::max(line.first_sample, other.first_sample);
    const Index count =
        std::min(line.first_sample + rows.rows(), other.first_sample + other_rows.rows()) - from;
    if (count <= 0) return 0;
    return rows.middleRows(from - line.first_sample, count)
        .cwiseProduct(other_rows.middleRows(from - other.first_sample, count))
        .sum();
}

void copy_lower_to_upper(Eigen::MatrixXd& matrix) {
    matrix.triangularView<Eigen::StrictlyUpper>() = matrix.transpose();
}

}  // namespace

FadeFit::FadeFit(std::span<const CoatLines> coats, const film::StackColour& colours,
                 const std::vector<TargetSample>& targets, const SampleLine& sample_line)
    : coats_(coats), colours_(colours), targets_(targets), film_quadratic_(0), film_cost_(0) {
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
        lines_.push_back({coat, i, first - films[i].begin(), as_vector({first, last})});
    }
}

void FadeFit::build_film_quadratic() {
    Eigen::MatrixXd target_films = Eigen::MatrixXd::Zero(std::ssize(targets_), std::ssize(coats_));
    for (std::size_t c = 0; c < coats_.size(); ++c)  // times their weight
        for (std::size_t i = 0; i < targets_.size(); ++i)
            target_films(static_cast<Index>(i), static_cast<Index>(c)) =
                film_weight(c) * targets_[i].films_um[c];
    film_cost_ = target_films.squaredNorm();

    film_quadratic_ = BoundedQuadratic(lines_.size());
    for (std::size_t a = 0; a < lines_.size(); ++a) {
        const Line& line = lines_[a];
        const double weight = film_weight(line.coat);
        film_quadratic_.rhs[static_cast<Index>(a)] =
            weight * target_films.col(static_cast<Index>(line.coat))
                         .segment(line.first_sample, line.film_um.size())
                         .dot(line.film_um);
        for (std::size_t b = 0; b <= a; ++b)
            if (lines_[b].coat == line.coat)
                film_quadratic_.matrix(static_cast<Index>(a), static_cast<Index>(b)) =
                    weight * weight * product(line, line.film_um, lines_[b], lines_[b].film_um);
    }
    copy_lower_to_upper(film_quadratic_.matrix);
    const Eigen::VectorXd curvatures = film_quadratic_.matrix.diagonal();
    for (std::size_t a = 0; a + 1 < lines_.size(); ++a)
        if (lines_[a].coat == lines_[a + 1].coat)
            film_quadratic_.add_unevenness(kUnevennessWeight, curvatures, static_cast<Index>(a));
}

BoundedQuadratic FadeFit::film_quadratic() const { return film_quadratic_; }

FadeFit::ErrorRows FadeFit::colour_errors(const std::vector<double>& amounts, LabSlopes* slopes) const {
    const std::size_t coats = coats_.size();
    Eigen::MatrixXd films = Eigen::MatrixXd::Zero(std::ssize(coats_), std::ssize(targets_));
    for (std::size_t j = 0; j < lines_.size(); ++j)
        films.row(static_cast<Index>(lines_[j].coat))
            .segment(lines_[j].first_sample, lines_[j].film_um.size()) +=
            amounts[j] * lines_[j].film_um.transpose();

    ErrorRows rows = ErrorRows::Zero(films.cols(), 4);
    std::vector<Lab> sample_slopes(coats);
    for (Index i = 0; i < films.cols(); ++i) {
        const std::span<const double> sample_films(films.col(i).data(), coats);
        const Lab lab = slopes ? colours_.lab(sample_films, sample_slopes) : colours_.lab(sample_films);
        const Lab& target_lab = targets_[static_cast<std::size_t>(i)].lab;
        rows.row(i).head<3>() << lab.L - target_lab.L, lab.a - target_lab.a, lab.b - target_lab.b;
        for (std::size_t c = 0; slopes && c < coats; ++c)
            (*slopes)[c].row(i) << sample_slopes[c].L, sample_slopes[c].a, sample_slopes[c].b;
    }
    if (banding_) rows.col(3) = kBandingWeight * banding_->banding(0, rows.col(0));
    return rows;
}

double FadeFit::cost(const std::vector<double>& amounts) const {
    return film_cost_ + colour_errors(amounts, nullptr).squaredNorm() + film_quadratic_.value(amounts);
}

// Colours change only where a line has film, banding everywhere: the former is summed over the common samples
// of two lines, the latter over all samples.
BoundedQuadratic FadeFit::quadratic_model(const std::vector<double>& amounts) const {
    LabSlopes slopes(coats_.size(), Eigen::MatrixX3d(std::ssize(targets_), 3));
    const ErrorRows errors = colour_errors(amounts, &slopes);
    BoundedQuadratic quadratic(lines_.size());  // of the colours alone
    LabSlopes line_slopes;
    Eigen::MatrixXd banding_slopes(errors.rows(), quadratic.rhs.size());
    for (std::size_t a = 0; a < lines_.size(); ++a) {
        const Line& line = lines_[a];
        const auto row = static_cast<Index>(a);
        const Index first = line.first_sample, count = line.film_um.size();
        line_slopes.emplace_back(line.film_um.asDiagonal() * slopes[line.coat].middleRows(first, count));
        const Eigen::MatrixX3d& own = line_slopes.back();
        quadratic.rhs[row] = -own.cwiseProduct(errors.block(first, 0, count, 3)).sum();
        if (banding_) banding_slopes.col(row) = kBandingWeight * banding_->banding(first, own.col(0));
        for (std::size_t b = 0; b <= a; ++b)
            quadratic.matrix(row, static_cast<Index>(b)) = product(line, own, lines_[b], line_slopes[b]);
    }
    if (banding_) {
        quadratic.matrix.selfadjointView<Eigen::Lower>().rankUpdate(banding_slopes.transpose());
        quadratic.rhs -= banding_slopes.transpose() * errors.col(3);
    }
    copy_lower_to_upper(quadratic.matrix);
    // rhs = matrix amounts - gradient of the colour cost
    quadratic.rhs += quadratic.matrix * as_vector(amounts) + film_quadratic_.rhs;
    quadratic.matrix += film_quadratic_.matrix;
    return quadratic;
}

}  // namespace fadewright::planner
