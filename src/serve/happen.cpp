#include "happen.h"

#include "fadewright/plan/amounts.h"
#include "fadewright/render/fade_way.h"
#include "fadewright/render/faults.h"
#include "fadewright/render/section.h"
#include "fadewright/report/overlay.h"
#include "fadewright/report/shown.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>

namespace fadewright::serve {
namespace {

constexpr std::size_t kSectionPlaces = 161;

// In the order of render::fade_words().
constexpr std::array<const char*, 8> kFadeAbout{"width",  "slope",  "step", "bands",
                                                "corner", "chroma", "hue",  "lightness"};

class Sentences {
public:
    void add(const char* about, const std::string& words, const char* grave, const Json& coat = nullptr) {
        list.push_back({{"about", about}, {"words", words}, {"grave", grave}, {"coat", coat}});
    }
    Json list = Json::array();
};

const char* grave_name(render::Level level) {
    if (level == render::Level::wrong) return "wrong";
    return level == render::Level::watch ? "note" : "fine";
}

void add_fade(const InWork& work, Sentences& sentences, Json& figures) {
    const render::JudgedLine line = render::judged_line(*work.plan, work.job->panel);
    const auto places = render::fade_places(*work.job, line, render::kFadePlaces);
    const auto found = render::fade_figures(places, {work.job->view_distance, {}});
    if (!found) {
        sentences.add("width", "both ends of the line look the same: there is no fade to judge", "note");
        return;
    }
    const std::vector<std::string> words = render::fade_words(*found, work.job->units);
    const bool banded = found->band_times_threshold >= 1;
    for (std::size_t i = 0; i < words.size(); ++i) {
        const char* about = i < kFadeAbout.size() ? kFadeAbout[i] : "fade";
        sentences.add(about, words[i], about == std::string_view("bands") && banded ? "note" : "fine");
    }
    render::FadeWay way;
    way.plan = *work.plan;
    way.figures = found;
    if (const auto off = render::halfway_words(way, line, work.job->units))
        sentences.add("middle", *off, "note");
    figures["width_mm"] = found->width.value;
    figures["bands_times_threshold"] = found->band_times_threshold;
    figures["steepest_dE_per_mm"] = found->steepest_per_mm;
    figures["largest_step_dE"] = found->largest_step;
    figures["corner"] = found->corner;
}

Json coat_called(const InWork& work, const std::string& name) {
    for (std::size_t c = 0; c < work.job->coats.size(); ++c)
        if (work.job->coats[c].name == name) return work.written_for(c);
    return nullptr;
}

void add_faults(const InWork& work, Sentences& sentences) {
    for (const render::Fault& fault : report::pressing(render::faults(*work.job)))
        sentences.add(std::string(render::kind_name(fault.kind)).c_str(), report::fault_words(fault),
                      grave_name(fault.level), coat_called(work, fault.coat));
}

void add_amounts(const InWork& work, Sentences& sentences, Json& figures) {
    plan::Shelf shelf = work.shelf;
    const plan::Amounts amounts = plan::amounts_of(*work.laid, *work.job, shelf);
    int passes = 0;
    double seconds = 0;
    for (const plan::CoatAmounts& coat : amounts.coats) {
        passes += coat.passes;
        seconds += coat.gun_time.value;
    }
    const std::string minutes = seconds < 60 ? "under a minute" : fmt::format("{:.0f} min", seconds / 60);
    sentences.add(
        "passes",
        fmt::format("{} pass{}, {} with the trigger pulled", passes, passes == 1 ? "" : "es", minutes),
        "fine");
    const ShownUnits units = work.job->units;
    Json mixes = Json::array();
    for (const plan::MixAmounts& mix : amounts.mixes) {
        sentences.add(
            "amount",
            fmt::format("mix {} of {}, {} in all; {} of it land on the panel", units.text(mix.sprayable()),
                        mix.name, units.text(mix.grams()), units.text(mix.landed)),
            "fine");
        mixes.push_back({{"mix", mix.name},
                         {"sprayable_mL", mix.sprayable().value},
                         {"binder_g_per_L", mix.paint.binder_g_per_litre}});
        if (mix.to_weigh)
            sentences.add("amount",
                          fmt::format("{}: a part is too small for the scale; mix {} to weigh it well",
                                      mix.name, units.text(*mix.to_weigh)),
                          "note");
    }
    figures["passes"] = passes;
    figures["mixes"] = mixes;
    if (const auto cost = amounts.cost()) figures["cost"] = *cost;
}

std::optional<plan::Point> point_of(const Asked& asked, const char* key) {
    const auto found = asked.body.find(key);
    if (found == asked.body.end() || !found->is_array() || found->size() != 2 || !(*found)[0].is_number() ||
        !(*found)[1].is_number())
        return std::nullopt;
    return plan::Point{Millimetres{(*found)[0].get<double>()}, Millimetres{(*found)[1].get<double>()}};
}

}  // namespace

Answer will_happen(Desk& desk, const Asked& asked) {
    const std::shared_ptr<const InWork> work = desk.work(asked);
    if (!work->job) return not_in_order(*work);
    Sentences sentences;
    Json figures = Json::object();
    add_fade(*work, sentences, figures);
    add_faults(*work, sentences);
    add_amounts(*work, sentences, figures);
    return answer({{"sentences", sentences.list}, {"figures", figures}});
}

Answer along_line(Desk& desk, const Asked& asked) {
    const std::shared_ptr<const InWork> work = desk.work(asked);
    if (!work->job) return not_in_order(*work);
    const std::optional<colour::Light> light = light_for(*work, asked.text("light"));
    if (!light) return refuse(400, fmt::format("no light is called '{}'", asked.text("light")));
    const render::JudgedLine judged = render::judged_line(*work->plan, work->job->panel);
    const plan::Point from = point_of(asked, "from").value_or(judged.from),
                      to = point_of(asked, "to").value_or(judged.to);
    if (from.x == to.x && from.y == to.y) return refuse(400, "the line has no length");
    const render::Section section = render::section(*work->job, *light, from, to, kSectionPlaces);
    Json at = Json::array(), L = Json::array(), a = Json::array(), b = Json::array(), colour = Json::array();
    Json films = Json::array();
    std::vector<render::FadePlace> places;
    for (const render::SectionPlace& place : section.places) {
        at.push_back(report::thousandths(place.along.value));
        L.push_back(report::thousandths(place.lab.L));
        a.push_back(report::thousandths(place.lab.a));
        b.push_back(report::thousandths(place.lab.b));
        colour.push_back(report::hex_of(place.lab));
        places.push_back({place.along.value, place.lab});
    }
    for (std::size_t c = 0; c < section.coats.size(); ++c) {
        Json um = Json::array();
        for (const render::SectionPlace& place : section.places)
            um.push_back(report::thousandths(place.films[c].value));
        films.push_back({{"coat", work->written_for(c)}, {"name", section.coats[c]}, {"um", um}});
    }
    Json json{{"from", {from.x.value, from.y.value}},
              {"to", {to.x.value, to.y.value}},
              {"at_mm", at},
              {"L", L},
              {"a", a},
              {"b", b},
              {"colour", colour},
              {"films", films},
              {"words", Json::array()}};
    if (const auto figures = render::fade_figures(places, {work->job->view_distance, {}})) {
        for (const std::string& words : render::fade_words(*figures, work->job->units))
            json["words"].push_back(words);
        json["at_10_mm"] = figures->at_10.value;
        json["at_half_mm"] = figures->at_half.value;
        json["at_90_mm"] = figures->at_90.value;
    }
    return answer(json);
}

}  // namespace fadewright::serve
