#include "pass_drawing.h"

#include "fadewright/assess/maps.h"
#include "fadewright/report/overlay.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>

namespace fadewright::report {
namespace {

constexpr double kText = 4.3;                                   // 12 points
constexpr double kLeft = 17, kRight = 8, kFoot = 12, kTop = 9;  // room for heights, overspray and width
constexpr double kPassOverhang = 6;  // of paper: passes are drawn that far past the panel

constexpr std::ptrdiff_t kMaxDistinctPasses = 60;  // with more, lines are thin and without arrows

using Points = std::vector<std::pair<double, double>>;

// The part of a segment inside a box.
std::optional<std::pair<std::pair<double, double>, std::pair<double, double>>> clipped(
    std::pair<double, double> a, std::pair<double, double> b, const geometry::Box& box) {
    double from = 0, to = 1;
    const double dx = b.first - a.first, dy = b.second - a.second;
    const auto cut = [&](double along, double room) {  // keeps along * t <= room
        if (along == 0) return room >= 0;
        const double t = room / along;
        if (along > 0) {
            to = std::min(to, t);
        } else {
            from = std::max(from, t);
        }
        return from <= to;
    };
    if (!cut(-dx, a.first - box.x0) || !cut(dx, box.x1 - a.first) || !cut(-dy, a.second - box.y0) ||
        !cut(dy, box.y1 - a.second))
        return std::nullopt;
    return std::pair{std::pair{a.first + from * dx, a.second + from * dy},
                     std::pair{a.first + to * dx, a.second + to * dy}};
}

class PassDrawer {
public:
    PassDrawer(const BoothSheet& sheet, const CoatGroup& group, double width, double height)
        : panel_(sheet.job.panel), units_(sheet.job.units), group_(group) {
        const double w = panel_.width.value, h = panel_.height.value;
        scale_ = std::min((width - kLeft - kRight) / w, (height - kTop - kFoot) / h);
        drawing_.width = kLeft + scale_ * w + kRight;
        drawing_.height = kTop + scale_ * h + kFoot;
        drawing_.text_mm = kText;
    }

    Drawing draw(const std::vector<assess::PassLine>& lines) {
        outline();
        const auto in_group = [&](const assess::PassLine& line) {
            return line.coat >= group_.begin && line.coat < group_.end;
        };
        crowded_ = std::count_if(lines.begin(), lines.end(), in_group) > kMaxDistinctPasses;
        for (const assess::PassLine& line : lines)
            if (in_group(line)) pass(line);
        heights();
        sizes();
        return std::move(drawing_);
    }

private:
    [[nodiscard]] std::pair<double, double> at(double x_mm, double y_mm) const {
        return {kLeft + scale_ * x_mm, kTop + scale_ * (panel_.height.value - y_mm)};
    }

    void outline() {
        const geometry::Outline line = panel_.outline_or_rectangle();
        for (const geometry::Ring& ring : line.rings()) {
            Points points;
            for (const geometry::PlanePoint& c : ring) points.push_back(at(c.x_mm, c.y_mm));
            if (points.empty()) continue;
            points.push_back(points.front());
            drawing_.lines.push_back({points, kInk, 0.6, false});
        }
    }

    void pass(const assess::PassLine& line) {
        const Rgb ink = coat_colour(line.coat);
        const geometry::Box box{kLeft - kPassOverhang, kTop - kPassOverhang,
                                kLeft + scale_ * panel_.width.value + kPassOverhang,
                                kTop + scale_ * panel_.height.value + kPassOverhang};
        if (line.spot || line.x_mm.size() < 2) {
            const auto [x, y] = at(line.x_mm.front(), line.y_mm.front());
            drawing_.lines.push_back({{{x - 1.5, y}, {x + 1.5, y}}, ink, 0.5, false});
            drawing_.lines.push_back({{{x, y - 1.5}, {x, y + 1.5}}, ink, 0.5, false});
            return;
        }
        std::optional<std::pair<double, double>> tip, previous;
        for (std::size_t i = 0; i + 1 < line.x_mm.size(); ++i) {
            const auto visible =
                clipped(at(line.x_mm[i], line.y_mm[i]), at(line.x_mm[i + 1], line.y_mm[i + 1]), box);
            if (!visible) continue;
            drawing_.lines.push_back({{visible->first, visible->second}, ink, crowded_ ? 0.1 : 0.4, false});
            previous = visible->first;
            tip = visible->second;
        }
        if (tip && !crowded_) arrow(*previous, *tip, ink);
        const double low = line.y_mm.front();
        const bool level = std::all_of(line.y_mm.begin(), line.y_mm.end(),
                                       [&](double y) { return std::abs(y - low) < 0.5; });
        const double on_paper = at(0, low).second;
        if (level && on_paper >= box.y0 && on_paper <= box.y1) heights_.push_back(low);
    }

    void arrow(std::pair<double, double> from, std::pair<double, double> to, Rgb ink) {
        const double length = std::hypot(to.first - from.first, to.second - from.second);
        if (length <= 0) return;
        constexpr double kLong = 2.4, kWide = 1.1;
        const double dx = (to.first - from.first) / length, dy = (to.second - from.second) / length;
        const double x = to.first - kLong * dx, y = to.second - kLong * dy;
        drawing_.lines.push_back(
            {{{x - kWide * dy, y + kWide * dx}, to, {x + kWide * dy, y - kWide * dx}}, ink, 0.4, false});
    }

    // A tick for every height; numbers where there is room, the lowest and the highest always.
    void heights() {
        std::sort(heights_.begin(), heights_.end());
        heights_.erase(std::unique(heights_.begin(), heights_.end(),
                                   [](double a, double b) { return std::abs(a - b) < 0.5; }),
                       heights_.end());
        std::vector<double> labelled;
        const auto are_close = [&](double a, double b) { return scale_ * std::abs(a - b) < 1.15 * kText; };
        for (const double y : heights_) {
            const double on_paper = at(0, y).second;
            if (!crowded_)
                drawing_.lines.push_back(
                    {{{kLeft - kPassOverhang - 1.5, on_paper}, {kLeft - kPassOverhang, on_paper}},
                     kInk,
                     0.25,
                     false});
            if (labelled.empty() || !are_close(labelled.back(), y)) {
                labelled.push_back(y);
            } else if (y == heights_.back() && labelled.size() > 1) {
                labelled.back() = y;
            }
        }
        for (const double y : labelled)
            drawing_.texts.push_back(
                {kLeft - kPassOverhang - 2, at(0, y).second, units_.number(Millimetres{y}), Align::right});
    }

    void sizes() {
        const double w = panel_.width.value;
        const double foot = drawing_.height - 2.2;
        drawing_.texts.push_back(
            {kLeft + scale_ * w / 2, foot, units_.size_text(panel_.width, panel_.height), Align::centre});
    }

    const spray::Panel& panel_;
    DisplayUnits units_;
    CoatGroup group_;
    double scale_ = 1;
    bool crowded_ = false;  // thin lines without arrows
    Drawing drawing_;
    std::vector<double> heights_;
};

}  // namespace

Drawing draw_passes(const BoothSheet& sheet, const CoatGroup& group, double width, double height) {
    return PassDrawer(sheet, group, width, height).draw(assess::pass_lines(sheet.job));
}

}  // namespace fadewright::report
