#include "fadewright/text/shown_units.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace fadewright {
namespace {

// How a US unit is rounded: by so many decimals more than the metric one, or by rules of its own.
enum class Digits { one_more, as_many, small, whole };

struct Counterpart {
    std::string_view metric, us;
    Digits digits;
};

// What is not here is shown in its metric unit: time, angles, wavelengths, shares, weights, K and S.
constexpr std::array kCounterparts{
    Counterpart{"mm", "in", Digits::one_more},     Counterpart{"um", "mil", Digits::small},
    Counterpart{"mm/s", "in/s", Digits::one_more}, Counterpart{"mL/min", "fl oz/min", Digits::small},
    Counterpart{"mL", "fl oz", Digits::small},     Counterpart{"g/mL", "oz/fl oz", Digits::as_many},
    Counterpart{"g/L", "oz/qt", Digits::one_more}, Counterpart{"bar", "psi", Digits::whole},
    Counterpart{"°C", "°F", Digits::whole},        Counterpart{"/um", "/mil", Digits::as_many}};

constexpr double kMm2PerCm2 = 100, kMm2PerM2 = 1e6, kSecondsPerMinute = 60;
constexpr double kNothing = 1e-9;  // below it a figure is nothing

const Counterpart* counterpart(std::span<const Unit> units) {
    const auto* const found =
        std::find_if(kCounterparts.begin(), kCounterparts.end(),
                     [&](const Counterpart& c) { return c.metric == units.front().name; });
    return found == kCounterparts.end() ? nullptr : found;
}

const Unit& named(std::span<const Unit> units, std::string_view name) {
    return *std::find_if(units.begin(), units.end(), [&](const Unit& unit) { return unit.name == name; });
}

double in_unit(double inner, const Unit& unit) { return (inner - unit.offset) * unit.divisor / unit.factor; }

double inch_mm() { return named(units_of<Millimetres>(), "in").inner(1); }
double foot_mm() { return named(units_of<Millimetres>(), "ft").inner(1); }
double quart_mL() { return named(units_of<Millilitres>(), "qt").inner(1); }

std::string fixed(double number, int decimals) {
    const std::string text = fmt::format("{:.{}f}", number, decimals);
    const bool nothing = text.find_first_not_of("-0.") == std::string::npos;
    return nothing && text.front() == '-' ? text.substr(1) : text;
}

int decimals_for(double number, int digits) {
    if (std::abs(number) < kNothing) return 0;
    // A figure that rounds up to the next power of ten has one digit more: 9.96 in two digits is 10.
    const double power = std::floor(std::log10(std::abs(number)));
    const double step = std::pow(10, power - digits + 1);
    const double seen = std::round(std::abs(number) / step) * step;
    return std::clamp(digits - 1 - static_cast<int>(std::floor(std::log10(seen) + kNothing)), 0, 9);
}

std::string without_zeros(std::string text) {
    if (text.find('.') == std::string::npos) return text;
    while (text.back() == '0') text.pop_back();
    if (text.back() == '.') text.pop_back();
    return text;
}

std::string counting(double number, int digits) {
    return without_zeros(fixed(number, decimals_for(number, digits)));
}

}  // namespace

const Unit& ShownUnits::unit(std::span<const Unit> units) const {
    const Counterpart* us = system_ == UnitSystem::us ? counterpart(units) : nullptr;
    return us ? named(units, us->us) : units.front();
}

double ShownUnits::number(double inner, std::span<const Unit> units) const {
    return in_unit(inner, unit(units));
}

std::string ShownUnits::figure(double inner, int decimals, std::span<const Unit> units) const {
    const double shown = number(inner, units);
    const Counterpart* us = system_ == UnitSystem::us ? counterpart(units) : nullptr;
    if (!us) return fixed(shown, decimals);
    switch (us->digits) {
        case Digits::one_more:
            return fixed(shown, decimals + 1);
        case Digits::small:
            return fixed(shown, std::abs(shown) < 0.995 ? 2 : 1);
        case Digits::whole:
            return fixed(shown, 0);
        case Digits::as_many:
            break;
    }
    return fixed(shown, decimals);
}

std::string ShownUnits::rounded(double inner, int digits, std::span<const Unit> units) const {
    const double shown = number(inner, units);
    const Counterpart* us = system_ == UnitSystem::us ? counterpart(units) : nullptr;
    return us && us->digits == Digits::whole ? fixed(shown, 0) : counting(shown, digits);
}

std::string ShownUnits::as_given(double inner, std::span<const Unit> units) const {
    const Counterpart* us = system_ == UnitSystem::us ? counterpart(units) : nullptr;
    if (!us) return quantity_text(inner, units);
    const double shown = number(inner, units);
    const int decimals = us->digits == Digits::whole ? 0 : std::max(1, decimals_for(shown, 3));
    return fmt::format("{} {}", without_zeros(fixed(shown, decimals)), us->us);
}

std::string ShownUnits::bound(double inner, Bound bound, std::span<const Unit> units) const {
    if (system_ == UnitSystem::metric || !counterpart(units)) return quantity_text(inner, units);
    constexpr int kDigits = 4;
    const Unit& us = unit(units);
    const double shown = in_unit(inner, us);
    const double step = std::pow(10, -decimals_for(shown, kDigits));
    const auto allowed = [&](double v) {
        return bound == Bound::highest ? us.inner(v) <= inner : us.inner(v) >= inner;
    };
    double inwards = step * std::round(shown / step);
    if (!allowed(inwards)) inwards += bound == Bound::highest ? -step : step;
    return fmt::format("{} {}", counting(inwards, kDigits), us.name);
}

std::string ShownUnits::size(Millimetres width, Millimetres height) const {
    return fmt::format("{} x {}", figure(width), text(height));
}

std::string ShownUnits::place(Millimetres x, Millimetres y) const {
    return fmt::format("{}, {}", figure(x), text(y));
}

std::string ShownUnits::distance(Millimetres from_eye) const {
    if (system_ == UnitSystem::us) return fmt::format("{} ft", fixed(from_eye.value / foot_mm(), 1));
    return fmt::format("{} m", fixed(from_eye.value / 1000, 1));
}

std::string ShownUnits::air_speed(MillimetresPerSecond speed) const {
    if (system_ == UnitSystem::metric) return as_given(speed);
    return fmt::format("{} ft/min", fixed(speed.value * kSecondsPerMinute / foot_mm(), 0));
}

std::string ShownUnits::surface_m2(double area_m2) const {
    if (system_ == UnitSystem::metric) return counting(area_m2, 3) + " m2";
    return counting(area_m2 * kMm2PerM2 / (foot_mm() * foot_mm()), 3) + " sq ft";
}

std::string ShownUnits::patch_mm2(double area_mm2) const {
    if (system_ == UnitSystem::metric) return fixed(area_mm2 / kMm2PerCm2, 0) + " cm2";
    const double area = area_mm2 / (inch_mm() * inch_mm());
    return fixed(area, area < 9.95 ? 1 : 0) + " sq in";
}

std::string ShownUnits::slope(double per_mm) const {
    if (system_ == UnitSystem::metric) return fixed(per_mm, 2);
    return fixed(per_mm * inch_mm(), 1);
}

std::string_view ShownUnits::litre() const noexcept { return system_ == UnitSystem::us ? "quart" : "litre"; }

std::string_view ShownUnits::grams() const noexcept { return system_ == UnitSystem::us ? "oz" : "g"; }

double ShownUnits::in_litre(double per_litre) const noexcept {
    return system_ == UnitSystem::us ? per_litre * quart_mL() / 1000 : per_litre;
}

std::string_view ShownUnits::patch() const noexcept { return system_ == UnitSystem::us ? "sq in" : "cm2"; }

std::string_view ShownUnits::patch_in_full() const noexcept {
    return system_ == UnitSystem::us ? "square inch" : "square centimetre";
}

double ShownUnits::on_patch(double per_cm2) const noexcept {
    return system_ == UnitSystem::us ? per_cm2 * inch_mm() * inch_mm() / kMm2PerCm2 : per_cm2;
}

std::string_view ShownUnits::lengths() const noexcept { return system_ == UnitSystem::us ? "inches" : "mm"; }

std::string_view ShownUnits::length_in_full() const noexcept {
    return system_ == UnitSystem::us ? "inch" : "millimetre";
}

std::string_view ShownUnits::length() const noexcept { return system_ == UnitSystem::us ? "inch" : "mm"; }

}  // namespace fadewright
