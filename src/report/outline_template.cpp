#include "fadewright/report/outline_template.h"

#include "booth_page.h"
#include "fadewright/base/contract.h"
#include "fadewright/report/scale_bar.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace fadewright::report {
namespace {

// Everything in millimetres.
constexpr double kEdge = 9, kTop = 9, kFoot = 33;  // most printers leave 5 white
constexpr double kAround = 3;                      // of the piece that is shown beside its outline
constexpr double kMapWide = 52, kMapHigh = 25;
constexpr double kCross = 3.5;
constexpr double kText = 3.2, kSmall = 2.4;
constexpr Rgb kBlack{0, 0, 0};

int needed(double length, double window) {
    return std::max(1, static_cast<int>(std::ceil((length - kOverlap_mm) / (window - kOverlap_mm) - 1e-9)));
}

struct LineStyle {
    double line_mm;
    bool dashed;
    Rgb ink;
};

LineStyle style_of(OutlineKind kind) {
    switch (kind) {
        case OutlineKind::mask:
            return {0.25, false, {0, 80, 150}};
        case OutlineKind::region:
            return {0.25, true, {90, 90, 90}};
        case OutlineKind::panel:
            break;
    }
    return {0.35, false, kBlack};
}

std::string_view kind_words(OutlineKind kind) {
    switch (kind) {
        case OutlineKind::mask:
            return "mask ";
        case OutlineKind::region:
            return "ground ";
        case OutlineKind::panel:
            break;
    }
    return "";
}

class TemplatePages {
public:
    TemplatePages(const OutlineTemplate& outlines, Paper paper)
        : outlines_(outlines),
          tiles_(tiles_over(outlines, paper)),
          sheet_(paper, outlines.title.empty() ? "Template" : outlines.title),
          width_(size_of(paper).width_mm - 2 * kEdge) {}

    std::string bytes() {
        for (int row = 0; row < tiles_.rows; ++row)
            for (int column = 0; column < tiles_.columns; ++column) {
                if (row > 0 || column > 0) sheet_.next_page();
                page(row, column);
            }
        return sheet_.bytes();
    }

private:
    [[nodiscard]] double printed_x(double x) const {
        return outlines_.facing == Facing::mirrored ? 2 * outlines_.mirror_about_mm - x : x;
    }

    [[nodiscard]] std::vector<std::pair<double, double>> corners(const spray::Ring& ring, int row,
                                                                 int column) const {
        std::vector<std::pair<double, double>> out;
        for (const spray::Corner& c : ring)
            out.push_back(tiles_.on_page(row, column, printed_x(c.x_mm), c.y_mm));
        return out;
    }

    void page(int row, int column) {
        const Window& window = tiles_.window;
        sheet_.frame(window.x, window.y, window.w, window.h, kRule, 0.1);
        for (const NamedOutline& named : outlines_.outlines) {
            const LineStyle style = style_of(named.kind);
            for (const spray::Ring& ring : named.outline.rings())
                sheet_.ring(corners(ring, row, column), style.ink, style.line_mm, style.dashed, window);
        }
        names(row, column);
        crosses(row, column);
        foot(row, column);
        if (row == 0 && column == 0) map();
    }

    // Each name stands in the middle of its outline, on the one page whose own part holds that place.
    void names(int row, int column) {
        std::vector<std::pair<double, double>> taken;
        for (const NamedOutline& named : outlines_.outlines) {
            if (named.name.empty() || named.outline.empty()) continue;
            const spray::Box box = named.outline.bounds();
            std::pair<double, double> at =
                tiles_.on_page(row, column, printed_x((box.x0 + box.x1) / 2), (box.y0 + box.y1) / 2);
            double &x = at.first, &y = at.second;
            const Window& w = tiles_.window;
            const bool last_column = column == tiles_.columns - 1, last_row = row == tiles_.rows - 1;
            if (x < w.x || x > w.x + w.w - (last_column ? 0 : kOverlap_mm)) continue;
            if (y < w.y || y > w.y + w.h - (last_row ? 0 : kOverlap_mm)) continue;
            const auto near = [&](const auto& other) {
                return std::abs(other.first - x) < 40 && std::abs(other.second - y) < 4.5;
            };
            while (std::any_of(taken.begin(), taken.end(), near)) y += 4.5;
            taken.emplace_back(x, y);
            const PdfText style{kText, style_of(named.kind).ink, Align::centre};
            const std::string words =
                fitted_words(sheet_, std::string(kind_words(named.kind)) + named.name, style, w.w - 4);
            const double half = sheet_.text_width(words, style) / 2;
            x = std::clamp(x, w.x + half + 1, w.x + w.w - half - 1);
            y = std::clamp(y, w.y + 3, w.y + w.h - 3);
            sheet_.text(x, y, words, style);
        }
    }

    // The middles of the overlaps, and along each of them where its crosses stand: both pages draw the same.
    void crosses(int row, int column) {
        const Window& w = tiles_.window;
        const double half = kOverlap_mm / 2;
        const std::array<double, 3> across{w.x + half, w.x + w.w / 2, w.x + w.w - half};
        const std::array<double, 3> down{w.y + half, w.y + w.h / 2, w.y + w.h - half};
        for (std::size_t i = 0; i < 3; ++i) {
            if (column > 0) cross(across[0], down[i]);
            if (column + 1 < tiles_.columns) cross(across[2], down[i]);
            if (row > 0) cross(across[i], down[0]);
            if (row + 1 < tiles_.rows) cross(across[i], down[2]);
        }
    }

    void cross(double x, double y) {
        sheet_.line({{x - kCross, y}, {x + kCross, y}}, kFaintInk, 0.12);
        sheet_.line({{x, y - kCross}, {x, y + kCross}}, kFaintInk, 0.12);
    }

    void foot(int row, int column) {
        const double top = tiles_.window.y + tiles_.window.h + 4.5;
        const double words = width_ - kMapWide - 4;
        const PdfText bold{kText, kInk, Align::left, Weight::bold};
        const std::string place =
            fmt::format("row {}, column {} of {} x {}", row + 1, column + 1, tiles_.rows, tiles_.columns);
        const std::string facing = outlines_.facing == Facing::mirrored ? ", mirrored" : "";
        sheet_.text(kEdge, top, place + facing, bold);
        sheet_.text(kEdge, top + 5, fitted_words(sheet_, outlines_.title, {kText}, words), {kText});
        const double bar = top + 9;
        draw_scale_bar(sheet_, kEdge, bar, outlines_.units, {kSmall, 2.4, 4, Align::left});
        const PdfText faint{kSmall, kFaintInk};
        sheet_.text(kEdge, bar + 8.5,
                    fitted_words(sheet_,
                                 "Print at actual size (100 %) and measure the bar. Lay cross on cross; "
                                 "cut in the middle of the line.",
                                 faint, words),
                    faint);
    }

    // How the pages lie, with the outlines in them.
    void map() {
        const double all_w = tiles_.window.w + (tiles_.columns - 1) * (tiles_.window.w - kOverlap_mm);
        const double all_h = tiles_.window.h + (tiles_.rows - 1) * (tiles_.window.h - kOverlap_mm);
        const double scale = std::min(kMapWide / all_w, kMapHigh / all_h);
        const double x0 = kEdge + width_ - all_w * scale, y0 = tiles_.window.y + tiles_.window.h + 2;
        for (int row = 0; row < tiles_.rows; ++row)
            for (int column = 0; column < tiles_.columns; ++column)
                sheet_.frame(x0 + column * (tiles_.window.w - kOverlap_mm) * scale,
                             y0 + row * (tiles_.window.h - kOverlap_mm) * scale, tiles_.window.w * scale,
                             tiles_.window.h * scale, kFaintInk, 0.1);
        for (const NamedOutline& named : outlines_.outlines)
            for (const spray::Ring& ring : named.outline.rings()) {
                std::vector<std::pair<double, double>> points;
                constexpr double kFine = 0.05;  // on the map
                for (const spray::Corner& c : spray::thinned(ring, kFine / scale))
                    points.emplace_back(x0 + (printed_x(c.x_mm) - tiles_.left_mm) * scale,
                                        y0 + (tiles_.top_mm - c.y_mm) * scale);
                sheet_.ring(points, style_of(named.kind).ink, 0.2, false,
                            {x0, y0, all_w * scale, all_h * scale});
            }
    }

    const OutlineTemplate& outlines_;
    Tiles tiles_;
    PdfSheet sheet_;
    double width_;
};

}  // namespace

std::pair<double, double> Tiles::on_page(int row, int column, double x_mm, double y_mm) const {
    return {window.x + x_mm - left_mm - column * (window.w - kOverlap_mm),
            window.y + top_mm - y_mm - row * (window.h - kOverlap_mm)};
}

Tiles tiles_over(const OutlineTemplate& outlines, Paper paper) {
    Tiles tiles;
    const PaperSize size = size_of(paper);
    tiles.window = {kEdge, kTop, size.width_mm - 2 * kEdge, size.height_mm - kTop - kFoot};
    const spray::Box& box = outlines.covered;
    const double w = box.x1 - box.x0 + 2 * kAround, h = box.y1 - box.y0 + 2 * kAround;
    tiles.columns = needed(w, tiles.window.w);
    tiles.rows = needed(h, tiles.window.h);
    const double all_w = tiles.window.w + (tiles.columns - 1) * (tiles.window.w - kOverlap_mm);
    const double all_h = tiles.window.h + (tiles.rows - 1) * (tiles.window.h - kOverlap_mm);
    const bool mirrored = outlines.facing == Facing::mirrored;
    const double left = mirrored ? 2 * outlines.mirror_about_mm - box.x1 : box.x0;
    tiles.left_mm = left + (box.x1 - box.x0) / 2 - all_w / 2;
    tiles.top_mm = (box.y0 + box.y1) / 2 + all_h / 2;
    return tiles;
}

std::string template_pdf(const OutlineTemplate& outlines, Paper paper) {
    FW_EXPECTS(tiles_over(outlines, paper).pages() <= kMostPages);
    return TemplatePages(outlines, paper).bytes();
}

}  // namespace fadewright::report
