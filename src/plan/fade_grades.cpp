#include "fade_grades.h"

#include "fadewright/plan/plan_schema.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <initializer_list>

namespace fadewright::plan {
namespace {

// Starting values of what a fade may leave unsaid.
constexpr int kUsualMiddles = 1;
constexpr int kUsualCups = 3;
constexpr int kUsualLayers = 4;
constexpr double kUsualStepDown = 0.5;
constexpr double kUsualMist = 0.25;

class Grading {
public:
    Grading(const Fade& fade, const std::string& coat_name, double width_mm, std::vector<std::string> taken)
        : fade_(fade), name_(coat_name), width_(width_mm), taken_(std::move(taken)) {
        std::replace(name_.begin(), name_.end(), ' ', '-');
    }

    Grades all() {
        out_.first = fade_.from.value;
        switch (fade_.method) {
            case FadeMethod::over:
                add(fade_.to.value, ramp(0, 1), fade_.from.value);
                break;
            case FadeMethod::under:
                out_.first = fade_.to.value;
                add(fade_.from.value, {-kFar, -kFar, -0.5 * width_, 0.5 * width_}, fade_.to.value);
                break;
            case FadeMethod::two_sided:
                two_sided();
                break;
            case FadeMethod::middles:
                bridged(fade_.middles.value_or(kUsualMiddles));
                break;
            case FadeMethod::burst:
                bridged(fade_.middles.value_or(0));
                break;
            case FadeMethod::stepped:
                stepped(fade_.steps.value_or(kUsualCups));
                break;
            case FadeMethod::transparent:
                layered(fade_.steps.value_or(kUsualLayers));
                break;
        }
        return std::move(out_);
    }

private:
    static constexpr double kFar = std::numeric_limits<double>::infinity();

    // The ramp of graded coat `which` of `count`, counted from `from`.
    Band ramp(int which, int count) {
        const double step = width_ / (count + 1);
        out_.ramp_share = 2.0 / (count + 1);
        const double begin = -0.5 * width_ + which * step;
        return {begin, begin + 2 * step, kFar, kFar};
    }

    void add(const std::string& mix, const Band& band, const std::string& below) {
        out_.grades.push_back({mix, mix, band, fade_.film, below, false});
    }

    std::string new_mix(const std::string& what, const Mix& mix) {
        std::string name = name_ + "-" + what;
        for (int more = 2; std::find(taken_.begin(), taken_.end(), name) != taken_.end(); ++more)
            name = fmt::format("{}-{}-{}", name_, what, more);
        taken_.push_back(name);
        out_.mixes.push_back({name, mix, fade_.place});
        return name;
    }

    Mix mix_of(std::initializer_list<std::pair<const Placed<std::string>*, double>> parts) const {
        Mix mix;
        for (const auto& [name, amount] : parts) mix.parts.push_back({name->value, amount, name->place});
        mix.extend = fade_.extend.value_or(0);
        mix.reduce = fade_.reduce.value_or(Share{});
        mix.place = fade_.place;
        return mix;
    }

    // The mix itself, or extended and reduced as the fade says.
    std::string thinned_mix(const Placed<std::string>& of, const std::string& what) {
        if (!fade_.extend && !fade_.reduce) return of.value;
        return new_mix(what, mix_of({{&of, 1.0}}));
    }

    void two_sided() {
        const double w = width_;
        add(fade_.to.value, {-w / 4, w / 4, kFar, kFar}, fade_.from.value);
        out_.ramp_share = 0.5;
        const Micrometres film = fade_.mist.value_or(Share{kUsualMist}).value * fade_.film;
        const std::string from = thinned_mix(fade_.from, "mist-" + fade_.from.value);
        const std::string to = thinned_mix(fade_.to, "mist-" + fade_.to.value);
        out_.grades.push_back(
            {fade_.from.value + " mist", from, {-w / 4, w / 8, w / 8, w / 2}, film, "", true});
        out_.grades.push_back(
            {fade_.to.value + " mist", to, {-w / 2, -w / 8, -w / 8, w / 4}, film, "", true});
    }

    void bridged(int middles) {
        const int count = middles + 1;
        const double step = width_ / (count + 1);
        std::string below = fade_.from.value;
        for (int i = 0; i < middles; ++i) {
            const double share = static_cast<double>(i + 1) / count;
            const double to = fade_.middle_ratio.value_or(1) * share / (1 - share);
            const std::string what = middles == 1 ? "middle" : fmt::format("middle-{}", i + 1);
            const std::string mix =
                new_mix(what, mix_of({{&fade_.to, std::round(1000 * to) / 1000}, {&fade_.from, 1.0}}));
            Band band = ramp(i, count);
            band.falls_mm = band.full_mm + step;  // where the next is full
            band.gone_mm = band.falls_mm + 2 * step;
            out_.grades.push_back({what, mix, band, fade_.film, below, false});
            below = mix;
        }
        add(fade_.to.value, ramp(count - 1, count), below);
    }

    void stepped(int cups) {
        const double kept = 1 - fade_.step_down.value_or(Share{kUsualStepDown}).value;
        for (int i = 0; i < cups; ++i) {
            Band band = ramp(cups - 1 - i, cups);
            if (i == 0) {
                add(fade_.to.value, band, fade_.from.value);
                continue;
            }
            Mix mix = mix_of({{&fade_.to, 1.0}});
            mix.extend = std::round(100 * (std::pow(kept, -i) - 1)) / 100;
            band.falls_mm = band.full_mm;
            band.gone_mm = 2 * band.full_mm - band.up_mm;
            const std::string what = fmt::format("step-{}", i + 1);
            out_.grades.push_back({what, new_mix(what, mix), band, fade_.film, fade_.from.value, false});
        }
    }

    void layered(int layers) {
        const std::string mix = thinned_mix(fade_.to, "glaze");
        for (int i = 0; i < layers; ++i)
            out_.grades.push_back({fmt::format("layer {}", i + 1), mix, ramp(i, layers),
                                   (1.0 / layers) * fade_.film, fade_.from.value, false});
    }

    const Fade& fade_;
    std::string name_;
    double width_;
    std::vector<std::string> taken_;
    Grades out_;
};

}  // namespace

Grades grades_of(const Fade& fade, const std::string& coat_name, double width_mm,
                 const std::vector<std::string>& taken) {
    return Grading(fade, coat_name, width_mm, taken).all();
}

}  // namespace fadewright::plan
