#include "fadewright/film/outlook.h"

#include "fadewright/colour/delta_e.h"
#include "fadewright/film/hiding.h"

#include <cmath>

namespace fadewright::film {
namespace {

// Both parts scaled to one volume each, so that "one to t" means what a painter pours.
std::vector<paint::Part> poured(std::span<const paint::Part> a, std::span<const paint::Part> b,
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

double turned(double degrees) {
    while (degrees > 180) degrees -= 360;
    while (degrees < -180) degrees += 360;
    return degrees;
}

}  // namespace

Outlook outlook(const paint::MixedPaint& mix, Micrometres coat, int count, const colour::Reflectance& ground,
                const Looker& looker) {
    const auto white = colour::Reflectance::constant(kWhiteCard);
    const auto grey = colour::Reflectance::constant(kGreyCard);
    const auto black = colour::Reflectance::constant(kBlackCard);
    Outlook out;
    out.masstone = looker.lab(masstone(mix));
    out.thin = looker.lab(over(mix, 0.1 * coat, white));
    for (int n = 1; n <= count; ++n) {
        CoatLook look;
        look.film = static_cast<double>(n) * coat;
        const colour::Reflectance on_white = over(mix, look.film, white),
                                  on_black = over(mix, look.film, black);
        look.over_white = looker.lab(on_white);
        look.over_black = looker.lab(on_black);
        look.over_grey = looker.lab(over(mix, look.film, grey));
        look.over_ground = looker.lab(over(mix, look.film, ground));
        look.contrast_ratio = looker.xyz(on_black).Y / looker.xyz(on_white).Y;
        out.coats.push_back(look);
    }
    out.film_to_hide =
        film_to_hide(mix, kFullHiding, {kBlackCard, kWhiteCard}, looker.skin(), looker.luminosity());
    if (out.film_to_hide && coat.value > 0)
        out.coats_to_hide = static_cast<int>(std::ceil(*out.film_to_hide / coat - 1e-9));
    return out;
}

std::optional<Halfway> halfway(std::span<const paint::Part> a, std::span<const paint::Part> b,
                               const Looker& looker) {
    const colour::Lab lab_a = looker.lab(masstone(paint::mixed(a)));
    const colour::Lab lab_b = looker.lab(masstone(paint::mixed(b)));
    if (colour::delta_e_2000(lab_a, lab_b) < 1) return std::nullopt;
    const auto at = [&](double log_parts) {
        Halfway half;
        half.parts_of_b = std::exp(log_parts);
        half.lab = looker.lab(masstone(paint::mixed(poured(a, b, half.parts_of_b))));
        half.from_a = colour::delta_e_76(lab_a, half.lab);
        half.from_b = colour::delta_e_76(half.lab, lab_b);
        return half;
    };
    // Nearer to A when little of B is in it, nearer to B when much is: bisect the logarithm of the ratio.
    double low = std::log(1e-5), high = std::log(1e5);
    for (int step = 0; step < 60; ++step) {
        const double middle = (low + high) / 2;
        const Halfway half = at(middle);
        (half.from_a < half.from_b ? low : high) = middle;
    }
    return at((low + high) / 2);
}

MiddleLook departure(const colour::Lab& a, const colour::Lab& b, const colour::Lab& middle) {
    const colour::LCh road = colour::to_lch(colour::Lab{(a.L + b.L) / 2, (a.a + b.a) / 2, (a.b + b.b) / 2});
    const colour::LCh own = colour::to_lch(middle);
    MiddleLook look{middle, road.C - own.C, std::nullopt};
    if (road.C >= kLeastChroma && own.C >= kLeastChroma) look.hue_swing_deg = turned(own.h - road.h);
    return look;
}

MiddleLooks middle_looks(const Middle& middle, const colour::Reflectance& ground, const Looker& looker) {
    const Middles three = middles(middle, ground);
    MiddleLooks looks;
    looks.a = looker.lab(over(paint::mixed(middle.a), middle.film, ground));
    looks.b = looker.lab(over(paint::mixed(middle.b), middle.film, ground));
    looks.cup = departure(looks.a, looks.b, looker.lab(three.cup));
    looks.film = departure(looks.a, looks.b, looker.lab(three.film));
    looks.dots = departure(looks.a, looks.b, looker.lab(three.dots));
    return looks;
}

}  // namespace fadewright::film
