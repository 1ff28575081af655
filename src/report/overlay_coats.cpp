#include "fadewright/base/contract.h"
#include "fadewright/report/overlay.h"

#include <fmt/core.h>

#include <algorithm>

namespace fadewright::report {

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
