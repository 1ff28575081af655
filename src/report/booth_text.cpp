// The booth sheet in words, for the terminal.

#include "booth_passes.h"
#include "booth_words.h"

#include "fadewright/report/shown.h"
#include "fadewright/text/units.h"

#include <fmt/format.h>

#include <algorithm>

namespace fadewright::report {
namespace {

std::string coat_rows(const BoothSheet& sheet) {
    std::size_t name = 4, mix = 3;
    for (const plan::CoatAmounts& coat : sheet.amounts.coats) {
        name = std::max(name, coat.name.size());
        mix = std::max(mix, coat.mix.size());
    }
    std::string out =
        fmt::format("{:<{}}  {:<{}}  {:>8} {:>8} {:>8} {:>8} {:>8} {:>8} {:>6} {:>7}\n", "coat", name, "mix",
                    mix, "film um", "lands mL", "in air", "beside", "masks", "cards", "passes", "at gun");
    for (const plan::CoatAmounts& coat : sheet.amounts.coats) {
        const auto mL = [](Millilitres v) { return fmt::format("{:>8.1f}", std::max(0.0, v.value)); };
        out += fmt::format("{:<{}}  {:<{}}  {:>8.1f} {} {} {} {} {} {:>6} {:>7}\n", coat.name, name, coat.mix,
                           mix, coat.film.value, mL(coat.landed), mL(coat.in_air), mL(coat.beside),
                           mL(coat.on_masks), mL(coat.cards),
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
    std::string coats;
    for (const std::string& coat : mix.coats) coats += (coats.empty() ? "" : ", ") + coat;
    std::string out =
        fmt::format("\n{}: mix {}, {} ({} before reducer), for {}\n", mix.name, mL_text(mix.sprayable()),
                    cups_text(mix, mixing), mL_text(mix.unthinned()), coats);
    std::size_t width = 18;
    for (const plan::Poured& p : mix.poured) width = std::max(width, p.paint->id.size());
    out += fmt::format("  {:<{}}  {:>7} {:>8} {:>10} {:>8} {:>9} {:>12}\n", "pour in this order", width,
                       "parts", "% of mix", "% of paint", "mL", "grams", "scale reads");
    for (const plan::Poured& p : mix.poured)
        out +=
            fmt::format("  {:<{}}  {:>7} {:>8} {:>10} {:>8.2f} {:>9} {:>12}\n", p.paint->id, width,
                        parts_text(p.parts), percent_text(p.of_mix), percent_text(p.of_paint), p.volume.value,
                        grams_text(p.grams, mixing.scale), grams_text(p.reads, mixing.scale));
    out += fmt::format("  of {} needed {}\n", mL_text(mix.needed()), balance_text(mix));
    out += "  " + binder_text(mix) + "\n";
    if (const std::string within = within_text(mix); !within.empty()) out += "  " + within + "\n";
    if (const std::string warning = scale_warning(mix, mixing); !warning.empty())
        out += "  " + warning + "\n";
    if (const std::string stir = stir_text(sheet, mix.name); !stir.empty()) out += "  " + stir + "\n";
    return out;
}

std::string shopping(const plan::Amounts& amounts) {
    std::string out = "\nshopping\n";
    std::size_t width = 0;
    for (const plan::Bought& b : amounts.shopping) width = std::max(width, b.paint->id.size());
    for (const plan::Bought& b : amounts.shopping) {
        out += fmt::format("  {:<{}}  {:>8.1f} mL  {:>8} g", b.paint->id, width, b.volume.value,
                           grams_text(b.grams, amounts.mixing.scale));
        if (b.cost) out += fmt::format("  {:>8.2f}", *b.cost);
        out += "\n";
    }
    if (const auto cost = amounts.cost())
        out += fmt::format("  cost of what has a price: {:.2f}, in the money of the paint files\n", *cost);
    return out;
}

std::string waits(const BoothSheet& sheet) {
    std::string out =
        fmt::format("\nwaits at {}, {:.0f} % humidity, air at {} over the panel (a simple model)\n",
                    to_text(sheet.job.booth.temperature), 100 * sheet.job.booth.humidity.value,
                    to_text(sheet.amounts.mixing.air_speed));
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
    out += shopping(sheet.amounts) + waits(sheet);
    out +=
        "\nPart of it are starting values: what a gun lands, what cup and line hold, waste and reserve. "
        "Weigh yours "
        "and write them into [mixing] and the gun's file.\n";
    return out;
}

}  // namespace fadewright::report
