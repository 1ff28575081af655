#include "fadewright/production/amounts.h"

#include "fadewright/base/contract.h"
#include "fadewright/base/parallel.h"
#include "fadewright/plan/mix_resolver.h"
#include "fadewright/production/coverage.h"
#include "fadewright/spray/gun.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <map>

namespace fadewright::production {
namespace {

// Sums over the piece of a coat's dry film: as sprayed, through its masks, and that squared; in um x cells.
struct FilmSums {
    double sprayed = 0, behind_masks = 0, squared = 0;
};

FilmSums film_of_row(const plan::ResolvedCoat& coat, const spray::Panel& panel, double y, double cell_mm) {
    const auto columns = static_cast<std::size_t>(std::ceil(panel.width.value / cell_mm));
    std::vector<double> x, wet;
    for (std::size_t i = 0; i < columns; ++i) {
        const double at = (static_cast<double>(i) + 0.5) * cell_mm;
        if (panel.inside(at, y)) x.push_back(at);
    }
    wet.resize(x.size());
    if (coat.deposit) coat.deposit->add_wet_um(x, y, wet);
    FilmSums sums;
    for (std::size_t i = 0; i < x.size(); ++i) {
        const spray::SurfaceSample s = panel.surface(x[i], y);
        const double surface = std::sqrt(1 + s.dz_dx * s.dz_dx + s.dz_dy * s.dz_dy);
        const double sprayed = coat.even_film.value + paint::dry_per_wet(coat.mix) * wet[i];
        const double behind_masks = sprayed * coat.mask_transmission(x[i], y);
        sums.sprayed += surface * sprayed;
        sums.behind_masks += surface * behind_masks;
        sums.squared += surface * behind_masks * behind_masks;
    }
    return sums;
}

FilmSums film_sums(const plan::ResolvedCoat& coat, const spray::Panel& panel) {
    constexpr double kCells = 400;  // along the longer side
    const double cell_mm = std::max(panel.width, panel.height).value / kCells;
    const auto rows = static_cast<std::size_t>(std::ceil(panel.height.value / cell_mm));
    std::vector<FilmSums> of_rows(rows);
    parallel_for(rows, [&](std::size_t row) {
        of_rows[row] = film_of_row(coat, panel, (static_cast<double>(row) + 0.5) * cell_mm, cell_mm);
    });
    FilmSums all;
    for (const FilmSums& row : of_rows) {
        all.sprayed += row.sprayed;
        all.behind_masks += row.behind_masks;
        all.squared += row.squared;
    }
    return all;
}

CoatAmounts coat_amounts(const plan::ResolvedCoat& coat, const plan::Job& job,
                         const plan::ShopSettings& mixing) {
    CoatAmounts a;
    a.name = coat.name;
    a.mix = coat.mix_name;
    const double solids = coat.mix.solids.value;
    const double surface_m2 = job.panel.surface_m2();
    const double even = spray::paint_in_film(coat.even_film, surface_m2).value / solids;
    const double sprayed = coat.deposit ? coat.deposit->sprayed_volume().value : 0;
    const double on_infinite_plane = coat.deposit ? coat.deposit->landed_on_infinite_plane().value : 0;
    const double on_panel = coat.deposit ? spray::landed_volume(*coat.deposit, job.panel).value : 0;
    a.overspray = Millilitres{sprayed - on_infinite_plane + even / mixing.even_coat_efficiency.value - even};
    a.off_edge = Millilitres{on_infinite_plane - on_panel};
    const FilmSums film = film_sums(coat, job.panel);
    const double open_share = film.sprayed > 0 ? film.behind_masks / film.sprayed : 1;
    a.on_panel = Millilitres{open_share * (on_panel + even)};
    a.dry = solids * a.on_panel;
    a.on_masks = Millilitres{on_panel + even - a.on_panel.value};
    if (film.behind_masks > 0) a.film = Micrometres{film.squared / film.behind_masks};
    a.efficiency_assumed = coat.even_film.value > 0;
    const Share transfer = coat.gun && !a.efficiency_assumed
                               ? spray::transfer_efficiency_at(*coat.gun, coat.distance)
                               : mixing.even_coat_efficiency;
    a.test_cards = mixing.cards * spray_volume(mixing.card_area_m2(), a.film, coat.mix.solids, transfer);
    if (coat.deposit) {
        a.passes = coat.deposit->passes();
        a.trigger_time = coat.deposit->trigger_time();
    }
    return a;
}

class RecipeBuilder {
public:
    RecipeBuilder(const plan::Plan& plan, plan::Library& library) : plan_(plan), library_(library) {}

    MixAmounts build(MixAmounts mix, const plan::ShopSettings& mixing) {
        const std::vector<paint::Part>& parts = parts_of_mix(mix.name);
        mix.cups =
            std::max<std::int64_t>(1, std::llround(std::ceil(mix.needed() / mixing.cup_size - kSlack)));
        mix.recipe = weigh_out(parts, static_cast<double>(mix.cups) * mixing.cup_size, mixing.scale);
        mix.rounding = mix.sprayable() - mix.needed();
        if (has_coarse_weighing(mix.recipe))
            mix.weighable_batch = smallest_weighable_batch(parts, {mixing.cup_size, mix.cups}, mixing.scale);
        mix.paint = paint::mix_paints(parts);
        mix.sub_mixes = sub_mixes(mix);
        return mix;
    }

private:
    static constexpr double kSlack = 1e-9;  // exactly two cups are two cups

    const Named<plan::Mix>* find_mix(const std::string& name) const {
        for (const Named<plan::Mix>& mix : plan_.mixes)
            if (mix.name == name) return &mix;
        return nullptr;
    }

    const std::vector<paint::Part>& parts_of_mix(const std::string& name) {
        const auto known = parts_.find(name);
        if (known != parts_.end()) return known->second;
        auto parts = plan::parts_of(plan_, {name, {}}, library_);
        FW_EXPECTS(parts.has_value());  // the job is resolved
        return parts_.emplace(name, std::move(*parts)).first->second;
    }

    // The colour part has a volume of 1, the rest is added to it (mix_resolver.h).
    std::vector<SubMix> sub_mixes(const MixAmounts& mix) {
        std::vector<SubMix> sub_mixes;
        const Named<plan::Mix>* of_plan = find_mix(mix.name);
        if (!of_plan) return sub_mixes;
        std::vector<double> volumes;
        double colour = 0;
        for (const Named<double>& part : of_plan->value.parts) {
            const auto& sub_parts = parts_of_mix(part.name);
            const double density = paint::mix_paints(sub_parts).wet_density.value;
            volumes.push_back(of_plan->value.by == plan::PartsBy::weight ? part.value / density : part.value);
            colour += volumes.back();
        }
        const double white = of_plan->value.white_cut.value,
                     mix_volume = plan::total_volume(parts_of_mix(mix.name));
        for (std::size_t i = 0; i < volumes.size(); ++i) {
            const std::string& name = of_plan->value.parts[i].name;
            if (!find_mix(name) || volumes[i] <= 0) continue;
            sub_mixes.push_back({name, volumes[i] / colour * (1 - white) / mix_volume * mix.sprayable()});
        }
        return sub_mixes;
    }

    const plan::Plan& plan_;
    plan::Library& library_;
    std::map<std::string, std::vector<paint::Part>> parts_;
};

// The coats of each mix added up; before waste, reserve and rounding.
std::vector<MixAmounts> sum_by_mix(const std::vector<CoatAmounts>& coats, const plan::Job& job) {
    std::vector<MixAmounts> mixes;
    for (std::size_t i = 0; i < coats.size(); ++i) {
        const CoatAmounts& coat = coats[i];
        auto mix =
            std::find_if(mixes.begin(), mixes.end(), [&](const MixAmounts& m) { return m.name == coat.mix; });
        if (mix == mixes.end()) {
            mix = mixes.emplace(mixes.end());
            mix->name = coat.mix;
        }
        mix->coats.push_back(coat.name);
        const bool goes_on =
            i > 0 && coats[i - 1].mix == coat.mix && job.coats[i - 1].gun_name == job.coats[i].gun_name;
        mix->fillings += goes_on ? 0 : 1;
        mix->on_panel = mix->on_panel + coat.on_panel;
        mix->lost = mix->lost + coat.lost();
        mix->test_cards = mix->test_cards + coat.test_cards;
    }
    return mixes;
}

std::vector<ShoppingItem> shopping_list(const std::vector<MixAmounts>& mixes) {
    std::map<std::string, ShoppingItem> by_name;
    for (const MixAmounts& mix : mixes)
        for (const RecipeLine& line : mix.recipe) {
            ShoppingItem& b = by_name[line.paint->id];
            b.paint = line.paint;
            b.volume = b.volume + line.volume;
            b.grams = b.grams + line.grams;
        }
    std::vector<ShoppingItem> list;
    constexpr double kMillilitresPerLitre = 1000;
    for (auto& [name, b] : by_name) {
        if (b.paint->price_per_litre)
            b.cost = *b.paint->price_per_litre * b.volume.value / kMillilitresPerLitre;
        list.push_back(b);
    }
    return list;
}

}  // namespace

Millilitres MixAmounts::needed() const {
    return on_panel + lost + test_cards + left_in_gun + waste + reserve;
}

Millilitres MixAmounts::sprayable() const {
    Millilitres sum;
    for (const RecipeLine& p : recipe) sum = sum + p.volume;
    return sum;
}

Millilitres MixAmounts::unreduced() const {
    Millilitres sum;
    for (const RecipeLine& p : recipe)
        if (!p.is_reducer()) sum = sum + p.volume;
    return sum;
}

Grams MixAmounts::grams() const { return recipe.empty() ? Grams{} : recipe.back().scale_reading; }

const MixAmounts& Amounts::mix_of(const CoatAmounts& coat) const {
    const auto mix =
        std::find_if(mixes.begin(), mixes.end(), [&](const MixAmounts& m) { return m.name == coat.mix; });
    FW_EXPECTS(mix != mixes.end());
    return *mix;
}

std::optional<double> Amounts::cost() const {
    std::optional<double> sum;
    for (const ShoppingItem& b : shopping)
        if (b.cost) sum = sum.value_or(0) + *b.cost;
    return sum;
}

Amounts amounts_of(const plan::Plan& plan, const plan::Job& job, plan::Library& library) {
    Amounts all;
    all.mixing = plan.mixing;
    for (const plan::ResolvedCoat& coat : job.coats)
        all.coats.push_back(coat_amounts(coat, job, plan.mixing));
    RecipeBuilder mixes(plan, library);
    for (MixAmounts mix : sum_by_mix(all.coats, job)) {
        mix.left_in_gun = mix.fillings * plan.mixing.left_in_gun;
        const Millilitres used = mix.on_panel + mix.lost + mix.test_cards + mix.left_in_gun;
        mix.waste = plan.mixing.waste.value * used;
        mix.reserve = plan.mixing.reserve.value * used;
        all.mixes.push_back(mixes.build(std::move(mix), plan.mixing));
    }
    all.shopping = shopping_list(all.mixes);
    return all;
}

}  // namespace fadewright::production
