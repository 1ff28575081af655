// The mixes for the page: parts, the layers in the mixing cup, and the drawdown over the job's ground, black
// and white.
#include "fadewright/formulation/drawdown.h"
#include "fadewright/paint/mix.h"
#include "fadewright/plan/mix_resolver.h"
#include "fadewright/plan/plan_schema.h"
#include "fadewright/report/format.h"
#include "page_model.h"

#include <fmt/core.h>

#include <algorithm>

namespace fadewright::app {
namespace {

constexpr int kMaxCoats = 12;  // a mix that needs more to hide counts as transparent

class MixListBuilder {
public:
    explicit MixListBuilder(const PreparedPlan& prepared)
        : prepared_(prepared),
          library_(prepared.library),
          plan_(*prepared.expanded),
          colorimeter_(prepared.job->light, prepared.job->observer) {}

    Json build() {
        Json entries = Json::array();
        for (const Named<plan::Mix>& mix : prepared_.plan->mixes) {
            Json entry = mix_json(mix.name, mix.value, "mixes." + detail::toml_key(mix.name));
            entry["ratio_key"] = nullptr;
            entries.push_back(std::move(entry));
        }
        for (std::size_t c = 0; c < prepared_.plan->coats.size(); ++c)
            if (const Named<plan::Mix>* mid_colour = mid_colour_mix(prepared_, c))
                entries.push_back(mid_colour_json(c, *mid_colour));
        return entries;
    }

private:
    Json mid_colour_json(std::size_t coat, const Named<plan::Mix>& mid_colour) {
        const plan::Fade& fade = *prepared_.plan->coats[coat].fade;
        Json entry = mix_json(mid_colour.name, mid_colour.value, fmt::format("coats.{}.fade", coat));
        entry["coat"] = coat;
        const bool mixed =
            fade.method == plan::FadeMethod::mid_colours || fade.method == plan::FadeMethod::burst;
        entry["ratio_key"] = mixed ? Json(fmt::format("coats.{}.fade.mid_ratio", coat)) : Json(nullptr);
        return entry;
    }

    std::optional<std::vector<paint::Part>> resolve_parts(const std::string& name) {
        Diagnostics diagnostics;  // the plan is resolved: whatever is wrong with its mixes is known
        return plan::parts_of(plan_, {name, {}}, library_, diagnostics);
    }

    struct PartInfo {
        std::string title;
        bool is_mix = false;
        std::string colour;
    };
    PartInfo part_info(const std::string& name) {
        PartInfo out{name, false, "#808080"};
        Diagnostics diagnostics;
        if (const paint::Paint* paint = library_.paint(name, diagnostics)) out.title = paint->title;
        out.is_mix = std::any_of(plan_.mixes.begin(), plan_.mixes.end(),
                                 [&](const Named<plan::Mix>& mix) { return mix.name == name; });
        if (const auto parts = resolve_parts(name)) out.colour = masstone(*parts);
        return out;
    }

    [[nodiscard]] std::string masstone(std::span<const paint::Part> parts) const {
        const paint::MixedPaint mix = paint::mix_paints(parts);
        const formulation::DrawdownPrediction drawdown = formulation::predict_drawdown(
            mix, paint::nominal_film_build(parts), 1, prepared_.job->ground, colorimeter_);
        const bool dry = paint::dry_per_wet(mix) > 0;
        return dry ? report::hex_colour(mix.S[0] + mix.K[0] > 0 ? drawdown.masstone
                                                                : drawdown.coats.front().over_white)
                   : "#f4f4f4";
    }

    Json parts_json(const plan::Mix& mix) {
        Json parts = Json::array();
        for (const Named<double>& part : mix.parts) {
            const PartInfo item = part_info(part.name);
            parts.push_back({{"name", part.name},
                             {"title", item.title},
                             {"parts", part.value},
                             {"is_mix", item.is_mix},
                             {"colour", item.colour}});
        }
        return parts;
    }

    // Shares by volume, bottom up. Parts by weight are converted with their densities.
    Json layers_json(const plan::Mix& mix) {
        std::vector<double> volumes;
        double sum = 0;
        for (const Named<double>& part : mix.parts) {
            double volume = part.value;
            if (mix.by == plan::PartsBy::weight)
                if (const auto parts = resolve_parts(part.name))
                    volume /= paint::mix_paints(*parts).wet_density.value;
            volumes.push_back(volume);
            sum += volume;
        }
        const double total = (1 + mix.extend) * (1 + mix.reduce.value), cut = mix.white_cut.value;
        Json layers = Json::array();
        const auto add = [&](const std::string& name, double share, const std::string& colour) {
            if (share > 0) layers.push_back({{"name", name}, {"share", share}, {"colour", colour}});
        };
        for (std::size_t i = 0; i < volumes.size() && sum > 0; ++i)
            add(mix.parts[i].name, (1 - cut) * volumes[i] / sum / total, part_info(mix.parts[i].name).colour);
        add("white", cut / total, "#ffffff");
        add("clear base", mix.extend / total, "#e8e4d8");
        add("reducer", 1 - 1 / (1 + mix.reduce.value), "#dfe8ee");
        return layers;
    }

    Json notes_json(const paint::MixedPaint& mix, const formulation::DrawdownPrediction& drawdown,
                    Micrometres coat) {
        Json notes = Json::array();
        const DisplayUnits units = prepared_.job->units;
        notes.push_back(fmt::format("{} {} binder per {}",
                                    units.number(GramsPerLitre{mix.binder_g_per_litre}),
                                    units.weight_unit_name(), units.volume_unit_name()));
        if (drawdown.coats_to_hide && *drawdown.coats_to_hide <= kMaxCoats)
            notes.push_back(fmt::format("hides in {} coat{} of {}", *drawdown.coats_to_hide,
                                        *drawdown.coats_to_hide == 1 ? "" : "s", units.text(coat)));
        else
            notes.push_back("stays transparent");
        return notes;
    }

    Json mix_json(const std::string& name, const plan::Mix& mix, const std::string& key) {
        Json entry{{"key", key},
                   {"name", name},
                   {"parts", parts_json(mix)},
                   {"extend", mix.extend},
                   {"reduce", to_text(mix.reduce)},
                   {"white_cut", to_text(mix.white_cut)},
                   {"layers", layers_json(mix)}};
        const auto parts = resolve_parts(name);
        if (!parts) return entry;
        const paint::MixedPaint mixed = paint::mix_paints(*parts);
        const Micrometres coat = paint::nominal_film_build(*parts);
        const formulation::DrawdownPrediction drawdown =
            formulation::predict_drawdown(mixed, coat, kMaxCoats, prepared_.job->ground, colorimeter_);
        const formulation::DrawdownCoat& first_coat = drawdown.coats.front();
        entry["one_coat_over_ground"] = report::hex_colour(first_coat.over_ground);
        entry["over_black"] = report::hex_colour(first_coat.over_black);
        entry["over_white"] = report::hex_colour(first_coat.over_white);
        entry["over_ground"] = report::hex_colour(drawdown.coats[2].over_ground);  // three coats
        entry["notes"] = notes_json(mixed, drawdown, coat);
        return entry;
    }

    const PreparedPlan& prepared_;
    plan::Library library_;
    const plan::Plan& plan_;
    film::Colorimeter colorimeter_;
};

}  // namespace

const Named<plan::Mix>* mid_colour_mix(const PreparedPlan& prepared, std::size_t coat) {
    if (!prepared.expanded || !prepared.plan->coats[coat].fade) return nullptr;
    const std::size_t own = prepared.plan->mixes.size();
    std::vector<const Named<plan::Mix>*> candidates;
    const PreparedPlan::CoatRange range = prepared.expanded_coats(coat);
    for (std::size_t i = own; i < prepared.expanded->mixes.size(); ++i)
        for (std::size_t c = range.first; c < range.last; ++c)
            if (prepared.expanded->coats[c].mix.value == prepared.expanded->mixes[i].name) {
                candidates.push_back(&prepared.expanded->mixes[i]);
                break;
            }
    return candidates.empty() ? nullptr : candidates[candidates.size() / 2];
}

Json mixes_json(const PreparedPlan& prepared) { return MixListBuilder(prepared).build(); }

}  // namespace fadewright::app
