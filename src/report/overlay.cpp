#include "fadewright/report/overlay.h"

#include "fadewright/base/contract.h"
#include "overlay_sheet.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace fadewright::report {
namespace {

// Colours that stay apart for colour-blind readers (Okabe & Ito 2008).
constexpr Rgb kVermilion{213, 94, 0}, kOrange{230, 159, 0}, kBlue{0, 114, 178}, kPurple{204, 121, 167},
    kGreen{0, 158, 115}, kSky{86, 180, 233}, kYellow{240, 228, 66};
constexpr std::array kCoats{kBlue, kVermilion, kGreen, kPurple, kOrange, kSky, Rgb{60, 60, 60}};

constexpr std::size_t kMostListed = 12;

double severity_at(const render::FaultMap& map, int channel, double x_mm, double y_mm) {
    const render::Frame& f = map.frame;
    const double cx = std::clamp((x_mm - f.left_mm) / f.mm_per_px - 0.5, 0.0, f.width - 1.0);
    const double cy = std::clamp((f.top_mm - y_mm) / f.mm_per_px - 0.5, 0.0, f.height - 1.0);
    const int x = static_cast<int>(cx), y = static_cast<int>(cy);
    const int x1 = std::min(x + 1, f.width - 1), y1 = std::min(y + 1, f.height - 1);
    const double u = cx - x, v = cy - y;
    double sum = 0, weights = 0;
    const auto add = [&](int i, int j, double weight) {
        const double severity = map.severity.pixel(i, j)[channel];
        if (severity < 0) return;  // beside the panel nothing is known
        sum += weight * severity;
        weights += weight;
    };
    add(x, y, (1 - v) * (1 - u));
    add(x1, y, (1 - v) * u);
    add(x, y1, v * (1 - u));
    add(x1, y1, v * u);
    return weights > 0 ? sum / weights : 0;
}

// The kind to show at a place: the worst; stripes, which lie over whole sweeps, only where there is no other.
struct Shown {
    render::FaultKind kind;
    double severity = 0;
};
Shown shown_at(const render::FaultMap& map, double x_mm, double y_mm) {
    Shown worst{render::FaultKind::ripple, 0};
    for (std::size_t k = 0; k < render::kFaultKinds.size(); ++k) {
        const render::FaultKind kind = render::kFaultKinds[k];
        const double severity = severity_at(map, static_cast<int>(k), x_mm, y_mm);
        const bool stripes_only = worst.severity < 1 || worst.kind == render::FaultKind::ripple;
        const bool counts = kind == render::FaultKind::ripple ? worst.severity < 1
                                                              : stripes_only || severity > worst.severity;
        if (severity >= 1 && counts) worst = {kind, severity};
    }
    return worst;
}

std::uint8_t mixed(double from, double to, double share) {
    return static_cast<std::uint8_t>(std::lround(from + share * (to - from)));
}

// The painted panel dim and grey, the kinds in their colours over it.
Picture dimmed(const Picture& painted, const render::Frame& frame, const render::FaultMap& map,
               const spray::Panel& panel, double band_px) {
    Picture out = painted;
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
                const Shown worst = shown_at(map, x_mm, y_mm);
                colour = kind_colour(worst.kind);
                if (worst.severity >= 1) share = worst.severity >= 2 ? 0.9 : 0.5;
                const bool gap = std::fmod(x + y, 2 * band_px) > band_px;
                if (worst.kind == render::FaultKind::ripple && gap) share = 0;
            }
            p[0] = mixed(dim[0], colour.r, share);
            p[1] = mixed(dim[1], colour.g, share);
            p[2] = mixed(dim[2], colour.b, share);
        }
    return out;
}

std::string_view kind_words(render::FaultKind kind) {
    switch (kind) {
        case render::FaultKind::sag:
            return "sags";
        case render::FaultKind::dry:
            return "dry overspray";
        case render::FaultKind::ripple:
            return "stripes";
        case render::FaultKind::missed:
            return "missed spots";
        case render::FaultKind::film:
            return "too much film";
        case render::FaultKind::edge:
            return "edges and grooves";
        case render::FaultKind::flakes:
            break;
    }
    return "too few or too many flakes";
}

// Flakes are named only where there are some.
void add_kinds(OverlaySheet& sheet, bool flakes) {
    const double size = sheet.text_px(), room = sheet.inner_width() / 3;
    const std::size_t kinds = render::kFaultKinds.size() - (flakes ? 0 : 1);
    const std::size_t rows = (kinds + 2) / 3;
    sheet.row(1.5 * size * static_cast<double>(rows), [=](Canvas& canvas, double x, double y) {
        for (std::size_t k = 0; k < kinds; ++k) {
            const double left = x + room * static_cast<double>(k % 3);
            const std::size_t row = k / 3;
            const double top = y + 1.5 * size * static_cast<double>(row);
            canvas.fill(left, top + 0.2 * size, 1.6 * size, size, kind_colour(render::kFaultKinds[k]));
            canvas.text(left + 2.2 * size, top + 0.7 * size, kind_words(render::kFaultKinds[k]), {size});
        }
    });
    sheet.words("pale: to be watched; full: wrong; stripes are hatched");
}

}  // namespace

Rgb kind_colour(render::FaultKind kind) {
    constexpr std::array colours{kVermilion, kOrange, kBlue, kPurple, kGreen, kSky, kYellow};
    return colours[static_cast<std::size_t>(kind)];
}

Rgb coat_colour(std::size_t coat) { return kCoats[coat % kCoats.size()]; }

std::vector<render::Fault> pressing(const std::vector<render::Fault>& faults) {
    std::vector<render::Fault> out;
    std::copy_if(faults.begin(), faults.end(), std::back_inserter(out),
                 [](const render::Fault& f) { return f.level != render::Level::fine; });
    std::stable_sort(out.begin(), out.end(),
                     [](const render::Fault& a, const render::Fault& b) { return a.level > b.level; });
    return out;
}

std::string fault_words(const render::Fault& fault) {
    return fmt::format("{}{}: {}", kind_words(fault.kind),
                       fault.coat.empty() ? "" : " in '" + fault.coat + "'", fault.words);
}

std::string fault_line(const render::Fault& fault) {
    return fmt::format("{}: {}", render::level_name(fault.level), fault_words(fault));
}

Picture faults_sheet(const Picture& painted, const render::Frame& frame, const render::Faults& faults,
                     const spray::Panel& panel, const std::string& title) {
    FW_EXPECTS(painted.width == frame.width);
    const double size = OverlaySheet(painted).text_px();
    const Picture under = dimmed(painted, frame, faults.map, panel, 0.5 * size);
    OverlaySheet sheet(under);
    const std::vector<render::Fault> listed = pressing(faults.list);
    const std::size_t count = std::min(listed.size(), kMostListed);
    sheet.over_picture([&](Canvas& canvas, double x, double y) {
        for (std::size_t i = count; i-- > 0;) {
            const PixelPoint at = pixel_of(frame, listed[i].x.value, listed[i].y.value);
            draw_mark(canvas, {x + at.x, y + at.y}, size, std::to_string(i + 1));
        }
    });
    sheet.title(listed.empty() ? "Nothing to watch" : "What to watch");
    add_kinds(sheet, std::any_of(faults.list.begin(), faults.list.end(),
                                 [](const render::Fault& f) { return f.kind == render::FaultKind::flakes; }));
    sheet.gap();
    for (std::size_t i = 0; i < count; ++i)
        sheet.words_beside(fault_line(listed[i]), 4 * size, [&, i](Canvas& canvas, double x, double y) {
            canvas.text(x + 1.6 * size, y + 0.7 * size, std::to_string(i + 1),
                        {size, kInk, Align::right, Weight::bold});
            canvas.fill(x + 2.1 * size, y + 0.2 * size, size, size, kind_colour(listed[i].kind));
        });
    if (listed.size() > count) sheet.words(fmt::format("and {} more", listed.size() - count), 4 * size);
    sheet.gap();
    sheet.words(title);
    return sheet.drawn();
}

}  // namespace fadewright::report
