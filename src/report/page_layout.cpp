#include "page_layout.h"

#include "fadewright/report/scale_bar.h"

#include <fmt/core.h>

#include <algorithm>

namespace fadewright::report {
namespace {

constexpr double kTop = 12, kFooterHeight = 10, kBox = 5.6, kLine = 1.32;  // line spacing in ems
constexpr double kFooterLine = 5.2;                                        // pitch of the lines of the footer
constexpr double kFooterEdge = 8.5;  // from the centre of the last one to the paper's lower edge
constexpr Rgb kBlack{0, 0, 0};

}  // namespace

PageLayout::PageLayout(Paper paper, const std::string& title, std::vector<std::string> footer)
    : sheet_(paper, title),
      footer_(std::move(footer)),
      width_(size_of(paper).width_mm - 2 * kMargin_mm),
      bottom_(size_of(paper).height_mm - kTop - kFooterHeight) {}

void PageLayout::begin_page(const std::string& heading, const std::string& side_note) {
    if (pages_ > 0) {
        draw_footer();
        sheet_.next_page();
    }
    ++pages_;
    heading_ = heading;
    side_note_ = side_note;
    draw_heading(heading, side_note);
}

void PageLayout::draw_heading(const std::string& heading, const std::string& side_note) {
    y_ = kTop;
    const PdfText small{kBody_mm, kFaintInk, Align::right};
    const std::string right = sheet_.ellipsize(side_note, small, 0.45 * width_);
    const double right_width = sheet_.text_width(right, small);
    const PdfText large{kTitle_mm, kBlack, Align::left, Weight::bold};
    const std::vector<std::string> lines = sheet_.wrap(heading, large, width_ - right_width - 4);
    sheet_.text(left() + width_, y_ + kTitle_mm * 0.6, right, small);
    for (const std::string& line : lines) {
        sheet_.text(left(), y_ + kTitle_mm * 0.6, line, large);
        y_ += kTitle_mm * 1.25;
    }
    y_ += 1.5;
    sheet_.line({{left(), y_}, {left() + width_, y_}}, kBlack, 0.5);
    y_ += 3.5;
}

void PageLayout::draw_footer() {
    const PdfText style{kBody_mm, kFaintInk};
    double y = bottom_ + kTop + kFooterHeight - kFooterEdge;  // of the last line
    y -= kFooterLine * static_cast<double>(footer_.size());
    const std::string number = fmt::format("page {}", pages_);
    const double number_width = sheet_.text_width(number, style) + 4;
    for (std::size_t i = 0; i < footer_.size(); ++i) {
        const bool last = i + 1 == footer_.size();
        y += kFooterLine;
        sheet_.text(left(), y, sheet_.ellipsize(footer_[i], style, last ? width_ - number_width : width_),
                    style);
    }
    sheet_.text(left() + width_, y, number, {kBody_mm, kFaintInk, Align::right});
}

void PageLayout::ensure_room(double mm) {
    if (y_ + mm <= bottom_) return;
    draw_footer();
    sheet_.next_page();
    ++pages_;
    const PdfText large{kTitle_mm, kBlack, Align::left, Weight::bold};
    draw_heading(sheet_.ellipsize(heading_, large, 0.7 * width_), "continued");
}

void PageLayout::section(std::string_view text) {
    constexpr double kWithFirst = 26;  // a heading is never alone
    ensure_room(kWithFirst);
    y_ += 2.5;
    const PdfText bold{5.4, kBlack, Align::left, Weight::bold};
    sheet_.text(left(), y_ + kKey_mm * 0.55, sheet_.ellipsize(text, bold, width_), bold);
    y_ += kKey_mm * 1.3;
}

void PageLayout::paragraph(std::string_view text, const PdfText& style, double indent) {
    for (const std::string& line : sheet_.wrap(text, style, width_ - indent)) {
        ensure_room(style.size_mm * kLine);
        sheet_.text(left() + indent, y_ + style.size_mm * kLine / 2, line, style);
        y_ += style.size_mm * kLine;
    }
    y_ += 0.8;
}

double PageLayout::checkbox_height(std::string_view text, const PdfText& style) const {
    const auto lines = static_cast<double>(sheet_.wrap(text, style, width_ - kBox - 3).size());
    return std::max(kBox + 1.6, style.size_mm * kLine * lines + 1.2);
}

void PageLayout::checkbox(std::string_view text, const PdfText& style) {
    const double step = style.size_mm * kLine, height = checkbox_height(text, style);
    ensure_room(height);
    sheet_.frame(left() + 0.2, y_ + 0.4, kBox, kBox, kBlack, 0.4);
    double y = y_ + 0.4 + std::max(kBox, step) / 2;
    for (const std::string& line : sheet_.wrap(text, style, width_ - kBox - 3)) {
        sheet_.text(left() + kBox + 3, y, line, style);
        y += step;
    }
    y_ += height;
}

void PageLayout::row(const std::vector<Cell>& cells, double height, bool box) {
    ensure_room(height);
    if (box) sheet_.frame(left() + 0.2, y_ + (height - kBox) / 2, kBox, kBox, kBlack, 0.4);
    for (const Cell& cell : cells) sheet_.text(left() + cell.x, y_ + height / 2, cell.text, cell.style);
    y_ += height;
}

void PageLayout::settings(const std::vector<Setting>& settings, double min_width) {
    if (settings.empty()) return;
    const PdfText small{kBody_mm, kFaintInk}, large{kKey_mm, kBlack, Align::left, Weight::bold};
    constexpr double kHeight = 13, kGap = 6;
    double x = 0;
    ensure_room(kHeight);
    for (const auto& [name, value] : settings) {
        const double wide = std::min(
            std::max({sheet_.text_width(value, large), sheet_.text_width(name, small), min_width - kGap}),
            width_);
        if (x > 0 && x + wide > width_ + 0.1) {
            x = 0;
            y_ += kHeight;
            ensure_room(kHeight);
        }
        sheet_.text(left() + x, y_ + kBody_mm * 0.6, name, small);
        sheet_.text(left() + x, y_ + kBody_mm * 1.3 + kKey_mm * 0.55, sheet_.ellipsize(value, large, wide),
                    large);
        x += wide + kGap;
    }
    y_ += kHeight;
}

void PageLayout::drawing(const Drawing& drawing) {
    ensure_room(drawing.height + 1);
    for (const DrawnLine& line : drawing.lines) {
        std::vector<std::pair<double, double>> points = line.points;
        for (auto& [x, y] : points) {
            x += left();
            y += y_;
        }
        sheet_.line(points, line.ink, line.line_mm, line.dashed);
    }
    for (const DrawnText& text : drawing.texts)
        sheet_.text(left() + text.x, y_ + text.y, text.text, {drawing.text_mm, kBlack, text.align});
    y_ += drawing.height + 1;
}

void PageLayout::drawing_with_text(const Drawing& picture, const std::vector<std::string>& lines) {
    ensure_room(picture.height + 1);
    const double top = y_;
    drawing(picture);
    const double drawing_bottom = y_, x = picture.width + 3;
    const PdfText style{kBody_mm};
    double y = top + 4;
    std::size_t i = 0;
    for (; i < lines.size(); ++i) {
        const auto wrapped_lines = sheet_.wrap(lines[i], style, width_ - x);
        const double height = kBody_mm * kLine * static_cast<double>(wrapped_lines.size()) + 0.8;
        if (y + height > drawing_bottom) break;
        for (const std::string& wrapped_line : wrapped_lines) {
            sheet_.text(left() + x, y + kBody_mm * kLine / 2, wrapped_line, style);
            y += kBody_mm * kLine;
        }
        y += 0.8;
    }
    for (; i < lines.size(); ++i) paragraph(lines[i]);
}

void PageLayout::scale_bar(DisplayUnits units) {
    ensure_room(kBarHeight_mm + 9);
    draw_scale_bar(sheet_, left(), y_, units, {kBody_mm, 3, 6}, ", if printed at 100 %");
    y_ += kBarHeight_mm + 7;
}

std::string PageLayout::bytes() {
    draw_footer();
    return sheet_.bytes();
}

}  // namespace fadewright::report
