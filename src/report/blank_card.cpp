#include "fadewright/report/blank_card.h"

#include "fadewright/colour/srgb.h"
#include "fadewright/report/scale_bar.h"

#include <fmt/core.h>

#include <array>

namespace fadewright::report {
namespace {

// Everything in millimetres.
constexpr double kWidth = 180;  // of all that is printed
constexpr double kTop = 14;     // free edge: most printers leave 5 white
constexpr double kLabels = 22;  // left of the field
constexpr double kHalf = 76;    // width of the black and of the white half
constexpr double kStrip = 22;   // height of one strip: room for a 12 mm instrument
constexpr double kLine = 9.6;   // pitch of the fields to fill in
constexpr Rgb kBlack{0, 0, 0}, kWhite{255, 255, 255};

constexpr std::array<std::string_view, 5> kStrips{"bare", "1 coat", "2 coats", "3 coats", "4 coats"};
constexpr std::array<double, 6> kGreys{20, 35, 50, 65, 80, 95};  // L*

// Pairs stand side by side.
constexpr std::array<std::string_view, 14> kFields{"Paint",
                                                   "Date and painter",
                                                   "Mix, parts by volume",
                                                   "Solids, dry density",
                                                   "Reducer, % of paint",
                                                   "Viewing light",
                                                   "Gun, nozzle, needle",
                                                   "Temperature, humidity",
                                                   "Air pressure",
                                                   "Wet film comb: wet tooth, dry tooth",
                                                   "Distance, speed, overlap",
                                                   "Card before spraying, card dried (g)",
                                                   "Passes per coat",
                                                   "Instrument; specular included or excluded"};

class Layout {
public:
    Layout(Paper paper, DisplayUnits units)
        : units_(units), sheet_(paper, "Spray-out card"), left_((size_of(paper).width_mm - kWidth) / 2) {}

    std::string draw() {
        draw_heading();
        draw_bar();
        draw_spray_field();
        draw_greys();
        draw_fields();
        draw_steps();
        return sheet_.bytes();
    }

private:
    void draw_heading() {
        sheet_.text(left_, y_ + 3, "Spray-out card", {6, kInk, Align::left, Weight::bold});
        sheet_.text(left_ + kWidth, y_ + 1.5, "Print at actual size (100 %), not fitted to the page.",
                    {2.9, kFaintInk, Align::right});
        sheet_.text(left_ + kWidth, y_ + 5.5,
                    fmt::format("Then measure the bar: it must be {} long.", bar_label(units_)),
                    {2.9, kFaintInk, Align::right});
        y_ += 11;
    }

    void draw_bar() {
        draw_scale_bar(sheet_, left_, y_, units_, {2.6, 2.4, 4});
        y_ += 9;
    }

    // Marks stand outside the field: nothing may show through the film that is not bare card.
    void draw_spray_field() {
        const double x = left_ + kLabels, height = kStrip * kStrips.size();
        sheet_.text(x + kHalf / 2, y_ + 1.2, "black half", {2.8, kInk, Align::centre});
        sheet_.text(x + 1.5 * kHalf, y_ + 1.2, "white half", {2.8, kInk, Align::centre});
        y_ += 4;
        sheet_.fill(x, y_, kHalf, height, kBlack);
        sheet_.fill(x + kHalf, y_, kHalf, height, kWhite);
        sheet_.frame(x, y_, 2 * kHalf, height, kInk, 0.15);
        for (std::size_t i = 0; i < kStrips.size(); ++i) {
            const double top = y_ + kStrip * static_cast<double>(i);
            sheet_.text(left_, top + kStrip / 2, kStrips[i], {3.4, kInk, Align::left, Weight::bold});
            if (i == 0) continue;
            sheet_.line({{x - 5, top}, {x - 1, top}}, kInk, 0.25);
            sheet_.line({{x + 2 * kHalf + 1, top}, {x + 2 * kHalf + 5, top}}, kInk, 0.25);
        }
        y_ += height + 4;
    }

    void draw_greys() {
        constexpr double kPatch = 14, kGap = 2;
        for (std::size_t i = 0; i < kGreys.size(); ++i) {
            const auto code = colour::srgb_bytes(colour::Lab{kGreys[i], 0, 0});
            const double x = left_ + (kPatch + kGap) * static_cast<double>(i);
            sheet_.fill(x, y_, kPatch, kPatch, {code[0], code[1], code[2]});
            sheet_.frame(x, y_, kPatch, kPatch, kRule, 0.1);
            sheet_.text(x + kPatch / 2, y_ + kPatch + 2, fmt::format("L* {:.0f}", kGreys[i]),
                        {2.5, kInk, Align::centre});
        }
        const double x = left_ + (kPatch + kGap) * kGreys.size() + 2;
        sheet_.line({{x, y_}, {x + kPatch, y_}, {x + kPatch, y_ + kPatch}, {x, y_ + kPatch}, {x, y_}}, kInk,
                    0.2, true);
        sheet_.text(x + kPatch / 2, y_ + kPatch / 2, "grey card", {2.4, kFaintInk, Align::centre});
        const double notes = x + kPatch + 4;
        sheet_.text(notes, y_ + 2, "No printer prints these exactly:", {2.6, kInk});
        sheet_.text(notes, y_ + 6, "read one, or stick a grey card", {2.6, kInk});
        sheet_.text(notes, y_ + 10, "of known lightness in the frame.", {2.6, kInk});
        sheet_.text(notes, y_ + 14.5, "Its L*:", {2.8, kInk});
        sheet_.line({{notes + 11, y_ + 16}, {left_ + kWidth, y_ + 16}}, kInk, 0.15);
        y_ += kPatch + 9;
    }

    void draw_fields() {
        constexpr double kGap = 6, kColumn = (kWidth - kGap) / 2;
        for (std::size_t i = 0; i < kFields.size(); ++i) {
            const double x = left_ + (kColumn + kGap) * static_cast<double>(i % 2);
            const std::size_t row = i / 2;
            const double y = y_ + kLine * static_cast<double>(row);
            sheet_.text(x, y, kFields[i], {2.5, kFaintInk});
            sheet_.line({{x, y + 5.2}, {x + kColumn, y + 5.2}}, kInk, 0.15);
        }
        constexpr std::size_t kRows = kFields.size() / 2;
        y_ += kLine * static_cast<double>(kRows) + 0.5;
    }

    void draw_steps() {
        static constexpr std::array<std::string_view, 4> kSteps{
            "1  Seal the sheet or glue it to card. If the paint will be cleared, clear it first and read the "
            "bare halves.",
            "2  Mask all but the last strip and spray one coat; move the mask up one strip and spray the "
            "next, to the end.",
            "3  Let it dry through. Read every strip over black and over white, in three places, and "
            "average.",
            "4  Write it into a spray-out card file (fadewright help spray-out-card); "
            "fadewright fit-paint my-card.toml -o my-paint.toml"};
        for (const std::string_view step : kSteps) {
            sheet_.text(left_, y_, step, {2.5, kInk});
            y_ += 4.1;
        }
    }

    DisplayUnits units_;
    PdfSheet sheet_;
    double left_;
    double y_ = kTop;
};

}  // namespace

std::string blank_card_pdf(Paper paper, DisplayUnits units) { return Layout(paper, units).draw(); }

}  // namespace fadewright::report
