#include "fadewright/report/format.h"
#include "fadewright/report/match_report.h"

#include <cmath>
#include <nlohmann/json.hpp>

namespace fadewright::report {
namespace {

using Json = nlohmann::ordered_json;

Json colour_under_light_json(const formulation::ColourUnderLight& light,
                             const std::optional<double>& metamerism) {
    Json json{{"light", light.light}};
    add_colour_json(json, "recipe", light.recipe);
    if (light.target) add_colour_json(json, "target", *light.target);
    if (metamerism) json["metamerism_index"] = round_to_millionths(*metamerism);
    return json;
}

Json recipe_json(const formulation::Recipe& recipe) {
    Json json;
    double running_total = 0;
    for (const formulation::Ingredient& ingredient : recipe.ingredients) {
        running_total += ingredient.grams.value;
        json["ingredients"].push_back(
            {{"paint", ingredient.paint->id},
             {"title", ingredient.paint->title},
             {"share_of_volume", round_to_millionths(ingredient.share)},
             {"parts", ingredient.parts},
             {"grams", round_to_millionths(ingredient.grams.value)},
             {"running_total_g", round_to_millionths(running_total)},
             {"weighing_error", round_to_millionths(ingredient.weighing_error.value)},
             {"coarse", ingredient.is_coarse()}});
    }
    add_colour_json(json, "colour", recipe.lab);
    json["delta_e"] = {{"exact", round_to_millionths(recipe.delta_e)},
                       {"in_parts", round_to_millionths(recipe.delta_e_parts)},
                       {"by_scale", round_to_millionths(recipe.delta_e_grams)},
                       {"by_scale_worst_case", round_to_millionths(recipe.delta_e_worst_case)}};
    json["incandescent"] = colour_under_light_json(recipe.incandescent, recipe.metamerism_incandescent);
    json["fluorescent"] = colour_under_light_json(recipe.fluorescent, recipe.metamerism_fluorescent);
    json["hiding"] = {{"coat_um", round_to_millionths(recipe.coat_film.value)},
                      {"contrast_ratio", round_to_millionths(recipe.contrast_ratio)}};
    json["hiding"]["film_um"] =
        recipe.film_to_hide ? Json(round_to_millionths(recipe.film_to_hide->value)) : Json();
    json["hiding"]["coats"] = recipe.coats_to_hide ? Json(*recipe.coats_to_hide) : Json();
    return json;
}

}  // namespace

std::string match_json(const MatchReport& report) {
    Json json;
    json["request"] = report.request;
    add_colour_json(json, "target", report.target.lab);
    json["light"] = report.settings.light.id;
    json["observer_deg"] = report.settings.observer == colour::Observer::ten_degree ? 10 : 2;
    json["film"] = report.film_condition;
    json["batch_g"] = report.settings.batch.value;
    json["scale_g"] = report.settings.division.value;
    json["candidates"] = report.candidates;
    json["notes"] = report.notes;
    json["recipes"] = Json::array();
    for (const formulation::Recipe& recipe : report.recipes) json["recipes"].push_back(recipe_json(recipe));
    return json.dump(2) + "\n";
}

}  // namespace fadewright::report
