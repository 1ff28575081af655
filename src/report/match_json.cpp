#include "fadewright/report/match_report.h"
#include "fadewright/report/shown.h"

#include <cmath>
#include <nlohmann/json.hpp>

namespace fadewright::report {
namespace {

using Json = nlohmann::ordered_json;

Json under_light(const film::UnderLight& light, const std::optional<double>& metamerism) {
    Json json{{"light", light.light}};
    put_colour(json, "recipe", light.recipe);
    if (light.target) put_colour(json, "target", *light.target);
    if (metamerism) json["metamerism_index"] = millionths(*metamerism);
    return json;
}

Json recipe_json(const film::Recipe& recipe) {
    Json json;
    double poured = 0;
    for (const film::Ingredient& one : recipe.ingredients) {
        poured += one.grams.value;
        json["ingredients"].push_back({{"paint", one.paint->id},
                                       {"title", one.paint->title},
                                       {"share_of_volume", millionths(one.share)},
                                       {"parts", one.parts},
                                       {"grams", millionths(one.grams.value)},
                                       {"scale_reads_g", millionths(poured)},
                                       {"weighing_error", millionths(one.weighing_error.value)},
                                       {"coarse", one.is_coarse()}});
    }
    put_colour(json, "colour", recipe.lab);
    json["delta_e"] = {{"exact", millionths(recipe.delta_e)},
                       {"in_parts", millionths(recipe.delta_e_parts)},
                       {"by_scale", millionths(recipe.delta_e_grams)},
                       {"by_scale_slipped", millionths(recipe.delta_e_slip)}};
    json["lamp"] = under_light(recipe.lamp, recipe.metamerism_lamp);
    json["tube"] = under_light(recipe.tube, recipe.metamerism_tube);
    json["hiding"] = {{"coat_um", millionths(recipe.coat.value)},
                      {"contrast_ratio", millionths(recipe.contrast_ratio)}};
    json["hiding"]["film_um"] = recipe.film_to_hide ? Json(millionths(recipe.film_to_hide->value)) : Json();
    json["hiding"]["coats"] = recipe.coats_to_hide ? Json(*recipe.coats_to_hide) : Json();
    return json;
}

}  // namespace

std::string match_json(const MatchReport& report) {
    Json json;
    json["asked"] = report.asked;
    put_colour(json, "target", report.target.lab);
    json["light"] = report.settings.light.id;
    json["observer_deg"] = report.settings.observer == colour::Observer::ten_degree ? 10 : 2;
    json["laid"] = report.laid;
    json["batch_g"] = report.settings.batch.value;
    json["scale_g"] = report.settings.division.value;
    json["candidates"] = report.candidates;
    json["notes"] = report.notes;
    json["recipes"] = Json::array();
    for (const film::Recipe& recipe : report.recipes) json["recipes"].push_back(recipe_json(recipe));
    return json.dump(2) + "\n";
}

}  // namespace fadewright::report
