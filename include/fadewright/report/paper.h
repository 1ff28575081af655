// Paper to print on.
#pragma once

namespace fadewright::report {

enum class Paper { A4, Letter };

struct PaperSize {
    double width_mm, height_mm;
};

// A4; Letter is 8.5 by 11 inches. Source: [iso216].
[[nodiscard]] constexpr PaperSize size_of(Paper paper) {
    return paper == Paper::A4 ? PaperSize{210, 297} : PaperSize{215.9, 279.4};
}

}  // namespace fadewright::report
