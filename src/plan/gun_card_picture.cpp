#include "gun_card_picture.h"

#include <algorithm>
#include <cmath>

namespace fadewright::plan {
namespace {

constexpr int kBurntOut = 255;
constexpr double kEdge = 0.12;       // of the region on each side: where the card must be bare
constexpr double kNearlyBare = 0.7;  // of the card's light, in its darkest channel
constexpr double kLeastBare = 0.4;   // share of the edge that must be
constexpr double kSpeck = 4;         // standard deviations beyond which a pixel is dust
constexpr double kMostStrips = 300, kMostSquares = 140;  // over the region
constexpr int kLeastPixels = 8;                          // of a strip, or its end is ragged
constexpr std::size_t kTerms = 6;

using Terms = std::array<double, kTerms>;

const std::array<double, 256>& decoded() {
    static const std::array<double, 256> table = [] {
        std::array<double, 256> t{};
        for (std::size_t code = 0; code < t.size(); ++code)
            t[code] = colour::srgb_decoded(static_cast<double>(code) / 255);
        return t;
    }();
    return table;
}

std::array<double, 3> linear(const Picture& picture, int x, int y) {
    const std::uint8_t* pixel = picture.pixel(x, y);
    return {decoded()[pixel[0]], decoded()[pixel[1]], decoded()[pixel[2]]};
}

double codes(double linear_light) { return 255 * colour::srgb_encoded(std::max(0.0, linear_light)); }

// 1, u, v, u^2, uv, v^2 with u and v from -1 to 1 over the region.
Terms terms_at(const Rectangle& region, double x_px, double y_px) {
    const double u = 2 * (x_px - region.left) / region.width - 1;
    const double v = 2 * (y_px - region.top) / region.height - 1;
    return {1, u, v, u * u, u * v, v * v};
}

double value(const Terms& c, const Terms& t) {
    double sum = 0;
    for (std::size_t k = 0; k < kTerms; ++k) sum += c[k] * t[k];
    return sum;
}

// Least squares of the six terms by elimination; the columns are well apart by the shape of the strips.
class Surface {
public:
    explicit Surface(LightShape shape) : terms_(shape == LightShape::plane ? 3 : kTerms) {}

    void add(const Terms& t, double target) {
        for (std::size_t i = 0; i < kTerms; ++i) {
            for (std::size_t j = 0; j < kTerms; ++j) A_[i][j] += t[i] * t[j];
            A_[i][kTerms] += t[i] * target;
        }
    }

    [[nodiscard]] Terms solved() const {
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

// A pixel of the edge, its film taken out.
struct EdgePixel {
    Terms terms;
    std::array<double, 3> bare;
};

std::vector<EdgePixel> edge_pixels(const Picture& picture, const CardFrame& frame,
                                   const film::FilmScale& scale, const FilmThere& film, int& all) {
    std::vector<EdgePixel> kept;
    const colour::Rgb bare = scale.seen(0);
    const Rectangle& r = frame.region;
    for (int y = r.top; y < r.top + r.height; y += frame.step_px)
        for (int x = r.left; x < r.left + r.width; x += frame.step_px) {
            if (!frame.at_edge(x, y)) continue;
            ++all;
            const auto [across, along] = frame.at(x + 0.5, y + 0.5);
            const colour::Rgb there = scale.seen(film(across, along));
            const std::array<double, 3> share{there.r / bare.r, there.g / bare.g, there.b / bare.b};
            if (std::min({share[0], share[1], share[2]}) < kNearlyBare) continue;
            EdgePixel pixel{terms_at(r, x + 0.5, y + 0.5), linear(picture, x, y)};
            for (std::size_t c = 0; c < 3; ++c) pixel.bare[c] /= share[c];
            kept.push_back(pixel);
        }
    return kept;
}

template <class Counts>
PatchMean mean_where(const Picture& picture, const Rectangle& patch, const Counts& counts) {
    std::array<double, 3> sum{};
    int burnt_out = 0;
    double count = 0;
    for (int y = patch.top; y < patch.top + patch.height; ++y)
        for (int x = patch.left; x < patch.left + patch.width; ++x) {
            if (!counts(x, y)) continue;
            const auto light = linear(picture, x, y);
            for (std::size_t c = 0; c < 3; ++c) sum[c] += light[c];
            const std::uint8_t* pixel = picture.pixel(x, y);
            if (std::max({pixel[0], pixel[1], pixel[2]}) == kBurntOut) ++burnt_out;
            ++count;
        }
    return {{sum[0] / count, sum[1] / count, sum[2] / count}, burnt_out / count};
}

double worst_miss(const EdgePixel& pixel, const std::array<Terms, 3>& surface) {
    double worst = 0;
    for (std::size_t c = 0; c < 3; ++c)
        worst = std::max(worst, std::abs(codes(pixel.bare[c]) - codes(value(surface[c], pixel.terms))));
    return worst;
}

}  // namespace

bool Rectangle::inside(const Picture& picture) const {
    return width > 0 && height > 0 && left <= picture.width - width && top <= picture.height - height;
}

PatchMean mean_of(const Picture& picture, const Rectangle& patch) {
    return mean_where(picture, patch, [](int, int) { return true; });
}

PatchMean mean_of_edge(const Picture& picture, const CardFrame& frame) {
    return mean_where(picture, frame.region, [&](int x, int y) { return frame.at_edge(x, y); });
}

CardFrame::Place CardFrame::at(double x_px, double y_px) const {
    const double x = (x_px - region.left - 0.5 * region.width) * mm_per_px;
    const double y = (region.top + 0.5 * region.height - y_px) * mm_per_px;
    return {y * dx - x * dy, x * dx + y * dy};
}

bool CardFrame::at_edge(int x_px, int y_px) const {
    const double x = std::min(x_px - region.left, region.left + region.width - 1 - x_px);
    const double y = std::min(y_px - region.top, region.top + region.height - 1 - y_px);
    const bool x_counts = laid == spray::Laid::spot || std::abs(dy) > std::abs(dx);
    const bool y_counts = laid == spray::Laid::spot || !x_counts;
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

colour::Rgb CardLight::at(double x_px, double y_px) const {
    const Terms t = terms_at(region, x_px, y_px);
    return {value(terms[0], t), value(terms[1], t), value(terms[2], t)};
}

std::optional<CardLight> light_of(const Picture& picture, const CardFrame& frame,
                                  const film::FilmScale& scale, const FilmThere& film, LightShape shape) {
    int all = 0;
    const std::vector<EdgePixel> pixels = edge_pixels(picture, frame, scale, film, all);
    if (static_cast<double>(pixels.size()) < kLeastBare * all || pixels.size() < 4 * kTerms)
        return std::nullopt;
    CardLight light{frame.region, {}, 0};
    double most = INFINITY;
    for (int turn = 0; turn < 3; ++turn) {  // each leaves out the dust that the one before showed
        std::array<Surface, 3> sums{Surface(shape), Surface(shape), Surface(shape)};
        std::size_t kept = 0;
        for (const EdgePixel& pixel : pixels) {
            if (turn > 0 && worst_miss(pixel, light.terms) > most) continue;
            ++kept;
            for (std::size_t c = 0; c < 3; ++c) sums[c].add(pixel.terms, pixel.bare[c]);
        }
        if (kept < 4 * kTerms) break;
        for (std::size_t c = 0; c < 3; ++c) light.terms[c] = sums[c].solved();
        double squares = 0, counted = 0;
        for (const EdgePixel& pixel : pixels) {
            if (turn > 0 && worst_miss(pixel, light.terms) > most) continue;
            for (std::size_t c = 0; c < 3; ++c) {
                const double miss = codes(pixel.bare[c]) - codes(value(light.terms[c], pixel.terms));
                squares += miss * miss;
                ++counted;
            }
        }
        light.noise_codes = std::sqrt(squares / counted);
        most = std::max(2.0, kSpeck * light.noise_codes);
    }
    return light;
}

std::vector<FilmCell> film_cells(const Picture& picture, const CardFrame& frame, const CardLight& light,
                                 const film::FilmScale& scale) {
    const bool spot = frame.laid == spray::Laid::spot;
    const double reach = frame.mm_per_px * std::hypot(frame.region.width, frame.region.height);
    const double span =
        2 * (spot ? std::max(frame.half_across_mm(), frame.half_along_mm()) : frame.half_across_mm());
    const double size = std::max(frame.step_px * frame.mm_per_px, span / (spot ? kMostSquares : kMostStrips));
    const int per_side = static_cast<int>(std::ceil(reach / size)) + 1;
    const auto number = [&](double mm) { return static_cast<int>(std::floor(mm / size + 0.5 * per_side)); };
    std::vector<FilmCell> cells(static_cast<std::size_t>(per_side) *
                                static_cast<std::size_t>(spot ? per_side : 1));
    const colour::Rgb bare = scale.seen(0);
    const Rectangle& r = frame.region;
    for (int y = r.top; y < r.top + r.height; y += frame.step_px)
        for (int x = r.left; x < r.left + r.width; x += frame.step_px) {
            const auto [across, along] = frame.at(x + 0.5, y + 0.5);
            const colour::Rgb lit = light.at(x + 0.5, y + 0.5);
            const auto pixel = linear(picture, x, y);
            const film::ReadFilm read =
                scale.read({pixel[0] / lit.r * bare.r, pixel[1] / lit.g * bare.g, pixel[2] / lit.b * bare.b});
            const int row = number(across), column = spot ? number(along) : 0;
            FilmCell& cell = cells[static_cast<std::size_t>(row) +
                                   static_cast<std::size_t>(column) * static_cast<std::size_t>(per_side)];
            cell.across_mm += across;
            cell.along_mm += along;
            cell.film_um += read.film_um;
            cell.off_codes += read.off_codes;
            cell.dark += read.too_dark ? 1 : 0;
            ++cell.pixels;
        }
    std::vector<FilmCell> filled;
    for (FilmCell cell : cells) {
        if (cell.pixels < (spot ? 1 : kLeastPixels)) continue;
        for (double* sum : {&cell.across_mm, &cell.along_mm, &cell.film_um, &cell.off_codes, &cell.dark})
            *sum /= cell.pixels;
        filled.push_back(cell);
    }
    return filled;
}

}  // namespace fadewright::plan
