#include "fadewright/film/match.h"

#include "fadewright/base/contract.h"
#include "fadewright/colour/delta_e.h"
#include "fadewright/film/hiding.h"
#include "fadewright/film/looker.h"
#include "fadewright/film/outlook.h"
#include "match_rounding.h"
#include "match_search.h"

#include <algorithm>
#include <cmath>

namespace fadewright::film {
namespace {

constexpr double kWorthShowing = 2.0;  // an alternative further off than the best by more is none
constexpr double kUnfelt = 0.01;       // a paint whose loss costs less in CIEDE2000 is left out;
constexpr double kUnfeltShare = 0.02;  // of what the recipe misses by, this much more
constexpr int kLastSteps = 40;         // of the fits in the last round
constexpr int kRefitSteps = 6;         // of a fit that has lost a paint

// Everything one call works with.
struct Bench {
    const MatchTarget& target;
    const MatchSettings& settings;
    Looker eye, lamp, tube;
    Pot pot;
    Fitter fitter;

    Bench(const MatchTarget& wanted, std::span<const paint::Paint* const> paints, const MatchSettings& how)
        : target(wanted),
          settings(how),
          eye(how.light, how.observer, how.specular),
          lamp(colour::standard_light(colour::StandardLight::A), how.observer, how.specular),
          tube(colour::standard_light(colour::StandardLight::F11), how.observer, how.specular),
          pot(paints),
          fitter(pot, eyes(), how.specular, how.over) {}

    // The target's own Lab in another light, if its spectrum is known.
    [[nodiscard]] std::optional<colour::Lab> target_in(const Looker& looker) const {
        if (!target.seen) return std::nullopt;
        const colour::Weights& weights = looker.weights();
        return colour::to_lab(colour::to_xyz(*target.seen, weights), weights.white);
    }

    [[nodiscard]] std::vector<Eye> eyes() const {
        std::vector<Eye> all{Eye(eye, target.lab, 1)};
        for (const Looker* other : {&lamp, &tube})
            if (const auto lab = target_in(*other)) all.emplace_back(*other, *lab, kMetamerismCost / 2);
        return all;
    }

    [[nodiscard]] colour::Reflectance inside(std::span<const paint::Part> parts) const {
        const paint::MixedPaint mix = paint::mixed(parts);
        return settings.over ? over(mix, settings.over->film, settings.over->ground) : masstone(mix);
    }

    // CIEDE2000 from the target under the settings' light, by the plain way of paint::mixed().
    [[nodiscard]] double delta_e(std::span<const paint::Part> parts) const {
        return colour::delta_e_2000(target.lab, eye.lab(inside(parts)));
    }
};

// The same paints by wet volumes, as a trial of dry shares.
Trial trial_of(const Fit& fit, const Pot& pot, std::span<const double> volumes) {
    Trial trial = fit.trial();
    double sum = 0;
    for (std::size_t i = 0; i < fit.count; ++i)
        sum += trial.share[i] = volumes[i] * pot.paint(fit.who[i]).solids.value;
    for (std::size_t i = 0; i < fit.count; ++i) trial.share[i] /= sum;
    return trial;
}

// Drops paints that a fit has driven to nothing.
Fit without_unfelt(const Fitter& fitter, Fit fit) {
    for (std::size_t i = 0; i < fit.count && fit.count > 1;) {
        Fit fewer = fit;
        for (std::size_t j = i + 1; j < fit.count; ++j) {
            fewer.who[j - 1] = fit.who[j];
            fewer.log_weight[j - 1] = fit.log_weight[j];
        }
        --fewer.count;
        fewer = fitter.fitted(fewer, kRefitSteps);
        fewer.miss = fitter.miss(fewer.trial());
        if (fewer.miss < fit.miss * (1 + kUnfeltShare) + kUnfelt) {
            fit = fitter.polished(fewer);
            i = 0;
        } else {
            ++i;
        }
    }
    return fit;
}

// Most by weight first.
Fit in_pouring_order(const Pot& pot, const Fit& fit) {
    const Trial trial = fit.trial();
    std::vector<std::size_t> order;
    for (std::size_t i = 0; i < fit.count; ++i) order.push_back(i);
    const auto grams = [&](std::size_t i) {
        const paint::Paint& paint = pot.paint(fit.who[i]);
        return trial.share[i] / paint.solids.value * paint.wet_density.value;
    };
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return grams(a) > grams(b); });
    Fit ordered = fit;
    for (std::size_t i = 0; i < order.size(); ++i) {
        ordered.who[i] = fit.who[order[i]];
        ordered.log_weight[i] = fit.log_weight[order[i]];
    }
    return ordered;
}

void add_hiding(Recipe& recipe, const Bench& bench) {
    const auto parts = recipe.exact();
    const paint::MixedPaint mix = paint::mixed(parts);
    double dry = 0, coat = 0;
    for (const paint::Part& part : parts) {
        const double volume = part.parts * part.paint->solids.value;
        dry += volume;
        coat += volume * part.paint->coat_film.value;
    }
    recipe.coat = Micrometres{coat / dry};
    const Card card{kBlackCard, kWhiteCard};
    const colour::Power luminosity = bench.eye.luminosity();
    const Skin skin = bench.eye.skin();
    recipe.contrast_ratio = contrast_ratio(mix, recipe.coat, card, skin, luminosity);
    recipe.film_to_hide = film_to_hide(mix, kFullHiding, card, skin, luminosity);
    if (recipe.film_to_hide && recipe.coat.value > 0)
        recipe.coats_to_hide = static_cast<int>(std::ceil(*recipe.film_to_hide / recipe.coat - 1e-9));
}

void add_grams(Recipe& recipe, const Bench& bench, const Fit& fit) {
    std::vector<double> shares;
    double weight = 0;
    for (const Ingredient& one : recipe.ingredients)
        weight += shares.emplace_back(one.share * one.paint->wet_density.value);
    for (double& share : shares) share /= weight;
    const double division = bench.settings.division.value;
    const auto miss = [&](std::span<const int> counts) {
        std::vector<double> volumes;
        for (std::size_t i = 0; i < counts.size(); ++i)
            volumes.push_back(counts[i] / recipe.ingredients[i].paint->wet_density.value);
        return bench.fitter.miss(trial_of(fit, bench.pot, volumes));
    };
    const auto counts = whole_units(shares, bench.settings.batch.value / division, miss);
    for (std::size_t i = 0; i < counts.size(); ++i) {
        recipe.ingredients[i].grams = Grams{counts[i] * division};
        recipe.ingredients[i].weighing_error =
            Share{0.5 * division / (shares[i] * bench.settings.batch.value)};
    }
    recipe.delta_e_grams = bench.delta_e(recipe.in_grams());
}

// The worst that one weighing, half a division off, can do.
void add_slip(Recipe& recipe, const Bench& bench) {
    const auto weighed = recipe.in_grams();
    for (std::size_t i = 0; i < weighed.size(); ++i)
        for (const double half : {-0.5, 0.5}) {
            auto slipped = weighed;
            slipped[i].parts = std::max(0.0, slipped[i].parts + half * bench.settings.division.value /
                                                                    slipped[i].paint->wet_density.value);
            if (std::all_of(slipped.begin(), slipped.end(),
                            [](const paint::Part& p) { return p.parts <= 0; }))
                continue;
            recipe.delta_e_slip = std::max(recipe.delta_e_slip, bench.delta_e(slipped));
        }
}

void add_metamerism(Recipe& recipe, const Bench& bench) {
    const colour::Reflectance inside = bench.inside(recipe.exact());
    recipe.lab = bench.eye.lab(inside);
    recipe.lamp = {"A", bench.lamp.lab(inside), bench.target_in(bench.lamp)};
    recipe.tube = {"F11", bench.tube.lab(inside), bench.target_in(bench.tube)};
    if (!bench.target.seen) return;
    recipe.metamerism_lamp = colour::delta_e_2000(*recipe.lamp.target, recipe.lamp.recipe);
    recipe.metamerism_tube = colour::delta_e_2000(*recipe.tube.target, recipe.tube.recipe);
}

double cost_of(const Recipe& recipe) {
    const int coats = std::min(recipe.coats_to_hide.value_or(kMostCoats), kMostCoats);
    double cost = recipe.delta_e_grams +
                  kSlipCost * std::max(0.0, recipe.delta_e_slip - recipe.delta_e_grams) +
                  kPaintCost * static_cast<double>(recipe.ingredients.size()) + kCoatCost * coats;
    if (recipe.metamerism_lamp)
        cost += kMetamerismCost * (*recipe.metamerism_lamp + *recipe.metamerism_tube) / 2;
    return cost;
}

// What ranking needs.
Recipe rough_recipe(const Bench& bench, const Fit& fit) {
    Recipe recipe;
    const Trial trial = fit.trial();
    double volume = 0;
    for (std::size_t i = 0; i < fit.count; ++i) {
        Ingredient one;
        one.paint = &bench.pot.paint(fit.who[i]);
        one.share = trial.share[i] / one.paint->solids.value;
        volume += one.share;
        recipe.ingredients.push_back(one);
    }
    for (Ingredient& one : recipe.ingredients) one.share /= volume;
    add_metamerism(recipe, bench);
    recipe.delta_e = colour::delta_e_2000(bench.target.lab, recipe.lab);
    add_grams(recipe, bench, fit);
    add_slip(recipe, bench);
    add_hiding(recipe, bench);
    recipe.cost = cost_of(recipe);
    return recipe;
}

// What the painter is told besides.
void finish(Recipe& recipe, const Bench& bench, const Fit& fit) {
    std::vector<double> shares;
    for (const Ingredient& one : recipe.ingredients) shares.push_back(one.share);
    const auto counts = whole_parts(shares, bench.settings.most_parts, [&](std::span<const int> tried) {
        const std::vector<double> volumes(tried.begin(), tried.end());
        return bench.fitter.miss(trial_of(fit, bench.pot, volumes));
    });
    for (std::size_t i = 0; i < counts.size(); ++i) recipe.ingredients[i].parts = counts[i];
    recipe.delta_e_parts = bench.delta_e(recipe.in_parts());
}

bool holds_all_of(const Recipe& larger, const Recipe& smaller) {
    return std::all_of(smaller.ingredients.begin(), smaller.ingredients.end(), [&](const Ingredient& one) {
        return std::any_of(larger.ingredients.begin(), larger.ingredients.end(),
                           [&](const Ingredient& other) { return other.paint == one.paint; });
    });
}

struct Ranked {
    Recipe recipe;
    Fit fit;
};

std::vector<Ranked> ranked(const Bench& bench) {
    std::vector<Ranked> all;
    for (const Fit& rough :
         promising_fits(bench.fitter, static_cast<std::size_t>(bench.settings.most_paints))) {
        const Fit fit = in_pouring_order(
            bench.pot,
            without_unfelt(bench.fitter, bench.fitter.polished(bench.fitter.fitted(rough, kLastSteps))));
        all.push_back({rough_recipe(bench, fit), fit});
    }
    std::stable_sort(all.begin(), all.end(),
                     [](const Ranked& a, const Ranked& b) { return a.recipe.cost < b.recipe.cost; });
    return all;
}

}  // namespace

std::vector<paint::Part> Recipe::exact() const {
    std::vector<paint::Part> parts;
    for (const Ingredient& one : ingredients) parts.push_back({one.paint, one.share});
    return parts;
}

std::vector<paint::Part> Recipe::in_parts() const {
    std::vector<paint::Part> parts;
    for (const Ingredient& one : ingredients) parts.push_back({one.paint, static_cast<double>(one.parts)});
    return parts;
}

std::vector<paint::Part> Recipe::in_grams() const {
    std::vector<paint::Part> parts;
    for (const Ingredient& one : ingredients)
        parts.push_back({one.paint, paint::volume_of(*one.paint, one.grams).value});
    return parts;
}

MatchTarget target_of(const colour::Reflectance& seen, const MatchSettings& settings) {
    const colour::Weights weights = colour::weights(settings.light, settings.observer);
    return {colour::to_lab(colour::to_xyz(seen, weights), weights.white), seen};
}

std::vector<Recipe> match(const MatchTarget& target, std::span<const paint::Paint* const> paints,
                          const MatchSettings& settings) {
    FW_EXPECTS(!paints.empty());
    FW_EXPECTS(settings.most_paints >= 1 && settings.most_paints <= static_cast<int>(kMostInPot));
    FW_EXPECTS(settings.batch.value > 0 && settings.division.value > 0 && settings.most_parts >= 1);
    std::vector<const paint::Paint*> sorted(paints.begin(), paints.end());
    std::sort(sorted.begin(), sorted.end(),
              [](const paint::Paint* a, const paint::Paint* b) { return a->id < b->id; });
    const Bench bench(target, sorted, settings);
    std::vector<Recipe> recipes;
    for (Ranked& next : ranked(bench)) {
        if (static_cast<int>(recipes.size()) >= settings.recipes) break;
        const auto alike = [&](const Recipe& chosen) {
            return holds_all_of(chosen, next.recipe) || holds_all_of(next.recipe, chosen);
        };
        if (std::any_of(recipes.begin(), recipes.end(), alike)) continue;
        if (!recipes.empty() && next.recipe.delta_e_grams > recipes.front().delta_e_grams + kWorthShowing)
            continue;
        finish(next.recipe, bench, next.fit);
        recipes.push_back(std::move(next.recipe));
    }
    return recipes;
}

}  // namespace fadewright::film
