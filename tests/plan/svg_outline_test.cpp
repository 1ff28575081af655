#include "fadewright/plan/svg_outline.h"

#include "fadewright/base/random.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

using namespace fadewright;
using namespace fadewright::plan;
using Catch::Matchers::Contains;
using geometry::Outline;
using geometry::PlanePoint;

namespace {

constexpr double kPi = std::numbers::pi;
constexpr double kSquare_mm = 300.0 / kTraceSquares;  // of the drawings below
constexpr double kEdge_mm = kTraceAccuracy * kSquare_mm;
// A circle of four cubic curves with the usual handles is up to 2.7e-4 too large, 1.3e-4 in the mean.
constexpr double kCircleExcess = 2.8e-4;

std::string svg(const std::string& size, const std::string& content) {
    return "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\" " + size +
           ">" + content + "</svg>";
}

std::string on_300_by_200(const std::string& content) {
    return svg("width=\"300mm\" height=\"200mm\" viewBox=\"0 0 300 200\"", content);
}

DrawnOutline outline_of(const std::string& bytes, const SvgOptions& options = {}) {
    const Result<DrawnOutline> result = outline_from_svg(bytes, "shape.svg", options);
    if (!result) FAIL(result.error().message);
    return result.value();
}

std::string refusal(const std::string& bytes, const SvgOptions& options = {}) {
    const Result<DrawnOutline> result = outline_from_svg(bytes, "shape.svg", options);
    return result ? "taken" : result.error().message;
}

// A corner on the centres of squares ends where it is half a square wide, one between two rows of squares
// where it is one square wide. The traced line is within half a square of that.
double blunting_mm(const geometry::Ring& ring, std::size_t i) {
    const PlanePoint& corner_mm = ring[i];
    const PlanePoint& before = ring[(i + ring.size() - 1) % ring.size()];
    const PlanePoint& after = ring[(i + 1) % ring.size()];
    const double turn = std::atan2(after.y_mm - corner_mm.y_mm, after.x_mm - corner_mm.x_mm) -
                        std::atan2(before.y_mm - corner_mm.y_mm, before.x_mm - corner_mm.x_mm);
    const double angle = std::acos(std::cos(turn));
    return kSquare_mm * (0.5 + 0.5 / std::tan(angle / 2));
}

}  // namespace

TEST_CASE("a drawn rectangle has its position and size", "[plan][svg]") {
    const DrawnOutline d = outline_of(
        on_300_by_200("<rect x=\"20.013\" y=\"10.007\" width=\"150.02\" height=\"100.03\" fill=\"red\"/>"));
    CHECK(d.width.value == Approx(300));
    CHECK(d.height.value == Approx(200));
    REQUIRE(d.outline.rings().size() == 1);
    CHECK(d.outline.area_m2() * 1e6 == Approx(150.02 * 100.03).margin(kEdge_mm * 2 * 250.05));
    const geometry::Box box = d.outline.bounds();
    CHECK(box.x0 == Approx(20.013).margin(kEdge_mm));
    CHECK(box.x1 == Approx(170.033).margin(kEdge_mm));
    CHECK(box.y0 == Approx(200 - 110.037).margin(kEdge_mm));  // y points up
    CHECK(box.y1 == Approx(200 - 10.007).margin(kEdge_mm));
    CHECK(d.outline.rings()[0].size() <= 12);
}

TEST_CASE("a drawn circle is a circle", "[plan][svg]") {
    const Outline circle = outline_of(on_300_by_200("<circle cx=\"150\" cy=\"90\" r=\"80\"/>")).outline;
    const double area = kPi * 80 * 80;
    CHECK(circle.area_m2() * 1e6 == Approx(area * (1 + kCircleExcess)).margin(area * kCircleExcess));
    double min = 1e9, max = 0;
    for (const PlanePoint& c : circle.rings().at(0)) {
        const double radius = std::hypot(c.x_mm - 150, c.y_mm - 110);
        min = std::min(min, radius);
        max = std::max(max, radius);
    }
    CHECK(min > 80 - kEdge_mm);
    CHECK(max < 80 * (1 + kCircleExcess) + kEdge_mm);
}

TEST_CASE("a path of straight segments keeps every edge within the stated part of a square", "[plan][svg]") {
    for (std::uint64_t seed = 1; seed <= 6; ++seed) {
        geometry::Ring ring;
        std::string path;
        for (int i = 0; i < 14; ++i) {
            const auto k = static_cast<std::uint64_t>(i);
            const double r = 30 + 65 * uniform01(seed, 1, k);
            const double x = 150 + r * std::cos(2 * kPi * i / 14), y = 100 + r * std::sin(2 * kPi * i / 14);
            ring.push_back({x, 200 - y});
            path += (i == 0 ? "M" : "L") + std::to_string(x) + " " + std::to_string(y) + " ";
        }
        const Outline exact({ring});
        const Outline traced = outline_of(on_300_by_200("<path d=\"" + path + "Z\"/>")).outline;
        CHECK(traced.area_m2() * 1e6 ==
              Approx(exact.area_m2() * 1e6).margin(exact.length_mm() * 0.1 * kEdge_mm));
        // Corners of the trace are on the exact edges and, except for rounded corners, vice versa.
        double worst = 0, max_blunting = 0;
        for (const PlanePoint& c : traced.rings().at(0)) {
            const double off = std::abs(exact.signed_distance_mm(c.x_mm, c.y_mm));
            double to_corner = 1e9;
            for (const PlanePoint& e : ring)
                to_corner = std::min(to_corner, std::hypot(c.x_mm - e.x_mm, c.y_mm - e.y_mm));
            (to_corner > 3 * kSquare_mm ? worst : max_blunting) =
                std::max(to_corner > 3 * kSquare_mm ? worst : max_blunting, off);
        }
        CHECK(worst < kEdge_mm);
        CHECK(max_blunting < kSquare_mm);
        for (std::size_t i = 0; i < ring.size(); ++i)
            CHECK(std::abs(traced.signed_distance_mm(ring[i].x_mm, ring[i].y_mm)) < blunting_mm(ring, i));
    }
}

TEST_CASE("holes and several areas come out as rings", "[plan][svg]") {
    const Outline stroked =
        outline_of(on_300_by_200("<circle cx=\"150\" cy=\"100\" r=\"80\" fill=\"none\" stroke=\"blue\" "
                                 "stroke-width=\"10\"/>"))
            .outline;
    REQUIRE(stroked.rings().size() == 2);
    CHECK(stroked.area_m2() * 1e6 == Approx(2 * kPi * 80 * 10).epsilon(2 * kCircleExcess));
    CHECK_FALSE(stroked.inside(150, 100));
    CHECK(stroked.inside(150, 20));
    const Outline with_hole =
        outline_of(on_300_by_200("<path fill-rule=\"evenodd\" d=\"M10 10H110V110H10Z M30 30H60V60H30Z\"/>"
                                 "<rect x=\"200\" y=\"50\" width=\"20\" height=\"30\"/>"))
            .outline;
    CHECK(with_hole.rings().size() == 3);
    CHECK(with_hole.area_m2() * 1e6 == Approx(10000 - 900 + 600).margin(kEdge_mm * 620));
    CHECK_FALSE(with_hole.inside(45, 200 - 45));
    CHECK(with_hole.inside(210, 200 - 65));
}

TEST_CASE("colour does not matter, but nearly transparent shapes are ignored", "[plan][svg]") {
    const Outline shapes =
        outline_of(on_300_by_200("<rect x=\"10\" y=\"10\" width=\"50\" height=\"50\" fill=\"white\"/>"
                                 "<rect x=\"100\" y=\"10\" width=\"50\" height=\"50\" opacity=\"0.6\"/>"
                                 "<rect x=\"200\" y=\"10\" width=\"50\" height=\"50\" opacity=\"0.4\"/>"))
            .outline;
    CHECK(shapes.inside(35, 165));
    CHECK(shapes.inside(125, 165));
    CHECK_FALSE(shapes.inside(225, 165));
}

TEST_CASE("a drawing's own units are understood", "[plan][svg]") {
    struct Case {
        std::string size;
        double width, height;
    };
    const auto unit = GENERATE(values<Case>({{"width=\"120mm\" height=\"60mm\"", 120, 60},
                                             {"width=\"12cm\" height=\"6cm\"", 120, 60},
                                             {"width=\"4in\" height=\"2in\"", 101.6, 50.8},
                                             {"width=\"960px\" height=\"480px\"", 254, 127},
                                             {"width=\"960\" height=\"480\"", 254, 127},
                                             {"width=\"144pt\" height=\"72pt\"", 50.8, 25.4},
                                             {"width=\"12pc\" height=\"6pc\"", 50.8, 25.4},
                                             {"width=\"80mm\"", 80, 40},
                                             {"height=\"80mm\"", 160, 80}}));
    const DrawnOutline d = outline_of(
        svg(unit.size + " viewBox=\"0 0 10 5\"", "<rect x=\"1\" y=\"1\" width=\"4\" height=\"2\"/>"));
    CHECK(d.width.value == Approx(unit.width));
    CHECK(d.height.value == Approx(unit.height));
    const geometry::Box box = d.outline.bounds();
    CHECK(box.x0 == Approx(unit.width * 0.1).margin(unit.width / kTraceSquares));
    CHECK(box.x1 == Approx(unit.width * 0.5).margin(unit.width / kTraceSquares));
    CHECK(box.y1 == Approx(unit.height * 0.8).margin(unit.width / kTraceSquares));
}

TEST_CASE("a drawing gets the requested width", "[plan][svg]") {
    const std::string without_size =
        svg("viewBox=\"0 0 30 20\"", "<rect x=\"3\" y=\"2\" width=\"24\" height=\"16\" rx=\"1\"/>");
    CHECK_THAT(refusal(without_size), Contains("has no true size") && Contains("width=\"300mm\""));
    const DrawnOutline d = outline_of(without_size, {"", Millimetres{600}});
    CHECK(d.height.value == Approx(400));
    CHECK(d.outline.bounds().x0 == Approx(60).margin(600.0 / kTraceSquares));
    const DrawnOutline smaller =
        outline_of(on_300_by_200("<rect width=\"30\" height=\"20\"/>"), {"", Millimetres{150}});
    CHECK(smaller.height.value == Approx(100));
    CHECK(smaller.outline.area_m2() == Approx(150e-6).epsilon(1e-3));
    CHECK_THAT(refusal(svg("width=\"50%\" viewBox=\"0 0 30 20\"", "<rect width=\"3\" height=\"2\"/>")),
               Contains("has no true size"));
    CHECK_THAT(refusal(svg("", "<rect width=\"3\" height=\"2\"/>"), {"", Millimetres{600}}),
               Contains("viewBox"));
}

TEST_CASE("one element is selected by its id, in its position", "[plan][svg]") {
    const std::string file = on_300_by_200(
        "<rect id=\"panel\" width=\"300\" height=\"200\"/>"
        "<g transform=\"translate(100,20)\"><g id=\"letters\" fill=\"red\"><rect width=\"30\" height=\"20\"/>"
        "<rect x=\"50\" width=\"30\" height=\"20\"/></g></g>");
    CHECK(outline_of(file).outline.rings().size() == 1);
    for (const std::string id : {"letters", "#letters"}) {
        const DrawnOutline letters = outline_of(file, {id, {}});
        CHECK(letters.width.value == Approx(300));
        REQUIRE(letters.outline.rings().size() == 2);
        CHECK(letters.outline.bounds().x0 == Approx(100).margin(kEdge_mm));
        CHECK(letters.outline.bounds().y1 == Approx(180).margin(kEdge_mm));
        CHECK(letters.outline.area_m2() * 1e6 == Approx(1200).margin(kEdge_mm * 200));
    }
    CHECK(outline_of(file, {"panel", {}}).outline.area_m2() == Approx(0.06).epsilon(1e-4));
    CHECK(refusal(file, {"leters", {}}) == "shape.svg has no element #leters: there are #panel, #letters");
    CHECK_THAT(refusal(on_300_by_200("<rect width=\"3\" height=\"2\"/>"), {"a", {}}),
               Contains("none of its elements has an id"));
}

TEST_CASE("a drawing is cut off at the edge of its box", "[plan][svg]") {
    const DrawnOutline d =
        outline_of(on_300_by_200("<rect x=\"-50\" y=\"-50\" width=\"400\" height=\"400\"/>"));
    const geometry::Box box = d.outline.bounds();
    CHECK(box.x0 == Approx(0).margin(kEdge_mm));
    CHECK(box.y0 == Approx(0).margin(kEdge_mm));
    CHECK(box.x1 == Approx(300).margin(kEdge_mm));
    CHECK(box.y1 == Approx(200).margin(kEdge_mm));
}

TEST_CASE("references outside the drawing are errors", "[plan][svg]") {
    const std::string rect = "<rect width=\"30\" height=\"20\"/>";
    CHECK_THAT(refusal(on_300_by_200(rect + "<image xlink:href=\"photo.png\" width=\"9\" height=\"9\"/>")),
               Contains("photo.png"));
    CHECK_THAT(refusal(on_300_by_200("<use href=\"other.svg#part\"/>")), Contains("other.svg#part"));
    CHECK_THAT(refusal(on_300_by_200("<style>@import url(\"a.css\");</style>" + rect)), Contains("a.css"));
    CHECK_THAT(
        refusal(on_300_by_200("<style><![CDATA[ g > rect { fill: url('b.svg#c') } ]]></style>" + rect)),
        Contains("b.svg#c, which is outside"));
    CHECK_THAT(refusal(on_300_by_200("<rect width=\"3\" height=\"2\" style=\"fill:url(http://a/b#c)\"/>")),
               Contains("http://a/b#c"));
    // However it is written.
    CHECK_THAT(
        refusal(on_300_by_200("<rect width=\"3\" height=\"2\" style=\"fill:u&#114;l(other.svg#a)\"/>")),
        Contains("refers to other.svg#a, which is outside"));
    CHECK_THAT(refusal(on_300_by_200("<style>rect{fill:u&#x72;l(a.svg#b)}</style>" + rect)),
               Contains("refers to a.svg#b,"));
    CHECK_THAT(refusal(on_300_by_200("<style>rect{fill:u<![CDATA[rl(a.svg#b)}]]></style>" + rect)),
               Contains("refers to a.svg#b,"));
    CHECK_THAT(refusal(on_300_by_200("<use xlink:href=\"oth&#101;r.svg&#35;part\"/>")),
               Contains("other.svg#part"));
    CHECK_THAT(refusal(on_300_by_200(rect + "<text>AB</text>")), Contains("convert it to paths"));
    // References within the drawing, or outside the rendered part, are allowed.
    CHECK(refusal("<!DOCTYPE svg PUBLIC \"-//W3C//DTD SVG 1.1//EN\" "
                  "\"http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd\">" +
                  on_300_by_200("<!-- <image href=\"x.png\"/> --><defs><clipPath id=\"c\">" + rect +
                                "</clipPath></defs><a xlink:href=\"http://a/b\"><g clip-path=\"url(#c)\">" +
                                rect + "</g></a><use xlink:href=\"#c\"/>")) == "taken");
    // Text outside the selected element is ignored.
    CHECK(refusal(
              on_300_by_200("<g><text id=\"note\">AB</text></g><rect id=\"r\" width=\"30\" height=\"20\"/>"),
              {"r", {}}) == "taken");
    CHECK_THAT(refusal(on_300_by_200("<g id=\"r\">" + rect + "<g><text>AB</text></g></g>"), {"r", {}}),
               Contains("convert it to paths"));
}

TEST_CASE("declarations that can hide references are errors", "[plan][svg]") {
    const std::string rect = "<rect width=\"30\" height=\"20\" style=\"fill:&f;\"/>";
    CHECK_THAT(refusal("<!DOCTYPE svg [ <!ENTITY f \"url(other.svg#a)\"> ]>" + on_300_by_200(rect)),
               Contains("has ENTITY in its DOCTYPE, which can hide references"));
    CHECK_THAT(refusal("<?xml version=\"1.0\"?>\n<!DOCTYPE svg [\n"
                       "<!ATTLIST rect style CDATA \"fill:url(other.svg#a)\">]>" +
                       on_300_by_200("<rect width=\"30\" height=\"20\"/>")),
               Contains("has ATTLIST in its DOCTYPE"));
}

TEST_CASE("an id is found however it is written", "[plan][svg]") {
    const std::string file = on_300_by_200(
        "<rect width=\"30\" height=\"20\" id=\"a&amp;b\"/><rect width=\"9\" height=\"9\" id=\"&#99;\"/>");
    CHECK(outline_of(file, {"a&b", {}}).outline.area_m2() == Approx(600e-6).epsilon(1e-3));
    CHECK(outline_of(file, {"#c", {}}).outline.area_m2() == Approx(81e-6).epsilon(1e-3));
    CHECK(refusal(file, {"b", {}}) == "shape.svg has no element #b: there are #a&b, #c");
    // Text inside that element is found too.
    CHECK_THAT(
        refusal(on_300_by_200("<g id=\"a&amp;b\"><rect width=\"30\" height=\"20\"/><text>AB</text></g>"),
                {"a&b", {}}),
        Contains("convert it to paths"));
}

TEST_CASE("damaged, empty and absurd drawings are errors with a reason", "[plan][svg]") {
    CHECK_THAT(refusal(""), Contains("cannot read shape.svg"));
    CHECK_THAT(refusal("not a drawing"), Contains("cannot read shape.svg"));
    CHECK_THAT(refusal(on_300_by_200("<rect").substr(0, 90)), Contains("cannot read shape.svg"));
    CHECK_THAT(refusal("<svg><rect/>"), Contains("line 1"));
    CHECK_THAT(refusal("\x1f\x8b\x08 packed"), Contains("decompress it"));
    CHECK_THAT(refusal(std::string("<\0s\0v\0g\0", 8)), Contains("UTF-8"));
    CHECK_THAT(refusal(on_300_by_200("")), Contains("has no visible shape"));
    CHECK_THAT(refusal(on_300_by_200("<rect x=\"400\" width=\"10\" height=\"10\"/>")),
               Contains("has no visible shape"));
    CHECK_THAT(refusal(svg("width=\"20000mm\" height=\"5mm\"", "<rect width=\"9\" height=\"9\"/>")),
               Contains("at most"));
    CHECK_THAT(refusal(svg("width=\"1000mm\" height=\"0.1mm\"", "<rect width=\"9\" height=\"9\"/>")),
               Contains("too thin"));
    CHECK_THAT(refusal(svg("width=\"0mm\" height=\"5mm\"", "<rect width=\"9\" height=\"9\"/>")),
               Contains("has no true size"));
    CHECK_THAT(refusal(std::string(kLargestSvg_bytes + 1, ' ')), Contains("larger than"));
}

TEST_CASE("any truncated drawing is read or refused without a crash", "[plan][svg]") {
    const std::string whole_drawing = on_300_by_200(
        "<!-- a --><style><![CDATA[x{fill:url(#a)}]]></style><g id='q'><path d=\"M1 1H200V90Z\" /></g>");
    for (std::size_t length = 0; length < whole_drawing.size(); length += 3)
        CHECK_THAT(refusal(whole_drawing.substr(0, length)), Contains("shape.svg"));
}
