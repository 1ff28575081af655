#include "fadewright/report/phrases_amounts.h"

#include <fmt/core.h>

namespace fadewright::report {

std::string film_range_text(Micrometres thinnest, Micrometres thickest, DisplayUnits units) {
    constexpr double kEven = 0.1;  // range over the thickest film
    return (thickest - thinnest).value < kEven * thickest.value ? units.text(thickest) + " all over"
                                                                : units.range(thinnest, thickest);
}

std::string pass_count_text(int passes) { return fmt::format("{} pass{}", passes, passes == 1 ? "" : "es"); }

std::string describe_passes(int passes, Seconds trigger_time) {
    const double seconds = trigger_time.value;
    const std::string minutes = seconds < 60 ? "under 1 min" : fmt::format("{:.0f} min", seconds / 60);
    return fmt::format("{}, {} trigger time.", pass_count_text(passes), minutes);
}

std::string describe_mix_amount(const production::MixAmounts& mix, DisplayUnits units) {
    return fmt::format("Mix {} ({}) of {}; {} ends up on the panel.", units.text(mix.sprayable()),
                       units.text(mix.grams()), mix.name, units.text(mix.on_panel));
}

std::optional<std::string> describe_coarse_weighing(const production::MixAmounts& mix, DisplayUnits units) {
    if (!mix.weighable_batch) return std::nullopt;
    return fmt::format("{}: one component is too small for your scale; mix {} to weigh it accurately.",
                       mix.name, units.text(*mix.weighable_batch));
}

}  // namespace fadewright::report
