// The proof on paper: the blocks below the large picture are placed first, the picture takes the rest.

#include "fadewright/base/contract.h"
#include "fadewright/report/format.h"
#include "page_layout.h"
#include "proof_text.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace fadewright::report {
namespace {

// Everything in millimetres.
constexpr double kEdge = 12, kTop = 12;
constexpr double kText = 3.4, kLine = 4.8, kSmall = 2.9;
constexpr double kGap = 4, kCaption = 5, kHeading = 6.5;
constexpr double kRowHigh = 34;   // of small pictures, at most
constexpr double kSignHigh = 31;  // of the signature box
constexpr double kChipRow = 7;
constexpr std::size_t kChipsAcross = 2, kMaxChips = 10;
constexpr Rgb kBlack{0, 0, 0};

struct FittedSize {
    double w, h;
};

// The largest size that fits into the box.
FittedSize fit_to_box(const Picture& picture, double w, double h) {
    const double aspect = static_cast<double>(picture.height) / picture.width;
    return w * aspect <= h ? FittedSize{w, w * aspect} : FittedSize{h / aspect, h};
}

class ProofPages {
public:
    ProofPages(const Proof& proof, Paper paper)
        : proof_(proof),
          sheet_(paper, title_of(proof)),
          width_(size_of(paper).width_mm - 2 * kEdge),
          bottom_(size_of(paper).height_mm - kTop) {}

    std::string bytes() {
        const std::size_t count = proof_.options.size();
        if (count > 1) draw_overview();
        for (std::size_t i = 0; i < count; ++i) {
            if (i > 0 || count > 1) sheet_.next_page();
            draw_option(i);
        }
        return sheet_.bytes();
    }

private:
    double draw_heading(const std::string& heading) {
        PdfText style{6, kBlack, Align::left, Weight::bold};
        while (style.size_mm > 4 && sheet_.text_width(heading, style) > width_) style.size_mm -= 0.1;
        sheet_.text(kEdge, kTop + 3.5, sheet_.ellipsize(heading, style, width_), style);
        sheet_.line({{kEdge, kTop + 8}, {kEdge + width_, kTop + 8}}, kBlack, 0.4);
        return kTop + 10;
    }

    void draw_captioned(const ProofPicture& shown, const std::string& caption, double x, double y, double w,
                        double h) {
        const FittedSize size = fit_to_box(shown.picture, w, h);
        sheet_.picture(x + (w - size.w) / 2, y, size.w, size.h, shown.picture);
        const PdfText style{kSmall, kInk, Align::centre};
        sheet_.text(x + w / 2, y + size.h + 2.6, sheet_.ellipsize(caption, style, w), style);
    }

    // Small pictures side by side.
    [[nodiscard]] double across(const std::vector<ProofPicture>& row) const {
        const auto count = static_cast<double>(std::max<std::size_t>(row.size(), 3));
        return (width_ - kGap * (count - 1)) / count;
    }
    [[nodiscard]] double picture_height(const std::vector<ProofPicture>& row) const {
        double high = 0;
        for (const ProofPicture& shown : row)
            high = std::max(high, fit_to_box(shown.picture, across(row), kRowHigh).h);
        return high;
    }
    [[nodiscard]] double row_height(const std::vector<ProofPicture>& row) const {
        return row.empty() ? 0 : kHeading + picture_height(row) + kCaption;
    }
    double draw_row(std::string_view heading, const std::vector<ProofPicture>& pictures, double y) {
        if (pictures.empty()) return y;
        draw_section_heading(heading, y);
        const double w = across(pictures), h = picture_height(pictures);
        for (std::size_t i = 0; i < pictures.size(); ++i)
            draw_captioned(pictures[i], pictures[i].caption, kEdge + (w + kGap) * static_cast<double>(i),
                           y + kHeading, w, h);
        return y + row_height(pictures);
    }

    void draw_section_heading(std::string_view string, double y) {
        sheet_.text(kEdge, y + kHeading / 2, string, {kText, kInk, Align::left, Weight::bold});
    }

    // All of them, or one fewer than fit and the number of the others.
    static std::size_t visible_chips(const ProofOption& option) {
        return option.colours.size() <= kMaxChips ? option.colours.size() : kMaxChips - 1;
    }
    static double colours_height(const ProofOption& option) {
        const std::size_t cells = std::min(option.colours.size(), kMaxChips);
        const std::size_t rows = (cells + kChipsAcross - 1) / kChipsAcross;
        return kHeading + kChipRow * static_cast<double>(rows);
    }
    double draw_colours(const ProofOption& option, double y) {
        draw_section_heading(kColoursHeading, y);
        const double wide = (width_ + kGap) / kChipsAcross;
        const auto position = [&](std::size_t i) {
            const std::size_t row = i / kChipsAcross;
            return std::pair{kEdge + wide * static_cast<double>(i % kChipsAcross),
                             y + kHeading + kChipRow * static_cast<double>(row)};
        };
        const std::size_t shown = visible_chips(option);
        for (std::size_t i = 0; i < shown; ++i) draw_chip(option.colours[i], position(i), wide - kGap);
        if (shown < option.colours.size()) {
            const auto [x, top] = position(shown);
            sheet_.text(x, top + 3, fmt::format("and {} more", option.colours.size() - shown), {kSmall});
        }
        return y + colours_height(option);
    }

    void draw_chip(const ProofColour& colour, std::pair<double, double> at, double wide) {
        constexpr double kChipWide = 11, kChipHigh = 5.6;
        const auto [x, y] = at;
        if (colour.lab)
            sheet_.fill(x, y, kChipWide, kChipHigh, report::display_rgb(*colour.lab));
        else
            sheet_.line({{x, y + kChipHigh}, {x + kChipWide, y}}, kFaintInk, 0.15);
        sheet_.frame(x, y, kChipWide, kChipHigh, kFaintInk, 0.15);
        const double text = x + kChipWide + 2, room = wide - kChipWide - 2;
        const PdfText bold{kSmall, kInk, Align::left, Weight::bold}, faint{2.5, kFaintInk};
        const std::string colour_label = ", " + proof_colour_label(colour);
        const double colour_label_width = sheet_.text_width(colour_label, {kSmall});
        const double name =
            sheet_.text(text, y + 1.5,
                        sheet_.ellipsize(colour.mix, bold, std::max(12.0, room - colour_label_width)), bold);
        sheet_.text(text + name, y + 1.5, sheet_.ellipsize(colour_label, {kSmall}, room - name), {kSmall});
        sheet_.text(text, y + 4.7, sheet_.ellipsize(colour.coats, faint, room), faint);
    }

    struct Remark {
        std::string text;
        Weight weight;
    };
    [[nodiscard]] std::vector<Remark> remarks(bool estimated) const {
        std::vector<Remark> all;
        const auto add = [&](std::string_view string, Weight weight) {
            for (std::string& line : sheet_.wrap(string, {kText, kInk, Align::left, weight}, width_))
                all.push_back({std::move(line), weight});
        };
        add(not_included_text(proof_), Weight::normal);
        add(kApprovalText, Weight::bold);
        if (estimated) add(kEstimatedText, Weight::normal);
        return all;
    }

    // Draws remarks and signature box at the foot of the page; returns their upper edge.
    double draw_footer(bool estimated, std::optional<std::size_t> chosen) {
        const std::vector<Remark> lines = remarks(estimated);
        const double sign = bottom_ - kSignHigh;
        const double top = sign - 2 - kLine * static_cast<double>(lines.size());
        double y = top + kLine / 2;
        for (const Remark& line : lines) {
            sheet_.text(kEdge, y, line.text, {kText, kInk, Align::left, line.weight});
            y += kLine;
        }
        draw_signature(sign, chosen);
        return top - 1;
    }

    void draw_signature(double top, std::optional<std::size_t> chosen) {
        constexpr double kInset = 4, kBox = 4.4;
        sheet_.frame(kEdge, top, width_, kSignHigh, kBlack, 0.3);
        const PdfText small{kSmall};
        sheet_.text(kEdge + kInset, top + 4.5, kChoiceText, small);
        double x = kEdge + kInset, y = top + 12.5;
        if (proof_.options.size() > 1) {
            x += sheet_.text(x, y, "option chosen", {kText}) + 5;
            for (std::size_t i = 0; i < proof_.options.size(); ++i) {
                if (chosen && *chosen != i) continue;
                sheet_.frame(x, y - kBox / 2, kBox, kBox, kBlack, 0.3);
                x += kBox + 1.5;
                x += sheet_.text(x, y, option_letter(i), {kText, kInk, Align::left, Weight::bold}) + 5;
            }
        }
        x = kEdge + kInset;
        y = top + 25;
        const double all = width_ - 2 * kInset;
        for (const auto& [string, wide] :
             {std::pair{"name", 0.37}, std::pair{"date", 0.23}, std::pair{"signature", 0.40}}) {
            const double end = x + wide * all - 3;
            const double begin = x + sheet_.text(x, y, string, {kText, kFaintInk}) + 2;
            sheet_.line({{begin, y + 2}, {end, y + 2}}, kBlack, 0.2);
            x = end + 3;
        }
    }

    void draw_overview() {
        const auto count = static_cast<double>(proof_.options.size());
        const double top = draw_heading(title_of(proof_)) + 2;
        const bool wide =
            std::all_of(proof_.options.begin(), proof_.options.end(), [](const ProofOption& option) {
                return option.large.picture.width > 1.3 * option.large.picture.height;
            });
        const double columns = count > 4 ? 3 : count == 2 && wide ? 1 : 2;
        const double rows = std::ceil(count / columns);
        const double bottom = draw_footer(any_estimated(proof_), std::nullopt);
        const double w = (width_ - kGap * (columns - 1)) / columns, each = (bottom - top) / rows;
        double y = top;
        for (std::size_t i = 0; i < proof_.options.size();) {
            double high = 0;
            for (int column = 0; column < static_cast<int>(columns) && i < proof_.options.size();
                 ++column, ++i) {
                const ProofOption& option = proof_.options[i];
                draw_captioned({option.overview, option.large.caption}, heading_of(proof_, i),
                               kEdge + (w + kGap) * column, y, w, each - kCaption - 2);
                high = std::max(high, fit_to_box(option.overview, w, each - kCaption - 2).h);
            }
            y += high + kCaption + 2;
        }
    }

    void draw_option(std::size_t index) {
        const ProofOption& option = proof_.options[index];
        double y = draw_heading(heading_of(proof_, index));
        sheet_.text(kEdge, y + 2.4, size_label(proof_, option), {kText});
        y += 6;
        const double bottom = draw_footer(option.estimated, index);
        const double below = row_height(option.lights) + row_height(option.angles) + colours_height(option);
        const double room = bottom - y - below - kCaption;
        FW_EXPECTS(room > 0);
        draw_captioned(option.large, large_caption(option), kEdge, y, width_, room);
        y += fit_to_box(option.large.picture, width_, room).h + kCaption;
        y = draw_row(lights_heading(option), option.lights, y);
        y = draw_row(angles_heading(option), option.angles, y);
        (void)draw_colours(option, y);
    }

    const Proof& proof_;
    PdfSheet sheet_;
    double width_, bottom_;
};

}  // namespace

std::string proof_pdf(const Proof& proof, Paper paper) {
    FW_EXPECTS(!proof.options.empty() && proof.options.size() <= kMaxOptions);
    return ProofPages(proof, paper).bytes();
}

}  // namespace fadewright::report
