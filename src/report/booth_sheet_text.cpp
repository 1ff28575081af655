// The booth sheet as plain text, for the terminal.

#include "booth_sheet_content.h"
#include "pass_groups.h"

#include "fadewright/report/format.h"

#include <fmt/core.h>

#include <algorithm>

namespace fadewright::report {
namespace {

std::string coat_rows(const BoothSheet& sheet) {
    std::size_t name = 4, mix = 3;
    for (const production::CoatAmounts& coat : sheet.amounts.coats) {
        name = std::max(name, coat.name.size());
        mix = std::max(mix, coat.mix.size());
    }
    const DisplayUnits units = sheet.job.units;
    const std::string on_panel = fmt::format("on panel {}", units.unit_name<Millilitres>());
    std::string out =
        fmt::format("{:<{}}  {:<{}}  {:>10} {:>{}} {:>10} {:>10} {:>10} {:>10} {:>6} {:>7}\n", "coat", name,
                    "mix", mix, fmt::format("dry {}", units.unit_name<Micrometres>()), on_panel,
                    on_panel.size(), "overspray", "off edge", "on masks", "test cards", "passes", "trigger");
    for (const production::CoatAmounts& coat : sheet.amounts.coats) {
        const auto formatted = [units](Millilitres v) {
            return fmt::format("{:>10}", units.number(Millilitres{std::max(0.0, v.value)}, 1));
        };
        out +=
            fmt::format("{:<{}}  {:<{}}  {:>10} {:>{}} {} {} {} {} {:>6} {:>7}\n", coat.name, name, coat.mix,
                        mix, units.number(coat.film, 1), formatted(coat.on_panel), on_panel.size(),
                        formatted(coat.overspray), formatted(coat.off_edge), formatted(coat.on_masks),
                        formatted(coat.test_cards), coat.passes > 0 ? std::to_string(coat.passes) : "-",
                        coat.passes > 0 ? clock_text(coat.trigger_time) : "-");
    }
    const bool assumed = std::any_of(sheet.amounts.coats.begin(), sheet.amounts.coats.end(),
                                     [](const auto& coat) { return coat.efficiency_assumed; });
    if (assumed)
        out += fmt::format(
            "Coats without passes: {:.0f} % of the paint is assumed to reach the panel "
            "(mixing.even_coat_efficiency).\n",
            100 * sheet.amounts.mixing.even_coat_efficiency.value);
    return out;
}

std::string recipe(const BoothSheet& sheet, const production::MixAmounts& mix) {
    const plan::ShopSettings& shop = sheet.amounts.mixing;
    const DisplayUnits units = sheet.job.units;
    std::string coats;
    for (const std::string& coat : mix.coats) coats += (coats.empty() ? "" : ", ") + coat;
    std::string out = fmt::format("\n{}: mix {}, {} ({} before reducer), for {}\n", mix.name,
                                  amount_text(mix.sprayable(), units), cups_text(mix, shop, units),
                                  amount_text(mix.unreduced(), units), coats);
    std::size_t width = 18;
    for (const production::RecipeLine& p : mix.recipe) width = std::max(width, p.paint->id.size());
    out +=
        fmt::format("  {:<{}}  {:>7} {:>8} {:>10} {:>8} {:>9} {:>13}\n", "pour in this order", width, "parts",
                    "% of mix", "% of paint", units.unit_name<Millilitres>(), "grams", "running total");
    for (const production::RecipeLine& p : mix.recipe)
        out += fmt::format("  {:<{}}  {:>7} {:>8} {:>10} {:>8} {:>9} {:>13}\n", p.paint->id, width,
                           parts_text(p.parts), percent_text(p.share_of_mix), percent_text(p.share_of_paint),
                           units.number(p.volume, 2), grams_text(p.grams, shop.scale),
                           grams_text(p.scale_reading, shop.scale));
    out += fmt::format("  {} needed: {}\n", amount_text(mix.needed(), units), balance_text(mix, units));
    out += "  " + solids_text(mix, units) + "\n";
    if (const std::string contained = contained_mixes_text(mix, units); !contained.empty())
        out += "  " + contained + "\n";
    if (const std::string warning = scale_warning(mix, shop, units); !warning.empty())
        out += "  " + warning + "\n";
    if (const std::string stir = stir_text(sheet, mix.name); !stir.empty()) out += "  " + stir + "\n";
    if (const std::string powder = flake_powder_text(sheet, mix.name); !powder.empty())
        out += "  " + powder + "\n";
    return out;
}

std::string materials_text(const production::Amounts& amounts, DisplayUnits units) {
    std::string out = "\nmaterials\n";
    std::size_t width = 0;
    for (const production::ShoppingItem& b : amounts.shopping) width = std::max(width, b.paint->id.size());
    for (const production::ShoppingItem& b : amounts.shopping) {
        out += fmt::format("  {:<{}}  {:>8} {}  {:>8} g", b.paint->id, width, units.number(b.volume, 1),
                           units.unit_name<Millilitres>(), grams_text(b.grams, amounts.mixing.scale));
        if (b.cost) out += fmt::format("  {:>8.2f}", *b.cost);
        out += "\n";
    }
    if (const auto cost = amounts.cost())
        out += fmt::format("  cost of priced paints: {:.2f}, in the paint files' currency\n", *cost);
    return out;
}

std::string drying_times_text(const BoothSheet& sheet) {
    const DisplayUnits units = sheet.job.units;
    std::string out =
        fmt::format("\ndrying times at {}, {:.0f} % RH, air moving at {} over the panel (estimates)\n",
                    units.input_text(sheet.job.booth.temperature), 100 * sheet.job.booth.humidity.value,
                    units.air_speed(sheet.amounts.mixing.air_speed));
    for (std::size_t i = 0; i < sheet.drying_times.size(); ++i)
        out += fmt::format("  {}: flash-off {}, recoat {}, dry to tape {}\n", sheet.job.coats[i].name,
                           drying_time_text(sheet.drying_times[i].flash),
                           drying_time_text(sheet.drying_times[i].recoat),
                           drying_time_text(sheet.drying_times[i].tape));
    return out;
}

}  // namespace

std::string booth_sheet_text(const BoothSheet& sheet) {
    std::string out = sheet.title.empty() ? "" : sheet.title + "\n\n";
    out += coat_rows(sheet);
    for (const production::MixAmounts& mix : sheet.amounts.mixes) out += recipe(sheet, mix);
    out += materials_text(sheet.amounts, sheet.job.units) + drying_times_text(sheet);
    out +=
        "\nSome figures are starting values: transfer efficiency, paint left in the gun, waste and reserve. "
        "Weigh your own and enter them in [mixing] and in the gun file.\n";
    out += "\nsafety\n";
    for (const std::string& line : safety_lines(sheet.amounts.mixing)) out += "  " + line + "\n";
    return out + fmt::format("\n{} {}\n", kFooterCaution, kFooterPrecedence);
}

}  // namespace fadewright::report
