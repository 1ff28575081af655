#include "fadewright/report/outline_template.h"

#include "fadewright/base/contract.h"
#include "fadewright/report/scale_bar.h"
#include "page_layout.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace fadewright::report {
namespace {

// Everything in millimetres.
constexpr double kEdge = 9, kTop = 9, kFoot = 33;  // most printers leave 5 white
constexpr double kAround = 3;                      // margin of the piece drawn around its outline
constexpr double kMapWide = 52, kMapHigh = 25;
constexpr double kCross = 3.5;
constexpr double kText = 3.2, kSmall = 2.4;
constexpr Rgb kBlack{0, 0, 0};

int pages_needed(double length, double window) {
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

std::string_view outline_kind_label(OutlineKind kind) {
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
          grid_(page_grid(outlines, paper)),
          sheet_(paper, outlines.title.empty() ? "Template" : outlines.title),
          width_(size_of(paper).width_mm - 2 * kEdge) {}

    std::string bytes() {
        for (int row = 0; row < grid_.rows; ++row)
            for (int column = 0; column < grid_.columns; ++column) {
                if (row > 0 || column > 0) sheet_.next_page();
                draw_page(row, column);
            }
        return sheet_.bytes();
    }

private:
    [[nodiscard]] double printed_x(double x) const {
        return outlines_.facing == Facing::mirrored ? 2 * outlines_.mirror_about_mm - x : x;
    }

    [[nodiscard]] std::vector<std::pair<double, double>> corners(const geometry::Ring& ring, int row,
                                                                 int column) const {
        std::vector<std::pair<double, double>> out;
        for (const geometry::PlanePoint& c : ring)
            out.push_back(grid_.on_page(row, column, printed_x(c.x_mm), c.y_mm));
        return out;
    }

    void draw_page(int row, int column) {
        const Window& window = grid_.window;
        sheet_.frame(window.x, window.y, window.w, window.h, kRule, 0.1);
        for (const NamedOutline& named : outlines_.outlines) {
            const LineStyle style = style_of(named.kind);
            for (const geometry::Ring& ring : named.outline.rings())
                sheet_.closed_line(corners(ring, row, column), style.ink, style.line_mm, style.dashed,
                                   window);
        }
        draw_names(row, column);
        draw_crosses(row, column);
        draw_footer(row, column);
        if (row == 0 && column == 0) draw_map();
    }

    // Each name stands at the centre of its outline, on the one page whose own area contains that point.
    void draw_names(int row, int column) {
        std::vector<std::pair<double, double>> occupied;
        for (const NamedOutline& named : outlines_.outlines) {
            if (named.name.empty() || named.outline.empty()) continue;
            const geometry::Box box = named.outline.bounds();
            std::pair<double, double> at =
                grid_.on_page(row, column, printed_x((box.x0 + box.x1) / 2), (box.y0 + box.y1) / 2);
            double &x = at.first, &y = at.second;
            const Window& w = grid_.window;
            const bool last_column = column == grid_.columns - 1, last_row = row == grid_.rows - 1;
            if (x < w.x || x > w.x + w.w - (last_column ? 0 : kOverlap_mm)) continue;
            if (y < w.y || y > w.y + w.h - (last_row ? 0 : kOverlap_mm)) continue;
            const auto is_close = [&](const auto& other) {
                return std::abs(other.first - x) < 40 && std::abs(other.second - y) < 4.5;
            };
            while (std::any_of(occupied.begin(), occupied.end(), is_close)) y += 4.5;
            occupied.emplace_back(x, y);
            const PdfText style{kText, style_of(named.kind).ink, Align::centre};
            const std::string text =
                sheet_.ellipsize(std::string(outline_kind_label(named.kind)) + named.name, style, w.w - 4);
            const double half = sheet_.text_width(text, style) / 2;
            x = std::clamp(x, w.x + half + 1, w.x + w.w - half - 1);
            y = std::clamp(y, w.y + 3, w.y + w.h - 3);
            sheet_.text(x, y, text, style);
        }
    }

    // Crosses on the centre lines of the overlaps, at the same points of the piece on both pages.
    void draw_crosses(int row, int column) {
        const Window& w = grid_.window;
        const double half = kOverlap_mm / 2;
        const std::array<double, 3> across{w.x + half, w.x + w.w / 2, w.x + w.w - half};
        const std::array<double, 3> down{w.y + half, w.y + w.h / 2, w.y + w.h - half};
        for (std::size_t i = 0; i < 3; ++i) {
            if (column > 0) draw_cross(across[0], down[i]);
            if (column + 1 < grid_.columns) draw_cross(across[2], down[i]);
            if (row > 0) draw_cross(across[i], down[0]);
            if (row + 1 < grid_.rows) draw_cross(across[i], down[2]);
        }
    }

    void draw_cross(double x, double y) {
        sheet_.line({{x - kCross, y}, {x + kCross, y}}, kFaintInk, 0.12);
        sheet_.line({{x, y - kCross}, {x, y + kCross}}, kFaintInk, 0.12);
    }

    void draw_footer(int row, int column) {
        const double top = grid_.window.y + grid_.window.h + 4.5;
        const double text = width_ - kMapWide - 4;
        const PdfText bold{kText, kInk, Align::left, Weight::bold};
        const std::string position =
            fmt::format("row {}, column {} of {} × {}", row + 1, column + 1, grid_.rows, grid_.columns);
        const std::string facing = outlines_.facing == Facing::mirrored ? ", mirrored" : "";
        sheet_.text(kEdge, top, position + facing, bold);
        sheet_.text(kEdge, top + 5, sheet_.ellipsize(outlines_.title, {kText}, text), {kText});
        const double bar = top + 9;
        draw_scale_bar(sheet_, kEdge, bar, outlines_.units, {kSmall, 2.4, 4, Align::left});
        const PdfText faint{kSmall, kFaintInk};
        sheet_.text(kEdge, bar + 8.5,
                    sheet_.ellipsize("Print at actual size (100 %) and measure the bar. Line up the crosses; "
                                     "cut on the centre of the line.",
                                     faint, text),
                    faint);
    }

    // Map of the pages with the outlines.
    void draw_map() {
        const double all_w = grid_.window.w + (grid_.columns - 1) * (grid_.window.w - kOverlap_mm);
        const double all_h = grid_.window.h + (grid_.rows - 1) * (grid_.window.h - kOverlap_mm);
        const double scale = std::min(kMapWide / all_w, kMapHigh / all_h);
        const double x0 = kEdge + width_ - all_w * scale, y0 = grid_.window.y + grid_.window.h + 2;
        for (int row = 0; row < grid_.rows; ++row)
            for (int column = 0; column < grid_.columns; ++column)
                sheet_.frame(x0 + column * (grid_.window.w - kOverlap_mm) * scale,
                             y0 + row * (grid_.window.h - kOverlap_mm) * scale, grid_.window.w * scale,
                             grid_.window.h * scale, kFaintInk, 0.1);
        for (const NamedOutline& named : outlines_.outlines)
            for (const geometry::Ring& ring : named.outline.rings()) {
                std::vector<std::pair<double, double>> points;
                constexpr double kFine = 0.05;  // on the map
                for (const geometry::PlanePoint& c : geometry::simplify(ring, kFine / scale))
                    points.emplace_back(x0 + (printed_x(c.x_mm) - grid_.left_mm) * scale,
                                        y0 + (grid_.top_mm - c.y_mm) * scale);
                sheet_.closed_line(points, style_of(named.kind).ink, 0.2, false,
                                   {x0, y0, all_w * scale, all_h * scale});
            }
    }

    const OutlineTemplate& outlines_;
    PageGrid grid_;
    PdfSheet sheet_;
    double width_;
};

}  // namespace

std::pair<double, double> PageGrid::on_page(int row, int column, double x_mm, double y_mm) const {
    return {window.x + x_mm - left_mm - column * (window.w - kOverlap_mm),
            window.y + top_mm - y_mm - row * (window.h - kOverlap_mm)};
}

PageGrid page_grid(const OutlineTemplate& outlines, Paper paper) {
    PageGrid grid;
    const PaperSize size = size_of(paper);
    grid.window = {kEdge, kTop, size.width_mm - 2 * kEdge, size.height_mm - kTop - kFoot};
    const geometry::Box& box = outlines.area;
    const double w = box.x1 - box.x0 + 2 * kAround, h = box.y1 - box.y0 + 2 * kAround;
    grid.columns = pages_needed(w, grid.window.w);
    grid.rows = pages_needed(h, grid.window.h);
    const double all_w = grid.window.w + (grid.columns - 1) * (grid.window.w - kOverlap_mm);
    const double all_h = grid.window.h + (grid.rows - 1) * (grid.window.h - kOverlap_mm);
    const bool mirrored = outlines.facing == Facing::mirrored;
    const double left = mirrored ? 2 * outlines.mirror_about_mm - box.x1 : box.x0;
    grid.left_mm = left + (box.x1 - box.x0) / 2 - all_w / 2;
    grid.top_mm = (box.y0 + box.y1) / 2 + all_h / 2;
    return grid;
}

std::string template_pdf(const OutlineTemplate& outlines, Paper paper) {
    FW_EXPECTS(page_grid(outlines, paper).pages() <= kMaxPages);
    return TemplatePages(outlines, paper).bytes();
}

}  // namespace fadewright::report
