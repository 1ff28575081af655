// A sheet to draw on: rectangles, lines, text and pictures, in device pixels from the upper left.
//
// Drawn with cairo and Pango in the DejaVu Sans family. Colours are 8-bit values for the sheet's profile
// (sRGB) and a filled rectangle holds exactly the value it was given.
#pragma once

#include "fadewright/base/image.h"

#include <cstdint>
#include <memory>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace fadewright::report {

struct Rgb {
    std::uint8_t r = 0, g = 0, b = 0;
    friend bool operator==(const Rgb&, const Rgb&) = default;
};

inline constexpr Rgb kInk{32, 32, 32};
inline constexpr Rgb kFaintInk{112, 112, 112};
inline constexpr Rgb kRule{200, 200, 200};
inline constexpr Rgb kSheetColour{250, 250, 248};

inline constexpr double kMinText_px = 12;

enum class Align { left, centre, right };
enum class Weight { normal, bold };

struct TextStyle {
    double size_px = 20;
    Rgb ink = kInk;
    Align align = Align::left;
    Weight weight = Weight::normal;
};

class Canvas {
public:
    Canvas(int width, int height, Rgb background = kSheetColour);
    ~Canvas();
    Canvas(const Canvas&) = delete;
    Canvas& operator=(const Canvas&) = delete;

    [[nodiscard]] int width() const;
    [[nodiscard]] int height() const;

    void fill(double x, double y, double w, double h, Rgb ink);
    void frame(double x, double y, double w, double h, Rgb ink, double line_px = 1);
    void line(const std::vector<std::pair<double, double>>& points, Rgb ink, double line_px = 2,
              bool dashed = false);
    // y is the centre of the text's line. Returns the width drawn.
    double text(double x, double y, std::string_view string, const TextStyle& style);
    // The same, shrunk until it is no wider than `width` (but never below kMinText_px).
    void text_to_fit(double x, double y, double width, std::string_view string, TextStyle style);
    [[nodiscard]] double text_width(std::string_view string, const TextStyle& style) const;
    // The lines of the text at that width.
    [[nodiscard]] std::vector<std::string> wrap(std::string_view string, const TextStyle& style,
                                                double width) const;
    void vertical_text(double x, double y, std::string_view string, const TextStyle& style);
    void draw_picture(double x, double y, const Picture& picture);

    [[nodiscard]] Picture picture() const;

private:
    struct Surface;
    std::unique_ptr<Surface> surface_;
};

}  // namespace fadewright::report
