// The booth sheet on paper: a front page, and a page for every group of coats with one mix and one gun.

#include "page_layout.h"
#include "pass_groups.h"

#include <fmt/core.h>

#include <algorithm>
#include <set>

namespace fadewright::report {
namespace {

constexpr Rgb kBlack{0, 0, 0};
constexpr PdfText kStrongStyle{kBody_mm, kBlack, Align::left, Weight::bold};
constexpr PdfText kRightStyle{kBody_mm, kInk, Align::right};
constexpr PdfText kFaintStyle{kBody_mm, kFaintInk};
constexpr PdfText kFaintRightStyle{kBody_mm, kFaintInk, Align::right};
constexpr PdfText kKeyStyle{kKey_mm, kBlack, Align::left, Weight::bold};
constexpr PdfText kKeyRightStyle{kKey_mm, kBlack, Align::right, Weight::bold};

class BoothSheetPrinter {
public:
    BoothSheetPrinter(const BoothSheet& sheet, Paper paper)
        : sheet_(sheet),
          shop_(sheet.amounts.mixing),
          units_(sheet.job.units),
          pages_(paper, sheet.title + ": booth sheet",
                 {std::string(kFooterCaution), std::string(kFooterPrecedence),
                  fmt::format("{}  ·  plan {}", sheet.title, sheet.job.hash.substr(0, 8))}) {}

    std::string bytes() {
        draw_front_page();
        for (const CoatGroup& group : coat_groups(sheet_)) draw_coat_group(group);
        return pages_.bytes();
    }

private:
    void draw_front_page() {
        pages_.begin_page(sheet_.title, "booth sheet");
        const spray::Panel& panel = sheet_.job.panel;
        pages_.paragraph(fmt::format(
            "Piece {}, {}, over {}. Booth {}, {:.0f} % RH.", units_.size_text(panel.width, panel.height),
            units_.area_from_m2(panel.surface_m2()), sheet_.job.ground_name,
            units_.input_text(sheet_.job.booth.temperature), 100 * sheet_.job.booth.humidity.value));
        pages_.gap(2);
        pages_.scale_bar(units_);
        draw_coat_list();
        draw_materials();
        pages_.section("Safety");
        for (const std::string& line : safety_lines(shop_)) pages_.checkbox(line);
    }

    void draw_coat_list() {
        pages_.section("Coats in order");
        const double w = pages_.width();
        pages_.row(
            {{9, "coat", kFaintStyle}, {0.55 * w, "mix", kFaintStyle}, {w, "recoat", kFaintRightStyle}}, 6);
        for (std::size_t i = 0; i < sheet_.job.coats.size(); ++i) {
            const production::CoatAmounts& coat = sheet_.amounts.coats[i];
            const std::string name = fmt::format("{}  {}", i + 1, coat.name);
            const std::string recoat = drying_time_text(sheet_.drying_times[i].recoat);
            pages_.row({{9, pages_.sheet().ellipsize(name, kStrongStyle, 0.55 * w - 11), kStrongStyle},
                        {0.55 * w, pages_.sheet().ellipsize(coat.mix, {kBody_mm}, 0.45 * w - 30)},
                        {w, recoat == kWillNotDry ? "will not dry" : recoat, kRightStyle}},
                       5.4, true);
        }
        pages_.paragraph(
            "Times are estimates. For two-pack (2K) paint follow the technical data sheet (TDS).",
            kFaintStyle);
    }

    void draw_materials() {
        pages_.section("Materials");
        const double w = pages_.width();
        const bool costs = sheet_.amounts.cost().has_value();
        const double grams = costs ? 0.82 * w : w;
        std::vector<Cell> head{{0.62 * w, std::string(units_.unit_name<Millilitres>()), kFaintRightStyle},
                               {grams, "grams", kFaintRightStyle}};
        if (costs) head.push_back({w, "cost", kFaintRightStyle});
        pages_.row(head, 6);
        for (const production::ShoppingItem& b : sheet_.amounts.shopping) {
            std::vector<Cell> cells{
                {9, pages_.sheet().ellipsize(b.paint->id, kStrongStyle, 0.62 * w - 32), kStrongStyle},
                {0.62 * w, units_.number(b.volume, 1), kRightStyle},
                {grams, grams_text(b.grams, shop_.scale), kRightStyle}};
            if (costs) cells.push_back({w, b.cost ? fmt::format("{:.2f}", *b.cost) : "-", kRightStyle});
            pages_.row(cells, 5.4, true);
        }
        if (costs)
            pages_.row({{9, "cost of priced paints", kFaintStyle},
                        {w, fmt::format("{:.2f}", *sheet_.amounts.cost()), kKeyRightStyle}},
                       8);
    }

    void draw_coat_group(const CoatGroup& group) {
        const production::CoatAmounts& first = sheet_.amounts.coats[group.begin];
        const std::size_t all = sheet_.job.coats.size();
        std::string side_note = fmt::format("coat {} of {}", group.begin + 1, all);
        if (group.end > group.begin + 1)
            side_note = fmt::format("coats {} to {} of {}", group.begin + 1, group.end, all);
        pages_.begin_page(first.name, side_note);
        draw_mix(sheet_.amounts.mix_of(first));
        for (std::size_t i = group.begin; i < group.end; ++i) {
            if (i > group.begin)
                pages_.checkbox(fmt::format("Flash-off: {}; then go on with the same mix",
                                            drying_time_text(sheet_.drying_times[i - 1].flash)));
            if (i == group.begin || gun_settings(sheet_, i) != gun_settings(sheet_, i - 1))
                draw_gun_settings(i);
            draw_spraying(i);
        }
        draw_drying_times(group.end - 1);
        draw_signature();
    }

    void draw_gun_settings(std::size_t index) {
        const std::vector<Setting> settings = gun_settings(sheet_, index);
        if (settings.empty()) return;
        pages_.section("Set the gun: " + settings.front().second);
        pages_.settings({settings.begin() + 1, settings.end()}, 24);
    }

    void draw_mix(const production::MixAmounts& mix) {
        pages_.section(fmt::format("Mix: {}", mix.name));
        if (!drawn_mixes_.insert(mix.name).second) {
            pages_.checkbox(
                fmt::format("Already mixed for coat '{}': stir, strain, fill the gun", mix.coats.front()));
            return;
        }
        const double w = pages_.width();
        pages_.row({{0, amount_text(mix.sprayable(), units_), kKeyStyle},
                    {w,
                     fmt::format("{}, {} before reducer", cups_text(mix, shop_, units_),
                                 amount_text(mix.unreduced(), units_)),
                     kRightStyle}},
                   9);
        pages_.row({{9, "pour in this order", kFaintStyle},
                    {0.52 * w, "parts", kFaintRightStyle},
                    {0.74 * w, "add g", kFaintRightStyle},
                    {w, "running total g", kFaintRightStyle}},
                   6);
        for (const production::RecipeLine& p : mix.recipe)
            pages_.row({{9, pages_.sheet().ellipsize(p.paint->id, kStrongStyle, 0.52 * w - 24), kStrongStyle},
                        {0.52 * w, parts_text(p.parts), kRightStyle},
                        {0.74 * w, grams_text(p.grams, shop_.scale), kRightStyle},
                        {w, grams_text(p.scale_reading, shop_.scale), kKeyRightStyle}},
                       7.7, true);
        pages_.paragraph(solids_text(mix, units_) + ".");
        if (const std::string text = contained_mixes_text(mix, units_); !text.empty())
            pages_.paragraph("It " + text + ".");
        if (const std::string text = scale_warning(mix, shop_, units_); !text.empty())
            pages_.paragraph("Note: " + text + ".", kStrongStyle);
        if (const std::string text = flake_powder_text(sheet_, mix.name); !text.empty())
            pages_.paragraph(text, kStrongStyle);
    }

    void draw_spraying(std::size_t index) {
        const plan::ResolvedCoat& coat = sheet_.job.coats[index];
        const production::CoatAmounts& amounts = sheet_.amounts.coats[index];
        pages_.section("Spray: " + coat.name);
        if (coat.even_film.value > 0) pages_.checkbox(even_coat_text(coat, amounts, units_));
        if (!coat.passes.empty()) {
            pages_.checkbox(passes_text(amounts, units_), kStrongStyle);
            std::vector<std::string> lines{
                fmt::format("Heights in {} above the lower edge:", units_.length_unit_plural())};
            for (const PassGroup& group : pass_groups(coat, sheet_.job.panel, units_))
                lines.push_back(pass_group_text(group, ":  "));
            // As large as the blocks below allow; if that is too small, they go to the next page.
            constexpr double kLow = 44, kHigh = 78, kWaitAndName = 40;
            double below = kWaitAndName;
            for (const std::string& line : checkpoints(sheet_, index)) below += pages_.checkbox_height(line);
            const double allowed = pages_.remaining_height() - below;
            const double high = allowed < kLow ? kHigh : std::min(allowed, kHigh);
            pages_.drawing_with_text(draw_passes(sheet_, {index, index + 1}, 0.56 * pages_.width(), high),
                                     lines);
        }
        for (const std::string& line : checkpoints(sheet_, index)) pages_.checkbox(line);
    }

    void draw_drying_times(std::size_t last) {
        pages_.section("Drying times");
        const production::DryTimes& times = sheet_.drying_times[last];
        pages_.settings({{"flash-off", drying_time_text(times.flash)},
                         {"recoat", drying_time_text(times.recoat)},
                         {"dry to tape", drying_time_text(times.tape)}},
                        pages_.width() / 3);
    }

    void draw_signature() {
        pages_.ensure_room(8);
        pages_.gap(5);
        const double y = pages_.y(), x = pages_.left();
        PdfSheet& sheet = pages_.sheet();
        double at = x;
        for (const auto& [text, wide] :
             {std::pair{"done by", 0.4}, std::pair{"date", 0.3}, std::pair{"time", 0.3}}) {
            const double end = at + wide * pages_.width() - 4;
            const double begin = at + sheet.text(at, y, text, kFaintStyle) + 2;
            sheet.line({{begin, y + 2}, {end, y + 2}}, kBlack, 0.25);
            at = end + 4;
        }
        pages_.gap(3);
    }

    const BoothSheet& sheet_;
    const plan::ShopSettings& shop_;
    DisplayUnits units_;
    PageLayout pages_;
    std::set<std::string> drawn_mixes_;
};

}  // namespace

std::string booth_sheet_pdf(const BoothSheet& sheet, Paper paper) {
    return BoothSheetPrinter(sheet, paper).bytes();
}

}  // namespace fadewright::report
