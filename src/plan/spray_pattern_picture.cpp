#include "spray_pattern_picture.h"

#include <algorithm>
#include <cmath>

namespace fadewright::plan {
namespace {

constexpr int kOverexposed = 255;
constexpr double kEdge = 0.12;         // of the region on each side: where the card must be bare
constexpr double kMinCardShare = 0.7;  // of the card's light, in its darkest channel
constexpr double kMinBareShare = 0.4;  // share of the edge that must be bare
constexpr double kSpeck = 4;           // standard deviations beyond which a pixel is dust
constexpr double kMaxStrips = 300, kMaxSquares = 140;  // over the region
constexpr int kMinPixels = 8;                          // of a strip; shorter ones are left out
constexpr std::size_t kTerms = 6;

using Terms = std::array<double, kTerms>;

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
    double sum = 0;
    for (std::size_t k = 0; k < kTerms; ++k) sum += c[k] * t[k];
    return sum;
}

// Least squares of the six terms by elimination; the shape of the strips makes it well-conditioned.
class PolynomialFit {
public:
    explicit PolynomialFit(IlluminationShape shape)
        : terms_(shape == IlluminationShape::plane ? 3 : kTerms) {}

    void add(const Terms& t, double target) {
        for (std::size_t i = 0; i < kTerms; ++i) {
            for (std::size_t j = 0; j < kTerms; ++j) A_[i][j] += t[i] * t[j];
            A_[i][kTerms] += t[i] * target;
        }
    }

    [[nodiscard]] Terms solve() const {
        auto A = A_;
        for (std::size_t k = 0; k < terms_; ++k) {
            std::size_t pivot = k;
            for (std::size_t i = k + 1; i < terms_; ++i)
                if (std::abs(A[i][k]) > std::abs(A[pivot][k])) pivot = i;
            std::swap(A[k], A[pivot]);
            for (std::size_t i = 0; i < terms_; ++i) {
                if (i == k) continue;
                const double factor = A[i][k] / A[k][k];
                for (std::size_t j = k; j <= kTerms; ++j) A[i][j] -= factor * A[k][j];
            }
        }
        Terms c{};
        for (std::size_t k = 0; k < terms_; ++k) c[k] = A[k][kTerms] / A[k][k];
        return c;
    }

private:
    std::size_t terms_;
    std::array<std::array<double, kTerms + 1>, kTerms> A_{};
};

// A pixel of the edge, its film subtracted.
struct EdgePixel {
    Terms terms;
    std::array<double, 3> bare_card;
};

std::vector<EdgePixel> edge_pixels(const Picture& picture, const CardFrame& frame,
                                   const film::ThicknessScale& scale, const FilmAt& film, int& all) {
    std::vector<EdgePixel> used;
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
            EdgePixel pixel{terms_at(r, x + 0.5, y + 0.5), linear(picture, x, y)};
            for (std::size_t c = 0; c < 3; ++c) pixel.bare_card[c] /= share[c];
            used.push_back(pixel);
        }
    return used;
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

double max_residual_levels(const EdgePixel& pixel, const std::array<Terms, 3>& surface) {
    double worst = 0;
    for (std::size_t c = 0; c < 3; ++c)
        worst = std::max(
            worst, std::abs(to_levels(pixel.bare_card[c]) - to_levels(evaluate(surface[c], pixel.terms))));
    return worst;
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
    const bool x_counts = kind == spray::ShotKind::spot || std::abs(dy) > std::abs(dx);
    const bool y_counts = kind == spray::ShotKind::spot || !x_counts;
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

std::optional<IlluminationField> fit_illumination(const Picture& picture, const CardFrame& frame,
                                                  const film::ThicknessScale& scale, const FilmAt& film,
                                                  IlluminationShape shape) {
    int all = 0;
    const std::vector<EdgePixel> pixels = edge_pixels(picture, frame, scale, film, all);
    if (static_cast<double>(pixels.size()) < kMinBareShare * all || pixels.size() < 4 * kTerms)
        return std::nullopt;
    IlluminationField light{frame.region, {}, 0};
    double max_residual = INFINITY;
    for (int iteration = 0; iteration < 3; ++iteration) {  // each leaves out the dust found by the one before
        std::array<PolynomialFit, 3> sums{PolynomialFit(shape), PolynomialFit(shape), PolynomialFit(shape)};
        std::size_t used = 0;
        for (const EdgePixel& pixel : pixels) {
            if (iteration > 0 && max_residual_levels(pixel, light.terms) > max_residual) continue;
            ++used;
            for (std::size_t c = 0; c < 3; ++c) sums[c].add(pixel.terms, pixel.bare_card[c]);
        }
        if (used < 4 * kTerms) break;
        for (std::size_t c = 0; c < 3; ++c) light.terms[c] = sums[c].solve();
        double squares = 0, counted = 0;
        for (const EdgePixel& pixel : pixels) {
            if (iteration > 0 && max_residual_levels(pixel, light.terms) > max_residual) continue;
            for (std::size_t c = 0; c < 3; ++c) {
                const double miss =
                    to_levels(pixel.bare_card[c]) - to_levels(evaluate(light.terms[c], pixel.terms));
                squares += miss * miss;
                ++counted;
            }
        }
        light.noise_levels = std::sqrt(squares / counted);
        max_residual = std::max(2.0, kSpeck * light.noise_levels);
    }
    return light;
}

std::vector<FilmCell> film_cells(const Picture& picture, const CardFrame& frame,
                                 const IlluminationField& light, const film::ThicknessScale& scale) {
    const bool spot = frame.kind == spray::ShotKind::spot;
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
            const film::ThicknessReading read =
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

}  // namespace fadewright::plan
