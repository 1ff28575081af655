// A recipe for a colour: which paints of the shelf, and how much of each.
//
// match() looks for the mixes whose colour is nearest to the target by CIEDE2000, laid until they hide or as
// a film over a ground. It answers with the most useful recipe and a few that use other paints. What a
// painter can measure comes into it: each recipe is rounded to whole parts and to the divisions of a scale,
// and what that costs in colour is told.
//
// Recipes are ranked by
//
//     difference as weighed + a share of what a slip of the scale would add
//                           + a little for every paint + a little for every coat to hide
//                           + a share of the drift under lamp and tube, if the target's spectrum is known
//
// so that two recipes an eye cannot tell apart are decided by what they are like to use. The weights are
// named below and are ours.
//
// If the target's reflectance is known, the metamerism index under a light is the plain difference there
// (the pair as it is, not first made equal under the reference light), CIEDE2000. If only its Lab is known,
// nobody can say how it looks in another light; then the recipe's own colour there is all there is.
//
// Source     search: every paint, then pairs and triples grown from the best, each fitted by damped least
//            squares (Levenberg 1944, Q. Appl. Math. 2(2):164-168, doi:10.1090/qam/10666; from memory) in the
//            logarithms of the shares; the last few polished by NLopt's simplex search
//            (Rowan 1990, "Functional stability analysis of numerical algorithms"; from memory)
// Holds for  what paint/mix.h and film/layer.h hold for; a recipe from estimated paints is a starting point
// Accuracy   finds reachable colours within 0.1 as a rule; the same answer for any order of the paints
// Checks     tests/film/match_test.cpp, tests/app/match_test.cpp
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/colour/illuminant.h"
#include "fadewright/colour/lab.h"
#include "fadewright/colour/spectrum.h"
#include "fadewright/film/mix_evaluator.h"
#include "fadewright/film/surface.h"
#include "fadewright/paint/mix.h"

#include <array>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace fadewright::film {

inline constexpr double kPaintCost = 0.05;         // of one more paint, in CIEDE2000
inline constexpr double kCoatCost = 0.02;          // of one more coat to hide
inline constexpr int kMaxCoats = 20;               // no more coats than this count
inline constexpr double kWeighingErrorCost = 0.2;  // of what one weighing half a division off adds
inline constexpr double kMetamerismCost = 0.2;     // of the mean difference under lamp and tube
inline constexpr double kPartCost = 0.01;          // of one more part to measure, when rounding
inline constexpr double kMaxWeighingError = 0.10;  // half a division of the scale, as a share of the amount

// What to hit. `seen` is what an instrument or an eye outside the skin gets, if it is known.
struct MatchTarget {
    colour::Lab lab;  // under the settings' light
    std::optional<colour::Reflectance> measured;
};

// The recipe is laid as this much dry film over the ground (inside the binder).
struct MatchFilm {
    Micrometres film;
    colour::Reflectance ground;
};

struct MatchSettings {
    colour::Illuminant light = colour::standard_illuminant(colour::StandardIlluminant::D65);
    colour::Observer observer = colour::Observer::ten_degree;
    Specular specular = Specular::excluded;
    std::optional<MatchFilm> film_over_ground;  // none: laid until it hides
    int max_paints = 4;                         // 1 to kMostInPot
    Grams batch{50};
    Grams division{0.1};  // of the scale
    int max_parts = 40;   // of any one paint in the rounded recipe
    int max_recipes = 4;  // the best and its alternatives
};

struct Ingredient {
    const paint::Paint* paint = nullptr;
    double share = 0;      // of the wet volume, exact
    int parts = 0;         // by wet volume, whole; 0: too little to be one part
    Grams grams;           // of the batch, in whole divisions of the scale
    Share weighing_error;  // half a division of the scale, of the exact amount
    [[nodiscard]] bool is_coarse() const noexcept { return weighing_error.value > kMaxWeighingError; }
};

struct ColourUnderLight {
    std::string light;
    colour::Lab recipe;
    std::optional<colour::Lab> target;  // if its spectrum is known
};

struct Recipe {
    std::vector<Ingredient> ingredients;  // most first, so that the strong colours are added last
    colour::Lab lab;                      // unrounded, under the settings' light
    double delta_e = 0;                   // from the target, CIEDE2000: unrounded,
    double delta_e_parts = 0;             // in whole parts,
    double delta_e_grams = 0;             // by the scale,
    double delta_e_worst_case = 0;  // and by the scale with the worst one ingredient half a division off
    ColourUnderLight incandescent, fluorescent;                             // A and F11
    std::optional<double> metamerism_incandescent, metamerism_fluorescent;  // unrounded, CIEDE2000
    double contrast_ratio = 0;                                              // one coat, black over white card
    Micrometres coat_film;                    // dry film of one ordinary coat of this mix
    std::optional<Micrometres> film_to_hide;  // none: it never hides
    std::optional<int> coats_to_hide;
    double cost = 0;  // what it was ranked by; least is best

    [[nodiscard]] std::vector<paint::Part> exact_parts() const;
    [[nodiscard]] std::vector<paint::Part> whole_parts() const;
    [[nodiscard]] std::vector<paint::Part> parts_by_weight() const;  // as volumes
};

// A target of known spectrum, with its Lab under the settings' light.
[[nodiscard]] MatchTarget match_target(const colour::Reflectance& measured, const MatchSettings& settings);

// The best recipe first, then others none of which is a part of another. At least one paint, all with dry
// film and no two alike (contract).
[[nodiscard]] std::vector<Recipe> match(const MatchTarget& target,
                                        std::span<const paint::Paint* const> paints,
                                        const MatchSettings& settings);

}  // namespace fadewright::film
