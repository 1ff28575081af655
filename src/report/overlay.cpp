#include "fadewright/report/overlay.h"

#include "fadewright/base/contract.h"
#include "fadewright/report/phrases_defects.h"
#include "overlay_sheet.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace fadewright::report {
namespace {

// Colours that stay apart for colour-blind readers. Source: [okabe2008].
constexpr Rgb kVermilion{213, 94, 0}, kOrange{230, 159, 0}, kBlue{0, 114, 178}, kPurple{204, 121, 167},
    kGreen{0, 158, 115}, kSky{86, 180, 233}, kYellow{240, 228, 66};
constexpr std::array kCoats{kBlue, kVermilion, kGreen, kPurple, kOrange, kSky, Rgb{60, 60, 60}};

constexpr std::size_t kMaxListed = 12;

double severity_at(const assess::DefectMap& map, int channel, double x_mm, double y_mm) {
    const render::Frame& f = map.frame;
    const double cx = std::clamp((x_mm - f.left_mm) / f.mm_per_px - 0.5, 0.0, f.width - 1.0);
    const double cy = std::clamp((f.top_mm - y_mm) / f.mm_per_px - 0.5, 0.0, f.height - 1.0);
    const int x = static_cast<int>(cx), y = static_cast<int>(cy);
    const int x1 = std::min(x + 1, f.width - 1), y1 = std::min(y + 1, f.height - 1);
    const double u = cx - x, v = cy - y;
    double sum = 0, weights = 0;
    const auto add = [&](int i, int j, double weight) {
        const double severity = map.scores.pixel(i, j)[channel];
        if (severity < 0) return;  // off the panel: no value
        sum += weight * severity;
        weights += weight;
    };
    add(x, y, (1 - v) * (1 - u));
    add(x1, y, (1 - v) * u);
    add(x, y1, v * (1 - u));
    add(x1, y1, v * u);
    return weights > 0 ? sum / weights : 0;
}

// The kind to show at a point: the worst; striping, which extends over whole sweeps, only where no other is.
struct WorstDefect {
    assess::DefectKind kind;
    double severity = 0;
};
WorstDefect worst_defect_at(const assess::DefectMap& map, double x_mm, double y_mm) {
    WorstDefect worst{assess::DefectKind::striping, 0};
    for (std::size_t k = 0; k < assess::kDefectKinds.size(); ++k) {
        const assess::DefectKind kind = assess::kDefectKinds[k];
        const double severity = severity_at(map, static_cast<int>(k), x_mm, y_mm);
        const bool only_striping = worst.severity < 1 || worst.kind == assess::DefectKind::striping;
        const bool counts = kind == assess::DefectKind::striping ? worst.severity < 1
                                                                 : only_striping || severity > worst.severity;
        if (severity >= 1 && counts) worst = {kind, severity};
    }
    return worst;
}

std::uint8_t interpolate(double from, double to, double share) {
    return static_cast<std::uint8_t>(std::lround(from + share * (to - from)));
}

// The painted panel dimmed, the kinds in their colours over it.
Picture draw_severity_map(const Picture& picture, const render::Frame& frame, const assess::DefectMap& map,
                          const spray::Panel& panel, double hatch_px) {
    Picture out = picture;
    for (int y = 0; y < out.height; ++y)
        for (int x = 0; x < out.width; ++x) {
            std::uint8_t* p = out.pixel(x, y);
            const double grey = 0.3 * p[0] + 0.59 * p[1] + 0.11 * p[2];
            const double x_mm = frame.x_mm(x), y_mm = frame.y_mm(y);
            std::array<double, 3> dim{};
            for (std::size_t c = 0; c < 3; ++c) dim[c] = 120 + 0.35 * (0.4 * p[c] + 0.6 * grey);
            Rgb colour{};
            double share = 0;
            if (panel.inside(x_mm, y_mm)) {
                const WorstDefect worst = worst_defect_at(map, x_mm, y_mm);
                colour = defect_colour(worst.kind);
                if (worst.severity >= 1) share = worst.severity >= 2 ? 0.9 : 0.5;
                const bool gap = std::fmod(x + y, 2 * hatch_px) > hatch_px;
                if (worst.kind == assess::DefectKind::striping && gap) share = 0;
            }
            p[0] = interpolate(dim[0], colour.r, share);
            p[1] = interpolate(dim[1], colour.g, share);
            p[2] = interpolate(dim[2], colour.b, share);
        }
    return out;
}

// Flakes are listed only if there are any.
void add_defect_legend(OverlaySheet& sheet, bool flakes) {
    const double size = sheet.text_px(), room = sheet.inner_width() / 3;
    const std::size_t kinds = assess::kDefectKinds.size() - (flakes ? 0 : 1);
    const std::size_t rows = (kinds + 2) / 3;
    sheet.row(1.5 * size * static_cast<double>(rows), [=](Canvas& canvas, double x, double y) {
        for (std::size_t k = 0; k < kinds; ++k) {
            const double left = x + room * static_cast<double>(k % 3);
            const std::size_t row = k / 3;
            const double top = y + 1.5 * size * static_cast<double>(row);
            canvas.fill(left, top + 0.2 * size, 1.6 * size, size, defect_colour(assess::kDefectKinds[k]));
            canvas.text(left + 2.2 * size, top + 0.7 * size, defect_label(assess::kDefectKinds[k]), {size});
        }
    });
    sheet.paragraph("pale = risk; solid = problem; striping is hatched");
}

}  // namespace

Rgb defect_colour(assess::DefectKind kind) {
    constexpr std::array colours{kVermilion, kOrange, kBlue, kPurple, kGreen, kSky, kYellow};
    return colours[static_cast<std::size_t>(kind)];
}

Rgb coat_colour(std::size_t coat) { return kCoats[coat % kCoats.size()]; }

Picture defects_sheet(const Picture& picture, const render::Frame& frame, const assess::Defects& defects,
                      const spray::Panel& panel, const std::string& title, DisplayUnits units) {
    FW_EXPECTS(picture.width == frame.width);
    const double size = OverlaySheet(picture).text_px();
    const Picture under = draw_severity_map(picture, frame, defects.map, panel, 0.5 * size);
    OverlaySheet sheet(under);
    const std::vector<assess::Defect> listed = significant_defects(defects.list);
    const std::size_t count = std::min(listed.size(), kMaxListed);
    sheet.mark_picture([&](Canvas& canvas, double x, double y) {
        for (std::size_t i = count; i-- > 0;) {
            const PixelPoint at = pixel_of(frame, listed[i].x.value, listed[i].y.value);
            draw_mark(canvas, {x + at.x, y + at.y}, size, std::to_string(i + 1));
        }
    });
    sheet.title(listed.empty() ? "No problems found" : "Problems to watch");
    add_defect_legend(
        sheet, std::any_of(defects.list.begin(), defects.list.end(),
                           [](const assess::Defect& f) { return f.kind == assess::DefectKind::flakes; }));
    sheet.gap();
    for (std::size_t i = 0; i < count; ++i)
        sheet.paragraph_beside(
            defect_text(listed[i], units), 4 * size, [&, i](Canvas& canvas, double x, double y) {
                canvas.text(x + 1.6 * size, y + 0.7 * size, std::to_string(i + 1),
                            {size, kInk, Align::right, Weight::bold});
                canvas.fill(x + 2.1 * size, y + 0.2 * size, size, size, defect_colour(listed[i].kind));
            });
    if (listed.size() > count) sheet.paragraph(fmt::format("and {} more", listed.size() - count), 4 * size);
    sheet.gap();
    sheet.paragraph(title);
    return sheet.render();
}

Picture contact_sheet(const std::vector<Picture>& pictures, const std::vector<std::string>& captions,
                      const std::string& title, int max_columns) {
    FW_EXPECTS(!pictures.empty() && pictures.size() == captions.size());
    constexpr int margin = 30, gap = 20, caption = 44, head = 80;
    const int w = pictures.front().width, h = pictures.front().height;
    const int across = std::min(max_columns, static_cast<int>(pictures.size()));
    const int down = (static_cast<int>(pictures.size()) + across - 1) / across;
    Canvas canvas(2 * margin + across * w + (across - 1) * gap, head + down * (h + caption) + margin);
    canvas.text_to_fit(margin, 40, canvas.width() - 2 * margin, title, {28, kInk, Align::left, Weight::bold});
    for (std::size_t i = 0; i < pictures.size(); ++i) {
        const int column = static_cast<int>(i) % across, row = static_cast<int>(i) / across;
        const double x = margin + column * (w + gap), y = head + row * (h + caption);
        canvas.text_to_fit(x, y + 18, w, captions[i], {21});
        canvas.draw_picture(x, y + 38, pictures[i]);
    }
    return canvas.picture();
}

Picture coats_sheet(const std::vector<Picture>& pictures, const std::vector<std::string>& names,
                    const std::string& title) {
    std::vector<std::string> captions = names;
    for (std::size_t i = 1; i < captions.size(); ++i) captions[i] = fmt::format("{}  {}", i, names[i]);
    return contact_sheet(pictures, captions, title);
}

}  // namespace fadewright::report
