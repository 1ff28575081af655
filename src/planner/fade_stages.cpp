#include "fade_stages.h"

#include "fadewright/plan/plan_schema.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <initializer_list>

namespace fadewright::planner {
namespace {

// Defaults of a fade. Starting values.
constexpr int kDefaultMidColours = 1;
constexpr int kDefaultSteps = 3;
constexpr int kDefaultGlazes = 4;
constexpr double kDefaultStepDown = 0.5;
constexpr double kDefaultFog = 0.25;

class StageBuilder {
public:
    StageBuilder(const plan::Fade& fade, const std::string& coat_name, double width_mm,
                 std::vector<std::string> used_names)
        : fade_(fade), name_(coat_name), width_(width_mm), used_names_(std::move(used_names)) {
        std::replace(name_.begin(), name_.end(), ' ', '-');
    }

    FadeStages build() {
        out_.base_mix = fade_.from.value;
        switch (fade_.method) {
            case plan::FadeMethod::over:
                add_coat(fade_.to.value, ramp_zone(0, 1), fade_.from.value);
                break;
            case plan::FadeMethod::under:
                out_.base_mix = fade_.to.value;
                add_coat(fade_.from.value, {-kFar, -kFar, -0.5 * width_, 0.5 * width_}, fade_.to.value);
                break;
            case plan::FadeMethod::fogged:
                add_fogged();
                break;
            case plan::FadeMethod::mid_colours:
                add_mid_colours(fade_.mid_colours.value_or(kDefaultMidColours));
                break;
            case plan::FadeMethod::burst:
                add_mid_colours(fade_.mid_colours.value_or(0));
                break;
            case plan::FadeMethod::stepped:
                add_stepped(fade_.steps.value_or(kDefaultSteps));
                break;
            case plan::FadeMethod::glazed:
                add_glazes(fade_.steps.value_or(kDefaultGlazes));
                break;
        }
        return std::move(out_);
    }

private:
    static constexpr double kFar = std::numeric_limits<double>::infinity();

    // The ramp of one of `count` graded coats, counted from `from`.
    RampZone ramp_zone(int index, int count) {
        const double step = width_ / (count + 1);
        out_.ramp_share = 2.0 / (count + 1);
        const double begin = -0.5 * width_ + index * step;
        return {begin, begin + 2 * step, kFar, kFar};
    }

    void add_coat(const std::string& mix, const RampZone& zone, const std::string& mix_below) {
        out_.coats.push_back({mix, mix, zone, fade_.film, mix_below, plan::FadeRole::end});
    }

    std::string add_mix(const std::string& suffix, const plan::Mix& mix) {
        std::string name = name_ + "-" + suffix;
        for (int more = 2; std::find(used_names_.begin(), used_names_.end(), name) != used_names_.end();
             ++more)
            name = fmt::format("{}-{}-{}", name_, suffix, more);
        used_names_.push_back(name);
        out_.mixes.push_back({name, mix, fade_.span});
        return name;
    }

    plan::Mix mix_of(std::initializer_list<std::pair<const Located<std::string>*, double>> parts) const {
        plan::Mix mix;
        for (const auto& [name, amount] : parts) mix.parts.push_back({name->value, amount, name->span});
        mix.extend = fade_.extend.value_or(0);
        mix.reduce = fade_.reduce.value_or(Share{});
        mix.span = fade_.span;
        return mix;
    }

    // The mix itself, or extended and reduced as given in the fade.
    std::string adjusted_mix(const Located<std::string>& source_mix, const std::string& suffix) {
        if (!fade_.extend && !fade_.reduce) return source_mix.value;
        return add_mix(suffix, mix_of({{&source_mix, 1.0}}));
    }

    void add_fogged() {
        const double w = width_;
        add_coat(fade_.to.value, {-w / 4, w / 4, kFar, kFar}, fade_.from.value);
        out_.ramp_share = 0.5;
        const Micrometres film = fade_.fog.value_or(Share{kDefaultFog}).value * fade_.film;
        const std::string from = adjusted_mix(fade_.from, "fog-" + fade_.from.value);
        const std::string to = adjusted_mix(fade_.to, "fog-" + fade_.to.value);
        out_.coats.push_back(
            {fade_.from.value + " fog", from, {-w / 4, w / 8, w / 8, w / 2}, film, "", plan::FadeRole::fog});
        out_.coats.push_back(
            {fade_.to.value + " fog", to, {-w / 2, -w / 8, -w / 8, w / 4}, film, "", plan::FadeRole::fog});
    }

    void add_mid_colours(int mid_colours) {
        const int count = mid_colours + 1;
        const double step = width_ / (count + 1);
        std::string mix_below = fade_.from.value;
        for (int i = 0; i < mid_colours; ++i) {
            const double share = static_cast<double>(i + 1) / count;
            const double to = fade_.mid_ratio.value_or(1) * share / (1 - share);
            const std::string number = mid_colours == 1 ? "" : std::to_string(i + 1);
            const plan::Mix mid_colour =
                mix_of({{&fade_.to, std::round(1000 * to) / 1000}, {&fade_.from, 1.0}});
            const std::string mix =
                add_mix(number.empty() ? "mid-colour" : "mid-colour-" + number, mid_colour);
            RampZone zone = ramp_zone(i, count);
            zone.fall_start_mm = zone.rise_end_mm + step;  // where the next coat is full
            zone.fall_end_mm = zone.fall_start_mm + 2 * step;
            out_.coats.push_back({number.empty() ? "mid colour" : "mid colour " + number, mix, zone,
                                  fade_.film, mix_below, plan::FadeRole::mid_colour});
            mix_below = mix;
        }
        add_coat(fade_.to.value, ramp_zone(count - 1, count), mix_below);
    }

    void add_stepped(int steps) {
        const double remaining = 1 - fade_.step_down.value_or(Share{kDefaultStepDown}).value;
        for (int i = 0; i < steps; ++i) {
            RampZone zone = ramp_zone(steps - 1 - i, steps);
            if (i == 0) {
                add_coat(fade_.to.value, zone, fade_.from.value);
                continue;
            }
            plan::Mix mix = mix_of({{&fade_.to, 1.0}});
            mix.extend = std::round(100 * (std::pow(remaining, -i) - 1)) / 100;
            zone.fall_start_mm = zone.rise_end_mm;
            zone.fall_end_mm = 2 * zone.rise_end_mm - zone.rise_start_mm;
            const std::string suffix = fmt::format("step-{}", i + 1);
            out_.coats.push_back(
                {suffix, add_mix(suffix, mix), zone, fade_.film, fade_.from.value, plan::FadeRole::step});
        }
    }

    void add_glazes(int layers) {
        const std::string mix = adjusted_mix(fade_.to, "glaze");
        for (int i = 0; i < layers; ++i)
            out_.coats.push_back({fmt::format("glaze {}", i + 1), mix, ramp_zone(i, layers),
                                  (1.0 / layers) * fade_.film, fade_.from.value, plan::FadeRole::glaze});
    }

    const plan::Fade& fade_;
    std::string name_;
    double width_;
    std::vector<std::string> used_names_;
    FadeStages out_;
};

}  // namespace

FadeStages fade_stages(const plan::Fade& fade, const std::string& coat_name, double width_mm,
                       const std::vector<std::string>& used_names) {
    return StageBuilder(fade, coat_name, width_mm, used_names).build();
}

}  // namespace fadewright::planner
