#include "spray_pattern_picture.h"

#include <Eigen/QR>

#include <algorithm>
#include <cmath>
#include <numeric>

namespace fadewright::calibration {
namespace {

constexpr int kOverexposed = 255;
constexpr double kEdge = 0.12;         // of the region on each side: where the card must be bare
constexpr double kMinCardShare = 0.7;  // of the card's light, in its darkest channel
constexpr double kMinBareShare = 0.4;  // share of the edge that must be bare
constexpr double kSpeck = 4;           // standard deviations beyond which a pixel is dust
constexpr double kMaxStrips = 300, kMaxSquares = 140;  // over the region
constexpr int kMinPixels = 8;                          // of a strip; shorter ones are left out
constexpr int kTerms = 6, kPlaneTerms = 3;
constexpr std::size_t kMinPixelsOfFit = 4 * kTerms;
// Of a term from the others, relative to the largest term. Strips on both sides of the spray give 0.1 or
// more, one strip alone 0.003: then the fit at the centre has three times the error of one pixel.
constexpr double kMinIndependence = 0.01;

using Terms = std::array<double, kTerms>;
template <int Columns>
using PixelRows = Eigen::Map<const Eigen::Matrix<double, Eigen::Dynamic, Columns, Eigen::RowMajor>>;

const std::array<double, 256>& decoding_table() {
    static const std::array<double, 256> table = [] {
        std::array<double, 256> t{};
        for (std::size_t code = 0; code < t.size(); ++code)
            t[code] = colour::linear_from_srgb(static_cast<double>(code) / 255);
        return t;
    }();
    return table;
}

std::array<double, 3> linear(const Picture& picture, int x, int y) {
    const std::uint8_t* pixel = picture.pixel(x, y);
    return {decoding_table()[pixel[0]], decoding_table()[pixel[1]], decoding_table()[pixel[2]]};
}

double to_levels(double linear_light) { return 255 * colour::srgb_from_linear(std::max(0.0, linear_light)); }

// 1, u, v, u^2, uv, v^2 with u and v from -1 to 1 over the region.
Terms terms_at(const Rectangle& region, double x_px, double y_px) {
    const double u = 2 * (x_px - region.left) / region.width - 1;
    const double v = 2 * (y_px - region.top) / region.height - 1;
    return {1, u, v, u * u, u * v, v * v};
}

double evaluate(const Terms& c, const Terms& t) {
    return std::inner_product(c.begin(), c.end(), t.begin(), 0.0);
}

// The nearly bare pixels of the edge, their film subtracted.
struct EdgePixels {
    std::vector<Terms> terms;
    std::vector<std::array<double, 3>> bare_card;
};

EdgePixels edge_pixels(const Picture& picture, const CardFrame& frame,
                       const calibration::ThicknessScale& scale, const FilmAt& film, int& all) {
    EdgePixels used;
    const colour::Rgb bare_card = scale.linear_colour(0);
    const Rectangle& r = frame.region;
    for (int y = r.top; y < r.top + r.height; y += frame.step_px)
        for (int x = r.left; x < r.left + r.width; x += frame.step_px) {
            if (!frame.at_edge(x, y)) continue;
            ++all;
            const auto [across, along] = frame.position_of(x + 0.5, y + 0.5);
            const colour::Rgb film_colour = scale.linear_colour(film(across, along));
            const std::array<double, 3> share{film_colour.r / bare_card.r, film_colour.g / bare_card.g,
                                              film_colour.b / bare_card.b};
            if (std::min({share[0], share[1], share[2]}) < kMinCardShare) continue;
            used.terms.push_back(terms_at(r, x + 0.5, y + 0.5));
            used.bare_card.push_back(linear(picture, x, y));
            for (std::size_t c = 0; c < 3; ++c) used.bare_card.back()[c] /= share[c];
        }
    return used;
}

std::vector<Eigen::Index> rows_within(const Eigen::MatrixX3d& residuals, double limit) {
    std::vector<Eigen::Index> rows;
    for (Eigen::Index i = 0; i < residuals.rows(); ++i)
        if (residuals.row(i).cwiseAbs().maxCoeff() <= limit) rows.push_back(i);
    return rows;
}

template <class Counts>
PatchMean mean_if(const Picture& picture, const Rectangle& patch, const Counts& included) {
    std::array<double, 3> sum{};
    int burnt_out = 0;
    double count = 0;
    for (int y = patch.top; y < patch.top + patch.height; ++y)
        for (int x = patch.left; x < patch.left + patch.width; ++x) {
            if (!included(x, y)) continue;
            const auto light = linear(picture, x, y);
            for (std::size_t c = 0; c < 3; ++c) sum[c] += light[c];
            const std::uint8_t* pixel = picture.pixel(x, y);
            if (std::max({pixel[0], pixel[1], pixel[2]}) == kOverexposed) ++burnt_out;
            ++count;
        }
    return {{sum[0] / count, sum[1] / count, sum[2] / count}, burnt_out / count};
}

}  // namespace

bool Rectangle::inside(const Picture& picture) const {
    return width > 0 && height > 0 && left <= picture.width - width && top <= picture.height - height;
}

PatchMean mean_of(const Picture& picture, const Rectangle& patch) {
    return mean_if(picture, patch, [](int, int) { return true; });
}

PatchMean mean_of_edge(const Picture& picture, const CardFrame& frame) {
    return mean_if(picture, frame.region, [&](int x, int y) { return frame.at_edge(x, y); });
}

CardFrame::Position CardFrame::position_of(double x_px, double y_px) const {
    const double x = (x_px - region.left - 0.5 * region.width) * mm_per_px;
    const double y = (region.top + 0.5 * region.height - y_px) * mm_per_px;
    return {y * dx - x * dy, x * dx + y * dy};
}

bool CardFrame::at_edge(int x_px, int y_px) const {
    const double x = std::min(x_px - region.left, region.left + region.width - 1 - x_px);
    const double y = std::min(y_px - region.top, region.top + region.height - 1 - y_px);
    const bool x_counts = kind == calibration::ShotKind::spot || std::abs(dy) > std::abs(dx);
    const bool y_counts = kind == calibration::ShotKind::spot || !x_counts;
    return (x_counts && x < kEdge * region.width) || (y_counts && y < kEdge * region.height);
}

double CardFrame::half_across_mm() const {
    const double width = std::abs(dy) > 0 ? region.width / std::abs(dy) : INFINITY;
    const double height = std::abs(dx) > 0 ? region.height / std::abs(dx) : INFINITY;
    return 0.5 * mm_per_px * std::min(width, height);
}

double CardFrame::half_along_mm() const {
    const double width = std::abs(dx) > 0 ? region.width / std::abs(dx) : INFINITY;
    const double height = std::abs(dy) > 0 ? region.height / std::abs(dy) : INFINITY;
    return 0.5 * mm_per_px * std::min(width, height);
}

colour::Rgb IlluminationField::at(double x_px, double y_px) const {
    const Terms t = terms_at(region, x_px, y_px);
    return {evaluate(terms[0], t), evaluate(terms[1], t), evaluate(terms[2], t)};
}

Result<IlluminationField> fit_illumination(const Picture& picture, const CardFrame& frame,
                                           const calibration::ThicknessScale& scale, const FilmAt& film,
                                           IlluminationShape shape) {
    int all = 0;
    const EdgePixels pixels = edge_pixels(picture, frame, scale, film, all);
    const std::size_t count = pixels.terms.size();
    if (static_cast<double>(count) < kMinBareShare * all || count < kMinPixelsOfFit)
        return Error{"the spray covers the edges of the region"};
    const PixelRows<kTerms> terms(pixels.terms.front().data(), static_cast<Eigen::Index>(count), kTerms);
    const PixelRows<3> bare_card(pixels.bare_card.front().data(), terms.rows(), 3);
    const Eigen::MatrixX3d levels = bare_card.unaryExpr(&to_levels);
    const int term_count = shape == IlluminationShape::plane ? kPlaneTerms : kTerms;
    IlluminationField light{frame.region, {}, 0};
    Eigen::Map<Eigen::Matrix<double, kTerms, 3>> surface(light.terms.front().data());
    Eigen::MatrixX3d residuals = Eigen::MatrixX3d::Zero(terms.rows(), 3);
    double max_residual = INFINITY;
    for (int iteration = 0; iteration < 3; ++iteration) {  // each leaves out the dust found by the one before
        const std::vector<Eigen::Index> used = rows_within(residuals, max_residual);
        if (used.size() < kMinPixelsOfFit) break;
        Eigen::ColPivHouseholderQR<Eigen::MatrixXd> qr(terms(used, Eigen::seqN(0, term_count)));
        if (qr.setThreshold(kMinIndependence).rank() < term_count)
            return Error{
                "the spray is too close to the edges of the region: the card that is still bare does not show "
                "how the light falls across it"};
        surface.topRows(term_count) = qr.solve(bare_card(used, Eigen::all));
        residuals = levels - (terms * surface).unaryExpr(&to_levels);
        const std::vector<Eigen::Index> clean = rows_within(residuals, max_residual);
        light.noise_levels =
            std::sqrt(residuals(clean, Eigen::all).squaredNorm() / (3 * static_cast<double>(clean.size())));
        max_residual = std::max(2.0, kSpeck * light.noise_levels);
    }
    return light;
}

std::vector<FilmCell> film_cells(const Picture& picture, const CardFrame& frame,
                                 const IlluminationField& light, const calibration::ThicknessScale& scale) {
    const bool spot = frame.kind == calibration::ShotKind::spot;
    const double reach = frame.mm_per_px * std::hypot(frame.region.width, frame.region.height);
    const double span =
        2 * (spot ? std::max(frame.half_across_mm(), frame.half_along_mm()) : frame.half_across_mm());
    const double size = std::max(frame.step_px * frame.mm_per_px, span / (spot ? kMaxSquares : kMaxStrips));
    const int per_side = static_cast<int>(std::ceil(reach / size)) + 1;
    const auto number = [&](double mm) { return static_cast<int>(std::floor(mm / size + 0.5 * per_side)); };
    std::vector<FilmCell> cells(static_cast<std::size_t>(per_side) *
                                static_cast<std::size_t>(spot ? per_side : 1));
    const colour::Rgb bare_card = scale.linear_colour(0);
    const Rectangle& r = frame.region;
    for (int y = r.top; y < r.top + r.height; y += frame.step_px)
        for (int x = r.left; x < r.left + r.width; x += frame.step_px) {
            const auto [across, along] = frame.position_of(x + 0.5, y + 0.5);
            const colour::Rgb light_here = light.at(x + 0.5, y + 0.5);
            const auto pixel = linear(picture, x, y);
            const calibration::ThicknessReading read =
                scale.read({pixel[0] / light_here.r * bare_card.r, pixel[1] / light_here.g * bare_card.g,
                            pixel[2] / light_here.b * bare_card.b});
            const int row = number(across), column = spot ? number(along) : 0;
            FilmCell& cell = cells[static_cast<std::size_t>(row) +
                                   static_cast<std::size_t>(column) * static_cast<std::size_t>(per_side)];
            cell.across_mm += across;
            cell.along_mm += along;
            cell.film_um += read.film_um;
            cell.residual_levels += read.residual_codes;
            cell.too_dark_share += read.saturated ? 1 : 0;
            ++cell.pixels;
        }
    std::vector<FilmCell> filled;
    for (FilmCell cell : cells) {
        if (cell.pixels < (spot ? 1 : kMinPixels)) continue;
        for (double* sum :
             {&cell.across_mm, &cell.along_mm, &cell.film_um, &cell.residual_levels, &cell.too_dark_share})
            *sum /= cell.pixels;
        filled.push_back(cell);
    }
    return filled;
}

}  // namespace fadewright::calibration
