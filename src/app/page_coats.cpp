// The coats for the page: how they are sprayed, the passes of the gun, the film build.
#include "fadewright/plan/plan_schema.h"
#include "fadewright/render/frame.h"
#include "fadewright/report/phrases_amounts.h"
#include "page_model.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace fadewright::app {
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
        passes.push_back({{"key", fmt::format("{}.sweeps.{}", key, i)},
                          {"kind", "sweep"},
                          {"line", {point_json(sweep.from), point_json(sweep.to)}},
                          {"repeats", sweep.repeats}});
    }
    for (std::size_t i = 0; i < coat.outline_passes.size(); ++i) {
        const plan::OutlinePass& pass = coat.outline_passes[i];
        passes.push_back({{"key", fmt::format("{}.outline_passes.{}", key, i)},
                          {"kind", "outline-pass"},
                          {"line", pass.path.empty() ? Json(nullptr) : line_json(pass.path)},
                          {"offset", to_text(pass.offset)},
                          {"repeats", pass.repeats}});
    }
    for (std::size_t i = 0; i < coat.passes.size(); ++i) {
        const plan::Pass& pass = coat.passes[i];
        passes.push_back({{"key", fmt::format("{}.passes.{}", key, i)},
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

// The fade, with the defaults the program uses where the plan gives no value.
Json fade_json(const PreparedPlan& prepared, std::size_t index, const std::string& key) {
    const plan::Fade& fade = *prepared.plan->coats[index].fade;
    Json json{{"key", key + ".fade"},
              {"method", name_of(fade.method)},
              {"from", fade.from.value},
              {"to", fade.to.value},
              {"film", to_text(fade.film)},
              {"ramp", name_of(fade.ramp)},
              {"overlap", to_text(fade.overlap)},
              {"mid_colours", fade.mid_colours.value_or(1)},
              {"mid_ratio", fade.mid_ratio.value_or(1)},
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

// Film build over the panel of the expanded coats of one coat of the plan; a fade expands to several.
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

void add_film_notes(const FilmRange& range, DisplayUnits units, Json& json) {
    json["film"] = report::film_range_text(Micrometres{range.min_um}, Micrometres{range.max_um}, units);
    json["notes"] = {json["film"]};
    if (range.passes > 0) json["notes"].push_back(report::pass_count_text(range.passes));
}

}  // namespace

Json coats_json(const PreparedPlan& prepared) {
    Json coats = Json::array();
    for (std::size_t i = 0; i < prepared.plan->coats.size(); ++i) {
        const plan::Coat& coat = prepared.plan->coats[i];
        const std::string key = fmt::format("coats.{}", i);
        Json json{{"key", key},
                  {"name", coat.name},
                  {"mix", coat.mix.value},
                  {"gun", coat.gun.value},
                  {"laydown", name_of(coat.laydown)},
                  {"kind", coat.fade        ? "fade"
                           : coat.even_coat ? "even-coat"
                                            : "passes"},
                  {"even_coat_film", coat.even_coat ? Json(to_text(coat.even_coat->film)) : Json(nullptr)},
                  {"passes", passes_json(coat, key)},
                  {"fade", coat.fade ? fade_json(prepared, i, key) : Json(nullptr)},
                  {"notes", Json::array()}};
        if (prepared.job) {
            const PreparedPlan::CoatRange range = prepared.expanded_coats(i);
            json["first_expanded"] = range.first;
            json["expanded_count"] = range.last - range.first;
            json["expanded_names"] = Json::array();  // as the booth sheet and the job log name them
            for (std::size_t c = range.first; c < range.last; ++c)
                json["expanded_names"].push_back(prepared.job->coats[c].name);
            add_film_notes(film_range(*prepared.job, range.first, range.last), prepared.job->units, json);
        }
        coats.push_back(std::move(json));
    }
    return coats;
}

}  // namespace fadewright::app
