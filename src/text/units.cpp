#include "fadewright/text/units.h"

#include "fadewright/base/strings.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

namespace fadewright {
namespace {

// Exact ratios of whole numbers, so that 48 in is the very double 1219.2 mm.
constexpr Unit inch(std::string_view name) { return {name, 127, 0, 5}; }                  // 25.4 mm
constexpr Unit fluid_ounce(std::string_view name) { return {name, 473176473, 0, 16e6}; }  // 29.5735295625 mL
constexpr Unit fluid_ounces(std::string_view name, double count) {
    return {name, 473176473 * count, 0, 16e6};
}
constexpr Unit ounce(std::string_view name) { return {name, 45359237, 0, 16e5}; }  // 28.349523125 g
constexpr double kPsi_bar = 0.06894757293168;

constexpr std::array kLength{Unit{"mm"}, Unit{"cm", 10}, Unit{"m", 1000}, inch("in"), Unit{"ft", 1524, 0, 5}};
constexpr std::array kFilm{Unit{"um"},   Unit{"µm"},   Unit{"μm"},      inch("mil"),
                           inch("mils"), inch("thou"), Unit{"mm", 1000}};
constexpr std::array kWavelength{Unit{"nm"}};
constexpr std::array kAngle{Unit{"deg"}, Unit{"°"}};
constexpr std::array kTime{Unit{"s"}, Unit{"min", 60}, Unit{"h", 3600}};
constexpr std::array kSpeed{Unit{"mm/s"}, Unit{"cm/s", 10}, Unit{"m/s", 1000}, inch("in/s"),
                            Unit{"ft/min", 254, 0, 50}};
constexpr std::array kFlow{Unit{"mL/min"}, Unit{"ml/min"}, Unit{"L/min", 1000}, Unit{"mL/s", 60},
                           fluid_ounce("fl oz/min")};
constexpr std::array kVolume{Unit{"mL"},
                             Unit{"ml"},
                             Unit{"L", 1000},
                             Unit{"l", 1000},
                             fluid_ounce("fl oz"),
                             fluid_ounces("pt", 16),
                             fluid_ounces("qt", 32),
                             fluid_ounces("gal", 128)};
constexpr std::array kMass{Unit{"g"}, Unit{"kg", 1000}, Unit{"mg", 1, 0, 1000}, ounce("oz"),
                           Unit{"lb", 45359237, 0, 1e5}};
constexpr std::array kDensity{Unit{"g/mL"}, Unit{"g/ml"}, Unit{"g/cm3"}, Unit{"kg/L"},
                              Unit{"oz/fl oz", 45359237.0 / 473176473, 0, 0.1}};
constexpr std::array kLoading{Unit{"g/L"}, Unit{"g/l"}, Unit{"kg/L", 1000},
                              Unit{"oz/qt", 45359237.0 / 946352.946, 0, 1.6}};
constexpr std::array kPressure{Unit{"bar"}, Unit{"kPa", 1, 0, 100}, Unit{"psi", kPsi_bar}};
constexpr std::array kTemperature{Unit{"°C"},
                                  Unit{"C"},
                                  Unit{"degC"},
                                  Unit{"°F", 5.0 / 9, -160.0 / 9},
                                  Unit{"F", 5.0 / 9, -160.0 / 9},
                                  Unit{"degF", 5.0 / 9, -160.0 / 9}};
constexpr std::array kColourTemperature{Unit{"K"}};
constexpr std::array kPerFilm{Unit{"/um"}, Unit{"/µm"}, Unit{"/μm"}, Unit{"/mm", 1, 0, 1000},
                              Unit{"/mil", 5, 0, 127}};
constexpr std::array kShare{Unit{"%", 1, 0, 100}};

struct DisplayName {
    std::string_view name, display;
};
constexpr std::array kDisplayNames{DisplayName{"um", "µm"}, DisplayName{"/um", "/µm"},
                                   DisplayName{"mil", "mils"}, DisplayName{"deg", "°"}};

bool is_ascii(std::string_view text) {
    return std::all_of(text.begin(), text.end(), [](char c) { return static_cast<unsigned char>(c) < 0x80; });
}

bool is_same_unit(const Unit& a, const Unit& b) {
    return a.factor == b.factor && a.offset == b.offset && a.divisor == b.divisor;
}

// The span of the unit within the written text, for the caret. The text is inside quotes.
SourceSpan unit_span(const SourceSpan& span, std::string_view written, std::size_t number_size) {
    if (!span.source || span.end < span.begin + written.size()) return span;
    const std::size_t quote = (span.end - span.begin - written.size()) / 2;
    const std::size_t first = written.find_first_not_of(" \t", number_size);
    if (first == std::string_view::npos) return span;
    return {span.source, span.begin + quote + first, span.begin + quote + written.size()};
}

// What to write instead of an unknown unit; a decimal comma or a fraction ends up here too.
std::string unit_hint(std::string_view written, std::span<const Unit> units) {
    const bool digit_next = written.size() > 1 && written[1] >= '0' && written[1] <= '9';
    std::string unit(units.front().name);
    for (const Unit& known : units)
        if (written.ends_with(" " + std::string(known.name))) unit = known.name;
    if (digit_next && written.front() == ',')
        return fmt::format("write decimals with a point, for example \"{}\"", with_display_unit("1.5", unit));
    if (digit_next && written.front() == '/')
        return fmt::format("write fractions as decimals, for example \"{}\"", with_display_unit("0.5", unit));
    return fmt::format("write one of: {}", units_label(units));
}

}  // namespace

template <>
std::span<const Unit> units_of<Millimetres>() {
    return kLength;
}
template <>
std::span<const Unit> units_of<Micrometres>() {
    return kFilm;
}
template <>
std::span<const Unit> units_of<Nanometres>() {
    return kWavelength;
}
template <>
std::span<const Unit> units_of<Degrees>() {
    return kAngle;
}
template <>
std::span<const Unit> units_of<Seconds>() {
    return kTime;
}
template <>
std::span<const Unit> units_of<MillimetresPerSecond>() {
    return kSpeed;
}
template <>
std::span<const Unit> units_of<MillilitresPerMinute>() {
    return kFlow;
}
template <>
std::span<const Unit> units_of<Millilitres>() {
    return kVolume;
}
template <>
std::span<const Unit> units_of<Grams>() {
    return kMass;
}
template <>
std::span<const Unit> units_of<GramsPerMillilitre>() {
    return kDensity;
}
template <>
std::span<const Unit> units_of<GramsPerLitre>() {
    return kLoading;
}
template <>
std::span<const Unit> units_of<Bar>() {
    return kPressure;
}
template <>
std::span<const Unit> units_of<Celsius>() {
    return kTemperature;
}
template <>
std::span<const Unit> units_of<Kelvin>() {
    return kColourTemperature;
}
template <>
std::span<const Unit> units_of<PerMicrometre>() {
    return kPerFilm;
}
template <>
std::span<const Unit> units_of<Share>() {
    return kShare;
}

std::string number_text(double number) {
    char buffer[64];
    const auto end = std::to_chars(buffer, buffer + sizeof buffer, number);
    return {buffer, end.ptr};
}

std::string_view display_unit_name(std::string_view name) {
    const auto* const found = std::find_if(kDisplayNames.begin(), kDisplayNames.end(),
                                           [&](const DisplayName& known) { return known.name == name; });
    return found == kDisplayNames.end() ? name : found->display;
}

std::string with_display_unit(std::string_view number, std::string_view unit) {
    const std::string_view display = display_unit_name(unit);
    if (display == "mils" && number == "1") return "1 mil";
    return fmt::format("{}{}{}", number, display == "°" ? "" : " ", display);
}

std::string units_label(std::span<const Unit> units) {
    std::string label;
    for (const Unit& unit : units) {
        // Spellings of the same unit are accepted but not listed, except the ASCII one of a unit such as µm.
        const bool is_spelling = std::any_of(units.begin(), units.end(), [&](const Unit& other) {
            return &other < &unit && is_same_unit(other, unit);
        });
        if (is_spelling) continue;
        const std::string_view display = display_unit_name(unit.name);
        label += (label.empty() ? "" : ", ") + std::string(display);
        if (is_ascii(display)) continue;
        const auto typed = std::find_if(units.begin(), units.end(), [&](const Unit& other) {
            return is_same_unit(other, unit) && is_ascii(other.name);
        });
        if (typed != units.end()) label += fmt::format(" (or {})", typed->name);
    }
    return label;
}

std::optional<double> read_quantity(std::string_view written, SourceSpan span, std::span<const Unit> units,
                                    Diagnostics& diagnostics) {
    const std::string_view text = trim(written);
    const std::string example = fmt::format(
        "\"{}\"", with_display_unit(units.front().name == "%" ? "25" : "150", units.front().name));
    double number = 0.0;
    const char* begin = text.data() + (text.starts_with('+') ? 1 : 0);
    const auto [end, ec] = std::from_chars(begin, text.data() + text.size(), number);
    if (ec != std::errc{} || !std::isfinite(number)) {
        diagnostics.error("T016", std::move(span), fmt::format("'{}' does not start with a number", text),
                          fmt::format("write a number and a unit, for example {}", example));
        return std::nullopt;
    }
    const auto number_size = static_cast<std::size_t>(end - written.data());
    const std::string_view unit_name = trim(written.substr(number_size));
    if (unit_name.empty()) {
        diagnostics.error("T010", std::move(span), fmt::format("'{}' has no unit", text),
                          fmt::format("add a unit: one of {}", units_label(units)));
        return std::nullopt;
    }
    for (const Unit& unit : units)
        if (unit.name == unit_name) return unit.to_internal(number);
    diagnostics.error("T011", unit_span(span, written, number_size),
                      fmt::format("'{}' is not a unit of this kind", unit_name), unit_hint(unit_name, units));
    return std::nullopt;
}

std::string quantity_text(double internal, std::span<const Unit> units) {
    const Unit& unit = units.front();
    // Division by a factor may miss the shortest decimal by one rounding; the short form is preferred if it
    // reads back equal.
    const double exact = (internal - unit.offset) * unit.divisor / unit.factor;
    const double tidy = std::strtod(fmt::format("{:.12g}", exact).c_str(), nullptr);
    const bool reads_back = unit.to_internal(tidy) == internal;
    return number_text(reads_back ? tidy : exact) + " " + std::string(unit.name);
}

}  // namespace fadewright
