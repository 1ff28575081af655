// The booth sheet on paper: a front page, and a page for every group of coats with one mix and one gun.

#include "booth_page.h"
#include "booth_passes.h"

#include <fmt/core.h>

#include <algorithm>
#include <set>

namespace fadewright::report {
namespace {

constexpr Rgb kBlack{0, 0, 0};
constexpr PdfText kStrong{kBody_mm, kBlack, Align::left, Weight::bold};
constexpr PdfText kRight{kBody_mm, kInk, Align::right};
constexpr PdfText kFaint{kBody_mm, kFaintInk};
constexpr PdfText kFaintRight{kBody_mm, kFaintInk, Align::right};
constexpr PdfText kKey{kKey_mm, kBlack, Align::left, Weight::bold};
constexpr PdfText kKeyRight{kKey_mm, kBlack, Align::right, Weight::bold};

class Printed {
public:
    Printed(const BoothSheet& sheet, Paper paper)
        : sheet_(sheet),
          mixing_(sheet.amounts.mixing),
          units_(sheet.job.units),
          pages_(paper, sheet.title + ": booth sheet",
                 fmt::format("{}  ·  plan {}", sheet.title, sheet.job.hash.substr(0, 8))) {}

    std::string bytes() {
        front();
        for (const CoatGroup& group : coat_groups(sheet_)) coats(group);
        return pages_.bytes();
    }

private:
    void front() {
        pages_.page(sheet_.title, "booth sheet");
        const spray::Panel& panel = sheet_.job.panel;
        pages_.paragraph(fmt::format(
            "Piece {}, {}, ground {}. Air {}, {:.0f} % humidity.", units_.size(panel.width, panel.height),
            units_.surface_m2(panel.surface_m2()), sheet_.job.ground_name,
            units_.as_given(sheet_.job.booth.temperature), 100 * sheet_.job.booth.humidity.value));
        pages_.gap(2);
        pages_.scale_bar(units_);
        order();
        shopping();
        pages_.section("Take care");
        for (const std::string& line : cautions(mixing_)) pages_.ticked(line);
    }

    void order() {
        pages_.section("Coats in order");
        const double w = pages_.width();
        pages_.row({{9, "coat", kFaint}, {0.55 * w, "mix", kFaint}, {w, "next coat after", kFaintRight}}, 6);
        for (std::size_t i = 0; i < sheet_.job.coats.size(); ++i) {
            const plan::CoatAmounts& coat = sheet_.amounts.coats[i];
            const std::string name = fmt::format("{}  {}", i + 1, coat.name);
            pages_.row({{9, pages_.fitted(name, kStrong, 0.55 * w - 11), kStrong},
                        {0.55 * w, pages_.fitted(coat.mix, {kBody_mm}, 0.45 * w - 30)},
                        {w, wait_text(sheet_.waits[i].recoat), kRight}},
                       6.8, true);
        }
        pages_.paragraph("Waits are starting values; two-pack paint goes by its data sheet.", kFaint);
    }

    void shopping() {
        pages_.section("Have on the bench");
        const double w = pages_.width();
        const bool costs = sheet_.amounts.cost().has_value();
        const double grams = costs ? 0.82 * w : w;
        std::vector<Cell> head{{0.62 * w, std::string(units_.name<Millilitres>()), kFaintRight},
                               {grams, "grams", kFaintRight}};
        if (costs) head.push_back({w, "cost", kFaintRight});
        pages_.row(head, 6);
        for (const plan::Bought& b : sheet_.amounts.shopping) {
            std::vector<Cell> cells{{9, pages_.fitted(b.paint->id, kStrong, 0.62 * w - 32), kStrong},
                                    {0.62 * w, units_.figure(b.volume, 1), kRight},
                                    {grams, grams_text(b.grams, mixing_.scale), kRight}};
            if (costs) cells.push_back({w, b.cost ? fmt::format("{:.2f}", *b.cost) : "-", kRight});
            pages_.row(cells, 6.8, true);
        }
        if (costs)
            pages_.row({{9, "cost of what has a price", kFaint},
                        {w, fmt::format("{:.2f}", *sheet_.amounts.cost()), kKeyRight}},
                       8);
    }

    void coats(const CoatGroup& group) {
        const plan::CoatAmounts& first = sheet_.amounts.coats[group.begin];
        const std::size_t all = sheet_.job.coats.size();
        std::string beside = fmt::format("coat {} of {}", group.begin + 1, all);
        if (group.end > group.begin + 1)
            beside = fmt::format("coats {} to {} of {}", group.begin + 1, group.end, all);
        pages_.page(first.name, beside);
        mix(sheet_.amounts.mix_of(first));
        for (std::size_t i = group.begin; i < group.end; ++i) {
            if (i > group.begin)
                pages_.ticked(fmt::format("Let it flash {}, then go on with the same cup",
                                          wait_text(sheet_.waits[i - 1].flash)));
            if (i == group.begin || gun_settings(sheet_, i) != gun_settings(sheet_, i - 1)) set_gun(i);
            spray(i);
        }
        wait(group.end - 1);
        signature();
    }

    void set_gun(std::size_t index) {
        const std::vector<Setting> settings = gun_settings(sheet_, index);
        if (settings.empty()) return;
        pages_.section("Set the gun: " + settings.front().second);
        pages_.settings({settings.begin() + 1, settings.end()}, 24);
    }

    void mix(const plan::MixAmounts& mix) {
        pages_.section(fmt::format("Mix: {}", mix.name));
        if (!mixed_.insert(mix.name).second) {
            pages_.ticked(fmt::format("Mixed already for coat '{}': stir it, strain it, fill the gun",
                                      mix.coats.front()));
            return;
        }
        const double w = pages_.width();
        pages_.row({{0, amount_text(mix.sprayable(), units_), kKey},
                    {w,
                     fmt::format("{}, {} before reducer", cups_text(mix, mixing_, units_),
                                 amount_text(mix.unthinned(), units_)),
                     kRight}},
                   9);
        pages_.row({{9, "pour in this order", kFaint},
                    {0.52 * w, "parts", kFaintRight},
                    {0.74 * w, "add g", kFaintRight},
                    {w, "scale reads g", kFaintRight}},
                   6);
        for (const plan::Poured& p : mix.poured)
            pages_.row({{9, pages_.fitted(p.paint->id, kStrong, 0.52 * w - 24), kStrong},
                        {0.52 * w, parts_text(p.parts), kRight},
                        {0.74 * w, grams_text(p.grams, mixing_.scale), kRight},
                        {w, grams_text(p.reads, mixing_.scale), kKeyRight}},
                       7.7, true);
        pages_.paragraph(binder_text(mix, units_) + ".");
        if (const std::string words = within_text(mix, units_); !words.empty())
            pages_.paragraph("It " + words + ".");
        if (const std::string words = scale_warning(mix, mixing_, units_); !words.empty())
            pages_.paragraph("Mind: " + words + ".", kStrong);
    }

    void spray(std::size_t index) {
        const plan::ReadyCoat& coat = sheet_.job.coats[index];
        const plan::CoatAmounts& amounts = sheet_.amounts.coats[index];
        pages_.section(coat.passes.empty() ? "Lay" : "Spray: " + coat.name);
        if (coat.cover.value > 0) pages_.ticked(cover_words(coat, amounts, units_));
        if (!coat.passes.empty()) {
            pages_.ticked(passes_words(amounts, units_), kStrong);
            std::vector<std::string> lines{
                fmt::format("Heights in {} over the lower edge:", units_.lengths())};
            for (const PassGroup& group : pass_groups(coat, sheet_.job.panel, units_))
                lines.push_back(group_words(group, ":  "));
            // As large as what comes below it allows; if that is too small, the rest goes on the next page.
            constexpr double kLow = 44, kHigh = 78, kWaitAndName = 40;
            double below = kWaitAndName;
            for (const std::string& line : look_for(sheet_, index)) below += pages_.ticked_height(line);
            const double allowed = pages_.left_over() - below;
            const double high = allowed < kLow ? kHigh : std::min(allowed, kHigh);
            pages_.beside_drawing(passes_drawing(sheet_, {index, index + 1}, 0.56 * pages_.width(), high),
                                  lines);
        }
        for (const std::string& line : look_for(sheet_, index)) pages_.ticked(line);
    }

    void wait(std::size_t last) {
        pages_.section("Wait");
        const plan::Waits& waits = sheet_.waits[last];
        pages_.settings({{"more of the same after", wait_text(waits.flash)},
                         {"next coat after", wait_text(waits.recoat)},
                         {"tape on it after", wait_text(waits.tape)}},
                        pages_.width() / 3);
    }

    void signature() {
        pages_.room(8);
        pages_.gap(5);
        const double y = pages_.y(), x = pages_.left();
        PdfSheet& sheet = pages_.sheet();
        double at = x;
        for (const auto& [words, wide] :
             {std::pair{"done by", 0.4}, std::pair{"date", 0.3}, std::pair{"time", 0.3}}) {
            const double end = at + wide * pages_.width() - 4;
            const double begin = at + sheet.text(at, y, words, kFaint) + 2;
            sheet.line({{begin, y + 2}, {end, y + 2}}, kBlack, 0.25);
            at = end + 4;
        }
        pages_.gap(3);
    }

    const BoothSheet& sheet_;
    const plan::Mixing& mixing_;
    ShownUnits units_;
    BoothPages pages_;
    std::set<std::string> mixed_;
};

}  // namespace

std::string sheet_pdf(const BoothSheet& sheet, Paper paper) { return Printed(sheet, paper).bytes(); }

}  // namespace fadewright::report
