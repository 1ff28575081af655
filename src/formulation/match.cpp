#include "fadewright/formulation/match.h"

#include "fadewright/base/contract.h"
#include "fadewright/colour/delta_e.h"
#include "fadewright/film/colorimeter.h"
#include "fadewright/film/hiding.h"
#include "fadewright/formulation/drawdown.h"
#include "match_fit.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <set>
#include <span>
#include <vector>

namespace fadewright::formulation {
namespace {

// Rounded recipes: whole parts, and divisions of a scale.

// Colour difference of a recipe of these amounts, counted in the unit that is rounded to.
using RecipeError = std::function<double(std::span<const int>)>;

struct RoundedRecipe {
    std::vector<int> counts;
    double error = 0;
};

bool all_zero(const std::vector<int>& counts) {
    return std::all_of(counts.begin(), counts.end(), [](int n) { return n == 0; });
}

// Repeats the best step of one unit in one paint while it improves the recipe.
RoundedRecipe descend(std::vector<int> counts, int max_count, const RecipeError& error) {
    RoundedRecipe best{counts, error(counts)};
    for (bool improved = true; improved;) {
        improved = false;
        const std::vector<int> current = best.counts;
        for (std::size_t i = 0; i < current.size(); ++i)
            for (const int step : {-1, 1}) {
                counts = current;
                counts[i] += step;
                if (counts[i] < 0 || counts[i] > max_count || all_zero(counts)) continue;
                const double new_error = error(counts);
                if (new_error >= best.error) continue;
                best = {counts, new_error};
                improved = true;
            }
    }
    return best;
}

std::vector<int> round_counts(std::span<const double> shares, double units) {
    std::vector<int> counts;
    for (const double share : shares) counts.push_back(static_cast<int>(std::lround(share * units)));
    if (all_zero(counts))
        counts[static_cast<std::size_t>(std::max_element(shares.begin(), shares.end()) - shares.begin())] = 1;
    return counts;
}

// Small whole numbers close to the shares, none above `max_count`, a compromise of accuracy and few parts
// (kPartCost). A share too small for one part gets 0.
std::vector<int> round_to_parts(std::span<const double> shares, int max_count, const RecipeError& error) {
    const double max_share = *std::max_element(shares.begin(), shares.end());
    std::vector<int> best;
    double min_cost = 0;
    for (int largest = 1; largest <= max_count; ++largest) {
        const RoundedRecipe candidate = descend(round_counts(shares, largest / max_share), max_count, error);
        const double cost =
            candidate.error + kPartCost * *std::max_element(candidate.counts.begin(), candidate.counts.end());
        if (!best.empty() && cost >= min_cost) continue;
        best = candidate.counts;
        min_cost = cost;
    }
    return best;
}

// The shares of `units`, rounded, then changed by single units while that improves the recipe.
std::vector<int> round_to_units(std::span<const double> shares, double units, const RecipeError& error) {
    const std::vector<int> start = round_counts(shares, units);
    const int max_count = *std::max_element(start.begin(), start.end()) + 1;
    return descend(start, max_count, error).counts;
}

// Candidate sets of paints.

constexpr std::size_t kMaxSetsPerSize = 12;  // sets of one size that go on to the last round
constexpr int kRoughSteps = 10;              // of a fit while sets are being sorted
constexpr std::size_t kMaxTriples = 8'000;   // parents x added paints: most pairs of thirty paints
constexpr std::size_t kMaxLargerSets = 3'000;
constexpr double kNewcomerStrength = 0.1;  // initial share of an added paint in the mix's strength
constexpr double kDoseCost = 0.02;         // of a recipe with a ten times wider range of parts, in CIEDE2000

using Members = std::array<std::size_t, kMaxPaintsInMix>;

// The paints of a set, lowest first; empty places last.
Members sorted_members(const Fit& fit) {
    Members sorted;
    sorted.fill(std::numeric_limits<std::size_t>::max());
    for (std::size_t i = 0; i < fit.count; ++i) sorted[i] = fit.paint_index[i];
    std::sort(sorted.begin(), sorted.end());
    return sorted;
}

bool contains_paint(const Fit& fit, std::size_t paint) {
    const auto end = fit.paint_index.begin() + static_cast<std::ptrdiff_t>(fit.count);
    return std::find(fit.paint_index.begin(), end, paint) != end;
}

// Colour difference, with a bias to recipes whose parts are easy to measure.
double rough_cost(const Fit& fit) {
    const auto end = fit.log_weight.begin() + static_cast<std::ptrdiff_t>(fit.count);
    const auto [min_weight, max_weight] = std::minmax_element(fit.log_weight.begin(), end);
    return fit.error + kDoseCost * (*max_weight - *min_weight) / std::log(10.0);
}

void sort_by_cost(std::vector<Fit>& fits) {
    std::sort(fits.begin(), fits.end(), [](const Fit& a, const Fit& b) {
        const double cost_a = rough_cost(a), cost_b = rough_cost(b);
        return cost_a != cost_b ? cost_a < cost_b : sorted_members(a) < sorted_members(b);
    });
}

Fit add_paint(const MixEvaluator& evaluator, const Fit& parent, std::size_t newcomer) {
    double strength = 0;
    for (std::size_t i = 0; i < parent.count; ++i)
        strength += std::exp(parent.log_weight[i]) * evaluator.tinting_strength(parent.paint_index[i]);
    Fit child = parent;
    child.paint_index[child.count] = newcomer;
    child.log_weight[child.count] =
        std::log(kNewcomerStrength * (strength + 1e-9) / (evaluator.tinting_strength(newcomer) + 1e-9));
    ++child.count;
    return child;
}

// Every set made of one of the first `parents` sets and one more paint, fitted once.
std::vector<Fit> grow_sets(const Fitter& fitter, const std::vector<Fit>& sets, std::size_t parents) {
    std::vector<Fit> larger;
    std::set<Members> visited;
    for (std::size_t parent = 0; parent < std::min(parents, sets.size()); ++parent)
        for (std::size_t paint = 0; paint < fitter.evaluator().size(); ++paint) {
            if (contains_paint(sets[parent], paint)) continue;
            const Fit start = add_paint(fitter.evaluator(), sets[parent], paint);
            if (visited.insert(sorted_members(start)).second)
                larger.push_back(fitter.refine(start, kRoughSteps));
        }
    sort_by_cost(larger);
    return larger;
}

// The most promising sets of 1 to max_paints paints in their fitted shares, every number of paints
// represented, in no order of merit.
std::vector<Fit> candidate_fits(const Fitter& fitter, std::size_t max_paints) {
    std::vector<Fit> sets;
    for (std::size_t paint = 0; paint < fitter.evaluator().size(); ++paint) {
        Fit single;
        single.count = 1;
        single.paint_index[0] = paint;
        sets.push_back(fitter.refine(single, 0));
    }
    sort_by_cost(sets);
    std::vector<Fit> chosen;
    for (std::size_t count = 1; !sets.empty(); ++count) {
        const std::size_t chosen_count = std::min(sets.size(), kMaxSetsPerSize);
        chosen.insert(chosen.end(), sets.begin(), sets.begin() + static_cast<std::ptrdiff_t>(chosen_count));
        if (count >= max_paints) break;
        const std::size_t visited = count <= 2 ? kMaxTriples : kMaxLargerSets;
        sets = grow_sets(fitter, sets, std::max<std::size_t>(1, visited / fitter.evaluator().size()));
    }
    return chosen;
}

constexpr double kMaxAlternativeLoss = 2.0;  // largest loss of an alternative against the best
constexpr double kNegligible = 0.01;         // a paint whose removal costs less in CIEDE2000 is dropped;
constexpr double kNegligibleShare = 0.02;    // or less than this share of the recipe's own difference
constexpr int kFinalSteps = 40;              // of the fits in the last round
constexpr int kRefitSteps = 6;               // of a fit after a paint was dropped

// Input and prepared data of one call.
struct MatchContext {
    const MatchTarget& target;
    const MatchSettings& settings;
    film::Colorimeter reference, incandescent, fluorescent;
    MixEvaluator evaluator;
    Fitter fitter;

    MatchContext(const MatchTarget& match_target, std::span<const paint::Paint* const> paints,
                 const MatchSettings& match_settings)
        : target(match_target),
          settings(match_settings),
          reference(match_settings.light, match_settings.observer, match_settings.specular),
          incandescent(colour::standard_illuminant(colour::StandardIlluminant::A), match_settings.observer,
                       match_settings.specular),
          fluorescent(colour::standard_illuminant(colour::StandardIlluminant::F11), match_settings.observer,
                      match_settings.specular),
          evaluator(paints),
          fitter(evaluator, view_conditions(), match_settings.specular, match_settings.film_over_ground) {}

    // The target's own Lab in another light, if its spectrum is known.
    [[nodiscard]] std::optional<colour::Lab> target_under(const film::Colorimeter& colorimeter) const {
        if (!target.measured) return std::nullopt;
        const colour::TristimulusWeights& weights = colorimeter.weights();
        return colour::to_lab(colour::to_xyz(*target.measured, weights), weights.white);
    }

    [[nodiscard]] std::vector<ViewCondition> view_conditions() const {
        std::vector<ViewCondition> all{ViewCondition(reference, target.lab, 1)};
        for (const film::Colorimeter* other : {&incandescent, &fluorescent})
            if (const auto lab = target_under(*other)) all.emplace_back(*other, *lab, kMetamerismCost / 2);
        return all;
    }

    [[nodiscard]] colour::Reflectance internal_reflectance(std::span<const paint::Part> parts) const {
        const paint::MixedPaint mix = paint::mix_paints(parts);
        return settings.film_over_ground ? film::reflectance_over(mix, settings.film_over_ground->film,
                                                                  settings.film_over_ground->ground)
                                         : film::masstone(mix);
    }

    // CIEDE2000 from the target under the settings' light, by paint::mixed() itself.
    [[nodiscard]] double delta_e(std::span<const paint::Part> parts) const {
        return colour::delta_e_2000(target.lab, reference.lab(internal_reflectance(parts)));
    }
};

// The same paints by wet volumes, as a trial of dry shares.
MixShares shares_by_volume(const Fit& fit, const MixEvaluator& evaluator, std::span<const double> volumes) {
    MixShares mix_shares = fit.shares();
    double sum = 0;
    for (std::size_t i = 0; i < fit.count; ++i)
        sum += mix_shares.share[i] = volumes[i] * evaluator.paint(fit.paint_index[i]).solids.value;
    for (std::size_t i = 0; i < fit.count; ++i) mix_shares.share[i] /= sum;
    return mix_shares;
}

// Drops paints whose share a fit has reduced to nearly 0.
Fit drop_negligible(const Fitter& fitter, Fit fit) {
    for (std::size_t i = 0; i < fit.count && fit.count > 1;) {
        Fit reduced = fit;
        for (std::size_t j = i + 1; j < fit.count; ++j) {
            reduced.paint_index[j - 1] = fit.paint_index[j];
            reduced.log_weight[j - 1] = fit.log_weight[j];
        }
        --reduced.count;
        reduced = fitter.refine(reduced, kRefitSteps);
        reduced.error = fitter.error(reduced.shares());
        if (reduced.error < fit.error * (1 + kNegligibleShare) + kNegligible) {
            fit = fitter.polish(reduced);
            i = 0;
        } else {
            ++i;
        }
    }
    return fit;
}

// By decreasing weight.
Fit sort_by_weight(const MixEvaluator& evaluator, const Fit& fit) {
    const MixShares mix_shares = fit.shares();
    std::vector<std::size_t> order;
    for (std::size_t i = 0; i < fit.count; ++i) order.push_back(i);
    const auto grams = [&](std::size_t i) {
        const paint::Paint& paint = evaluator.paint(fit.paint_index[i]);
        return mix_shares.share[i] / paint.solids.value * paint.wet_density.value;
    };
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return grams(a) > grams(b); });
    Fit sorted_fit = fit;
    for (std::size_t i = 0; i < order.size(); ++i) {
        sorted_fit.paint_index[i] = fit.paint_index[order[i]];
        sorted_fit.log_weight[i] = fit.log_weight[order[i]];
    }
    return sorted_fit;
}

void add_hiding(Recipe& recipe, const MatchContext& context) {
    const auto parts = recipe.exact_parts();
    const paint::MixedPaint mix = paint::mix_paints(parts);
    recipe.coat_film = paint::nominal_film_build(parts);
    recipe.contrast_ratio = film::contrast_ratio(mix, recipe.coat_film, {kBlackChart, kWhiteChart},
                                                 context.reference.surface(), context.reference.luminosity());
    recipe.film_to_hide = full_hiding_film(mix, context.reference);
    recipe.coats_to_hide = coats_to_hide(recipe.film_to_hide, recipe.coat_film);
}

void add_grams(Recipe& recipe, const MatchContext& context, const Fit& fit) {
    std::vector<double> shares;
    double weight = 0;
    for (const Ingredient& ingredient : recipe.ingredients)
        weight += shares.emplace_back(ingredient.share * ingredient.paint->wet_density.value);
    for (double& share : shares) share /= weight;
    const double division = context.settings.division.value;
    const auto error = [&](std::span<const int> counts) {
        std::vector<double> volumes;
        for (std::size_t i = 0; i < counts.size(); ++i)
            volumes.push_back(counts[i] / recipe.ingredients[i].paint->wet_density.value);
        return context.fitter.error(shares_by_volume(fit, context.evaluator, volumes));
    };
    const auto counts = round_to_units(shares, context.settings.batch.value / division, error);
    for (std::size_t i = 0; i < counts.size(); ++i) {
        recipe.ingredients[i].grams = Grams{counts[i] * division};
        recipe.ingredients[i].weighing_error =
            Share{0.5 * division / (shares[i] * context.settings.batch.value)};
    }
    recipe.delta_e_grams = context.delta_e(recipe.parts_by_weight());
}

// The largest difference that a single weighing error of half a division can cause.
void add_weighing_error(Recipe& recipe, const MatchContext& context) {
    const auto by_weight = recipe.parts_by_weight();
    for (std::size_t i = 0; i < by_weight.size(); ++i)
        for (const double half : {-0.5, 0.5}) {
            auto misweighed = by_weight;
            misweighed[i].parts =
                std::max(0.0, misweighed[i].parts + half * context.settings.division.value /
                                                        misweighed[i].paint->wet_density.value);
            if (std::all_of(misweighed.begin(), misweighed.end(),
                            [](const paint::Part& p) { return p.parts <= 0; }))
                continue;
            recipe.delta_e_worst_case = std::max(recipe.delta_e_worst_case, context.delta_e(misweighed));
        }
}

void add_metamerism(Recipe& recipe, const MatchContext& context) {
    const colour::Reflectance inside = context.internal_reflectance(recipe.exact_parts());
    recipe.lab = context.reference.lab(inside);
    recipe.incandescent = {"A", context.incandescent.lab(inside), context.target_under(context.incandescent)};
    recipe.fluorescent = {"F11", context.fluorescent.lab(inside), context.target_under(context.fluorescent)};
    if (!context.target.measured) return;
    recipe.metamerism_incandescent =
        colour::delta_e_2000(*recipe.incandescent.target, recipe.incandescent.recipe);
    recipe.metamerism_fluorescent =
        colour::delta_e_2000(*recipe.fluorescent.target, recipe.fluorescent.recipe);
}

double cost_of(const Recipe& recipe) {
    const int coats = std::min(recipe.coats_to_hide.value_or(kMaxCoats), kMaxCoats);
    double cost = recipe.delta_e_grams +
                  kWeighingErrorCost * std::max(0.0, recipe.delta_e_worst_case - recipe.delta_e_grams) +
                  kPaintCost * static_cast<double>(recipe.ingredients.size()) + kCoatCost * coats;
    if (recipe.metamerism_incandescent)
        cost += kMetamerismCost * (*recipe.metamerism_incandescent + *recipe.metamerism_fluorescent) / 2;
    return cost;
}

// The data for ranking.
Recipe make_recipe(const MatchContext& context, const Fit& fit) {
    Recipe recipe;
    const MixShares mix_shares = fit.shares();
    double volume = 0;
    for (std::size_t i = 0; i < fit.count; ++i) {
        Ingredient ingredient;
        ingredient.paint = &context.evaluator.paint(fit.paint_index[i]);
        ingredient.share = mix_shares.share[i] / ingredient.paint->solids.value;
        volume += ingredient.share;
        recipe.ingredients.push_back(ingredient);
    }
    for (Ingredient& ingredient : recipe.ingredients) ingredient.share /= volume;
    add_metamerism(recipe, context);
    recipe.delta_e = colour::delta_e_2000(context.target.lab, recipe.lab);
    add_grams(recipe, context, fit);
    add_weighing_error(recipe, context);
    add_hiding(recipe, context);
    recipe.cost = cost_of(recipe);
    return recipe;
}

// The remaining data of a returned recipe.
void add_whole_parts(Recipe& recipe, const MatchContext& context, const Fit& fit) {
    std::vector<double> shares;
    for (const Ingredient& ingredient : recipe.ingredients) shares.push_back(ingredient.share);
    const auto counts =
        round_to_parts(shares, context.settings.max_parts, [&](std::span<const int> counts_tried) {
            const std::vector<double> volumes(counts_tried.begin(), counts_tried.end());
            return context.fitter.error(shares_by_volume(fit, context.evaluator, volumes));
        });
    for (std::size_t i = 0; i < counts.size(); ++i) recipe.ingredients[i].parts = counts[i];
    recipe.delta_e_parts = context.delta_e(recipe.whole_parts());
}

bool contains_all(const Recipe& larger, const Recipe& smaller) {
    return std::all_of(
        smaller.ingredients.begin(), smaller.ingredients.end(), [&](const Ingredient& ingredient) {
            return std::any_of(larger.ingredients.begin(), larger.ingredients.end(),
                               [&](const Ingredient& other) { return other.paint == ingredient.paint; });
        });
}

struct RankedRecipe {
    Recipe recipe;
    Fit fit;
};

std::vector<RankedRecipe> rank_recipes(const MatchContext& context) {
    std::vector<RankedRecipe> all;
    for (const Fit& candidate :
         candidate_fits(context.fitter, static_cast<std::size_t>(context.settings.max_paints))) {
        const Fit fit = sort_by_weight(
            context.evaluator, drop_negligible(context.fitter, context.fitter.polish(context.fitter.refine(
                                                                   candidate, kFinalSteps))));
        all.push_back({make_recipe(context, fit), fit});
    }
    std::stable_sort(all.begin(), all.end(), [](const RankedRecipe& a, const RankedRecipe& b) {
        return a.recipe.cost < b.recipe.cost;
    });
    return all;
}

}  // namespace

std::vector<paint::Part> Recipe::exact_parts() const {
    std::vector<paint::Part> parts;
    for (const Ingredient& ingredient : ingredients) parts.push_back({ingredient.paint, ingredient.share});
    return parts;
}

std::vector<paint::Part> Recipe::whole_parts() const {
    std::vector<paint::Part> parts;
    for (const Ingredient& ingredient : ingredients)
        parts.push_back({ingredient.paint, static_cast<double>(ingredient.parts)});
    return parts;
}

std::vector<paint::Part> Recipe::parts_by_weight() const {
    std::vector<paint::Part> parts;
    for (const Ingredient& ingredient : ingredients)
        parts.push_back({ingredient.paint, paint::volume_of(*ingredient.paint, ingredient.grams).value});
    return parts;
}

MatchTarget match_target(const colour::Reflectance& measured, const MatchSettings& settings) {
    const colour::TristimulusWeights weights = colour::tristimulus_weights(settings.light, settings.observer);
    return {colour::to_lab(colour::to_xyz(measured, weights), weights.white), measured};
}

std::vector<Recipe> match(const MatchTarget& target, std::span<const paint::Paint* const> paints,
                          const MatchSettings& settings) {
    FW_EXPECTS(!paints.empty());
    FW_EXPECTS(settings.max_paints >= 1 && settings.max_paints <= static_cast<int>(kMaxPaintsInMix));
    FW_EXPECTS(settings.batch.value > 0 && settings.division.value > 0 && settings.max_parts >= 1);
    std::vector<const paint::Paint*> sorted_paints(paints.begin(), paints.end());
    std::sort(sorted_paints.begin(), sorted_paints.end(),
              [](const paint::Paint* a, const paint::Paint* b) { return a->id < b->id; });
    const MatchContext context(target, sorted_paints, settings);
    std::vector<Recipe> recipes;
    for (RankedRecipe& next : rank_recipes(context)) {
        if (static_cast<int>(recipes.size()) >= settings.max_recipes) break;
        const auto overlaps = [&](const Recipe& chosen) {
            return contains_all(chosen, next.recipe) || contains_all(next.recipe, chosen);
        };
        if (std::any_of(recipes.begin(), recipes.end(), overlaps)) continue;
        if (!recipes.empty() &&
            next.recipe.delta_e_grams > recipes.front().delta_e_grams + kMaxAlternativeLoss)
            continue;
        add_whole_parts(next.recipe, context, next.fit);
        recipes.push_back(std::move(next.recipe));
    }
    return recipes;
}

}  // namespace fadewright::formulation
