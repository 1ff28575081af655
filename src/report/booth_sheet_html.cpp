// The booth sheet as one HTML file without script: for a phone outside the booth, or any printer.

#include "fadewright/base/strings.h"
#include "pass_drawing.h"
#include "pass_groups.h"

#include <fmt/core.h>

#include <set>

namespace fadewright::report {
namespace {

constexpr std::string_view kStyle = R"(
body{font:17px/1.4 "DejaVu Sans",Verdana,sans-serif;color:#111;background:#fff;max-width:52em;margin:1em auto;padding:0 1em}
h1{font-size:1.9em;margin:.2em 0}h2{font-size:1.6em;border-bottom:3px solid #111;margin:1.6em 0 .4em}
h3{font-size:1.2em;margin:1.1em 0 .3em}table{border-collapse:collapse;width:100%}
th{font-weight:400;color:#666;text-align:right}td{text-align:right;padding:.25em .4em;border-bottom:1px solid #ccc}
th:nth-child(2),td:nth-child(2){text-align:left;font-weight:700}td:first-child,th:first-child{width:2em;text-align:left}
.key{font-size:1.5em;font-weight:700}.box{display:inline-block;width:1.1em;height:1.1em;border:2px solid #111;vertical-align:-.2em}
dl{display:flex;flex-wrap:wrap;gap:.4em 2em;margin:.3em 0}dt{color:#666}dd{margin:0;font-size:1.4em;font-weight:700}
ul{list-style:none;padding:0;margin:.3em 0}li{margin:.4em 0 .4em 2em;text-indent:-2em}li .box{margin-right:.8em;text-indent:0}
.note{font-weight:700}.faint{color:#666}svg{max-width:100%;height:auto}
@page{margin:11mm}
@media print{body{max-width:none;margin:0;font-size:13px}h2{margin:0 0 .3em}h3{margin:.7em 0 .2em}h2{break-before:page}tr,li,svg{break-inside:avoid}
svg{max-height:55mm;width:auto;max-width:100%}}
)";

constexpr std::string_view kBox = "<span class=\"box\"></span>";

std::string hex_code(Rgb c) { return fmt::format("#{:02x}{:02x}{:02x}", c.r, c.g, c.b); }

std::string svg(const Drawing& drawing) {
    std::string out = fmt::format(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0:.1f}mm\" height=\"{1:.1f}mm\" "
        "viewBox=\"0 0 {0:.2f} {1:.2f}\" role=\"img\">",
        drawing.width, drawing.height);
    for (const DrawnLine& line : drawing.lines) {
        out += "<polyline fill=\"none\" points=\"";
        for (const auto& [x, y] : line.points) out += fmt::format("{:.2f},{:.2f} ", x, y);
        out += fmt::format("\" stroke=\"{}\" stroke-width=\"{}\"/>", hex_code(line.ink), line.line_mm);
    }
    for (const DrawnText& label : drawing.texts) {
        const std::string_view anchor = label.align == Align::left    ? "start"
                                        : label.align == Align::right ? "end"
                                                                      : "middle";
        out += fmt::format("<text x=\"{:.2f}\" y=\"{:.2f}\" font-size=\"{}\" text-anchor=\"{}\">{}</text>",
                           label.x, label.y + 0.36 * drawing.text_mm, drawing.text_mm, anchor,
                           escape_markup(label.text));
    }
    return out + "</svg>\n";
}

std::string checkbox_item(std::string_view text) {
    return fmt::format("<li>{}{}</li>\n", kBox, escape_markup(text));
}

std::string checklist(const std::vector<std::string>& lines) {
    std::string out = "<ul>\n";
    for (const std::string& line : lines) out += checkbox_item(line);
    return out + "</ul>\n";
}

std::string settings_list(const std::vector<Setting>& settings) {
    std::string out = "<dl>\n";
    for (const auto& [name, value] : settings)
        out += fmt::format("<div><dt>{}</dt><dd>{}</dd></div>\n", escape_markup(name), escape_markup(value));
    return out + "</dl>\n";
}

std::string recipe_table(const production::MixAmounts& mix, const plan::ShopSettings& shop,
                         DisplayUnits units) {
    std::string out = fmt::format(
        "<table><tr><th></th><th>pour in this order</th><th>parts</th><th>% of mix</th><th>% of paint</th>"
        "<th>{}</th><th>add g</th><th>running total g</th></tr>\n",
        units.unit_name<Millilitres>());
    for (const production::RecipeLine& p : mix.recipe)
        out += fmt::format(
            "<tr><td>{}</td><td>{}</td><td>{}</td><td>{}</td><td>{}</td><td>{}</td><td>{}</td><td "
            "class=\"key\">{}</td></tr>\n",
            kBox, escape_markup(p.paint->id), parts_text(p.parts), percent_text(p.share_of_mix),
            percent_text(p.share_of_paint), units.number(p.volume, 1), grams_text(p.grams, shop.scale),
            grams_text(p.scale_reading, shop.scale));
    return out + "</table>\n";
}

std::string mix_block(const production::MixAmounts& mix, const plan::ShopSettings& shop, DisplayUnits units) {
    std::string out =
        fmt::format("<h3>Mix: {}</h3>\n<p><span class=\"key\">{}</span> {}, {} before reducer</p>\n",
                    escape_markup(mix.name), amount_text(mix.sprayable(), units), cups_text(mix, shop, units),
                    amount_text(mix.unreduced(), units));
    out += recipe_table(mix, shop, units);
    out += fmt::format("<p>{} needed: {}. {}.</p>\n", amount_text(mix.needed(), units),
                       balance_text(mix, units), solids_text(mix, units));
    if (const std::string text = contained_mixes_text(mix, units); !text.empty())
        out += fmt::format("<p>It {}.</p>\n", escape_markup(text));
    if (const std::string text = scale_warning(mix, shop, units); !text.empty())
        out += fmt::format("<p class=\"note\">Note: {}.</p>\n", escape_markup(text));
    return out;
}

std::string powder_block(const BoothSheet& sheet, const std::string& mix) {
    const std::string text = flake_powder_text(sheet, mix);
    return text.empty() ? "" : fmt::format("<p class=\"note\">{}</p>\n", escape_markup(text));
}

std::string spray_block(const BoothSheet& sheet, std::size_t index) {
    const plan::ResolvedCoat& coat = sheet.job.coats[index];
    const production::CoatAmounts& amounts = sheet.amounts.coats[index];
    const DisplayUnits units = sheet.job.units;
    std::string out = fmt::format("<h3>Spray: {}</h3>\n", escape_markup(coat.name));
    std::vector<std::string> lines;
    if (coat.even_film.value > 0) lines.push_back(even_coat_text(coat, amounts, units));
    if (!coat.passes.empty()) {
        lines.push_back(passes_text(amounts, units));
        out += svg(draw_passes(sheet, {index, index + 1}, 150, 95));
        for (const PassGroup& group : pass_groups(coat, sheet.job.panel, units))
            lines.push_back(pass_group_text(group, ": "));
    }
    for (const std::string& line : checkpoints(sheet, index)) lines.push_back(line);
    return out + checklist(lines);
}

std::string front(const BoothSheet& sheet) {
    const spray::Panel& panel = sheet.job.panel;
    const DisplayUnits units = sheet.job.units;
    std::string out = fmt::format(
        "<h1>{}</h1>\n<p class=\"faint\">Booth sheet. Piece {}, {}, over {}. Booth {}, {:.0f} % RH.</p>\n"
        "<h3>Coats in order</h3>\n<table><tr><th></th><th>coat</th><th>mix</th><th>recoat</th></tr>\n",
        escape_markup(sheet.title), units.size_text(panel.width, panel.height),
        units.area_from_m2(panel.surface_m2()), escape_markup(sheet.job.ground_name),
        units.input_text(sheet.job.booth.temperature), 100 * sheet.job.booth.humidity.value);
    for (std::size_t i = 0; i < sheet.job.coats.size(); ++i)
        out += fmt::format("<tr><td>{}</td><td>{}</td><td>{}</td><td>{}</td></tr>\n", kBox,
                           escape_markup(sheet.job.coats[i].name), escape_markup(sheet.job.coats[i].mix_name),
                           drying_time_text(sheet.drying_times[i].recoat));
    out += fmt::format(
        "</table>\n<h3>Materials</h3>\n"
        "<table><tr><th></th><th>paint</th><th>{}</th><th>grams</th></tr>\n",
        units.unit_name<Millilitres>());
    for (const production::ShoppingItem& b : sheet.amounts.shopping)
        out += fmt::format("<tr><td>{}</td><td>{}</td><td>{}</td><td>{}</td></tr>\n", kBox,
                           escape_markup(b.paint->id), units.number(b.volume, 1),
                           grams_text(b.grams, sheet.amounts.mixing.scale));
    out += "</table>\n";
    if (const auto cost = sheet.amounts.cost())
        out += fmt::format("<p>Cost of priced paints: {:.2f}</p>\n", *cost);
    return out + "<h3>Safety</h3>\n" + checklist(safety_lines(sheet.amounts.mixing));
}

}  // namespace

std::string booth_sheet_html(const BoothSheet& sheet) {
    std::string out = fmt::format(
        "<!DOCTYPE html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"><meta name=\"viewport\" "
        "content=\"width=device-width, initial-scale=1\">\n<title>{}: booth sheet</title>\n"
        "<style>{}</style></head><body>\n",
        escape_markup(sheet.title), kStyle);
    out += front(sheet);
    std::set<std::string> mixed;
    for (const CoatGroup& group : coat_groups(sheet)) {
        const production::CoatAmounts& first = sheet.amounts.coats[group.begin];
        out += fmt::format("<h2>{}  {}</h2>\n", group.begin + 1, escape_markup(first.name));
        const production::MixAmounts& mix = sheet.amounts.mix_of(first);
        if (mixed.insert(mix.name).second) {
            out += mix_block(mix, sheet.amounts.mixing, sheet.job.units);
            out += powder_block(sheet, mix.name);
        } else {
            out +=
                checklist({fmt::format("Mix '{}' is already mixed for coat '{}': stir, strain, fill the gun",
                                       mix.name, mix.coats.front())});
        }
        for (std::size_t i = group.begin; i < group.end; ++i) {
            if (i > group.begin)
                out += checklist({fmt::format("Flash-off: {}; then go on with the same mix",
                                              drying_time_text(sheet.drying_times[i - 1].flash))});
            const std::vector<Setting> settings = gun_settings(sheet, i);
            if (!settings.empty() && (i == group.begin || settings != gun_settings(sheet, i - 1)))
                out += "<h3>Set the gun</h3>\n" + settings_list(settings);
            out += spray_block(sheet, i);
        }
        const production::DryTimes& times = sheet.drying_times[group.end - 1];
        out += "<h3>Drying times</h3>\n" + settings_list({{"flash-off", drying_time_text(times.flash)},
                                                          {"recoat", drying_time_text(times.recoat)},
                                                          {"dry to tape", drying_time_text(times.tape)}});
    }
    return out + fmt::format("<footer><p class=\"note\">{} {}</p></footer>\n</body></html>\n", kFooterCaution,
                             kFooterPrecedence);
}

}  // namespace fadewright::report
