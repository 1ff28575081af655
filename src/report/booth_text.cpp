// The booth sheet in words, for the terminal.

#include "booth_passes.h"
#include "booth_words.h"

#include "fadewright/report/shown.h"

#include <fmt/core.h>

#include <algorithm>

namespace fadewright::report {
namespace {

std::string coat_rows(const BoothSheet& sheet) {
    std::size_t name = 4, mix = 3;
    for (const plan::CoatAmounts& coat : sheet.amounts.coats) {
        name = std::max(name, coat.name.size());
        mix = std::max(mix, coat.mix.size());
    }
    const ShownUnits units = sheet.job.units;
    const std::string lands = fmt::format("lands {}", units.name<Millilitres>());
    std::string out =
        fmt::format("{:<{}}  {:<{}}  {:>8} {:>{}} {:>8} {:>8} {:>8} {:>8} {:>6} {:>7}\n", "coat", name, "mix",
                    mix, fmt::format("film {}", units.name<Micrometres>()), lands, lands.size(), "in air",
                    "beside", "masks", "cards", "passes", "at gun");
    for (const plan::CoatAmounts& coat : sheet.amounts.coats) {
        const auto of = [units](Millilitres v) {
            return fmt::format("{:>8}", units.figure(Millilitres{std::max(0.0, v.value)}, 1));
        };
        out += fmt::format("{:<{}}  {:<{}}  {:>8} {:>{}} {} {} {} {} {:>6} {:>7}\n", coat.name, name,
                           coat.mix, mix, units.figure(coat.film, 1), of(coat.landed), lands.size(),
                           of(coat.in_air), of(coat.beside), of(coat.on_masks), of(coat.cards),
                           coat.passes > 0 ? std::to_string(coat.passes) : "-",
                           coat.passes > 0 ? time_text(coat.gun_time) : "-");
    }
    const bool said = std::any_of(sheet.amounts.coats.begin(), sheet.amounts.coats.end(),
                                  [](const auto& coat) { return coat.transfer_is_said; });
    if (said)
        out += fmt::format(
            "A coat without passes is taken to land {:.0f} % of what is sprayed (mixing.cover_transfer).\n",
            100 * sheet.amounts.mixing.cover_transfer.value);
    return out;
}

std::string recipe(const BoothSheet& sheet, const plan::MixAmounts& mix) {
    const plan::Mixing& mixing = sheet.amounts.mixing;
    const ShownUnits units = sheet.job.units;
    std::string coats;
    for (const std::string& coat : mix.coats) coats += (coats.empty() ? "" : ", ") + coat;
    std::string out = fmt::format("\n{}: mix {}, {} ({} before reducer), for {}\n", mix.name,
                                  amount_text(mix.sprayable(), units), cups_text(mix, mixing, units),
                                  amount_text(mix.unthinned(), units), coats);
    std::size_t width = 18;
    for (const plan::Poured& p : mix.poured) width = std::max(width, p.paint->id.size());
    out += fmt::format("  {:<{}}  {:>7} {:>8} {:>10} {:>8} {:>9} {:>12}\n", "pour in this order", width,
                       "parts", "% of mix", "% of paint", units.name<Millilitres>(), "grams", "scale reads");
    for (const plan::Poured& p : mix.poured)
        out += fmt::format("  {:<{}}  {:>7} {:>8} {:>10} {:>8} {:>9} {:>12}\n", p.paint->id, width,
                           parts_text(p.parts), percent_text(p.of_mix), percent_text(p.of_paint),
                           units.figure(p.volume, 2), grams_text(p.grams, mixing.scale),
                           grams_text(p.reads, mixing.scale));
    out += fmt::format("  of {} needed {}\n", amount_text(mix.needed(), units), balance_text(mix, units));
    out += "  " + binder_text(mix, units) + "\n";
    if (const std::string within = within_text(mix, units); !within.empty()) out += "  " + within + "\n";
    if (const std::string warning = scale_warning(mix, mixing, units); !warning.empty())
        out += "  " + warning + "\n";
    if (const std::string stir = stir_text(sheet, mix.name); !stir.empty()) out += "  " + stir + "\n";
    return out;
}

std::string shopping(const plan::Amounts& amounts, ShownUnits units) {
    std::string out = "\nshopping\n";
    std::size_t width = 0;
    for (const plan::Bought& b : amounts.shopping) width = std::max(width, b.paint->id.size());
    for (const plan::Bought& b : amounts.shopping) {
        out += fmt::format("  {:<{}}  {:>8} {}  {:>8} g", b.paint->id, width, units.figure(b.volume, 1),
                           units.name<Millilitres>(), grams_text(b.grams, amounts.mixing.scale));
        if (b.cost) out += fmt::format("  {:>8.2f}", *b.cost);
        out += "\n";
    }
    if (const auto cost = amounts.cost())
        out += fmt::format("  cost of what has a price: {:.2f}, in the money of the paint files\n", *cost);
    return out;
}

std::string waits(const BoothSheet& sheet) {
    const ShownUnits units = sheet.job.units;
    std::string out =
        fmt::format("\nwaits at {}, {:.0f} % humidity, air at {} over the panel (a simple model)\n",
                    units.as_given(sheet.job.booth.temperature), 100 * sheet.job.booth.humidity.value,
                    units.air_speed(sheet.amounts.mixing.air_speed));
    for (std::size_t i = 0; i < sheet.waits.size(); ++i)
        out += fmt::format("  {}: flash {}, next coat {}, tape {}\n", sheet.job.coats[i].name,
                           wait_text(sheet.waits[i].flash), wait_text(sheet.waits[i].recoat),
                           wait_text(sheet.waits[i].tape));
    return out;
}

}  // namespace

std::string sheet_text(const BoothSheet& sheet) {
    std::string out = sheet.title.empty() ? "" : sheet.title + "\n\n";
    out += coat_rows(sheet);
    for (const plan::MixAmounts& mix : sheet.amounts.mixes) out += recipe(sheet, mix);
    out += shopping(sheet.amounts, sheet.job.units) + waits(sheet);
    out +=
        "\nPart of it are starting values: what a gun lands, what cup and line hold, waste and reserve. "
        "Weigh yours "
        "and write them into [mixing] and the gun's file.\n";
    return out;
}

}  // namespace fadewright::report
