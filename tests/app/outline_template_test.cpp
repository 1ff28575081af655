// Full-size outlines, measured on the page as another program (poppler) renders it: a pixel is 0.1 mm.
#include "fadewright/app/commands.h"
#include "fadewright/base/files.h"
#include "pdf_tools.h"
#include "run_command.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

using namespace fadewright;
using test::bytes_of, test::command_output, test::scratch_file;

namespace {

// 300 mm wide is two A4 columns. The mask is not like its mirror image, and free in its middle.
const std::string kPlan =
    "plan = 1\ntitle = \"Lid\"\n[panel]\nwidth = \"300 mm\"\nheight = \"200 mm\"\n"
    "[masks.E]\nshape = { corners = [[\"40 mm\", \"50 mm\"], [\"110 mm\", \"50 mm\"], "
    "[\"80 mm\", \"120 mm\"], [\"40 mm\", \"150 mm\"]] }\n"
    "[[coats]]\nname = \"base\"\nmix = \"carbon-black\"\ngun = \"detail-gun-fan\"\nmasks = [\"E\"]\n"
    "[[coats.sweeps]]\nfrom = [\"-60 mm\", \"0 mm\"]\nto = [\"360 mm\", \"200 mm\"]\noverlap = \"50 %\"\n";

app::TemplateRequest template_request(const std::string& text = kPlan) {
    app::TemplateRequest request;
    request.plan = app::plan_file(scratch_file("template-plan.toml"));
    REQUIRE(write_file_atomic(request.plan.name, text));
    request.out = scratch_file("template.pdf");
    return request;
}

std::string written(const app::TemplateRequest& request) {
    const app::Outcome outcome = test::run(app::outline_template, request);
    INFO(outcome.err);
    REQUIRE(outcome.exit == app::Exit::ok);
    return request.out;
}

int darkness(const Picture& picture, int x, int y) {
    const std::uint8_t* p = picture.pixel(x, y);
    return 255 - std::min({p[0], p[1], p[2]});
}

// Centres of the dark runs along a row or a column, weighted by darkness, in mm. The frame round the window
// is too faint to count.
constexpr int kDark = 90;
template <class At>
std::vector<double> centres(int count, const At& at) {
    std::vector<double> found;
    double sum = 0, weight = 0;
    int maximum = 0;
    for (int i = 0; i < count; ++i) {
        const int dark = at(i);
        if (dark > 20) {
            sum += dark * (i + 0.5);
            weight += dark;
            maximum = std::max(maximum, dark);
        }
        if ((dark <= 20 || i + 1 == count) && weight > 0) {
            if (maximum > kDark) found.push_back(sum / weight / 10);
            sum = weight = maximum = 0;
        }
    }
    return found;
}

std::vector<double> in_row(const Picture& page, double y_mm) {
    return centres(page.width,
                   [&](int x) { return darkness(page, x, static_cast<int>(std::lround(10 * y_mm))); });
}
std::vector<double> in_column(const Picture& page, double x_mm, double down_to_mm) {
    return centres(static_cast<int>(10 * down_to_mm),
                   [&](int y) { return darkness(page, static_cast<int>(std::lround(10 * x_mm)), y); });
}

// How far right of the centre of its box the centre of gravity of a word is.
double asymmetry_mm(const std::string& pdf, const test::Word& word) {
    const Picture page = test::render_page(pdf, word.page);
    const auto px = [](double points) { return points * 254 / 72; };
    double sum = 0, weight = 0;
    for (int y = static_cast<int>(px(word.y0)); y < px(word.y1); ++y)
        for (int x = static_cast<int>(px(word.x0)); x < px(word.x1); ++x) {
            sum += darkness(page, x, y) * (x + 0.5);
            weight += darkness(page, x, y);
        }
    return (sum / weight - px((word.x0 + word.x1) / 2)) / 10;
}

constexpr double kA4Wide = 210, kWindowTop = 9, kWindowHigh = 255;

}  // namespace

TEST_CASE("a rectangle printed over two pages is as wide and as high as the piece", "[app][template][pdf]") {
    const std::string pdf = written(template_request());
    REQUIRE(test::page_count(pdf) == 2);
    const Picture left = test::render_page(pdf, 1), right = test::render_page(pdf, 2);
    // A row that meets the vertical edges and the vertical bars of the middle crosses.
    const double row = kWindowTop + kWindowHigh / 2 + 3;
    const std::vector<double> a = in_row(left, row), b = in_row(right, row);
    REQUIRE(a.size() == 4);  // edge, two sides of the mask, cross
    REQUIRE(b.size() == 2);  // cross, edge
    // The crosses are the same place of the piece.
    CHECK(a[3] - a[0] + b[1] - b[0] == Approx(300.0).margin(0.1));
    CHECK(a[1] - a[0] == Approx(40.0).margin(0.1));
    const std::vector<double> down = in_column(left, a[0] + 10, kWindowTop + kWindowHigh);
    REQUIRE(down.size() == 2);
    CHECK(down[1] - down[0] == Approx(200.0).margin(0.1));
    // On the page: the piece lies in the middle of all windows, which are 374 mm wide and 255 mm high.
    CHECK(a[0] == Approx(9 + (374 - 300) / 2.0).margin(0.1));
    CHECK(down[0] == Approx(kWindowTop + (kWindowHigh - 200) / 2).margin(0.1));
    CHECK(b[1] == Approx(kA4Wide - 9 - (374 - 300) / 2.0).margin(0.1));
}

TEST_CASE("mirrored, the outline is turned and the lettering is not", "[app][template][pdf]") {
    app::TemplateRequest request = template_request();
    const std::string plain = written(request);
    const std::vector<test::Word> as_seen = test::pdf_words(plain);
    const double row = kWindowTop + kWindowHigh / 2 + 3;
    const double edge = in_row(test::render_page(plain, 1), row)[0];
    request.out = scratch_file("mirrored.pdf");
    request.mirror = true;
    const std::string mirrored = written(request);
    const std::vector<double> right = in_row(test::render_page(mirrored, 2), row);
    REQUIRE(right.size() == 4);  // cross, two sides of the mask, edge
    CHECK(right[3] - right[2] == Approx(40.0).margin(0.1));
    CHECK(kA4Wide - right[3] == Approx(edge).margin(0.1));
    const auto named = [](const std::vector<test::Word>& words) {
        return *std::find_if(words.begin(), words.end(), [](const auto& w) { return w.text == "E"; });
    };
    const test::Word before = named(as_seen), after = named(test::pdf_words(mirrored));
    CHECK(before.page == 1);
    CHECK(after.page == 2);
    // The same letters: as wide, and as heavy on the same side.
    CHECK(after.x1 - after.x0 == Approx(before.x1 - before.x0).margin(0.01));
    const double asymmetry = asymmetry_mm(plain, before);
    CHECK(std::abs(asymmetry) > 0.08);
    CHECK(asymmetry_mm(mirrored, after) == Approx(asymmetry).margin(0.04));
    const std::string text = command_output("pdftotext -layout '" + mirrored + "' -");
    CHECK(text.find("row 1, column 2 of 1 × 2, mirrored") != std::string::npos);
}

TEST_CASE("every page of a template has its place, its paper's size and a bar of 100 mm or 4 in",
          "[app][template][pdf]") {
    app::TemplateRequest request = template_request();
    request.plan = app::plan_file(test::source_path("presets/plans/guitar-burst.toml"));
    for (const auto& [paper, box] : {std::pair{report::Paper::A4, "595.28   841.89"},
                                     std::pair{report::Paper::Letter, "612.00   792.00"}}) {
        request.paper = paper;
        const std::string pdf = written(request);
        REQUIRE(test::page_count(pdf) == 4);
        CHECK(
            command_output("qpdf --check '" + pdf + "'").find("No syntax or stream encoding errors found") !=
            std::string::npos);
        test::check_boxes_and_fonts(pdf, box);
        const std::string text = command_output("pdftotext -layout '" + pdf + "' -");
        for (const std::string words :
             {"row 1, column 1 of 2 × 2", "row 1, column 2 of 2 × 2", "row 2, column 1 of 2 × 2",
              "row 2, column 2 of 2 × 2", "mask bridge"}) {
            INFO(words);
            CHECK(text.find(words) != std::string::npos);
        }
        CHECK(test::overlapping_words(test::pdf_words(pdf)) == "");
    }
    constexpr int kFoot = 2550;  // below the outlines, on A4 and on Letter
    for (const report::Paper paper : {report::Paper::A4, report::Paper::Letter})
        for (const auto& [units, long_mm] :
             {std::pair{UnitSystem::metric, 100.0}, std::pair{UnitSystem::us, 4 * 25.4}}) {
            request.paper = paper;
            request.units = units;
            const std::string pdf = written(request);
            for (int page = 1; page <= 4; ++page) {
                INFO("page " << page << ", " << long_mm << " mm");
                const int rows = test::count_bar_rows(test::render_page(pdf, page), long_mm, kFoot);
                CHECK(rows >= 20);  // it is 2.2 mm high
                CHECK(rows <= 24);
            }
        }
}

TEST_CASE("one mask alone is printed on as many pages as it needs", "[app][template][pdf]") {
    app::TemplateRequest request = template_request();
    request.mask = "E";
    const std::string pdf = written(request);
    CHECK(test::page_count(pdf) == 1);
    const Picture page = test::render_page(pdf, 1);
    // Its lower edge, 70 mm long, lies 50 mm below the middle of the window; 1 mm over it 30/70 mm are
    // gone.
    const std::vector<double> across = in_row(page, kWindowTop + kWindowHigh / 2 + 49);
    REQUIRE(across.size() == 3);  // the panel's edge shows where the mask belongs
    CHECK(across[1] - across[0] == Approx(40.0).margin(0.1));
    CHECK(across[2] - across[1] == Approx(69.57).margin(0.1));
    request.mask = "F";
    const app::Outcome outcome = test::run(app::outline_template, request);
    CHECK(outcome.exit == app::Exit::usage_error);
    CHECK(outcome.err.find("masks: E") != std::string::npos);
}

TEST_CASE("the same plan gives the same template, byte for byte, and it tells no paths", "[app][template]") {
    const app::TemplateRequest request = template_request();
    const std::string once = bytes_of(written(request));
    CHECK(bytes_of(written(request)) == once);
    const std::string open = command_output("qpdf --qdf '" + request.out + "' -") +
                             command_output("pdfinfo '" + request.out + "'");
    CHECK(open.find("template-plan") == std::string::npos);
    CHECK(open.find(FW_BINARY_DIR) == std::string::npos);
}

TEST_CASE("a template is not written to a file that it cannot be, over the plan, or on hundreds of pages",
          "[app][template]") {
    app::TemplateRequest request = template_request();
    request.out = scratch_file("template.png");
    CHECK(test::run(app::outline_template, request).exit == app::Exit::usage_error);
    request.out = request.plan.name;
    CHECK(test::run(app::outline_template, request).exit == app::Exit::usage_error);
    CHECK(bytes_of(request.plan.name) == kPlan);
    const app::TemplateRequest hall =
        template_request("plan = 1\n[panel]\nwidth = \"9000 mm\"\nheight = \"9000 mm\"\n");
    const app::Outcome outcome = test::run(app::outline_template, hall);
    CHECK(outcome.exit == app::Exit::usage_error);
    CHECK(outcome.err.find("pages") != std::string::npos);
}
