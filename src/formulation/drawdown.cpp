#include "fadewright/formulation/drawdown.h"

#include "fadewright/colour/delta_e.h"
#include "fadewright/film/hiding.h"

#include <cmath>

namespace fadewright::formulation {
namespace {

// Both parts scaled to one volume each, so that "1 : t" is a ratio by volume.
std::vector<paint::Part> parts_per_part(std::span<const paint::Part> a, std::span<const paint::Part> b,
                                        double parts_of_b) {
    const auto volume = [](std::span<const paint::Part> parts) {
        double sum = 0;
        for (const paint::Part& part : parts) sum += part.parts;
        return sum;
    };
    std::vector<paint::Part> all;
    for (const paint::Part& part : a) all.push_back({part.paint, part.parts / volume(a)});
    for (const paint::Part& part : b) all.push_back({part.paint, parts_of_b * part.parts / volume(b)});
    return all;
}

double wrapped_degrees(double degrees) {
    while (degrees > 180) degrees -= 360;
    while (degrees < -180) degrees += 360;
    return degrees;
}

}  // namespace

DrawdownPrediction predict_drawdown(const paint::MixedPaint& mix, Micrometres coat, int count,
                                    const colour::Reflectance& ground, const film::Colorimeter& colorimeter) {
    const auto white = colour::Reflectance::constant(kWhiteChart);
    const auto grey = colour::Reflectance::constant(kGreyChart);
    const auto black = colour::Reflectance::constant(kBlackChart);
    DrawdownPrediction out;
    out.masstone = colorimeter.lab(film::masstone(mix));
    out.undertone = colorimeter.lab(film::reflectance_over(mix, 0.1 * coat, white));
    for (int n = 1; n <= count; ++n) {
        DrawdownCoat row;
        row.film = static_cast<double>(n) * coat;
        const colour::Reflectance on_white = film::reflectance_over(mix, row.film, white),
                                  on_black = film::reflectance_over(mix, row.film, black);
        row.over_white = colorimeter.lab(on_white);
        row.over_black = colorimeter.lab(on_black);
        row.over_grey = colorimeter.lab(film::reflectance_over(mix, row.film, grey));
        row.over_ground = colorimeter.lab(film::reflectance_over(mix, row.film, ground));
        row.contrast_ratio = colorimeter.xyz(on_black).Y / colorimeter.xyz(on_white).Y;
        out.coats.push_back(row);
    }
    out.film_to_hide = full_hiding_film(mix, colorimeter);
    out.coats_to_hide = coats_to_hide(out.film_to_hide, coat);
    return out;
}

std::optional<Micrometres> full_hiding_film(const paint::MixedPaint& mix,
                                            const film::Colorimeter& colorimeter) {
    return film::film_to_hide(mix, film::kFullHiding, {kBlackChart, kWhiteChart}, colorimeter.surface(),
                              colorimeter.luminosity());
}

std::optional<int> coats_to_hide(std::optional<Micrometres> film_to_hide, Micrometres coat) {
    if (!film_to_hide || coat.value <= 0) return std::nullopt;
    return static_cast<int>(std::ceil(*film_to_hide / coat - 1e-9));
}

std::optional<Micrometres> bluish_below(const paint::MixedPaint& mix, const film::Colorimeter& colorimeter) {
    constexpr double kBluish_b = 3;  // b* below the thick film's own
    const colour::Lab thick = colorimeter.lab(film::masstone(mix));
    const auto black = colour::Reflectance::constant(kBlackChart);
    std::optional<Micrometres> limit;
    for (double film_um = 0.5; film_um <= 200; film_um *= 1.05) {
        const colour::Lab thin = colorimeter.lab(film::reflectance_over(mix, Micrometres{film_um}, black));
        // Bluish: bluer than the thick film, and blue or grey by itself; a dark film is too dark to show a
        // hue.
        if (thin.L > 20 && thin.b < 0 && thin.b < thick.b - kBluish_b) limit = Micrometres{film_um};
    }
    return limit;
}

std::optional<VisualMidpoint> visual_midpoint(std::span<const paint::Part> a, std::span<const paint::Part> b,
                                              const film::Colorimeter& colorimeter) {
    const colour::Lab lab_a = colorimeter.lab(film::masstone(paint::mix_paints(a)));
    const colour::Lab lab_b = colorimeter.lab(film::masstone(paint::mix_paints(b)));
    if (colour::delta_e_2000(lab_a, lab_b) < colour::kIndistinguishable_dE) return std::nullopt;
    const auto at = [&](double log_parts) {
        VisualMidpoint midpoint;
        midpoint.parts_of_b = std::exp(log_parts);
        midpoint.lab =
            colorimeter.lab(film::masstone(paint::mix_paints(parts_per_part(a, b, midpoint.parts_of_b))));
        midpoint.distance_from_a = colour::delta_e_76(lab_a, midpoint.lab);
        midpoint.distance_from_b = colour::delta_e_76(midpoint.lab, lab_b);
        return midpoint;
    };
    // Near A for little of B, near B for much: bisection of the logarithm of the ratio.
    double low = std::log(1e-5), high = std::log(1e5);
    for (int step = 0; step < 60; ++step) {
        const double middle = (low + high) / 2;
        const VisualMidpoint midpoint = at(middle);
        (midpoint.distance_from_a < midpoint.distance_from_b ? low : high) = middle;
    }
    return at((low + high) / 2);
}

MidColourFigures path_deviation(const colour::Lab& a, const colour::Lab& b, const colour::Lab& mid_colour) {
    const colour::LCh path = colour::to_lch(colour::Lab{(a.L + b.L) / 2, (a.a + b.a) / 2, (a.b + b.b) / 2});
    const colour::LCh actual = colour::to_lch(mid_colour);
    MidColourFigures figures{mid_colour, path.C - actual.C, std::nullopt};
    if (path.C >= colour::kMinMidColourChroma && actual.C >= colour::kMinMidColourChroma)
        figures.hue_shift_deg = wrapped_degrees(actual.h - path.h);
    return figures;
}

MidColourComparison compare_mid_colours(const MidColourInput& input, const colour::Reflectance& ground,
                                        const film::Colorimeter& colorimeter) {
    const MidColours colours = mid_colours(input, ground);
    MidColourComparison comparison;
    comparison.a = colorimeter.lab(film::reflectance_over(paint::mix_paints(input.a), input.film, ground));
    comparison.b = colorimeter.lab(film::reflectance_over(paint::mix_paints(input.b), input.film, ground));
    comparison.premixed = path_deviation(comparison.a, comparison.b, colorimeter.lab(colours.premixed));
    comparison.glazed = path_deviation(comparison.a, comparison.b, colorimeter.lab(colours.glazed));
    comparison.stippled = path_deviation(comparison.a, comparison.b, colorimeter.lab(colours.stippled));
    return comparison;
}

std::optional<std::size_t> chroma_peak(std::span<const colour::Lab> steps) {
    if (steps.size() < 2) return std::nullopt;
    std::size_t best = 0;
    for (std::size_t i = 1; i < steps.size(); ++i)
        if (colour::to_lch(steps[i]).C > colour::to_lch(steps[best]).C) best = i;
    if (best + 1 == steps.size() || colour::to_lch(steps[best]).C < kMinPeakChroma) return std::nullopt;
    for (std::size_t i = best + 1; i < steps.size(); ++i)
        if (steps[i].L <= steps[i - 1].L) return std::nullopt;
    return best;
}

}  // namespace fadewright::formulation
