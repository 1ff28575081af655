// The coats as the page draws them: what lays them, where the gun goes, how thick they lie.
#include "fadewright/plan/plan_schema.h"
#include "fadewright/render/panel_points.h"
#include "model.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace fadewright::serve {
namespace {

Json line_json(const std::vector<plan::Point>& path) {
    Json line = Json::array();
    for (const plan::Point& point : path) line.push_back(point_json(point));
    return line;
}

Json passes_json(const plan::Coat& coat, const std::string& key) {
    Json passes = Json::array();
    for (std::size_t i = 0; i < coat.sweeps.size(); ++i) {
        const plan::Sweep& sweep = coat.sweeps[i];
        passes.push_back({{"at", fmt::format("{}.sweeps.{}", key, i)},
                          {"kind", "sweep"},
                          {"line", {point_json(sweep.from), point_json(sweep.to)}},
                          {"repeats", sweep.repeats}});
    }
    for (std::size_t i = 0; i < coat.outline_passes.size(); ++i) {
        const plan::OutlinePass& follow = coat.outline_passes[i];
        passes.push_back({{"at", fmt::format("{}.follows.{}", key, i)},
                          {"kind", "follow"},
                          {"line", follow.path.empty() ? Json(nullptr) : line_json(follow.path)},
                          {"offset", to_text(follow.offset)},
                          {"repeats", follow.repeats}});
    }
    for (std::size_t i = 0; i < coat.passes.size(); ++i) {
        const plan::Pass& pass = coat.passes[i];
        passes.push_back({{"at", fmt::format("{}.passes.{}", key, i)},
                          {"kind", "pass"},
                          {"line", pass.arc ? Json(nullptr) : line_json(pass.path)},
                          {"repeats", pass.repeats}});
    }
    return passes;
}

template <class T>
Json text_or_null(const std::optional<T>& value) {
    return value ? Json(to_text(*value)) : Json(nullptr);
}

// As the fade is worked out, also where the plan leaves a figure to the program.
Json fade_json(const PreparedPlan& prepared, std::size_t index, const std::string& key) {
    const plan::Fade& fade = *prepared.plan->coats[index].fade;
    Json json{{"at", key + ".fade"},
              {"method", name_of(fade.method)},
              {"from", fade.from.value},
              {"to", fade.to.value},
              {"film", to_text(fade.film)},
              {"ramp", name_of(fade.ramp)},
              {"overlap", to_text(fade.overlap)},
              {"middles", fade.mid_colours.value_or(1)},
              {"middle_ratio", fade.mid_ratio.value_or(1)},
              {"start", fade.start ? point_json(*fade.start) : Json(nullptr)},
              {"end", fade.end ? point_json(*fade.end) : Json(nullptr)},
              {"path", fade.path.empty() ? Json(nullptr) : line_json(fade.path)},
              {"width", text_or_null(fade.width)},
              {"inward", text_or_null(fade.inward)}};
    if (fade.start && fade.end)
        json["width_mm"] =
            std::hypot((fade.end->x - fade.start->x).value, (fade.end->y - fade.start->y).value);
    else if (fade.width)
        json["width_mm"] = fade.width->value;
    json["extend"] = fade.extend ? Json(*fade.extend) : Json(nullptr);
    json["reduce"] = text_or_null(fade.reduce);
    if (const Named<plan::Mix>* mid_colour = mid_colour_mix(prepared, index)) {
        json["extend"] = mid_colour->value.extend;
        json["reduce"] = to_text(mid_colour->value.reduce);
    }
    return json;
}

// The laid coats of one coat of the plan: a fade becomes several, which have its name before theirs.
struct FilmRange {
    double max_um = 0, min_um = 1e9;
    int passes = 0;
};

FilmRange film_range(const plan::Job& job, std::size_t first, std::size_t last) {
    constexpr int kPointsAcross = 15;
    FilmRange range;
    const auto [x, y] = render::panel_points(job.panel, kPointsAcross);
    std::vector<double> film(x.size(), 0.0);
    for (std::size_t c = first; c < last; ++c) {
        job.coats[c].add_film_um(x, y, film);
        range.passes += job.coats[c].deposit ? job.coats[c].deposit->passes() : 0;
    }
    for (const double um : film) {
        range.max_um = std::max(range.max_um, um);
        range.min_um = std::min(range.min_um, um);
    }
    return range;
}

Json film_notes(const FilmRange& range, DisplayUnits units) {
    Json notes = Json::array();
    const Micrometres thinnest{range.min_um}, thickest{range.max_um};
    notes.push_back(range.max_um - range.min_um < 0.1 * range.max_um ? units.text(thickest) + " all over"
                                                                     : units.range(thinnest, thickest));
    if (range.passes > 0)
        notes.push_back(fmt::format("{} pass{}", range.passes, range.passes == 1 ? "" : "es"));
    return notes;
}

}  // namespace

Json coats_json(const PreparedPlan& prepared) {
    Json coats = Json::array();
    for (std::size_t i = 0; i < prepared.plan->coats.size(); ++i) {
        const plan::Coat& coat = prepared.plan->coats[i];
        const std::string key = fmt::format("coats.{}", i);
        Json json{{"at", key},
                  {"name", coat.name},
                  {"mix", coat.mix.value},
                  {"gun", coat.gun.value},
                  {"laydown", name_of(coat.laydown)},
                  {"kind", coat.fade        ? "fade"
                           : coat.even_coat ? "even"
                                            : "passes"},
                  {"cover_film", coat.even_coat ? Json(to_text(coat.even_coat->film)) : Json(nullptr)},
                  {"passes", passes_json(coat, key)},
                  {"fade", coat.fade ? fade_json(prepared, i, key) : Json(nullptr)},
                  {"words", Json::array()}};
        if (prepared.job) {
            const PreparedPlan::CoatRange range = prepared.expanded_coats(i);
            json["first_laid"] = range.first;
            json["laid"] = range.last - range.first;
            json["laid_names"] = Json::array();  // as they are sprayed and written down
            for (std::size_t c = range.first; c < range.last; ++c)
                json["laid_names"].push_back(prepared.job->coats[c].name);
            json["words"] =
                film_notes(film_range(*prepared.job, range.first, range.last), prepared.job->units);
            json["film"] = json["words"][0];
        }
        coats.push_back(std::move(json));
    }
    return coats;
}

}  // namespace fadewright::serve
