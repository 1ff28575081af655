#include "fade_summary.h"

#include "fadewright/report/format.h"

#include <fmt/core.h>

namespace fadewright::report {
namespace {

// Smaller ones are left out of a summary.
constexpr double kMinChromaLossShown = 5, kMinGraininessShown = 0.5;

}  // namespace

std::vector<std::string> fade_summary(const render::FadeMethodResult& method) {
    std::vector<std::string> lines;
    if (const auto& f = method.metrics) {
        lines.push_back(method.job.units.text(f->width) + " wide (10-90 %)");
        lines.push_back(f->banding_over_threshold < 1
                            ? "no visible banding"
                            : fmt::format("banding, {:.1f}× visible threshold", f->banding_over_threshold));
        lines.push_back(fmt::format("steepest part {:.1f}× the average", f->steepest_over_mean));
        if (f->chroma_loss >= kMinChromaLossShown)
            lines.push_back(fmt::format("middle loses {:.0f} C* (goes grey)", f->chroma_loss));
    } else {
        lines.push_back("both ends look the same");
    }
    const render::FadeCost& cost = method.cost;
    if (cost.grain_L >= kMinGraininessShown)
        lines.push_back(fmt::format("graininess {:.1f} ΔL*", cost.grain_L));
    if (cost.sag.severity != render::Severity::ok) lines.push_back("may sag");
    if (cost.dry_spray.severity != render::Severity::ok) lines.push_back("dry spray in places");
    lines.push_back(fmt::format("{} passes, {} trigger time", cost.passes,
                                duration_text(static_cast<int>(cost.trigger_time.value))));
    return lines;
}

}  // namespace fadewright::report
