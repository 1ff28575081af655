#include "fade_brief.h"

#include <fmt/core.h>

namespace fadewright::report {
namespace {

constexpr double kSecondsPerMinute = 60;
constexpr double kDipSaid_C = 5, kGrainSaid_L = 0.5;  // smaller ones are not worth a word among few

}  // namespace

std::string minutes_at_gun(Seconds time) {
    return fmt::format("{}:{:02}", static_cast<int>(time.value / kSecondsPerMinute),
                       static_cast<int>(time.value) % static_cast<int>(kSecondsPerMinute));
}

std::vector<std::string> fade_brief(const render::FadeWay& way) {
    std::vector<std::string> words;
    if (const auto& f = way.figures) {
        words.push_back(way.job.units.text(f->width) + " from 10 to 90 %");
        words.push_back(f->band_times_threshold < 1 ? "no stripes to be seen"
                                                    : fmt::format("stripes, {:.1f} times what is just seen",
                                                                  f->band_times_threshold));
        words.push_back(fmt::format("steepest {:.1f} times its mean", f->steepest_over_mean));
        if (f->chroma_dip >= kDipSaid_C)
            words.push_back(fmt::format("the middle greys by {:.0f} C*", f->chroma_dip));
    } else {
        words.push_back("both ends look the same");
    }
    const render::FadeCost& cost = way.cost;
    if (cost.grain_L >= kGrainSaid_L) words.push_back(fmt::format("grain of {:.1f} L*", cost.grain_L));
    if (cost.sag.level != render::Level::fine) words.push_back("may sag");
    if (cost.dry.level != render::Level::fine) words.push_back("lands dry in places");
    words.push_back(fmt::format("{} passes, {} min at the gun", cost.passes, minutes_at_gun(cost.gun_time)));
    return words;
}

}  // namespace fadewright::report
