// Colour matching: recipes from the paints of a library for a target colour.
//
// match() searches for the mixes nearest to the target by CIEDE2000, at full hiding or as a film over a
// ground. It returns the most useful recipe and a few that use other paints. Each recipe is also rounded to
// whole parts and to the divisions of a scale, with the colour difference that the rounding costs.
//
// Recipes are ranked by
//
//     difference as weighed + a share of what one weighing error would add
//                           + a little for every paint + a little for every coat to hide
//                           + a share of the metamerism under lamp and tube, if the spectrum is known
//
// so that recipes of indistinguishable colour are ranked by practicality. The weights are named below and are
// our own choice.
//
// If the target's reflectance is known, the metamerism index under a light is the plain difference there (the
// pair as it is, not first made equal under the reference light), CIEDE2000. If only its Lab is known, its
// colour in another light cannot be predicted; then only the recipe's own colour there is given.
//
// Source: own derivation (every paint, then pairs and triples grown from the best), each fitted by damped
//            least squares [levenberg1944] in the logarithms of the shares; the last few polished by the
//            simplex search of NLopt [rowan1990].
// Holds for  what paint/mix.h and film/layer.h hold for; a recipe from estimated paints is a starting point
// Accuracy   finds reachable colours within 0.1 as a rule; the same result for any order of the paints
// Checks     tests/formulation/match_test.cpp, tests/app/match_test.cpp
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/colour/illuminant.h"
#include "fadewright/colour/lab.h"
#include "fadewright/colour/spectrum.h"
#include "fadewright/film/surface.h"
#include "fadewright/formulation/mix_evaluator.h"
#include "fadewright/paint/mix.h"

#include <array>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace fadewright::formulation {

inline constexpr double kPaintCost = 0.05;         // of one more paint, in CIEDE2000
inline constexpr double kCoatCost = 0.02;          // of one more coat to hide
inline constexpr int kMaxCoats = 20;               // more coats than this cost no more
inline constexpr double kWeighingErrorCost = 0.2;  // of what a weighing error of half a division adds
inline constexpr double kMetamerismCost = 0.2;     // of the mean difference under lamp and tube
inline constexpr double kPartCost = 0.01;          // of one more part to measure, when rounding
inline constexpr double kMaxWeighingError = 0.10;  // half a division of the scale, as a share of the amount

// The target. `measured`: reflectance as an instrument outside the surface reads it, if known.
struct MatchTarget {
    colour::Lab lab;  // under the settings' light
    std::optional<colour::Reflectance> measured;
};

// The recipe is applied as this much dry film over the ground (inside the binder).
struct MatchFilm {
    Micrometres film;
    colour::Reflectance ground;
};

struct MatchSettings {
    colour::Illuminant light = colour::standard_illuminant(colour::StandardIlluminant::D65);
    colour::Observer observer = colour::Observer::ten_degree;
    film::Specular specular = film::Specular::excluded;
    std::optional<MatchFilm> film_over_ground;  // none: at full hiding
    int max_paints = 4;                         // 1 to kMaxPaintsInMix
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
    std::vector<Ingredient> ingredients;  // by decreasing amount, so that strong colours are added last
    colour::Lab lab;                      // unrounded, under the settings' light
    double delta_e = 0;                   // from the target, CIEDE2000: unrounded,
    double delta_e_parts = 0;             // in whole parts,
    double delta_e_grams = 0;             // by the scale,
    double delta_e_worst_case = 0;  // and by the scale with the worst single ingredient half a division off
    ColourUnderLight incandescent, fluorescent;                             // A and F11
    std::optional<double> metamerism_incandescent, metamerism_fluorescent;  // unrounded, CIEDE2000
    double contrast_ratio = 0;                                              // one coat
    Micrometres coat_film;                    // dry film of one ordinary coat of this mix
    std::optional<Micrometres> film_to_hide;  // none: it never hides
    std::optional<int> coats_to_hide;
    double cost = 0;  // ranking; lowest is best

    [[nodiscard]] std::vector<paint::Part> exact_parts() const;
    [[nodiscard]] std::vector<paint::Part> whole_parts() const;
    [[nodiscard]] std::vector<paint::Part> parts_by_weight() const;  // as volumes
};

// A target of known spectrum, with its Lab under the settings' light.
[[nodiscard]] MatchTarget match_target(const colour::Reflectance& measured, const MatchSettings& settings);

// The best recipe first, then others none of which is a subset of another. At least one paint, all with dry
// film and no two alike (contract).
[[nodiscard]] std::vector<Recipe> match(const MatchTarget& target,
                                        std::span<const paint::Paint* const> paints,
                                        const MatchSettings& settings);

}  // namespace fadewright::formulation
