#include "fadewright/text/display_units.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace fadewright {
namespace {

// Rounding of a US unit: one decimal more than the metric unit, as many, or a rule of its own.
enum class Rounding { one_more_decimal, same_decimals, small_values, whole_number };

struct Counterpart {
    std::string_view metric, us;
    Rounding rounding;
};

// All others are shown in their metric unit: time, angles, wavelengths, shares, weights, K and S.
constexpr std::array kCounterparts{Counterpart{"mm", "in", Rounding::one_more_decimal},
                                   Counterpart{"um", "mil", Rounding::small_values},
                                   Counterpart{"mm/s", "in/s", Rounding::one_more_decimal},
                                   Counterpart{"mL/min", "fl oz/min", Rounding::small_values},
                                   Counterpart{"mL", "fl oz", Rounding::small_values},
                                   Counterpart{"g/mL", "oz/fl oz", Rounding::same_decimals},
                                   Counterpart{"g/L", "oz/qt", Rounding::one_more_decimal},
                                   Counterpart{"bar", "psi", Rounding::whole_number},
                                   Counterpart{"°C", "°F", Rounding::whole_number},
                                   Counterpart{"/um", "/mil", Rounding::same_decimals}};

constexpr double kMm2PerCm2 = 100, kMm2PerM2 = 1e6, kSecondsPerMinute = 60;
constexpr double kZeroBelow = 1e-9;  // smaller numbers count as zero

const Counterpart* find_counterpart(std::span<const Unit> units) {
    const auto* const found =
        std::find_if(kCounterparts.begin(), kCounterparts.end(),
                     [&](const Counterpart& c) { return c.metric == units.front().name; });
    return found == kCounterparts.end() ? nullptr : found;
}

const Unit& find_unit(std::span<const Unit> units, std::string_view name) {
    return *std::find_if(units.begin(), units.end(), [&](const Unit& unit) { return unit.name == name; });
}

double to_unit(double internal, const Unit& unit) {
    return (internal - unit.offset) * unit.divisor / unit.factor;
}

double inch_mm() { return find_unit(units_of<Millimetres>(), "in").to_internal(1); }
double foot_mm() { return find_unit(units_of<Millimetres>(), "ft").to_internal(1); }
double quart_mL() { return find_unit(units_of<Millilitres>(), "qt").to_internal(1); }

std::string format_fixed(double number, int decimals) {
    const std::string text = fmt::format("{:.{}f}", number, decimals);
    const bool is_zero = text.find_first_not_of("-0.") == std::string::npos;
    return is_zero && text.front() == '-' ? text.substr(1) : text;
}

int decimals_for(double number, int digits) {
    if (std::abs(number) < kZeroBelow) return 0;
    // A number that rounds up to the next power of ten has one digit more: 9.96 in two digits is 10.
    const double power = std::floor(std::log10(std::abs(number)));
    const double step = std::pow(10, power - digits + 1);
    const double rounded = std::round(std::abs(number) / step) * step;
    return std::clamp(digits - 1 - static_cast<int>(std::floor(std::log10(rounded) + kZeroBelow)), 0, 9);
}

std::string strip_trailing_zeros(std::string text) {
    if (text.find('.') == std::string::npos) return text;
    while (text.back() == '0') text.pop_back();
    if (text.back() == '.') text.pop_back();
    return text;
}

std::string format_significant(double number, int digits) {
    return strip_trailing_zeros(format_fixed(number, decimals_for(number, digits)));
}

// The shortest number that reads back equal, in the first unit of the table.
std::string metric_text(double internal, std::span<const Unit> units) {
    const std::string_view name = units.front().name;
    std::string number = quantity_text(internal, units);
    number.resize(number.size() - name.size() - 1);
    return with_display_unit(number, name);
}

}  // namespace

const Unit& DisplayUnits::display_unit(std::span<const Unit> units) const {
    const Counterpart* us = system_ == UnitSystem::us ? find_counterpart(units) : nullptr;
    return us ? find_unit(units, us->us) : units.front();
}

double DisplayUnits::value(double internal, std::span<const Unit> units) const {
    return to_unit(internal, display_unit(units));
}

std::string DisplayUnits::number(double internal, int decimals, std::span<const Unit> units) const {
    const double converted = value(internal, units);
    const Counterpart* us = system_ == UnitSystem::us ? find_counterpart(units) : nullptr;
    if (!us) return format_fixed(converted, decimals);
    switch (us->rounding) {
        case Rounding::one_more_decimal:
            return format_fixed(converted, decimals + 1);
        case Rounding::small_values:
            return format_fixed(converted, std::abs(converted) < 0.995 ? 2 : 1);
        case Rounding::whole_number:
            return format_fixed(converted, 0);
        case Rounding::same_decimals:
            break;
    }
    return format_fixed(converted, decimals);
}

std::string DisplayUnits::round_to_digits(double internal, int digits, std::span<const Unit> units) const {
    const double converted = value(internal, units);
    const Counterpart* us = system_ == UnitSystem::us ? find_counterpart(units) : nullptr;
    return us && us->rounding == Rounding::whole_number ? format_fixed(converted, 0)
                                                        : format_significant(converted, digits);
}

std::string DisplayUnits::input_text(double internal, std::span<const Unit> units) const {
    const Counterpart* us = system_ == UnitSystem::us ? find_counterpart(units) : nullptr;
    if (!us) return metric_text(internal, units);
    const double converted = value(internal, units);
    const int decimals = us->rounding == Rounding::whole_number ? 0 : std::max(1, decimals_for(converted, 3));
    return with_display_unit(strip_trailing_zeros(format_fixed(converted, decimals)), us->us);
}

std::string DisplayUnits::bound_text(double internal, Bound bound, std::span<const Unit> units) const {
    if (system_ == UnitSystem::metric || !find_counterpart(units)) return metric_text(internal, units);
    constexpr int kDigits = 4;
    const Unit& us = display_unit(units);
    const double converted = to_unit(internal, us);
    const double step = std::pow(10, -decimals_for(converted, kDigits));
    const auto allowed = [&](double v) {
        return bound == Bound::upper ? us.to_internal(v) <= internal : us.to_internal(v) >= internal;
    };
    double inwards = step * std::round(converted / step);
    if (!allowed(inwards)) inwards += bound == Bound::upper ? -step : step;
    return with_display_unit(format_significant(inwards, kDigits), us.name);
}

std::string DisplayUnits::size_text(Millimetres width, Millimetres height) const {
    return fmt::format("{} × {}", number(width), text(height));
}

std::string DisplayUnits::point_text(Millimetres x, Millimetres y) const {
    return fmt::format("{}, {}", number(x), text(y));
}

std::string DisplayUnits::viewing_distance(Millimetres eye_distance) const {
    if (system_ == UnitSystem::us)
        return fmt::format("{} ft", format_fixed(eye_distance.value / foot_mm(), 1));
    return fmt::format("{} m", format_fixed(eye_distance.value / 1000, 1));
}

std::string DisplayUnits::air_speed(MillimetresPerSecond speed) const {
    if (system_ == UnitSystem::metric) return input_text(speed);
    return fmt::format("{} ft/min", format_fixed(speed.value * kSecondsPerMinute / foot_mm(), 0));
}

std::string DisplayUnits::area_from_m2(double area_m2) const {
    if (system_ == UnitSystem::metric) return format_significant(area_m2, 3) + " m²";
    return format_significant(area_m2 * kMm2PerM2 / (foot_mm() * foot_mm()), 3) + " sq ft";
}

std::string DisplayUnits::area_from_mm2(double area_mm2) const {
    if (system_ == UnitSystem::metric) return format_fixed(area_mm2 / kMm2PerCm2, 0) + " cm²";
    const double area = area_mm2 / (inch_mm() * inch_mm());
    return format_fixed(area, area < 9.95 ? 1 : 0) + " sq in";
}

std::string DisplayUnits::slope(double per_mm) const {
    if (system_ == UnitSystem::metric) return format_fixed(per_mm, 2);
    return format_fixed(per_mm * inch_mm(), 1);
}

std::string_view DisplayUnits::volume_unit_name() const noexcept {
    return system_ == UnitSystem::us ? "quart" : "litre";
}

std::string_view DisplayUnits::weight_unit_name() const noexcept {
    return system_ == UnitSystem::us ? "oz" : "g";
}

double DisplayUnits::per_volume_unit(double per_litre) const noexcept {
    return system_ == UnitSystem::us ? per_litre * quart_mL() / 1000 : per_litre;
}

std::string_view DisplayUnits::area_unit_name() const noexcept {
    return system_ == UnitSystem::us ? "sq in" : "cm²";
}

std::string_view DisplayUnits::area_unit_full_name() const noexcept {
    return system_ == UnitSystem::us ? "square inch" : "square centimetre";
}

double DisplayUnits::per_area_unit(double per_cm2) const noexcept {
    return system_ == UnitSystem::us ? per_cm2 * inch_mm() * inch_mm() / kMm2PerCm2 : per_cm2;
}

std::string_view DisplayUnits::length_unit_plural() const noexcept {
    return system_ == UnitSystem::us ? "inches" : "mm";
}

std::string_view DisplayUnits::length_unit_full_name() const noexcept {
    return system_ == UnitSystem::us ? "inch" : "millimetre";
}

std::string_view DisplayUnits::length_unit_name() const noexcept {
    return system_ == UnitSystem::us ? "inch" : "mm";
}

}  // namespace fadewright
