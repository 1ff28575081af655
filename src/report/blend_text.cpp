#include "blend_flakes.h"
#include "fadewright/colour/delta_e.h"
#include "fadewright/colour/words.h"
#include "fadewright/film/hiding.h"
#include "fadewright/report/blend.h"
#include "fadewright/report/shown.h"

#include <fmt/core.h>

#include <cmath>
#include <nlohmann/json.hpp>

namespace fadewright::report {
namespace {

constexpr double kNoticedDip = 8;         // chroma; a middle that loses this much looks duller than its ends
constexpr double kNoticedSwing_deg = 20;  // a hue that turns this far has another name
constexpr double kNoticedUndertone = 6;   // CIEDE2000 of chroma and hue alone
constexpr double kBluish_b = 3;           // b* below the thick film's own

std::string price_text(const Blend& blend) {
    if (!blend.price_per_litre) return "no price: not every paint has one";
    return fmt::format("{:.2f} a {} as sprayed", blend.units.in_litre(*blend.price_per_litre),
                       blend.units.litre());
}

std::string hiding_sentence(const Blend& blend) {
    if (!blend.outlook.film_to_hide) return "never hides: it stays a glaze however thick it is laid";
    const int coats = blend.outlook.coats_to_hide.value_or(1);
    return fmt::format("hides black and white in {} {} of {} (at {} dry)", coats,
                       coats == 1 ? "coat" : "coats", blend.units.text(blend.coat, 1),
                       blend.units.text(*blend.outlook.film_to_hide));
}

void add_undertone(const Blend& blend, std::vector<std::string>& out) {
    // Compare hue and chroma only: that a thin film is lighter surprises nobody.
    const colour::Lab& thick = blend.outlook.masstone;
    const colour::Lab& thin =
        blend.outlook.coats.empty() ? blend.outlook.thin : blend.outlook.coats[0].over_white;
    const colour::Lab level{thick.L, thin.a, thin.b};
    if (colour::delta_e_2000(thick, level) < kNoticedUndertone) return;
    out.push_back(fmt::format("one coat over white looks {}, thick it is {}", colour::colour_words(thin),
                              colour::colour_words(thick)));
}

void add_middles(const Blend& blend, std::vector<std::string>& out) {
    const TwoColours& two = *blend.two;
    if (two.half)
        out.push_back(fmt::format(
            "halfway to the eye is {} of {} to {}{}", ratio_text(two.half->parts_of_b), two.a, two.b,
            std::abs(std::log(two.half->parts_of_b)) > std::log(1.5) ? ", not 1 : 1" : ""));
    const auto tell = [&](const char* how, const film::MiddleLook& middle) {
        const double ends = (colour::to_lch(two.middles.a).C + colour::to_lch(two.middles.b).C) / 2;
        const double own = colour::to_lch(middle.lab).C;
        if (middle.chroma_dip > kNoticedDip)
            out.push_back(fmt::format("{}: the middle goes {}: chroma falls from {:.0f} to {:.0f}", how,
                                      own < 12 ? "grey" : "dull", ends, own));
        if (middle.hue_swing_deg && std::abs(*middle.hue_swing_deg) > kNoticedSwing_deg)
            out.push_back(fmt::format("{}: the middle turns to {}", how, colour::colour_words(middle.lab)));
    };
    tell("mixed in the cup", two.middles.cup);
    tell("laid as a thin coat", two.middles.film);
    tell("fogged as dots", two.middles.dots);
}

}  // namespace

std::string binder_words(const Blend& blend) {
    const ShownUnits units = blend.units;
    return fmt::format("{} {} a {}", units.figure(GramsPerLitre{blend.mix.binder_g_per_litre}), units.grams(),
                       units.litre());
}

std::vector<Ingredient> ingredients_of(std::span<const paint::Part> parts) {
    const std::vector<Share> weights = paint::weight_shares(parts);
    double volume = 0;
    for (const paint::Part& part : parts) volume += part.parts;
    std::vector<Ingredient> out;
    for (std::size_t i = 0; i < parts.size(); ++i)
        out.push_back(
            {parts[i].paint->id, parts[i].paint->title, Share{parts[i].parts / volume}, weights[i]});
    return out;
}

std::optional<double> price_of(std::span<const paint::Part> parts) {
    double sum = 0, volume = 0;
    for (const paint::Part& part : parts) {
        volume += part.parts;
        if (part.parts > 0 && !part.paint->price_per_litre) return std::nullopt;
        sum += part.parts * part.paint->price_per_litre.value_or(0);
    }
    return sum / volume;
}

std::optional<Micrometres> bluish_below(const paint::MixedPaint& mix, const film::Looker& looker) {
    const colour::Lab thick = looker.lab(film::masstone(mix));
    const auto black = colour::Reflectance::constant(film::kBlackCard);
    std::optional<Micrometres> below;
    for (double film_um = 0.5; film_um <= 200; film_um *= 1.05) {
        const colour::Lab thin = looker.lab(film::over(mix, Micrometres{film_um}, black));
        // Bluish: bluer than the thick film, and blue or grey by itself; a dark film is too dark to show a
        // hue.
        if (thin.L > 20 && thin.b < 0 && thin.b < thick.b - kBluish_b) below = Micrometres{film_um};
    }
    return below;
}

std::vector<std::string> blend_sentences(const Blend& blend) {
    std::vector<std::string> out{hiding_sentence(blend)};
    add_undertone(blend, out);
    if (blend.bluish_below)
        out.push_back(
            fmt::format("over dark it turns bluish below {}", blend.units.text(*blend.bluish_below)));
    if (blend.two) add_middles(blend, out);
    if (blend.flakes) add_flake_sentences(*blend.flakes, blend.units, out);
    return out;
}

std::string blend_text(const Blend& blend) {
    std::string out = fmt::format("{}\n\n", blend.title);
    for (const Ingredient& i : blend.ingredients)
        out += fmt::format("  {:<34} {:5.1f} % by volume   {:5.1f} % by weight   of the mix\n", i.title,
                           100 * i.of_mix_volume.value, 100 * i.of_mix_weight.value);
    out += fmt::format("\nmasstone {} ({}), seen in {}\n", colour::colour_words(blend.outlook.masstone),
                       lab_text(blend.outlook.masstone), blend.light);
    for (const std::string& sentence : blend_sentences(blend)) out += sentence + "\n";
    out += fmt::format(
        "\nsolids {:.1f} % by volume, binder {} as sprayed, pigment to binder {:.2f} by "
        "weight\n",
        100 * blend.mix.solids.value, binder_words(blend), blend.mix.pigment_binder);
    out += price_text(blend) + "\n\n";
    out += fmt::format("{:>5} {:>7}   {:<20} {:<20} {:<20} {:<20} {:>8}\n", "coats",
                       fmt::format("{} dry", blend.units.name<Micrometres>()), "over white L a b",
                       "over grey", "over black", "over " + blend.ground_name, "contrast");
    for (std::size_t n = 0; n < blend.outlook.coats.size(); ++n) {
        const film::CoatLook& c = blend.outlook.coats[n];
        out += fmt::format("{:>5} {:>7}   {:<20} {:<20} {:<20} {:<20} {:>8.3f}\n", n + 1,
                           blend.units.figure(c.film, 1), lab_text(c.over_white), lab_text(c.over_grey),
                           lab_text(c.over_black), lab_text(c.over_ground), c.contrast_ratio);
    }
    if (blend.flakes) out += flakes_text(blend);
    if (blend.mix.origin == paint::Origin::estimated)
        out += "\ncolours are predicted from estimated paint data; spray a card before you trust them\n";
    return out;
}

namespace {

nlohmann::ordered_json middle_json(const film::MiddleLook& middle) {
    nlohmann::ordered_json json;
    put_colour(json, "colour", middle.lab);
    json["chroma_dip"] = middle.chroma_dip;
    json["hue_swing_deg"] = middle.hue_swing_deg ? nlohmann::ordered_json(*middle.hue_swing_deg) : nullptr;
    return json;
}

nlohmann::ordered_json two_json(const TwoColours& two) {
    nlohmann::ordered_json json;
    json["a"] = two.a;
    json["b"] = two.b;
    put_colour(json, "a_as_laid", two.middles.a);
    put_colour(json, "b_as_laid", two.middles.b);
    if (two.half) {
        json["halfway"]["parts_of_b_to_one_a"] = two.half->parts_of_b;
        put_colour(json["halfway"], "colour", two.half->lab);
    }
    json["mixed_in_the_cup"] = middle_json(two.middles.cup);
    json["laid_as_a_thin_coat"] = middle_json(two.middles.film);
    json["fogged_as_dots"] = middle_json(two.middles.dots);
    return json;
}

}  // namespace

std::string blend_json(const Blend& blend) {
    nlohmann::ordered_json json;
    json["title"] = blend.title;
    json["light"] = blend.light;
    json["paint_data"] = origin_words(blend.mix.origin);
    for (const Ingredient& i : blend.ingredients)
        json["ingredients"].push_back({{"paint", i.id},
                                       {"percent_of_mix_by_volume", 100 * i.of_mix_volume.value},
                                       {"percent_of_mix_by_weight", 100 * i.of_mix_weight.value}});
    put_colour(json, "masstone", blend.outlook.masstone);
    json["solids_percent"] = 100 * blend.mix.solids.value;
    json["binder_g_per_litre"] = blend.mix.binder_g_per_litre;
    json["pigment_binder"] = blend.mix.pigment_binder;
    json["price_per_litre"] = blend.price_per_litre ? nlohmann::ordered_json(*blend.price_per_litre)
                                                    : nlohmann::ordered_json(nullptr);
    json["film_to_hide_um"] = blend.outlook.film_to_hide
                                  ? nlohmann::ordered_json(blend.outlook.film_to_hide->value)
                                  : nlohmann::ordered_json(nullptr);
    for (const film::CoatLook& c : blend.outlook.coats) {
        nlohmann::ordered_json coat;
        coat["film_um"] = c.film.value;
        coat["contrast_ratio"] = c.contrast_ratio;
        put_colour(coat, "over_white", c.over_white);
        put_colour(coat, "over_grey", c.over_grey);
        put_colour(coat, "over_black", c.over_black);
        put_colour(coat, "over_ground", c.over_ground);
        json["coats"].push_back(coat);
    }
    if (blend.two) json["two_colours"] = two_json(*blend.two);
    if (blend.flakes) put_flakes(json, blend);
    json["sentences"] = blend_sentences(blend);
    return json.dump(2) + "\n";
}

}  // namespace fadewright::report
