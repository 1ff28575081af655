// The coats as the page draws them: what lays them, where the gun goes, how thick they lie.
#include "fadewright/plan/plan_schema.h"
#include "fadewright/render/panel_places.h"
#include "look.h"

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

Json passes_json(const plan::Coat& coat, const std::string& at) {
    Json passes = Json::array();
    for (std::size_t i = 0; i < coat.sweeps.size(); ++i) {
        const plan::Sweep& sweep = coat.sweeps[i];
        passes.push_back({{"at", fmt::format("{}.sweeps.{}", at, i)},
                          {"kind", "sweep"},
                          {"line", {point_json(sweep.from), point_json(sweep.to)}},
                          {"repeats", sweep.repeats}});
    }
    for (std::size_t i = 0; i < coat.follows.size(); ++i) {
        const plan::Follow& follow = coat.follows[i];
        passes.push_back({{"at", fmt::format("{}.follows.{}", at, i)},
                          {"kind", "follow"},
                          {"line", follow.path.empty() ? Json(nullptr) : line_json(follow.path)},
                          {"offset", to_text(follow.offset)},
                          {"repeats", follow.repeats}});
    }
    for (std::size_t i = 0; i < coat.passes.size(); ++i) {
        const plan::Pass& pass = coat.passes[i];
        passes.push_back({{"at", fmt::format("{}.passes.{}", at, i)},
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
Json fade_json(const InWork& work, std::size_t index, const std::string& at) {
    const plan::Fade& fade = *work.plan->coats[index].fade;
    Json json{{"at", at + ".fade"},
              {"method", name_of(fade.method)},
              {"from", fade.from.value},
              {"to", fade.to.value},
              {"film", to_text(fade.film)},
              {"ramp", name_of(fade.ramp)},
              {"overlap", to_text(fade.overlap)},
              {"middles", fade.middles.value_or(1)},
              {"middle_ratio", fade.middle_ratio.value_or(1)},
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
    if (const Named<plan::Mix>* cup = middle_cup(work, index)) {
        json["extend"] = cup->value.extend;
        json["reduce"] = to_text(cup->value.reduce);
    }
    return json;
}

// The laid coats of one coat of the plan: a fade becomes several, which have its name before theirs.
struct Laid {
    double most_um = 0, least_um = 1e9;
    int passes = 0;
};

Laid laid_of(const plan::Job& job, std::size_t first, std::size_t last) {
    constexpr int kPlaces = 15;
    Laid laid;
    const auto [x, y] = render::places_over(job.panel, kPlaces);
    std::vector<double> film(x.size(), 0.0);
    for (std::size_t c = first; c < last; ++c) {
        job.coats[c].add_film_um(x, y, film);
        laid.passes += job.coats[c].deposit ? job.coats[c].deposit->passes() : 0;
    }
    for (const double um : film) {
        laid.most_um = std::max(laid.most_um, um);
        laid.least_um = std::min(laid.least_um, um);
    }
    return laid;
}

Json words_of(const Laid& laid, ShownUnits units) {
    Json words = Json::array();
    const Micrometres least{laid.least_um}, most{laid.most_um};
    words.push_back(laid.most_um - laid.least_um < 0.1 * laid.most_um ? units.text(most) + " all over"
                                                                      : units.range(least, most));
    if (laid.passes > 0) words.push_back(fmt::format("{} pass{}", laid.passes, laid.passes == 1 ? "" : "es"));
    return words;
}

}  // namespace

Json coats_of(const InWork& work) {
    Json coats = Json::array();
    for (std::size_t i = 0; i < work.plan->coats.size(); ++i) {
        const plan::Coat& coat = work.plan->coats[i];
        const std::string at = fmt::format("coats.{}", i);
        Json json{{"at", at},
                  {"name", coat.name},
                  {"mix", coat.mix.value},
                  {"gun", coat.gun.value},
                  {"laydown", name_of(coat.laydown)},
                  {"kind", coat.fade    ? "fade"
                           : coat.cover ? "even"
                                        : "passes"},
                  {"cover_film", coat.cover ? Json(to_text(coat.cover->film)) : Json(nullptr)},
                  {"passes", passes_json(coat, at)},
                  {"fade", coat.fade ? fade_json(work, i, at) : Json(nullptr)},
                  {"words", Json::array()}};
        if (work.job) {
            const InWork::Coats laid = work.laid_for(i);
            json["first_laid"] = laid.first;
            json["laid"] = laid.last - laid.first;
            json["laid_names"] = Json::array();  // as they are sprayed and written down
            for (std::size_t c = laid.first; c < laid.last; ++c)
                json["laid_names"].push_back(work.job->coats[c].name);
            json["words"] = words_of(laid_of(*work.job, laid.first, laid.last), work.job->units);
            json["film"] = json["words"][0];
        }
        coats.push_back(std::move(json));
    }
    return coats;
}

}  // namespace fadewright::serve
