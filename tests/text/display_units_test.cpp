// Units as they are read and displayed, against "Factors for units listed alphabetically"; values of the
// table typed by hand, to its printed digits. Source: [nistSP811] app. B.8.
#include "fadewright/text/display_units.h"

#include "fadewright/text/schema.h"

#include <catch2/catch.hpp>

namespace {

using namespace fadewright;

template <class Q>
double read(const std::string& written) {
    Diagnostics none;
    const auto internal = read_quantity(written, {}, units_of<Q>(), none);
    REQUIRE(internal);
    return *internal;
}

const DisplayUnits kMetric, kUs(UnitSystem::us);

}  // namespace

TEST_CASE("US units have the factors of NIST SP 811", "[text][units]") {
    CHECK(read<Millimetres>("1 in") == 25.4);             // "inch (in) to millimeter: 2.54 E+01", exact
    CHECK(read<Millimetres>("1 ft") == 304.8);            // "foot (ft) to meter: 3.048 E-01", exact
    CHECK(read<Micrometres>("1 mil") == 25.4);            // "mil (0.001 in) to millimeter: 2.54 E-02", exact
    CHECK(read<Micrometres>("1 thou") == 25.4);           // the same under its other name
    CHECK(read<MillimetresPerSecond>("1 in/s") == 25.4);  // "inch per second: 2.54 E-02 m/s", exact
    CHECK(read<MillimetresPerSecond>("1 ft/min") == 5.08);  // "foot per minute: 5.08 E-03 m/s", exact
    CHECK(read<Millilitres>("1 fl oz") == Approx(29.57353).epsilon(1e-7));  // "ounce (U.S. fluid) to mL"
    CHECK(read<Millilitres>("1 pt") == Approx(473.1765).epsilon(1e-7));     // "pint (U.S. liquid)"
    CHECK(read<Millilitres>("1 qt") == Approx(946.3529).epsilon(1e-7));     // "quart (U.S. liquid)"
    CHECK(read<Millilitres>("1 gal") == Approx(3785.412).epsilon(1e-7));    // "gallon (U.S.)"
    // "ounce (avoirdupois) to gram: 2.834 952 E+01": to half a unit of its last digit
    CHECK(read<Grams>("1 oz") == Approx(28.34952).epsilon(0).margin(5e-6));
    CHECK(read<Grams>("1 lb") == Approx(453.5924).epsilon(1e-7));   // "pound (avoirdupois)"
    CHECK(read<Bar>("1 psi") == Approx(0.06894757).epsilon(1e-7));  // "6.894 757 E+03 Pa"
    CHECK(read<GramsPerLitre>("1 oz/qt") ==
          Approx(7.489152 * 4).epsilon(1e-6));  // "ounce per gallon: 7.489 152 kg/m3"
    CHECK(read<GramsPerMillilitre>("1 oz/fl oz") == Approx(28.34952 / 29.57353).epsilon(1e-6));
    CHECK(read<PerMicrometre>("1 /mil") == Approx(1 / 25.4));
    CHECK(read<Celsius>("32 °F") == Approx(0).margin(1e-12));  // "t/°C = (t/°F - 32)/1.8"
    CHECK(read<Celsius>("212 F") == Approx(100));
}

TEST_CASE("quantities are displayed with the unit and the digits of their system", "[text][units]") {
    CHECK(kMetric.text(Millimetres{640.4}) == "640 mm");
    CHECK(kUs.text(Millimetres{640.4}) == "25.2 in");
    CHECK(kMetric.size_text(Millimetres{640}, Millimetres{240}) == "640 × 240 mm");
    CHECK(kUs.size_text(Millimetres{640}, Millimetres{240}) == "25.2 × 9.4 in");
    CHECK(kMetric.text(Micrometres{63.5}, 1) == "63.5 µm");
    CHECK(kUs.text(Micrometres{63.5}, 1) == "2.5 mils");
    CHECK(kUs.text(Micrometres{12.7}, 0) == "0.50 mils");
    CHECK(kUs.text(Micrometres{25.3}, 1) == "1.0 mils");  // never "1.00"
    CHECK(kMetric.text(Millilitres{118.3}, 1) == "118.3 mL");
    CHECK(kUs.text(Millilitres{118.3}, 1) == "4.0 fl oz");
    CHECK(kUs.text(Millilitres{5}, 2) == "0.17 fl oz");
    CHECK(kMetric.range(MillimetresPerSecond{120}, MillimetresPerSecond{300}) == "120 to 300 mm/s");
    CHECK(kUs.range(MillimetresPerSecond{120}, MillimetresPerSecond{300}) == "4.7 to 11.8 in/s");
    CHECK(kMetric.round_to_digits(Bar{1.2}, 2) == "1.2 bar");
    CHECK(kUs.round_to_digits(Bar{1.2}, 2) == "17 psi");
    CHECK(kUs.round_to_digits(Bar{9}, 2) == "131 psi");
    CHECK(kMetric.input_text(Celsius{21}) == "21 °C");
    CHECK(kUs.input_text(Celsius{21}) == "70 °F");
    CHECK(kUs.text(GramsPerLitre{150}) == "5.0 oz/qt");
    CHECK(kMetric.viewing_distance(Millimetres{1500}) == "1.5 m");
    CHECK(kUs.viewing_distance(Millimetres{1500}) == "4.9 ft");
    CHECK(kMetric.area_from_m2(0.1536) == "0.154 m²");
    CHECK(kUs.area_from_m2(0.1536) == "1.65 sq ft");
    CHECK(kMetric.area_from_mm2(1234) == "12 cm²");
    CHECK(kUs.area_from_mm2(1234) == "1.9 sq in");
    CHECK(kUs.air_speed(MillimetresPerSecond{200}) == "39 ft/min");
    CHECK(kMetric.slope(0.5) == "0.50");
    CHECK(kUs.slope(0.5) == "12.7");
    CHECK(kUs.per_volume_unit(100) == Approx(94.63529));
    CHECK(kUs.per_area_unit(100) == Approx(645.16));
    CHECK(kMetric.text(GramsPerLitre{12.5}, 1) == "12.5 g/L");
    CHECK(kMetric.range(Degrees{15}, Degrees{45}) == "15 to 45°");
    CHECK(kMetric.unit_name<Micrometres>() == "µm");
    CHECK(kUs.unit_name<Micrometres>() == "mils");
    CHECK(kMetric.unit_name<PerMicrometre>() == "/µm");
    CHECK(kMetric.area_unit_name() == "cm²");
    CHECK(kMetric.input_text(Micrometres{12}) == "12 µm");
    CHECK(kMetric.input_text(Degrees{45}) == "45°");
    CHECK(kUs.input_text(Micrometres{25.4}) == "1 mil");
}

TEST_CASE("weights of paint, times, angles and wavelengths have the same unit in both systems",
          "[text][units]") {
    for (const DisplayUnits units : {kMetric, kUs}) {
        CHECK(units.text(Grams{40.2}, 1) == "40.2 g");
        CHECK(units.input_text(Grams{0.1}) == "0.1 g");
        CHECK(units.text(Seconds{2.5}, 1) == "2.5 s");
        CHECK(units.text(Degrees{45}) == "45°");
        CHECK(units.text(Nanometres{550}) == "550 nm");
        CHECK(units.input_text(Share{0.45}) == "45 %");
    }
}

TEST_CASE("zero is never displayed as minus zero", "[text][units]") {
    CHECK(kMetric.text(Millimetres{-0.04}, 1) == "0.0 mm");
    CHECK(kUs.text(Millimetres{-0.04}, 0) == "0.0 in");
    CHECK(kUs.round_to_digits(Millimetres{0}, 3) == "0 in");
    CHECK(kMetric.text(Millimetres{-0.06}, 1) == "-0.1 mm");
}

TEST_CASE("significant digits are counted after rounding, without zeros at the end", "[text][units]") {
    CHECK(kMetric.round_to_digits(MillilitresPerMinute{0.996}, 2) == "1 mL/min");
    CHECK(kMetric.round_to_digits(MillilitresPerMinute{9.96}, 2) == "10 mL/min");
    CHECK(kMetric.round_to_digits(MillilitresPerMinute{0.852}, 2) == "0.85 mL/min");
    CHECK(kMetric.round_to_digits(MillilitresPerMinute{1234}, 2) == "1234 mL/min");
    CHECK(kMetric.round_to_digits(MillilitresPerMinute{40}, 3) == "40 mL/min");
}

TEST_CASE("a length given in inches is displayed in inches, in metric units with the fewest digits",
          "[text][units]") {
    CHECK(kUs.input_text(Millimetres{read<Millimetres>("48 in")}) == "48 in");
    CHECK(kUs.input_text(Millimetres{read<Millimetres>("9.5 in")}) == "9.5 in");
    CHECK(kUs.input_text(Micrometres{14}) == "0.551 mils");
    CHECK(kMetric.input_text(Millimetres{304.8}) == "304.8 mm");
    CHECK(kMetric.input_text(Micrometres{14}) == "14 µm");
}

TEST_CASE("a bound in US units is inside the bound", "[text][units]") {
    const auto bounds_hold = [](auto lowest, auto highest) {
        using Q = decltype(lowest);
        const std::string low = kUs.bound_text(lowest.value, Bound::lower, units_of<Q>());
        const std::string high = kUs.bound_text(highest.value, Bound::upper, units_of<Q>());
        CAPTURE(low, high);
        CHECK(read<Q>(low) >= lowest.value);
        CHECK(read<Q>(low) == Approx(lowest.value).epsilon(2e-3).margin(1e-9));
        CHECK(read<Q>(high) <= highest.value);
        CHECK(read<Q>(high) == Approx(highest.value).epsilon(2e-3));
    };
    bounds_hold(Millimetres{1}, Millimetres{10000});
    bounds_hold(Millimetres{0}, Millimetres{1000});
    bounds_hold(Micrometres{0.1}, Micrometres{500});
    bounds_hold(MillimetresPerSecond{20}, MillimetresPerSecond{2000});
    bounds_hold(Bar{0.1}, Bar{8});
    bounds_hold(Celsius{-10}, Celsius{60});
    CHECK(kMetric.bound_text(0.1, Bound::lower, units_of<Micrometres>()) == "0.1 µm");
}

TEST_CASE("errors use the display units", "[text][units]") {
    for (const auto& [system, word] : {std::pair{UnitSystem::metric, "allowed: 1 mm to 1000 mm"},
                                       std::pair{UnitSystem::us, "allowed: 0.03938 in to 39.37 in"}}) {
        Diagnostics diagnostics;
        diagnostics.set_units(system);
        ReadContext context{diagnostics};
        Node node;
        node.kind = Node::Kind::text;
        node.text = "60 in";
        double out = 0;
        const FieldContext field{"width", "", range(Millimetres{1}, Millimetres{1000})};
        CHECK_FALSE(detail::read_quantity_node(node, field, units_of<Millimetres>(), context, out));
        CHECK(to_text(diagnostics).find(word) != std::string::npos);
    }
}
