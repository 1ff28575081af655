// Each mix as a cup: what goes in, how it fills, and what it looks like over the job's ground, black and white.
#include "fadewright/film/outlook.h"
#include "fadewright/paint/usual_coat.h"
#include "fadewright/plan/plan_schema.h"
#include "fadewright/report/shown.h"
#include "look.h"

#include <fmt/core.h>

#include <algorithm>

namespace fadewright::serve {
namespace {

constexpr int kMostCoats = 12;  // looked at for hiding

class Pots {
public:
    explicit Pots(const InWork& work)
        : work_(work), shelf_(work.shelf), plan_(*work.laid), looker_(work.job->light, work.job->observer) {}

    Json all() {
        Json pots = Json::array();
        for (const Named<plan::Mix>& mix : work_.plan->mixes) {
            Json pot = pot_of(mix.name, mix.value, "mixes." + reading::key_text(mix.name));
            pot["ratio_at"] = nullptr;
            pots.push_back(std::move(pot));
        }
        for (std::size_t c = 0; c < work_.plan->coats.size(); ++c)
            if (const Named<plan::Mix>* middle = middle_cup(work_, c)) pots.push_back(middle_pot(c, *middle));
        return pots;
    }

private:
    Json middle_pot(std::size_t coat, const Named<plan::Mix>& middle) {
        const plan::Fade& fade = *work_.plan->coats[coat].fade;
        Json pot = pot_of(middle.name, middle.value, fmt::format("coats.{}.fade", coat));
        pot["coat"] = coat;
        const bool mixed = fade.method == plan::FadeMethod::middles || fade.method == plan::FadeMethod::burst;
        pot["ratio_at"] = mixed ? Json(fmt::format("coats.{}.fade.middle_ratio", coat)) : Json(nullptr);
        return pot;
    }

    std::optional<std::vector<paint::Part>> resolved(const std::string& name) {
        Diagnostics unheard;
        return plan::parts_of(plan_, {name, {}}, shelf_, unheard);
    }

    struct Shown {
        std::string title;
        bool is_mix = false;
        std::string colour;
    };
    Shown shown(const std::string& name) {
        Shown out{name, false, "#808080"};
        Diagnostics unheard;
        if (const paint::Paint* paint = shelf_.paint(name, unheard)) out.title = paint->title;
        out.is_mix = std::any_of(plan_.mixes.begin(), plan_.mixes.end(),
                                 [&](const Named<plan::Mix>& mix) { return mix.name == name; });
        if (const auto parts = resolved(name)) out.colour = masstone(*parts);
        return out;
    }

    [[nodiscard]] std::string masstone(std::span<const paint::Part> parts) const {
        const paint::MixedPaint mix = paint::mixed(parts);
        const film::Outlook look =
            film::outlook(mix, paint::usual_coat(parts), 1, work_.job->ground, looker_);
        const bool dry = paint::dry_per_wet(mix) > 0;
        return dry ? report::hex_of(mix.S[0] + mix.K[0] > 0 ? look.masstone : look.coats.front().over_white)
                   : "#f4f4f4";
    }

    Json parts_json(const plan::Mix& mix) {
        Json parts = Json::array();
        for (const Named<double>& part : mix.parts) {
            const Shown what = shown(part.name);
            parts.push_back({{"what", part.name},
                             {"title", what.title},
                             {"parts", part.value},
                             {"is_mix", what.is_mix},
                             {"colour", what.colour}});
        }
        return parts;
    }

    // Shares by volume, bottom up. Parts given by weight are turned into volume by their own densities.
    Json cup_json(const plan::Mix& mix) {
        std::vector<double> volumes;
        double sum = 0;
        for (const Named<double>& part : mix.parts) {
            double volume = part.value;
            if (mix.by == plan::PartsBy::weight)
                if (const auto parts = resolved(part.name)) volume /= paint::mixed(*parts).wet_density.value;
            volumes.push_back(volume);
            sum += volume;
        }
        const double whole = (1 + mix.extend) * (1 + mix.reduce.value), cut = mix.white_cut.value;
        Json cup = Json::array();
        const auto add = [&](const std::string& what, double share, const std::string& colour) {
            if (share > 0) cup.push_back({{"what", what}, {"share", share}, {"colour", colour}});
        };
        for (std::size_t i = 0; i < volumes.size() && sum > 0; ++i)
            add(mix.parts[i].name, (1 - cut) * volumes[i] / sum / whole, shown(mix.parts[i].name).colour);
        add("white", cut / whole, "#ffffff");
        add("clear base", mix.extend / whole, "#e8e4d8");
        add("reducer", 1 - 1 / (1 + mix.reduce.value), "#dfe8ee");
        return cup;
    }

    Json words_of(const paint::MixedPaint& mix, const film::Outlook& look, Micrometres coat) {
        Json words = Json::array();
        const ShownUnits units = work_.job->units;
        words.push_back(fmt::format("{} {} of binder in a {}",
                                    units.figure(GramsPerLitre{mix.binder_g_per_litre}), units.grams(),
                                    units.litre()));
        if (look.coats_to_hide && *look.coats_to_hide <= kMostCoats)
            words.push_back(fmt::format("hides in {} coat{} of {}", *look.coats_to_hide,
                                        *look.coats_to_hide == 1 ? "" : "s", units.text(coat)));
        else
            words.push_back("stays transparent");
        return words;
    }

    Json pot_of(const std::string& name, const plan::Mix& mix, const std::string& at) {
        Json pot{{"at", at},
                 {"name", name},
                 {"parts", parts_json(mix)},
                 {"extend", mix.extend},
                 {"reduce", to_text(mix.reduce)},
                 {"white_cut", to_text(mix.white_cut)},
                 {"cup", cup_json(mix)}};
        const auto parts = resolved(name);
        if (!parts) return pot;
        const paint::MixedPaint mixed = paint::mixed(*parts);
        const Micrometres coat = paint::usual_coat(*parts);
        const film::Outlook look = film::outlook(mixed, coat, kMostCoats, work_.job->ground, looker_);
        const film::CoatLook& one = look.coats.front();
        pot["one_coat_over_ground"] = report::hex_of(one.over_ground);
        pot["over_black"] = report::hex_of(one.over_black);
        pot["over_white"] = report::hex_of(one.over_white);
        pot["over_ground"] = report::hex_of(look.coats[2].over_ground);  // three coats
        pot["words"] = words_of(mixed, look, coat);
        return pot;
    }

    const InWork& work_;
    plan::Shelf shelf_;
    const plan::Plan& plan_;
    film::Looker looker_;
};

}  // namespace

const Named<plan::Mix>* middle_cup(const InWork& work, std::size_t coat) {
    if (!work.laid || !work.plan->coats[coat].fade) return nullptr;
    const std::size_t own = work.plan->mixes.size();
    std::vector<const Named<plan::Mix>*> made;
    const InWork::Coats laid = work.laid_for(coat);
    for (std::size_t i = own; i < work.laid->mixes.size(); ++i)
        for (std::size_t c = laid.first; c < laid.last; ++c)
            if (work.laid->coats[c].mix.value == work.laid->mixes[i].name) {
                made.push_back(&work.laid->mixes[i]);
                break;
            }
    return made.empty() ? nullptr : made[made.size() / 2];
}

Json pots_of(const InWork& work) { return Pots(work).all(); }

}  // namespace fadewright::serve
