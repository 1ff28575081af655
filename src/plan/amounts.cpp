#include "fadewright/plan/amounts.h"

#include "fadewright/base/contract.h"
#include "fadewright/base/parallel.h"
#include "fadewright/plan/quantities.h"
#include "fadewright/spray/settings.h"
#include "mixes.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <map>

namespace fadewright::plan {
namespace {

// Sums over the piece of a coat's dry film, as laid, behind its masks, and behind them squared; in um x cells.
struct FilmSums {
    double laid = 0, through = 0, squared = 0;
};

FilmSums film_of_row(const ReadyCoat& coat, const spray::Panel& panel, double y, double cell_mm) {
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
        const spray::Slope s = panel.surface(x[i], y);
        const double surface = std::sqrt(1 + s.dz_dx * s.dz_dx + s.dz_dy * s.dz_dy);
        const double laid = coat.cover.value + paint::dry_per_wet(coat.mix) * wet[i];
        const double through = laid * coat.let_through(x[i], y);
        sums.laid += surface * laid;
        sums.through += surface * through;
        sums.squared += surface * through * through;
    }
    return sums;
}

FilmSums film_sums(const ReadyCoat& coat, const spray::Panel& panel) {
    constexpr double kCells = 400;  // along the longer side
    const double cell_mm = std::max(panel.width, panel.height).value / kCells;
    const auto rows = static_cast<std::size_t>(std::ceil(panel.height.value / cell_mm));
    std::vector<FilmSums> of_rows(rows);
    for_each_index(rows, [&](std::size_t row) {
        of_rows[row] = film_of_row(coat, panel, (static_cast<double>(row) + 0.5) * cell_mm, cell_mm);
    });
    FilmSums all;
    for (const FilmSums& row : of_rows) {
        all.laid += row.laid;
        all.through += row.through;
        all.squared += row.squared;
    }
    return all;
}

CoatAmounts coat_amounts(const ReadyCoat& coat, const Job& job, const Mixing& mixing) {
    CoatAmounts a;
    a.name = coat.name;
    a.mix = coat.mix_name;
    const double solids = coat.mix.solids.value;
    const double surface_m2 = job.panel.surface_m2();
    const double even = spray::paint_in_film(coat.cover, surface_m2).value / solids;
    const double sprayed = coat.deposit ? coat.deposit->sprayed().value : 0;
    const double endless = coat.deposit ? coat.deposit->landed_endless().value : 0;
    const double on_panel = coat.deposit ? spray::landed_on(*coat.deposit, job.panel).value : 0;
    a.in_air = Millilitres{sprayed - endless + even / mixing.cover_transfer.value - even};
    a.beside = Millilitres{endless - on_panel};
    const FilmSums film = film_sums(coat, job.panel);
    const double open = film.laid > 0 ? film.through / film.laid : 1;
    a.landed = Millilitres{open * (on_panel + even)};
    a.dry = solids * a.landed;
    a.on_masks = Millilitres{on_panel + even - a.landed.value};
    if (film.through > 0) a.film = Micrometres{film.squared / film.through};
    a.transfer_is_said = coat.cover.value > 0;
    const Share transfer = coat.gun && !a.transfer_is_said ? spray::transfer_at(*coat.gun, coat.distance)
                                                           : mixing.cover_transfer;
    a.cards = mixing.cards * to_spray(mixing.card_area_m2(), a.film, coat.mix.solids, transfer);
    if (coat.deposit) {
        a.passes = coat.deposit->passes();
        a.gun_time = coat.deposit->trigger_time();
    }
    return a;
}

class Mixes {
public:
    Mixes(const Plan& plan, Shelf& shelf) : plan_(plan), shelf_(shelf) {}

    MixAmounts weighed_out(MixAmounts mix, const Mixing& mixing) {
        const std::vector<paint::Part>& parts = parts_of_mix(mix.name);
        mix.cups = std::max<std::int64_t>(1, std::llround(std::ceil(mix.needed() / mixing.cup - kSlack)));
        mix.poured = weighed(parts, static_cast<double>(mix.cups) * mixing.cup, mixing.scale);
        mix.rounding = mix.sprayable() - mix.needed();
        if (coarse(mix.poured)) mix.to_weigh = enough_to_weigh(parts, {mixing.cup, mix.cups}, mixing.scale);
        mix.paint = paint::mixed(parts);
        mix.holds = within(mix);
        return mix;
    }

private:
    static constexpr double kSlack = 1e-9;  // a need of just two cups is two cups

    const Named<Mix>* mix_called(const std::string& name) const {
        for (const Named<Mix>& mix : plan_.mixes)
            if (mix.name == name) return &mix;
        return nullptr;
    }

    const std::vector<paint::Part>& parts_of_mix(const std::string& name) {
        const auto known = parts_.find(name);
        if (known != parts_.end()) return known->second;
        Diagnostics none;
        auto parts = parts_of(plan_, {name, {}}, shelf_, none);
        FW_EXPECTS(parts.has_value());  // the job is ready
        return parts_.emplace(name, std::move(*parts)).first->second;
    }

    // The colour part has a volume of 1, the rest is added to it (mixes.h).
    std::vector<Within> within(const MixAmounts& mix) {
        std::vector<Within> holds;
        const Named<Mix>* of_plan = mix_called(mix.name);
        if (!of_plan) return holds;
        std::vector<double> volumes;
        double colour = 0;
        for (const Named<double>& part : of_plan->value.parts) {
            const auto& inner = parts_of_mix(part.name);
            const double density = paint::mixed(inner).wet_density.value;
            volumes.push_back(of_plan->value.by == PartsBy::weight ? part.value / density : part.value);
            colour += volumes.back();
        }
        const double white = of_plan->value.white_cut.value, whole = total(parts_of_mix(mix.name));
        for (std::size_t i = 0; i < volumes.size(); ++i) {
            const std::string& name = of_plan->value.parts[i].name;
            if (!mix_called(name) || volumes[i] <= 0) continue;
            holds.push_back({name, volumes[i] / colour * (1 - white) / whole * mix.sprayable()});
        }
        return holds;
    }

    const Plan& plan_;
    Shelf& shelf_;
    std::map<std::string, std::vector<paint::Part>> parts_;
};

// The coats of each mix added up; before waste, reserve and rounding.
std::vector<MixAmounts> summed(const std::vector<CoatAmounts>& coats, const Job& job) {
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
        mix->landed = mix->landed + coat.landed;
        mix->lost = mix->lost + coat.lost();
        mix->cards = mix->cards + coat.cards;
    }
    return mixes;
}

std::vector<Bought> bought(const std::vector<MixAmounts>& mixes) {
    std::map<std::string, Bought> by_name;
    for (const MixAmounts& mix : mixes)
        for (const Poured& poured : mix.poured) {
            Bought& b = by_name[poured.paint->id];
            b.paint = poured.paint;
            b.volume = b.volume + poured.volume;
            b.grams = b.grams + poured.grams;
        }
    std::vector<Bought> list;
    constexpr double kMillilitresPerLitre = 1000;
    for (auto& [name, b] : by_name) {
        if (b.paint->price_per_litre)
            b.cost = *b.paint->price_per_litre * b.volume.value / kMillilitresPerLitre;
        list.push_back(b);
    }
    return list;
}

}  // namespace

Millilitres MixAmounts::needed() const { return landed + lost + cards + held + waste + reserve; }

Millilitres MixAmounts::sprayable() const {
    Millilitres sum;
    for (const Poured& p : poured) sum = sum + p.volume;
    return sum;
}

Millilitres MixAmounts::unthinned() const {
    Millilitres sum;
    for (const Poured& p : poured)
        if (!p.thins()) sum = sum + p.volume;
    return sum;
}

Grams MixAmounts::grams() const { return poured.empty() ? Grams{} : poured.back().reads; }

const MixAmounts& Amounts::mix_of(const CoatAmounts& coat) const {
    const auto mix =
        std::find_if(mixes.begin(), mixes.end(), [&](const MixAmounts& m) { return m.name == coat.mix; });
    FW_EXPECTS(mix != mixes.end());
    return *mix;
}

std::optional<double> Amounts::cost() const {
    std::optional<double> sum;
    for (const Bought& b : shopping)
        if (b.cost) sum = sum.value_or(0) + *b.cost;
    return sum;
}

Amounts amounts_of(const Plan& plan, const Job& job, Shelf& shelf) {
    Amounts all;
    all.mixing = plan.mixing;
    for (const ReadyCoat& coat : job.coats) all.coats.push_back(coat_amounts(coat, job, plan.mixing));
    Mixes mixes(plan, shelf);
    for (MixAmounts mix : summed(all.coats, job)) {
        mix.held = mix.fillings * plan.mixing.hold_up;
        const Millilitres used = mix.landed + mix.lost + mix.cards + mix.held;
        mix.waste = plan.mixing.waste.value * used;
        mix.reserve = plan.mixing.reserve.value * used;
        all.mixes.push_back(mixes.weighed_out(std::move(mix), plan.mixing));
    }
    all.shopping = bought(all.mixes);
    return all;
}

}  // namespace fadewright::plan
