#include "fade_summary.h"

#include <fmt/core.h>

namespace fadewright::report {
namespace {

constexpr double kSecondsPerMinute = 60;
constexpr double kMinChromaLossShown = 5,
                 kMinGraininessShown = 0.5;  // smaller ones are not worth a word among few

}  // namespace

std::string trigger_time_text(Seconds time) {
    return fmt::format("{}:{:02}", static_cast<int>(time.value / kSecondsPerMinute),
                       static_cast<int>(time.value) % static_cast<int>(kSecondsPerMinute));
}

std::vector<std::string> fade_summary(const render::FadeMethodResult& method) {
    std::vector<std::string> lines;
    if (const auto& f = method.metrics) {
        lines.push_back(method.job.units.text(f->width) + " from 10 to 90 %");
        lines.push_back(f->banding_over_threshold < 1 ? "no stripes to be seen"
                                                      : fmt::format("stripes, {:.1f} times what is just seen",
                                                                    f->banding_over_threshold));
        lines.push_back(fmt::format("steepest {:.1f} times its mean", f->steepest_over_mean));
        if (f->chroma_loss >= kMinChromaLossShown)
            lines.push_back(fmt::format("the middle greys by {:.0f} C*", f->chroma_loss));
    } else {
        lines.push_back("both ends look the same");
    }
    const render::FadeCost& cost = method.cost;
    if (cost.grain_L >= kMinGraininessShown) lines.push_back(fmt::format("grain of {:.1f} L*", cost.grain_L));
    if (cost.sag.severity != render::Severity::ok) lines.push_back("may sag");
    if (cost.dry_spray.severity != render::Severity::ok) lines.push_back("lands dry in places");
    lines.push_back(
        fmt::format("{} passes, {} min at the gun", cost.passes, trigger_time_text(cost.trigger_time)));
    return lines;
}

}  // namespace fadewright::report
