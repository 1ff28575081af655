#include "fadewright/text/schema.h"
#include "fadewright/text/reference.h"

#include <catch2/catch.hpp>

namespace {

using namespace fadewright;

enum class Kind { round, fan };
enum class Surface { gloss, matt, mid_grey, centre, aluminium };
enum class ViewField { two, ten };

struct Pass {
    Millimetres distance = 150_mm;
    MillimetresPerSecond speed;
    int repeats = 1;
    Kind kind = Kind::fan;
    std::optional<Degrees> heel_angle;
    std::vector<double> weights;
    friend bool operator==(const Pass&, const Pass&) = default;
};

struct Job {
    std::string title;
    std::vector<Pass> passes;
    std::vector<Named<Pass>> named;
    bool dry = false;
    Surface surface = Surface::gloss;
    ViewField observer = ViewField::two;
    friend bool operator==(const Job&, const Job&) = default;
};

}  // namespace

namespace fadewright {
template <>
struct Names<Kind> {
    static constexpr std::array<std::pair<Kind, std::string_view>, 2> list{
        {{Kind::round, "round"}, {Kind::fan, "fan"}}};
};
template <>
struct Names<Surface> {
    static constexpr std::array<std::pair<Surface, std::string_view>, 5> list{
        {{Surface::gloss, "gloss"},
         {Surface::matt, "matt"},
         {Surface::mid_grey, "mid-grey"},
         {Surface::centre, "centre"},
         {Surface::aluminium, "aluminium"}}};
};
template <>
struct Names<ViewField> {
    static constexpr std::array<std::pair<ViewField, std::string_view>, 2> list{
        {{ViewField::two, "2"}, {ViewField::ten, "10"}}};
    static constexpr bool integers = true;
};
template <>
struct Schema<Pass> {
    static constexpr std::string_view name = "pass";
    static constexpr std::string_view about = "a test pass";
    static constexpr auto fields =
        Fields{Field{"distance", &Pass::distance, optional, range(50_mm, 600_mm), "nozzle to panel"},
               Field{"speed", &Pass::speed, required, range(20_mm_s, 2000_mm_s), "travel"},
               Field{"repeats", &Pass::repeats, optional, range(1, 50), "times"},
               Field{"kind", &Pass::kind, optional, "shape"},
               Field{"heel_angle", &Pass::heel_angle, optional, range(0_deg, 60_deg), "tilt to the side"},
               Field{"weights", &Pass::weights, optional, items(0, 3, range(0.0, 1.0)), "weights"}};
};
template <>
struct Schema<Job> {
    static constexpr std::string_view name = "job";
    static constexpr std::string_view about = "a test job";
    static constexpr auto fields = Fields{Field{"title", &Job::title, required, "what it is"},
                                          Field{"dry", &Job::dry, optional, "no paint"},
                                          Field{"surface", &Job::surface, optional, "last coat"},
                                          Field{"observer", &Job::observer, optional, "standard observer"},
                                          Field{"passes", &Job::passes, optional, "passes"},
                                          Field{"named", &Job::named, optional, "named passes"}};
};
}  // namespace fadewright

namespace {

struct ReadJob {
    Job job;
    bool ok = false;
    Diagnostics diagnostics;
};

ReadJob read_job(const std::string& text) {
    ReadJob result;
    const auto tree = read_toml(std::make_shared<Source>("job.toml", text), result.diagnostics);
    result.ok = tree && read_struct(*tree, result.job, result.diagnostics);
    return result;
}

}  // namespace

TEST_CASE("a struct read, printed canonically and read again is equal", "[text]") {
    const ReadJob first = read_job(R"(
title = "a \"job\""
dry = true
[[passes]]
speed = "0.4 m/s"
distance = "6 in"
heel_angle = "10 deg"
weights = [0.1, 1]
[[passes]]
speed = "16 in/s"
kind = "round"
[named.one]
speed = "100 mm/s"
)");
    INFO(to_text(first.diagnostics));
    REQUIRE(first.ok);
    CHECK(first.job.passes.at(0).distance.value == Approx(152.4));
    CHECK(first.job.passes.at(0).speed.value == Approx(400));
    const ReadJob second = read_job(canonical_text(first.job));
    INFO(canonical_text(first.job));
    REQUIRE(second.ok);
    CHECK(second.job == first.job);
    CHECK(canonical_text(second.job) == canonical_text(first.job));
}

TEST_CASE("four errors are reported in one run, each with its position and a hint", "[text]") {
    const ReadJob read = read_job(
        "title = \"x\"\n[[passes]]\ndistanse = \"6 in\"\nspeed = \"400 mm\"\nheel_angle = \"75 deg\"\nrepeats = "
        "1.5\n");
    CHECK_FALSE(read.ok);
    CHECK(to_text(read.diagnostics) ==
          R"(job.toml:3:1: error: unknown name 'distanse' in pass [T022]
distanse = "6 in"
^~~~~~~~
hint: did you mean 'distance'?
job.toml:4:14: error: 'mm' is not a unit of this kind [T011]
speed = "400 mm"
             ^~
hint: write one of: mm/s, cm/s, m/s, in/s, ft/min
job.toml:5:14: error: heel_angle is 75 deg: too large [T020]
heel_angle = "75 deg"
             ^~~~~~~~
hint: allowed: 0° to 60° (tilt to the side)
job.toml:6:11: error: 'repeats' is not a whole number [T012]
repeats = 1.5
          ^~~
hint: write a whole number without quotes: 1 to 50 (times)
)");
}

TEST_CASE("a syntax error does not hide the errors on other lines", "[text]") {
    const ReadJob read = read_job("title = \"x\n[[passes]]\nspeed = 400\nheel_angle = = 3\n");
    const std::string text = to_text(read.diagnostics);
    INFO(text);
    CHECK(text.find("job.toml:1:") != std::string::npos);
    CHECK(text.find("job.toml:4:") != std::string::npos);
    CHECK(text.find("'speed' has no unit [T010]") != std::string::npos);
    CHECK(text.find("needs 'title'") == std::string::npos);
}

TEST_CASE("NaN and infinity are never accepted as numbers", "[text]") {
    const ReadJob read = read_job("title = \"x\"\n[[passes]]\nspeed = \"nan mm/s\"\nweights = [nan, inf]\n");
    const std::string text = to_text(read.diagnostics);
    INFO(text);
    CHECK(read.diagnostics.error_count() == 3);
}

TEST_CASE("the reference names every field once with its default", "[text]") {
    const std::string text = reference_markdown(reference_tables<Job>());
    INFO(text);
    CHECK(
        text.find("| `distance` | quantity in mm, cm, m, in, ft | 50 mm to 600 mm | `\"150 mm\"` | nozzle to "
                  "panel |") != std::string::npos);
    CHECK(text.find("| `speed` | quantity in mm/s, cm/s, m/s, in/s, ft/min | 20 mm/s to 2000 mm/s | required "
                    "| travel |") != std::string::npos);
    CHECK(text.find("## pass") == text.rfind("## pass"));
}

TEST_CASE("quantities print in the shortest form that reads back equal", "[text]") {
    CHECK(to_text(Millimetres{152.4}) == "152.4 mm");
    CHECK(to_text(Share{0.07}) == "7 %");
    CHECK(to_text(Share{1.0 / 3}) != "33.333 %");
    Diagnostics none;
    for (const double v : {0.1, 1.0 / 3, 0.07, 0.29, 1e-7}) {
        const auto back = read_quantity(to_text(Share{v}), {}, units_of<Share>(), none);
        REQUIRE(back);
        CHECK(*back == Approx(v).epsilon(1e-15));
    }
}

TEST_CASE("every unit reads by its published factor", "[text][published]") {
    // Source: [nistSP811] app. B.8.
    Diagnostics none;
    const auto read = [&](const char* text, std::span<const Unit> units) {
        return read_quantity(text, {}, units, none).value();
    };
    CHECK(read("1 in", units_of<Millimetres>()) == Approx(25.4).epsilon(1e-12));
    CHECK(read("1 mil", units_of<Micrometres>()) == Approx(25.4).epsilon(1e-12));
    CHECK(read("1 fl oz", units_of<Millilitres>()) == Approx(29.57353).epsilon(1e-6));
    CHECK(read("1 oz", units_of<Grams>()) == Approx(28.34952).epsilon(1e-6));
    CHECK(read("1 psi", units_of<Bar>()) == Approx(0.06894757).epsilon(1e-6));
    CHECK(read("100 kPa", units_of<Bar>()) == Approx(1).epsilon(1e-12));
    CHECK(read("68 °F", units_of<Celsius>()) == Approx(20).epsilon(1e-12));
    CHECK(read("25 %", units_of<Share>()) == Approx(0.25).epsilon(1e-12));
}

TEST_CASE("a similar name is suggested and a different one is not", "[text]") {
    const std::vector<std::string> names{"distance", "speed", "overlap"};
    CHECK(closest_name("distanse", names) == "distance");
    CHECK(closest_name("pseed", names) == "speed");
    CHECK(closest_name("thickness", names).empty());
}

TEST_CASE("American spellings of enumerator values are accepted", "[text]") {
    using Pair = std::pair<const char*, Surface>;
    for (const auto& [written, surface] :
         {Pair{"matt", Surface::matt}, Pair{"matte", Surface::matt}, Pair{"mid-gray", Surface::mid_grey},
          Pair{"mid-grey", Surface::mid_grey}, Pair{"center", Surface::centre},
          Pair{"aluminum", Surface::aluminium}}) {
        const ReadJob read = read_job(std::string("title = \"x\"\nsurface = \"") + written + "\"\n");
        CAPTURE(written, to_text(read.diagnostics));
        CHECK(read.ok);
        CHECK(read.job.surface == surface);
    }
    CHECK(canonical_text(read_job("title = \"x\"\nsurface = \"matte\"\n").job).find("surface = \"matt\"\n") !=
          std::string::npos);
    const std::string text = to_text(read_job("title = \"x\"\nsurface = \"mattte\"\n").diagnostics);
    CHECK(text.find("did you mean 'matt'? allowed: gloss, matt, mid-grey, centre, aluminium") !=
          std::string::npos);
}

TEST_CASE("a choice of integers is written without quotes", "[text]") {
    const ReadJob ten = read_job("title = \"x\"\nobserver = 10\n");
    INFO(to_text(ten.diagnostics));
    REQUIRE(ten.ok);
    CHECK(ten.job.observer == ViewField::ten);
    CHECK(canonical_text(ten.job).find("observer = 10\n") != std::string::npos);
    for (const char* written : {"5", "\"10 deg\"", "\"10\"", "10.0", "true", "[10]"}) {
        const ReadJob read = read_job(std::string("title = \"x\"\nobserver = ") + written + "\n");
        const std::string text = to_text(read.diagnostics);
        CAPTURE(written, text);
        CHECK_FALSE(read.ok);
        CHECK(text.find("job.toml:2:12: error: observer must be 2 or 10 [T023]") != std::string::npos);
        CHECK(text.find("hint: write observer = 2 or observer = 10, without quotes (standard observer)\n") !=
              std::string::npos);
    }
    CHECK(reference_markdown(reference_tables<Job>())
              .find("| `observer` | 2 or 10 |  | `2` | standard observer |") != std::string::npos);
}

TEST_CASE("a choice of integers is read from the command line", "[text]") {
    Node node;
    node.kind = Node::Kind::text;
    node.from_cli = true;
    node.text = "10";
    Diagnostics diagnostics;
    ReadContext context{diagnostics};
    const FieldContext field{"observer", "standard observer", {}};
    ViewField out = ViewField::two;
    CHECK(Codec<ViewField>::read(node, field, context, out));
    CHECK(out == ViewField::ten);
    node.text = "3";
    CHECK_FALSE(Codec<ViewField>::read(node, field, context, out));
    CHECK(to_text(diagnostics) ==
          "error: observer must be 2 or 10 [T023]\nhint: write 2 or 10 (standard observer)\n");
}

TEST_CASE("the reference gives defaults and limits in the notation for people", "[text]") {
    const std::string text = reference_markdown(reference_tables<Job>());
    INFO(text);
    CHECK(text.find("| `heel_angle` | quantity in ° (or deg) | 0° to 60° | none | tilt to the side |") !=
          std::string::npos);
}
