#include "fadewright/paint/mix.h"

#include "fadewright/base/contract.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

namespace fadewright::paint {
namespace {

struct Volumes {
    double wet = 0;
    double dry = 0;
};

double dry_volume(const Part& part) noexcept { return part.parts * part.paint->solids.value; }

Volumes volumes_of(std::span<const Part> parts) {
    Volumes sum;
    for (const Part& part : parts) {
        FW_EXPECTS(part.paint != nullptr);
        FW_EXPECTS(part.parts >= 0);
        sum.wet += part.parts;
        sum.dry += dry_volume(part);
    }
    FW_EXPECTS(sum.wet > 0);
    return sum;
}

// Crowding pigment as a share of the dry film.
double crowding_pigment(std::span<const Part> parts, double dry) {
    double pigment = 0;
    for (const Part& part : parts)
        if (crowding_of(*part.paint)) pigment += dry_volume(part) * part.paint->pigment.value;
    return pigment / dry;
}

// Factor on the scattering of this paint due to the let-down.
double crowding_gain(const Paint& paint, double p) {
    const auto crowding = crowding_of(paint);
    if (!crowding) return 1;
    FW_EXPECTS(*crowding >= 0 && *crowding < kMaxCrowding);
    return crowding_efficiency(*crowding, p) / crowding_efficiency(*crowding, paint.pigment.value);
}

void add_optics(MixedPaint& mix, std::span<const Part> parts, double dry) {
    const double p = crowding_pigment(parts, dry);
    for (const Part& part : parts) {
        const double c = dry_volume(part) / dry;
        if (c <= 0) continue;
        const double scattering = c * crowding_gain(*part.paint, p);
        for (std::size_t band = 0; band < colour::kBandCount; ++band) {
            mix.K[band] += c * part.paint->K[band];
            mix.S[band] += scattering * part.paint->S[band];
        }
        for (EffectPigment flakes : part.paint->flakes) {
            flakes.platelet_hits_per_um *= c;
            mix.flakes.push_back(std::move(flakes));
        }
        mix.flatting = mix.flatting + c * part.paint->flatting;
        mix.haze = mix.haze + c * part.paint->haze;
        mix.origin = std::max(mix.origin, part.paint->origin);
    }
}

}  // namespace

std::optional<double> crowding_of(const Paint& paint) noexcept {
    if (paint.role != Role::white) return paint.crowding;
    return paint.crowding.value_or(kDefaultCrowding);
}

double crowding_efficiency(double v, double p) noexcept {
    return 1 - v * std::pow(std::min(p, kMaxCrowdedContent), 2.0 / 3.0);
}

double crowding_slope(double v, double p) noexcept {
    return p > 0 && p < kMaxCrowdedContent ? -v * 2 / (3 * std::cbrt(p)) : 0;
}

MixedPaint mix_paints(std::span<const Part> parts) {
    const Volumes sum = volumes_of(parts);
    double wet_grams = 0;
    double dry_grams = 0;
    double binder_grams = 0;
    double pigment = 0;
    for (const Part& part : parts) {
        const Paint& paint = *part.paint;
        const double dry = dry_volume(part);
        wet_grams += part.parts * paint.wet_density.value;
        dry_grams += dry * paint.dry_density.value;
        pigment += dry * paint.pigment.value;
        binder_grams += dry * (1 - paint.pigment.value) * paint.binder_density.value;
    }
    MixedPaint mix;
    mix.solids = Share{sum.dry / sum.wet};
    mix.wet_density = GramsPerMillilitre{wet_grams / sum.wet};
    mix.binder_g_per_litre = 1000 * binder_grams / sum.wet;
    if (sum.dry <= 0) return mix;
    mix.dry_density = GramsPerMillilitre{dry_grams / sum.dry};
    mix.pigment = Share{pigment / sum.dry};
    if (binder_grams > 0 && pigment > 0)
        mix.pigment_binder = std::max(0.0, dry_grams - binder_grams) / binder_grams;
    add_optics(mix, parts, sum.dry);
    return mix;
}

double dry_per_wet(const MixedPaint& mix) noexcept { return mix.solids.value; }

Micrometres dry_film(const MixedPaint& mix, Micrometres wet) noexcept { return dry_per_wet(mix) * wet; }

Micrometres wet_film(const MixedPaint& mix, Micrometres dry) noexcept {
    if (dry.value <= 0) return Micrometres{0};
    if (mix.solids.value <= 0) return Micrometres{std::numeric_limits<double>::infinity()};
    return Micrometres{dry.value / dry_per_wet(mix)};
}

std::vector<Part> combine_mixes(std::span<const Part> first, std::span<const Part> second,
                                Share second_of_dry_film) {
    const double dry_1 = volumes_of(first).dry;
    const double dry_2 = volumes_of(second).dry;
    FW_EXPECTS(dry_1 > 0 && dry_2 > 0);
    const double share = second_of_dry_film.value;
    FW_EXPECTS(share >= 0 && share <= 1);
    std::vector<Part> parts;
    parts.reserve(first.size() + second.size());
    for (const Part& part : first) parts.push_back({part.paint, part.parts * (1 - share) / dry_1});
    for (const Part& part : second) parts.push_back({part.paint, part.parts * share / dry_2});
    return parts;
}

Millilitres volume_of(const Paint& paint, Grams amount) noexcept {
    return Millilitres{amount.value / paint.wet_density.value};
}

Grams weight_of(const Paint& paint, Millilitres amount) noexcept {
    return Grams{amount.value * paint.wet_density.value};
}

std::vector<Share> weight_shares(std::span<const Part> parts) {
    (void)volumes_of(parts);  // checks the contract of the parts
    double total = 0;
    for (const Part& part : parts) total += part.parts * part.paint->wet_density.value;
    std::vector<Share> shares;
    shares.reserve(parts.size());
    for (const Part& part : parts) shares.emplace_back(part.parts * part.paint->wet_density.value / total);
    return shares;
}

std::vector<Ingredient> ingredients_of(std::span<const Part> parts) {
    const std::vector<Share> weights = weight_shares(parts);
    double volume = 0;
    for (const Part& part : parts) volume += part.parts;
    std::vector<Ingredient> out;
    for (std::size_t i = 0; i < parts.size(); ++i)
        out.push_back(
            {parts[i].paint->id, parts[i].paint->title, Share{parts[i].parts / volume}, weights[i]});
    return out;
}

std::optional<double> price_per_litre(std::span<const Part> parts) {
    double sum = 0, volume = 0;
    for (const Part& part : parts) {
        volume += part.parts;
        if (part.parts > 0 && !part.paint->price_per_litre) return std::nullopt;
        sum += part.parts * part.paint->price_per_litre.value_or(0);
    }
    return sum / volume;
}

Micrometres nominal_film_build(std::span<const Part> parts) noexcept {
    double dry = 0, film = 0;
    for (const Part& part : parts) {
        const double share = part.parts * part.paint->solids.value;
        dry += share;
        film += share * part.paint->coat_film.value;
    }
    return Micrometres{dry > 0 ? film / dry : 0};
}

Share reducer_share_of_mix(Share share_of_paint) noexcept {
    return Share{share_of_paint.value / (1 + share_of_paint.value)};
}

Share reducer_share_of_paint(Share share_of_mix) noexcept {
    return Share{share_of_mix.value / (1 - share_of_mix.value)};
}

}  // namespace fadewright::paint
