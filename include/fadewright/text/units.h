// Quantities in text: a number and its unit, "150 mm", "6 in", "0.4 m/s", "25 %".
//
// The unit is never implied. Inside the program each kind has one unit (base/quantity.h); the tables here
// list the others that are accepted. The first unit of a table is the one that plans and JSON are written in;
// people read it as display_unit_name() spells it: µm for um, mils for mil, ° for deg.
//
// Factors:
//     inch                25.4 mm exactly; mil 25.4 µm
//     US fluid ounce      29.5735295625 mL; 16 to the pint, 32 to the quart, 128 to the gallon
//     avoirdupois ounce   28.349523125 g; 16 to the pound
//     psi                 0.06894757293168 bar
//
// Source: [nbs1959] (inch, pound), [nistSP811] app. B.8, its rounded definitions by exact pound and inch.
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/text/diagnostic.h"

#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace fadewright {

struct Unit {
    std::string_view name;
    double factor = 1.0;  // internal value = factor * written / divisor + offset
    double offset = 0.0;
    double divisor = 1.0;  // for per cent and the like, so that "95 %" is the very double 0.95

    [[nodiscard]] double to_internal(double written) const noexcept {
        return factor * written / divisor + offset;
    }
};

template <class Q>
std::span<const Unit> units_of();

#define FW_UNITS_OF(Q) \
    template <>        \
    std::span<const Unit> units_of<Q>();
FW_UNITS_OF(Millimetres)
FW_UNITS_OF(Micrometres)
FW_UNITS_OF(Nanometres)
FW_UNITS_OF(Degrees)
FW_UNITS_OF(Seconds)
FW_UNITS_OF(MillimetresPerSecond)
FW_UNITS_OF(MillilitresPerMinute)
FW_UNITS_OF(Millilitres)
FW_UNITS_OF(Grams)
FW_UNITS_OF(GramsPerMillilitre)
FW_UNITS_OF(GramsPerLitre)
FW_UNITS_OF(Bar)
FW_UNITS_OF(Celsius)
FW_UNITS_OF(Kelvin)
FW_UNITS_OF(PerMicrometre)
FW_UNITS_OF(Share)
#undef FW_UNITS_OF

// Reads "150 mm" by the given units; reports T010 (no unit), T011 (wrong unit) or T016 (not a number).
[[nodiscard]] std::optional<double> read_quantity(std::string_view written, SourceSpan span,
                                                  std::span<const Unit> units, Diagnostics& diagnostics);

// Shortest text that reads back equal, in the first unit of the table, ASCII where it can be: "150 mm", "12
// um".
[[nodiscard]] std::string quantity_text(double internal, std::span<const Unit> units);

template <class Q>
[[nodiscard]] std::string to_text(Q quantity) {
    return quantity_text(quantity.value, units_of<Q>());
}

[[nodiscard]] std::string number_text(double number);  // shortest that reads back equal

// A unit as people read it: "µm" for "um".
[[nodiscard]] std::string_view display_unit_name(std::string_view name);
// "150 mm", "12 µm", "45°", "1 mil", "2.5 mils"
[[nodiscard]] std::string with_display_unit(std::string_view number, std::string_view unit);
// "mm, cm, m, in, ft"; a unit that is not ASCII comes with its other spelling: "µm (or um), mils, mm".
[[nodiscard]] std::string units_label(std::span<const Unit> units);

}  // namespace fadewright
