// Strong types for quantities: numbers with a unit.
//
// A film in micrometres and a gun distance in millimetres are both doubles, and confusing them ruins a
// panel. Each physical kind gets its own type; passing the wrong one does not compile. There is no
// dimensional algebra: unwrap with .value, compute in plain double, wrap the result again.
//
// One unit per kind inside the program, named by the type. Other units exist only in text
// (text/units.h reads and prints them).
#pragma once

#include <compare>
#include <numbers>

namespace fadewright {

template <class Tag>
struct Quantity {
    double value = 0.0;

    constexpr Quantity() = default;
    constexpr explicit Quantity(double v) noexcept : value(v) {}

    friend constexpr auto operator<=>(const Quantity&, const Quantity&) = default;
    friend constexpr Quantity operator+(Quantity a, Quantity b) noexcept {
        return Quantity{a.value + b.value};
    }
    friend constexpr Quantity operator-(Quantity a, Quantity b) noexcept {
        return Quantity{a.value - b.value};
    }
    friend constexpr Quantity operator-(Quantity a) noexcept { return Quantity{-a.value}; }
    friend constexpr Quantity operator*(double k, Quantity a) noexcept { return Quantity{k * a.value}; }
    friend constexpr Quantity operator*(Quantity a, double k) noexcept { return Quantity{k * a.value}; }
    friend constexpr double operator/(Quantity a, Quantity b) noexcept { return a.value / b.value; }
};

// Conversions and standard values that several layers use.
inline constexpr double kStandardAtmosphere_Pa = 101325;
inline constexpr double kSquareMillimetresPerSquareMetre = 1e6;
inline constexpr double kRadiansPerDegree = std::numbers::pi / 180;

struct MillimetresTag;
struct MicrometresTag;
struct NanometresTag;
struct DegreesTag;
struct SecondsTag;
struct MillimetresPerSecondTag;
struct MillilitresPerMinuteTag;
struct MillilitresTag;
struct GramsTag;
struct GramsPerMillilitreTag;
struct GramsPerLitreTag;
struct BarTag;
struct CelsiusTag;
struct KelvinTag;
struct PerMicrometreTag;
struct ShareTag;

using Millimetres = Quantity<MillimetresTag>;                    // positions and sizes on the panel
using Micrometres = Quantity<MicrometresTag>;                    // film; dry unless named wet
using Nanometres = Quantity<NanometresTag>;                      // wavelength
using Degrees = Quantity<DegreesTag>;                            // angles at boundaries
using Seconds = Quantity<SecondsTag>;                            // time
using MillimetresPerSecond = Quantity<MillimetresPerSecondTag>;  // gun travel
using MillilitresPerMinute = Quantity<MillilitresPerMinuteTag>;  // fluid delivery of the gun
using Millilitres = Quantity<MillilitresTag>;                    // amounts of liquid
using Grams = Quantity<GramsTag>;                                // amounts on the scale
using GramsPerMillilitre = Quantity<GramsPerMillilitreTag>;      // density
using GramsPerLitre = Quantity<GramsPerLitreTag>;                // flakes stirred into paint
using Bar = Quantity<BarTag>;                                    // air pressure
using Celsius = Quantity<CelsiusTag>;                            // air and paint temperature
using Kelvin = Quantity<KelvinTag>;                              // colour temperature of a light
using PerMicrometre = Quantity<PerMicrometreTag>;                // K and S of a dry film
using Share = Quantity<ShareTag>;                                // 0 to 1; "%" only in text

[[nodiscard]] constexpr double radians(Degrees angle) noexcept {
    return angle.value * std::numbers::pi / 180;
}

inline namespace literals {
constexpr Millimetres operator""_mm(long double v) { return Millimetres{static_cast<double>(v)}; }
constexpr Millimetres operator""_mm(unsigned long long v) { return Millimetres{static_cast<double>(v)}; }
constexpr Micrometres operator""_um(long double v) { return Micrometres{static_cast<double>(v)}; }
constexpr Micrometres operator""_um(unsigned long long v) { return Micrometres{static_cast<double>(v)}; }
constexpr Nanometres operator""_nm(unsigned long long v) { return Nanometres{static_cast<double>(v)}; }
constexpr Degrees operator""_deg(unsigned long long v) { return Degrees{static_cast<double>(v)}; }
constexpr MillimetresPerSecond operator""_mm_s(unsigned long long v) {
    return MillimetresPerSecond{static_cast<double>(v)};
}
constexpr MillilitresPerMinute operator""_mL_min(long double v) {
    return MillilitresPerMinute{static_cast<double>(v)};
}
constexpr MillilitresPerMinute operator""_mL_min(unsigned long long v) {
    return MillilitresPerMinute{static_cast<double>(v)};
}
constexpr Share operator""_pct(long double v) { return Share{static_cast<double>(v) / 100}; }
constexpr Share operator""_pct(unsigned long long v) { return Share{static_cast<double>(v) / 100}; }
}  // namespace literals

}  // namespace fadewright
