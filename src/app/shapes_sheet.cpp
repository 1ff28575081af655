#include "shapes_sheet.h"

#include "fadewright/planner/resolve.h"
#include "fadewright/render/display_shape.h"
#include "fadewright/render/preview.h"
#include "fadewright/report/canvas.h"

#include <array>
#include <optional>
#include <string>
#include <vector>

namespace fadewright::app {
namespace {

constexpr int kShape_px = 330, kMargin_px = 30, kGap_px = 16, kCaption_px = 34, kHead_px = 96;
constexpr std::size_t kAcross = 2;  // paints in a row
constexpr const char* kCandyGround = "metallic-silver-medium";

// A transparent dye: needs a bright ground.
bool is_candy(const paint::Paint& paint) {
    return paint.role == paint::Role::transparent && paint::is_dye(paint);
}

plan::Coat even_coat(const std::string& mix, Micrometres film) {
    plan::Coat coat;
    coat.name = mix;
    coat.mix = {mix, {}};
    coat.even_coat = plan::EvenCoat{film};
    return coat;
}

std::optional<Picture> render_shape(plan::Library& library, const colour::Illuminant& light,
                                    const std::vector<plan::Coat>& coats, const std::string& ground) {
    plan::Plan plan;
    plan.panel.width = Millimetres{300};
    plan.panel.height = Millimetres{125};
    plan.panel.ground = {ground, {}};
    plan.coats = coats;
    plan.coats.push_back(even_coat("gloss-clear", Micrometres{50}));
    const std::optional<plan::Job> job = planner::resolve(std::move(plan), library).job;
    if (!job) return std::nullopt;
    const plan::Job shaped = render::with_shape(*job, render::DisplayShape::speed_shape);
    render::PreviewSettings settings;
    settings.longest_px = kShape_px;
    settings.margin = Millimetres{8};
    settings.viewing = render::shape_viewing();
    settings.exposure = render::max_exposure_without_clipping(shaped, light, settings);
    return render::preview(shaped, light, colour::OutputProfile::srgb(), settings).picture;
}

}  // namespace

Picture shapes_sheet(plan::Library& library, const colour::Illuminant& light) {
    struct PaintShapes {
        std::string title;
        std::array<Picture, 2> over;  // black, white; of a candy: black, silver
    };
    std::vector<PaintShapes> all;
    Diagnostics diagnostics;
    for (const std::string& name : library.names(plan::LibraryKind::paints)) {
        const paint::Paint* paint = library.paint(name, diagnostics);
        if (!paint || (paint->flakes.empty() && !is_candy(*paint))) continue;
        const plan::Coat coats = even_coat(name, 3 * paint->coat_film);
        std::vector<plan::Coat> second{coats};
        if (is_candy(*paint)) second.insert(second.begin(), even_coat(kCandyGround, Micrometres{16}));
        auto black = render_shape(library, light, {coats}, "black-sealer");
        auto bright =
            render_shape(library, light, second, is_candy(*paint) ? "black-sealer" : "white-primer");
        if (black && bright) all.push_back({paint->title, {std::move(*black), std::move(*bright)}});
    }
    if (all.empty()) return report::Canvas(200, 100).picture();
    const int high = all.front().over[0].height;
    const std::size_t rows = (all.size() + kAcross - 1) / kAcross;
    const int column = 2 * kShape_px + 3 * kGap_px;
    report::Canvas canvas(2 * kMargin_px + static_cast<int>(kAcross) * column,
                          kHead_px + static_cast<int>(rows) * (high + kCaption_px) + kMargin_px);
    canvas.text(kMargin_px, 34, "Three coats over black and over white, under clear",
                {28, report::kInk, report::Align::left, report::Weight::bold});
    canvas.text(kMargin_px, 70,
                "Candies: over black, and over medium silver. Each picture has its own exposure.",
                {19, report::kFaintInk});
    for (std::size_t i = 0; i < all.size(); ++i) {
        const std::size_t row = i / kAcross;
        const double x = kMargin_px + static_cast<double>(i % kAcross) * column;
        const double y = kHead_px + static_cast<double>(row) * (high + kCaption_px);
        canvas.text(x, y + 14, all[i].title, {20});
        canvas.draw_picture(x, y + kCaption_px - 4, all[i].over[0]);
        canvas.draw_picture(x + kShape_px + kGap_px, y + kCaption_px - 4, all[i].over[1]);
    }
    return canvas.picture();
}

}  // namespace fadewright::app
