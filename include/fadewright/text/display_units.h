// Quantities as people read them, metric or US: the one place that chooses the unit, its spelling and the
// digits.
//
// Only displayed text follows the system: inside the program, in JSON and in the plans that the program
// writes everything stays metric and in ASCII (um, deg), and nothing is rounded before it is displayed.
//
//     metric   mm   µm     mL      mL/min      mm/s   bar   °C   g   g/L     m    m²      cm²
//     US       in   mils   fl oz   fl oz/min   in/s   psi   °F   g   oz/qt   ft   sq ft   sq in
//
// Digits are given as metric decimals. US: inches, in/s and oz/qt with one decimal more; mils and fluid
// ounces with one decimal, below 1 with two; whole psi and °F. Paint is weighed in grams in both systems,
// since scales for mixing show grams.
//
// Source: [nistSP811] app. B.8 (factors); digits: common practice, no source.
// Accuracy   half a unit of the last digit shown
// Checks     tests/text/display_units_test.cpp
#pragma once

#include "fadewright/text/field.h"
#include "fadewright/text/units.h"

#include <array>
#include <span>
#include <string>
#include <string_view>
#include <utility>

namespace fadewright {

template <>
struct Names<UnitSystem> {
    static constexpr std::array<std::pair<UnitSystem, std::string_view>, 2> list{
        {{UnitSystem::metric, "metric"}, {UnitSystem::us, "us"}}};
};

enum class Bound { lower, upper };

class DisplayUnits {
public:
    constexpr DisplayUnits() = default;
    constexpr DisplayUnits(UnitSystem system) noexcept : system_(system) {}

    [[nodiscard]] constexpr UnitSystem system() const noexcept { return system_; }

    template <class Q>
    [[nodiscard]] std::string_view unit_name() const {  // "mm", "in", "µm", "mils"
        return display_unit_name(display_unit(units_of<Q>()).name);
    }
    template <class Q>
    [[nodiscard]] double value(Q q) const {  // in that unit, unrounded
        return value(q.value, units_of<Q>());
    }
    template <class Q>
    [[nodiscard]] double unit_size() const {  // that unit in the internal one; not for temperatures
        return display_unit(units_of<Q>()).to_internal(1);
    }
    template <class Q>
    [[nodiscard]] std::string number(Q q, int decimals = 0) const {  // "640", "25.2"
        return number(q.value, decimals, units_of<Q>());
    }
    template <class Q>
    [[nodiscard]] std::string text(Q q, int decimals = 0) const {  // "640 mm", "25.2 in"
        return with_unit<Q>(number(q, decimals));
    }
    template <class Q>
    [[nodiscard]] std::string range(Q from, Q to, int decimals = 0) const {  // "120 to 300 mm/s"
        return with_unit<Q>(number(from, decimals) + " to " + number(to, decimals));
    }
    // Rounded to that many significant digits, without zeros at the end: "0.85 mL/min"; psi and °F whole.
    template <class Q>
    [[nodiscard]] std::string round_to_digits(Q q, int digits) const {
        return with_unit<Q>(round_to_digits(q.value, digits, units_of<Q>()));
    }
    // As it was given: in metric units the shortest text that reads back equal; in US units rounded to three
    // significant digits or to one decimal, whichever is finer.
    template <class Q>
    [[nodiscard]] std::string input_text(Q q) const {
        return input_text(q.value, units_of<Q>());
    }
    [[nodiscard]] std::string input_text(double internal, std::span<const Unit> units) const;
    // A limit of the allowed range; rounded inwards if it is rounded.
    [[nodiscard]] std::string bound_text(double internal, Bound bound, std::span<const Unit> units) const;

    [[nodiscard]] std::string size_text(Millimetres width, Millimetres height) const;  // "640 × 240 mm"
    [[nodiscard]] std::string point_text(Millimetres x, Millimetres y) const;          // "120, 80 mm"
    [[nodiscard]] std::string viewing_distance(Millimetres eye_distance) const;        // "1.5 m", "4.9 ft"
    [[nodiscard]] std::string air_speed(MillimetresPerSecond speed) const;  // "200 mm/s", "39 ft/min"
    [[nodiscard]] std::string area_from_m2(double area_m2) const;           // "0.154 m²", "1.65 sq ft"
    [[nodiscard]] std::string area_from_mm2(double area_mm2) const;         // "12 cm²", "1.9 sq in"
    // Change of a number without a unit per mm or per inch: "0.05".
    [[nodiscard]] std::string slope(double per_mm) const;

    // The volume that binder or flakes are given per: "g" per "litre", "oz" per "quart".
    [[nodiscard]] std::string_view volume_unit_name() const noexcept;
    [[nodiscard]] std::string_view weight_unit_name() const noexcept;
    [[nodiscard]] double per_volume_unit(double per_litre) const noexcept;  // per litre or per quart
    // The area that flakes are counted per: "cm²", "sq in"; in full "square centimetre", "square inch".
    [[nodiscard]] std::string_view area_unit_name() const noexcept;
    [[nodiscard]] std::string_view area_unit_full_name() const noexcept;
    [[nodiscard]] double per_area_unit(double per_cm2) const noexcept;
    // "Heights in mm", "in inches"; "per mm", "per inch".
    [[nodiscard]] std::string_view length_unit_plural() const noexcept;
    [[nodiscard]] std::string_view length_unit_name() const noexcept;
    [[nodiscard]] std::string_view length_unit_full_name() const noexcept;  // "millimetre", "inch"

    friend constexpr bool operator==(DisplayUnits, DisplayUnits) = default;

private:
    [[nodiscard]] const Unit& display_unit(std::span<const Unit> units) const;
    [[nodiscard]] double value(double internal, std::span<const Unit> units) const;
    [[nodiscard]] std::string number(double internal, int decimals, std::span<const Unit> units) const;
    [[nodiscard]] std::string round_to_digits(double internal, int digits, std::span<const Unit> units) const;
    template <class Q>
    [[nodiscard]] std::string with_unit(const std::string& number) const {
        return with_display_unit(number, display_unit(units_of<Q>()).name);
    }

    UnitSystem system_ = UnitSystem::metric;
};

}  // namespace fadewright
