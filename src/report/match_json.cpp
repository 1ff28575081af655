#include "fadewright/report/match_report.h"
#include "fadewright/report/shown.h"

#include <cmath>
#include <nlohmann/json.hpp>

namespace fadewright::report {
namespace {

using Json = nlohmann::ordered_json;

double rounded(double v) { return std::round(v * 1e6) / 1e6; }

Json under_light(const film::UnderLight& light, const std::optional<double>& metamerism) {
    Json json{{"light", light.light}};
    put_colour(json, "recipe", light.recipe);
    if (light.target) put_colour(json, "target", *light.target);
    if (metamerism) json["metamerism_index"] = rounded(*metamerism);
    return json;
}

Json recipe_json(const film::Recipe& recipe) {
    Json json;
    double poured = 0;
    for (const film::Ingredient& one : recipe.ingredients) {
        poured += one.grams.value;
        json["ingredients"].push_back({{"paint", one.paint->id},
                                       {"title", one.paint->title},
                                       {"share_of_volume", rounded(one.share)},
                                       {"parts", one.parts},
                                       {"grams", rounded(one.grams.value)},
                                       {"scale_reads_g", rounded(poured)},
                                       {"weighing_error", rounded(one.weighing_error.value)},
                                       {"coarse", one.is_coarse()}});
    }
    put_colour(json, "colour", recipe.lab);
    json["delta_e"] = {{"exact", rounded(recipe.delta_e)},
                       {"in_parts", rounded(recipe.delta_e_parts)},
                       {"by_scale", rounded(recipe.delta_e_grams)},
                       {"by_scale_slipped", rounded(recipe.delta_e_slip)}};
    json["lamp"] = under_light(recipe.lamp, recipe.metamerism_lamp);
    json["tube"] = under_light(recipe.tube, recipe.metamerism_tube);
    json["hiding"] = {{"coat_um", rounded(recipe.coat.value)},
                      {"contrast_ratio", rounded(recipe.contrast_ratio)}};
    json["hiding"]["film_um"] = recipe.film_to_hide ? Json(rounded(recipe.film_to_hide->value)) : Json();
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
