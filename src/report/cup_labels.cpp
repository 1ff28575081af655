// Cup labels, one for every mix, to cut along the lines.

#include "page_layout.h"

#include <fmt/core.h>

#include <algorithm>

namespace fadewright::report {
namespace {

constexpr int kAcross = 2, kDown = 4;
constexpr double kInset = 5, kSmall = 3.6, kName = 6.4, kCaution = 2.6;
constexpr std::string_view kLabelCaution =
    "Extraction on, supplied air for 2K, no sparks. Law and data sheets first.";
constexpr Rgb kBlack{0, 0, 0};

class Labels {
public:
    Labels(const BoothSheet& sheet, Paper paper)
        : sheet_(sheet), size_(size_of(paper)), pdf_(paper, sheet.title + ": labels") {}

    std::string bytes() {
        int position = 0;
        for (const production::MixAmounts& mix : sheet_.amounts.mixes) {
            if (position == kAcross * kDown) {
                pdf_.next_page();
                position = 0;
            }
            draw_label(mix, position % kAcross, position / kAcross);
            ++position;
        }
        return pdf_.bytes();
    }

private:
    void draw_label(const production::MixAmounts& mix, int column, int row) {
        const double w = size_.width_mm / kAcross, h = size_.height_mm / kDown;
        const double x = column * w + kInset, right = (column + 1) * w - kInset;
        double y = row * h + kInset + 2;
        pdf_.frame(column * w, row * h, w, h, kRule, 0.2);
        const PdfText name{kName, kBlack, Align::left, Weight::bold};
        const PdfText amount{kName, kBlack, Align::right, Weight::bold};
        const std::string amount_label = amount_text(mix.sprayable(), sheet_.job.units);
        pdf_.text(x, y + 2,
                  pdf_.ellipsize(mix.name, name, right - x - pdf_.text_width(amount_label, amount) - 3),
                  name);
        pdf_.text(right, y + 2, amount_label, amount);
        y += 8.5;
        pdf_.text(x, y, pdf_.ellipsize(sheet_.title, {kSmall}, right - x), {kSmall});
        y += 5;
        // Of a longer recipe the last lines are only on the sheet.
        const double foot = (row + 1) * h - kInset - 16;
        const auto room = static_cast<std::size_t>(std::max(1.0, (foot - y) / 4.6));
        const std::size_t visible = mix.recipe.size() <= room ? mix.recipe.size() : room - 1;
        for (std::size_t i = 0; i < visible; ++i) {
            const production::RecipeLine& p = mix.recipe[i];
            const std::string figures = fmt::format("{} parts   {} g", parts_text(p.parts),
                                                    grams_text(p.grams, sheet_.amounts.mixing.scale));
            pdf_.text(
                x, y,
                pdf_.ellipsize(p.paint->id, {kSmall}, right - x - pdf_.text_width(figures, {kSmall}) - 3),
                {kSmall});
            pdf_.text(right, y, figures, {kSmall, kInk, Align::right});
            y += 4.6;
        }
        if (visible < mix.recipe.size())
            pdf_.text(x, y, fmt::format("and {} more: see the sheet", mix.recipe.size() - visible), {kSmall});
        draw_blank_fields(x, right, foot + 4);
        pdf_.text(x, foot + 14.8, pdf_.ellipsize(kLabelCaution, {kCaution}, right - x), {kCaution});
    }

    void draw_blank_fields(double x, double right, double y) {
        const double centre = (x + right) / 2;
        const double date = x + pdf_.text(x, y, "mixed on", {kSmall, kFaintInk}) + 2;
        pdf_.line({{date, y + 1.8}, {centre - 2, y + 1.8}}, kBlack, 0.2);
        const double by = centre + pdf_.text(centre, y, "by", {kSmall, kFaintInk}) + 2;
        pdf_.line({{by, y + 1.8}, {right, y + 1.8}}, kBlack, 0.2);
        y += 7;
        const double batch = x + pdf_.text(x, y, "batch", {kSmall, kFaintInk}) + 2;
        if (!sheet_.amounts.mixing.batch.empty()) {
            pdf_.text(batch, y, pdf_.ellipsize(sheet_.amounts.mixing.batch, {kSmall}, centre + 8 - batch),
                      {kSmall});
        } else {
            pdf_.line({{batch, y + 1.8}, {centre + 8, y + 1.8}}, kBlack, 0.2);
        }
        pdf_.text(right, y, "plan " + sheet_.job.hash.substr(0, 8), {kSmall, kFaintInk, Align::right});
    }

    const BoothSheet& sheet_;
    PaperSize size_;
    PdfSheet pdf_;
};

}  // namespace

std::string cup_labels_pdf(const BoothSheet& sheet, Paper paper) { return Labels(sheet, paper).bytes(); }

}  // namespace fadewright::report
