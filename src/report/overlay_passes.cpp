// The passes of the gun over the painted panel.

#include "fadewright/base/contract.h"
#include "fadewright/report/overlay.h"
#include "overlay_sheet.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <optional>

namespace fadewright::report {
namespace {

// A pass with its path in pixels.
struct DrawnPass {
    const assess::PassLine* line;
    std::vector<std::pair<double, double>> points;
};

struct PathPoint {
    PixelPoint at;
    double dx, dy;  // direction of travel
};

bool in_picture(const PixelPoint& p, const Picture& picture, double rim) {
    return p.x >= rim && p.y >= rim && p.x <= picture.width - rim && p.y <= picture.height - rim;
}

// Points along the path every `step` pixels.
std::vector<PathPoint> points_along(const std::vector<std::pair<double, double>>& points, double step) {
    std::vector<PathPoint> out;
    for (std::size_t i = 0; i + 1 < points.size(); ++i) {
        const auto [x0, y0] = points[i];
        const auto [x1, y1] = points[i + 1];
        const double length = std::hypot(x1 - x0, y1 - y0);
        if (length == 0) continue;
        const int pieces = std::max(1, static_cast<int>(length / step));
        for (int k = 0; k < pieces; ++k) {
            const double t = (k + 0.5) / pieces;
            out.push_back({{x0 + t * (x1 - x0), y0 + t * (y1 - y0)}, (x1 - x0) / length, (y1 - y0) / length});
        }
    }
    return out;
}

void draw_with_halo(Canvas& canvas, const std::vector<std::pair<double, double>>& points, Rgb ink,
                    double line_px) {
    canvas.line(points, {255, 255, 255}, line_px + 3);
    canvas.line(points, ink, line_px);
}

void draw_arrow(Canvas& canvas, const PathPoint& at, double size, Rgb ink) {
    const double bx = at.at.x - size * at.dx, by = at.at.y - size * at.dy;
    const double wx = -0.5 * size * at.dy, wy = 0.5 * size * at.dx;
    draw_with_halo(canvas, {{bx + wx, by + wy}, {at.at.x, at.at.y}, {bx - wx, by - wy}}, ink, 3);
}

// Numbers do not overlap; one without room is left out.
class Labels {
public:
    explicit Labels(double text_px) : text_px_(text_px) {}

    bool draw(Canvas& canvas, PixelPoint at, const std::string& text, Rgb ink) {
        for (const PixelPoint& other : occupied_)
            if (std::abs(other.x - at.x) < 2.2 * text_px_ && std::abs(other.y - at.y) < 1.3 * text_px_)
                return false;
        occupied_.push_back(at);
        draw_plate(canvas, at, 0.75 * text_px_, text, ink);
        return true;
    }

private:
    double text_px_;
    std::vector<PixelPoint> occupied_;
};

void draw_pass(Canvas& canvas, const Picture& picture, const render::Frame& frame, const DrawnPass& pass,
               double left, double size) {
    const Rgb ink = coat_colour(pass.line->coat);
    const double half = pass.line->width_mm / frame.mm_per_px / 2;
    if (pass.line->spot) {
        draw_circle(canvas, {left + pass.points[0].first, pass.points[0].second}, half, ink, 2);
        return;
    }
    std::vector<std::pair<double, double>> moved = pass.points;
    for (auto& p : moved) p.first += left;
    draw_with_halo(canvas, moved, ink, 2.5);
    std::vector<PathPoint> visible;
    for (const PathPoint& w : points_along(pass.points, 0.5 * size))
        if (in_picture(w.at, picture, 0.6 * size)) visible.push_back({{w.at.x + left, w.at.y}, w.dx, w.dy});
    if (visible.empty()) return;
    // The bar shows the pattern width; it stands where the pass enters the picture.
    const PathPoint& first = visible.front();
    canvas.line({{first.at.x - half * first.dy, first.at.y + half * first.dx},
                 {first.at.x + half * first.dy, first.at.y - half * first.dx}},
                ink, 1.5, true);
    draw_arrow(canvas, visible[std::min(visible.size() - 1, visible.size() / 2 + 3 * (pass.line->coat % 4))],
               0.8 * size, ink);
}

// Near the start of the pass; every coat at another distance from it, so that numbers do not collide.
void number_pass(Canvas& canvas, const Picture& picture, const DrawnPass& pass, double left, double size,
                 Labels& labels) {
    std::string text = std::to_string(pass.line->number);
    if (pass.line->repeats > 1) text += fmt::format("×{}", pass.line->repeats);
    const Rgb ink = coat_colour(pass.line->coat);
    if (pass.line->spot) {
        labels.draw(canvas, {left + pass.points[0].first, pass.points[0].second}, text, ink);
        return;
    }
    std::size_t skip = 2 + 6 * (pass.line->coat % 5);
    for (const PathPoint& w : points_along(pass.points, 0.5 * size)) {
        if (!in_picture(w.at, picture, 0.8 * size)) continue;
        if (skip-- > 0) continue;
        if (labels.draw(canvas, {left + w.at.x, w.at.y}, text, ink)) return;
        skip = 2;
    }
}

void add_coats(OverlaySheet& sheet, const std::vector<assess::PassLine>& lines,
               const std::vector<std::string>& coats, DisplayUnits units) {
    const double size = sheet.text_px();
    for (std::size_t c = 0; c < coats.size(); ++c) {
        int count = 0;
        double narrow = 0, wide = 0;
        for (const assess::PassLine& line : lines) {
            if (line.coat != c) continue;
            narrow = count == 0 ? line.width_mm : std::min(narrow, line.width_mm);
            wide = std::max(wide, line.width_mm);
            ++count;
        }
        std::string text = fmt::format("{}: {}", c + 1, coats[c]);
        if (count == 0) {
            text += " (even coat, no passes listed)";
        } else {
            text += fmt::format(", {} pass{}, ", count, count == 1 ? "" : "es");
            text += (wide - narrow < 0.5 ? units.text(Millimetres{wide})
                                         : units.range(Millimetres{narrow}, Millimetres{wide})) +
                    " wide";
        }
        sheet.paragraph_beside(text, 4 * size, [=](Canvas& canvas, double x, double y) {
            if (count > 0)
                canvas.line({{x, y + 0.7 * size}, {x + 3 * size, y + 0.7 * size}}, coat_colour(c), 5);
        });
    }
}

}  // namespace

Picture passes_sheet(const Picture& panel_picture, const render::Frame& frame,
                     const std::vector<assess::PassLine>& lines, const std::vector<std::string>& coats,
                     const std::string& title, DisplayUnits units) {
    FW_EXPECTS(panel_picture.width == frame.width);
    std::vector<DrawnPass> drawn;
    for (const assess::PassLine& line : lines) {
        DrawnPass pass{&line, {}};
        for (std::size_t i = 0; i < line.x_mm.size(); ++i) {
            const PixelPoint p = pixel_of(frame, line.x_mm[i], line.y_mm[i]);
            pass.points.emplace_back(p.x, p.y);
        }
        drawn.push_back(std::move(pass));
    }
    OverlaySheet sheet(panel_picture);
    const double size = sheet.text_px();
    sheet.mark_picture([&](Canvas& canvas, double left, double) {
        for (const DrawnPass& pass : drawn) draw_pass(canvas, panel_picture, frame, pass, left, size);
        Labels labels(size);
        for (const DrawnPass& pass : drawn) number_pass(canvas, panel_picture, pass, left, size, labels);
    });
    sheet.title("Gun passes");
    add_coats(sheet, lines, coats, units);
    sheet.paragraph("numbers = order; ×2 = two passes; arrow = direction; dashed bar = pattern width");
    sheet.gap();
    sheet.paragraph(title);
    return sheet.render();
}

}  // namespace fadewright::report
