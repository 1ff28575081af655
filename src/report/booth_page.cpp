#include "booth_page.h"

#include "fadewright/report/scale_bar.h"

#include <fmt/core.h>

#include <algorithm>

namespace fadewright::report {
namespace {

constexpr double kTop = 12, kFootRoom = 10, kBox = 5.6, kLine = 1.32;  // line spacing in ems
constexpr Rgb kBlack{0, 0, 0};

}  // namespace

std::string fitted_words(const PdfSheet& sheet, std::string words, const PdfText& style, double width) {
    if (sheet.text_width(words, style) <= width) return words;
    while (!words.empty() && sheet.text_width(words + "…", style) > width) {
        // A character of several bytes goes as a whole.
        while (words.size() > 1 && (static_cast<unsigned char>(words.back()) & 0xC0) == 0x80)
            words.pop_back();
        words.pop_back();
    }
    return words + "…";
}

BoothPages::BoothPages(Paper paper, const std::string& title, std::string foot)
    : sheet_(paper, title),
      foot_(std::move(foot)),
      width_(size_of(paper).width_mm - 2 * kMargin_mm),
      bottom_(size_of(paper).height_mm - kTop - kFootRoom) {}

void BoothPages::page(const std::string& heading, const std::string& beside) {
    if (pages_ > 0) {
        foot();
        sheet_.next_page();
    }
    ++pages_;
    heading_ = heading;
    beside_ = beside;
    head(heading, beside);
}

void BoothPages::head(const std::string& heading, const std::string& beside) {
    y_ = kTop;
    const PdfText small{kBody_mm, kFaintInk, Align::right};
    const std::string right = fitted(beside, small, 0.45 * width_);
    const double right_width = sheet_.text_width(right, small);
    const PdfText large{kTitle_mm, kBlack, Align::left, Weight::bold};
    const std::vector<std::string> lines = wrapped(heading, large, width_ - right_width - 4);
    sheet_.text(left() + width_, y_ + kTitle_mm * 0.6, right, small);
    for (const std::string& line : lines) {
        sheet_.text(left(), y_ + kTitle_mm * 0.6, line, large);
        y_ += kTitle_mm * 1.25;
    }
    y_ += 1.5;
    sheet_.line({{left(), y_}, {left() + width_, y_}}, kBlack, 0.5);
    y_ += 3.5;
}

void BoothPages::foot() {
    const double y = bottom_ + kFootRoom;
    const PdfText style{kBody_mm, kFaintInk};
    const std::string number = fmt::format("page {}", pages_);
    const double taken = sheet_.text_width(number, style) + 4;
    sheet_.text(left(), y, fitted(foot_, style, width_ - taken), style);
    sheet_.text(left() + width_, y, number, {kBody_mm, kFaintInk, Align::right});
}

void BoothPages::room(double mm) {
    if (y_ + mm <= bottom_) return;
    foot();
    sheet_.next_page();
    ++pages_;
    const PdfText large{kTitle_mm, kBlack, Align::left, Weight::bold};
    head(fitted(heading_, large, 0.7 * width_), "continued");
}

std::vector<std::string> BoothPages::wrapped(std::string_view words, const PdfText& style,
                                             double width) const {
    std::vector<std::string> lines;
    std::string line;
    for (std::size_t at = 0; at <= words.size();) {
        const std::size_t space = std::min(words.find(' ', at), words.size());
        const std::string word(words.substr(at, space - at));
        at = space + 1;
        std::string tried = line;
        if (!tried.empty()) tried += ' ';
        tried += word;
        if (line.empty() || sheet_.text_width(tried, style) <= width) {
            line = tried;
            continue;
        }
        lines.push_back(line);
        line = word;
    }
    lines.push_back(line);
    for (std::string& one : lines) one = fitted(one, style, width);  // a single word may be too long
    return lines;
}

void BoothPages::section(std::string_view words) {
    constexpr double kWithFirst = 26;  // a heading is never alone
    room(kWithFirst);
    y_ += 2.5;
    const PdfText bold{5.4, kBlack, Align::left, Weight::bold};
    sheet_.text(left(), y_ + kKey_mm * 0.55, fitted(std::string(words), bold, width_), bold);
    y_ += kKey_mm * 1.3;
}

void BoothPages::paragraph(std::string_view words, const PdfText& style, double indent) {
    for (const std::string& line : wrapped(words, style, width_ - indent)) {
        room(style.size_mm * kLine);
        sheet_.text(left() + indent, y_ + style.size_mm * kLine / 2, line, style);
        y_ += style.size_mm * kLine;
    }
    y_ += 0.8;
}

double BoothPages::ticked_height(std::string_view words, const PdfText& style) const {
    const auto lines = static_cast<double>(wrapped(words, style, width_ - kBox - 3).size());
    return std::max(kBox + 1.6, style.size_mm * kLine * lines + 1.2);
}

void BoothPages::ticked(std::string_view words, const PdfText& style) {
    const double step = style.size_mm * kLine, height = ticked_height(words, style);
    room(height);
    sheet_.frame(left() + 0.2, y_ + 0.4, kBox, kBox, kBlack, 0.4);
    double y = y_ + 0.4 + std::max(kBox, step) / 2;
    for (const std::string& line : wrapped(words, style, width_ - kBox - 3)) {
        sheet_.text(left() + kBox + 3, y, line, style);
        y += step;
    }
    y_ += height;
}

void BoothPages::row(const std::vector<Cell>& cells, double height, bool box) {
    room(height);
    if (box) sheet_.frame(left() + 0.2, y_ + (height - kBox) / 2, kBox, kBox, kBlack, 0.4);
    for (const Cell& cell : cells) sheet_.text(left() + cell.x, y_ + height / 2, cell.words, cell.style);
    y_ += height;
}

void BoothPages::settings(const std::vector<Setting>& settings, double least_wide) {
    if (settings.empty()) return;
    const PdfText small{kBody_mm, kFaintInk}, large{kKey_mm, kBlack, Align::left, Weight::bold};
    constexpr double kHeight = 13, kGap = 6;
    double x = 0;
    room(kHeight);
    for (const auto& [name, value] : settings) {
        const double wide = std::min(
            std::max({sheet_.text_width(value, large), sheet_.text_width(name, small), least_wide - kGap}),
            width_);
        if (x > 0 && x + wide > width_ + 0.1) {
            x = 0;
            y_ += kHeight;
            room(kHeight);
        }
        sheet_.text(left() + x, y_ + kBody_mm * 0.6, name, small);
        sheet_.text(left() + x, y_ + kBody_mm * 1.3 + kKey_mm * 0.55, fitted(value, large, wide), large);
        x += wide + kGap;
    }
    y_ += kHeight;
}

void BoothPages::drawing(const Drawing& drawing) {
    room(drawing.height + 1);
    for (const DrawnLine& line : drawing.lines) {
        std::vector<std::pair<double, double>> points = line.points;
        for (auto& [x, y] : points) {
            x += left();
            y += y_;
        }
        sheet_.line(points, line.ink, line.line_mm, line.dashed);
    }
    for (const DrawnText& text : drawing.texts)
        sheet_.text(left() + text.x, y_ + text.y, text.words, {drawing.text_mm, kBlack, text.align});
    y_ += drawing.height + 1;
}

void BoothPages::beside_drawing(const Drawing& picture, const std::vector<std::string>& lines) {
    room(picture.height + 1);
    const double top = y_;
    drawing(picture);
    const double below = y_, x = picture.width + 3;
    const PdfText style{kBody_mm};
    double y = top + 4;
    std::size_t i = 0;
    for (; i < lines.size(); ++i) {
        const auto pieces = wrapped(lines[i], style, width_ - x);
        const double height = kBody_mm * kLine * static_cast<double>(pieces.size()) + 0.8;
        if (y + height > below) break;
        for (const std::string& piece : pieces) {
            sheet_.text(left() + x, y + kBody_mm * kLine / 2, piece, style);
            y += kBody_mm * kLine;
        }
        y += 0.8;
    }
    for (; i < lines.size(); ++i) paragraph(lines[i]);
}

void BoothPages::scale_bar(ShownUnits units) {
    room(kBarHigh_mm + 9);
    draw_scale_bar(sheet_, left(), y_, units, {kBody_mm, 3, 6}, ", if printed at 100 %");
    y_ += kBarHigh_mm + 7;
}

std::string BoothPages::bytes() {
    foot();
    return sheet_.bytes();
}

}  // namespace fadewright::report
