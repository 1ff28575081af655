#include "fadewright/text/schema.h"
#include "fadewright/text/reference.h"

#include <catch2/catch.hpp>

namespace {

using namespace fadewright;

enum class Kind { round, fan };

struct Stroke {
    Millimetres distance = 150_mm;
    MillimetresPerSecond speed;
    int repeats = 1;
    Kind kind = Kind::fan;
    std::optional<Degrees> tilt;
    std::vector<double> weights;
    friend bool operator==(const Stroke&, const Stroke&) = default;
};

struct Job {
    std::string title;
    std::vector<Stroke> strokes;
    std::vector<Named<Stroke>> named;
    bool dry = false;
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
struct Schema<Stroke> {
    static constexpr std::string_view name = "stroke";
    static constexpr std::string_view about = "a test stroke";
    static constexpr auto fields =
        Fields{Field{"distance", &Stroke::distance, optional, range(50_mm, 600_mm), "nozzle to panel"},
               Field{"speed", &Stroke::speed, required, range(20_mm_s, 2000_mm_s), "travel"},
               Field{"repeats", &Stroke::repeats, optional, range(1, 50), "times"},
               Field{"kind", &Stroke::kind, optional, "shape"},
               Field{"tilt", &Stroke::tilt, optional, range(0_deg, 60_deg), "tilt"},
               Field{"weights", &Stroke::weights, optional, items(0, 3, range(0.0, 1.0)), "weights"}};
};
template <>
struct Schema<Job> {
    static constexpr std::string_view name = "job";
    static constexpr std::string_view about = "a test job";
    static constexpr auto fields = Fields{Field{"title", &Job::title, required, "what it is"},
                                          Field{"dry", &Job::dry, optional, "no paint"},
                                          Field{"strokes", &Job::strokes, optional, "strokes"},
                                          Field{"named", &Job::named, optional, "named strokes"}};
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

TEST_CASE("a thing read, printed canonically and read again is equal", "[text]") {
    const ReadJob first = read_job(R"(
title = "a \"job\""
dry = true
[[strokes]]
speed = "0.4 m/s"
distance = "6 in"
heel_angle = "10 deg"
weights = [0.1, 1]
[[strokes]]
speed = "16 in/s"
kind = "round"
[named.one]
speed = "100 mm/s"
)");
    INFO(to_text(first.diagnostics));
    REQUIRE(first.ok);
    CHECK(first.job.strokes.at(0).distance.value == Approx(152.4));
    CHECK(first.job.strokes.at(0).speed.value == Approx(400));
    const ReadJob second = read_job(canonical_text(first.job));
    INFO(canonical_text(first.job));
    REQUIRE(second.ok);
    CHECK(second.job == first.job);
    CHECK(canonical_text(second.job) == canonical_text(first.job));
}

TEST_CASE("four mistakes are reported in one run, each with its place and a remedy", "[text]") {
    const ReadJob read = read_job(
        "title = \"x\"\n[[strokes]]\ndistanse = \"6 in\"\nspeed = \"400 mm\"\nheel_angle = \"75 deg\"\nrepeats = "
        "1.5\n");
    CHECK_FALSE(read.ok);
    CHECK(to_text(read.diagnostics) ==
          R"(job.toml:3:1: error: unknown name 'distanse' in stroke [T022]
     3 | distanse = "6 in"
       | ^~~~~~~~
       = hint: did you mean 'distance'?
job.toml:4:14: error: 'mm' is not a unit of this kind [T011]
     4 | speed = "400 mm"
       |              ^~
       = hint: write one of: mm/s, cm/s, m/s, in/s, ft/min
job.toml:5:8: error: tilt is 75 deg: too large [T020]
     5 | heel_angle = "75 deg"
       |        ^~~~~~~~
       = hint: allowed: 0 deg to 60 deg (tilt)
job.toml:6:11: error: 'repeats' is not a whole number [T012]
     6 | repeats = 1.5
       |           ^~~
       = hint: write a whole number without quotes: 1 to 50 (times)
)");
}

TEST_CASE("a syntax error does not hide the mistakes on other lines", "[text]") {
    const ReadJob read = read_job("title = \"x\n[[strokes]]\nspeed = 400\nheel_angle = = 3\n");
    const std::string text = to_text(read.diagnostics);
    INFO(text);
    CHECK(text.find("job.toml:1:") != std::string::npos);
    CHECK(text.find("job.toml:4:") != std::string::npos);
    CHECK(text.find("'speed' has no unit [T010]") != std::string::npos);
    CHECK(text.find("needs 'title'") == std::string::npos);
}

TEST_CASE("not-a-number and infinity are refused wherever a number is wanted", "[text]") {
    const ReadJob read = read_job("title = \"x\"\n[[strokes]]\nspeed = \"nan mm/s\"\nweights = [nan, inf]\n");
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
    CHECK(text.find("## stroke") == text.rfind("## stroke"));
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

TEST_CASE("a close name is suggested and a far one is not", "[text]") {
    const std::vector<std::string> names{"distance", "speed", "overlap"};
    CHECK(closest_name("distanse", names) == "distance");
    CHECK(closest_name("pseed", names) == "speed");
    CHECK(closest_name("thickness", names).empty());
}
