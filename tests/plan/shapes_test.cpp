// Shapes, drawings and reliefs of a plan.
#include "fadewright/plan/shapes.h"

#include "preset_library.h"

#include <catch2/catch.hpp>

#include <variant>

using namespace fadewright;
using namespace fadewright::plan;

namespace {

Point at(double x, double y) { return {Millimetres{x}, Millimetres{y}}; }

Shape corners(std::vector<Point> points) {
    Shape shape;
    shape.corners = std::move(points);
    return shape;
}

spray::Panel panel(double width, double height) {
    return {Millimetres{width}, Millimetres{height}, {}, nullptr, nullptr};
}

std::string only_rule(const ShapeReader& reader) {
    const auto list = reader.mistakes().sorted_list();
    REQUIRE(list.size() == 1);
    return list[0].rule;
}

}  // namespace

TEST_CASE("corners enclose their area", "[plan][shapes]") {
    Library library = test::preset_library();
    ShapeReader reader(nullptr, library);
    const auto drawn = reader.read(corners({at(10, 20), at(110, 20), at(110, 70), at(10, 70)}));
    REQUIRE(drawn);
    CHECK(drawn->outline.area_m2() == Approx(100 * 50 * 1e-6));
    CHECK(drawn->width.value == Approx(110));
    CHECK(drawn->height.value == Approx(70));
    CHECK(reader.mistakes().empty());
}

TEST_CASE("a shape without a line, without area or with a crossing is a mistake", "[plan][shapes]") {
    Library library = test::preset_library();
    SECTION("no line") {
        ShapeReader reader(nullptr, library);
        CHECK_FALSE(reader.read(Shape{}));
        CHECK(only_rule(reader) == "P020");
    }
    SECTION("no area") {
        ShapeReader reader(nullptr, library);
        CHECK_FALSE(reader.read(corners({at(0, 0), at(10, 0), at(20, 0)})));
        CHECK(only_rule(reader) == "P020");
    }
    SECTION("crossing") {
        ShapeReader reader(nullptr, library);
        CHECK_FALSE(reader.read(corners({at(0, 0), at(100, 100), at(100, 0), at(0, 50)})));
        CHECK(only_rule(reader) == "P032");
    }
    SECTION("outside the folder") {
        ShapeReader reader(nullptr, library);
        Shape shape;
        shape.drawing = "../star.svg";
        CHECK_FALSE(reader.read(shape));
        CHECK(only_rule(reader) == "P019");
    }
}

TEST_CASE("a shape with unread fields gives nothing and no mistake", "[plan][shapes]") {
    Library library = test::preset_library();
    Shape shape;
    shape.span = {std::make_shared<Source>("plan", "shape"), 0, 5};
    UnreadFields unread;
    unread.add_field(shape.span, "corners");
    ShapeReader reader(nullptr, library, UnitSystem::metric, unread);
    CHECK_FALSE(reader.read(shape));
    CHECK(reader.mistakes().empty());
}

TEST_CASE("a drawing of the library is found from every folder", "[plan][shapes]") {
    Library library = test::preset_library();
    REQUIRE_FALSE(library.drawings().empty());
    Shape shape;
    shape.drawing = library.drawings().front();
    shape.width = Millimetres{300};
    ShapeReader reader(nullptr, library);
    const auto first = reader.read(shape), second = reader.read(shape);
    INFO(to_text(reader.mistakes()));
    REQUIRE(first);
    REQUIRE(second);
    CHECK(first->outline.area_m2() > 0);
    CHECK(second->outline.area_m2() == first->outline.area_m2());
}

TEST_CASE("a relief needs its dimensions, and a round edge more width than depth", "[plan][shapes]") {
    Library library = test::preset_library();
    ShapeReader reader(nullptr, library);
    Relief bevel;
    bevel.kind = ReliefKind::bevel;
    bevel.width = Millimetres{10};
    CHECK_FALSE(reader.read(bevel, panel(300, 200)));
    CHECK(only_rule(reader) == "P021");
    bevel.depth = Millimetres{6};
    const auto part = reader.read(bevel, panel(300, 200));
    REQUIRE(part);
    CHECK(std::holds_alternative<spray::Bevel>(*part));
    bevel.profile = Profile::round;
    bevel.depth = Millimetres{11};
    CHECK_FALSE(reader.read(bevel, panel(300, 200)));
}

TEST_CASE("grooves of one size become one, others stay apart", "[plan][shapes]") {
    Library library = test::preset_library();
    ShapeReader reader(nullptr, library);
    const auto groove = [&](double y, double depth) {
        Relief relief;
        relief.kind = ReliefKind::groove;
        relief.width = Millimetres{10};
        relief.depth = Millimetres{depth};
        relief.line = {at(0, y), at(300, y)};
        return reader.read(relief, panel(300, 200)).value();
    };
    const auto merged = merge_grooves({groove(50, 4), groove(90, 5), groove(150, 4)});
    REQUIRE(merged.size() == 2);
    CHECK(std::get<spray::Groove>(merged[0]).lines.polylines().size() == 2);
    CHECK(std::get<spray::Groove>(merged[1]).lines.polylines().size() == 1);
}
