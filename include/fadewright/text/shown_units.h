// Quantities as people are shown them, metric or US: the one place that picks the unit and the digits.
//
// Only what is shown follows the system: inside the program, in JSON and in the plans that the program writes
// everything stays metric, and nothing is rounded before it is shown.
//
//     metric   mm      um    mL     mL/min     mm/s  bar       °C      g   g/L    m   m2     cm2
//     US       in      mil   fl oz  fl oz/min  in/s  psi       °F      g   oz/qt  ft  sq ft  sq in
//
// Digits are asked for as metric decimals. US: inches, in/s and oz/qt with one decimal more; mils and fluid
// ounces with one decimal, below 1 with two; whole psi and °F. Paint is weighed in grams in both systems, since
// recipes are poured by scales that show grams.
//
// Source     factors: text/units.h (NIST SP 811, appendix B.8); digits: common practice, no source
// Accuracy   half a unit of the last digit shown
// Checks     tests/text/shown_units_test.cpp
#pragma once

#include "fadewright/text/field.h"
#include "fadewright/text/unit_system.h"
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

enum class Bound { lowest, highest };

class ShownUnits {
public:
    constexpr ShownUnits() = default;
    constexpr ShownUnits(UnitSystem system) noexcept : system_(system) {}

    [[nodiscard]] constexpr UnitSystem system() const noexcept { return system_; }

    template <class Q>
    [[nodiscard]] std::string_view name() const {  // "mm", "in"
        return unit(units_of<Q>()).name;
    }
    template <class Q>
    [[nodiscard]] double number(Q q) const {  // in that unit, unrounded
        return number(q.value, units_of<Q>());
    }
    template <class Q>
    [[nodiscard]] double one() const {  // of that unit, in the inner one; not of temperatures
        return unit(units_of<Q>()).inner(1);
    }
    template <class Q>
    [[nodiscard]] std::string figure(Q q, int decimals = 0) const {  // "640", "25.2"
        return figure(q.value, decimals, units_of<Q>());
    }
    template <class Q>
    [[nodiscard]] std::string text(Q q, int decimals = 0) const {  // "640 mm", "25.2 in"
        return with_name<Q>(figure(q, decimals));
    }
    template <class Q>
    [[nodiscard]] std::string range(Q from, Q to, int decimals = 0) const {  // "120 to 300 mm/s"
        return with_name<Q>(figure(from, decimals) + " to " + figure(to, decimals));
    }
    // So many digits that count, no zeros at the end: "0.85 mL/min"; psi and °F whole.
    template <class Q>
    [[nodiscard]] std::string rounded(Q q, int digits) const {
        return with_name<Q>(rounded(q.value, digits, units_of<Q>()));
    }
    // As it was asked for: in metric the shortest text that reads back equal, else rounded to three digits
    // that count or to one decimal, whichever is finer.
    template <class Q>
    [[nodiscard]] std::string as_given(Q q) const {
        return as_given(q.value, units_of<Q>());
    }
    [[nodiscard]] std::string as_given(double inner, std::span<const Unit> units) const;
    // A bound of what is allowed; where it is rounded, inwards.
    [[nodiscard]] std::string bound(double inner, Bound bound, std::span<const Unit> units) const;

    [[nodiscard]] std::string size(Millimetres width, Millimetres height) const;  // "640 x 240 mm"
    [[nodiscard]] std::string place(Millimetres x, Millimetres y) const;          // "120, 80 mm"
    [[nodiscard]] std::string distance(Millimetres from_eye) const;               // "1.5 m", "4.9 ft"
    [[nodiscard]] std::string air_speed(MillimetresPerSecond speed) const;        // "200 mm/s", "39 ft/min"
    [[nodiscard]] std::string surface_m2(double area_m2) const;                   // "0.154 m2", "1.65 sq ft"
    [[nodiscard]] std::string patch_mm2(double area_mm2) const;                   // "12 cm2", "2 sq in"
    [[nodiscard]] std::string slope(
        double per_mm) const;  // of what has no unit: "0.05", to the mm or the inch

    // What holds a weight of binder or flakes: "g" in a "litre", "oz" in a "quart".
    [[nodiscard]] std::string_view litre() const noexcept;
    [[nodiscard]] std::string_view grams() const noexcept;
    [[nodiscard]] double in_litre(double per_litre) const noexcept;  // so much in a litre or in a quart
    // The patch that flakes are counted on: "cm2", "sq in"; in full "square centimetre", "square inch".
    [[nodiscard]] std::string_view patch() const noexcept;
    [[nodiscard]] std::string_view patch_in_full() const noexcept;
    [[nodiscard]] double on_patch(double per_cm2) const noexcept;
    // For "Heights in ..." and "to the ...": "mm", "mm"; "inches", "inch".
    [[nodiscard]] std::string_view lengths() const noexcept;
    [[nodiscard]] std::string_view length() const noexcept;
    [[nodiscard]] std::string_view length_in_full() const noexcept;  // "millimetre", "inch"

    friend constexpr bool operator==(ShownUnits, ShownUnits) = default;

private:
    [[nodiscard]] const Unit& unit(std::span<const Unit> units) const;
    [[nodiscard]] double number(double inner, std::span<const Unit> units) const;
    [[nodiscard]] std::string figure(double inner, int decimals, std::span<const Unit> units) const;
    [[nodiscard]] std::string rounded(double inner, int digits, std::span<const Unit> units) const;
    template <class Q>
    [[nodiscard]] std::string with_name(const std::string& figures) const {
        return figures + " " + std::string(name<Q>());
    }

    UnitSystem system_ = UnitSystem::metric;
};

}  // namespace fadewright
