#include "cgats_fields.h"

#include "spectra_common.h"

#include <algorithm>
#include <array>

namespace fadewright::colour {
namespace {

struct Stem {
    std::string_view text;
    ValueUnit unit;
};

// Longer stems first, as some begin with a shorter one.
constexpr std::array<Stem, 6> kStems{{{"spectral_nm", ValueUnit::unspecified},
                                      {"spectral_pct", ValueUnit::percent},
                                      {"spectral_dec", ValueUnit::fraction},
                                      {"spectral", ValueUnit::unspecified},
                                      {"spec", ValueUnit::unspecified},
                                      {"nm", ValueUnit::unspecified}}};

struct Ending {
    std::string_view text;
    ValueUnit unit;
};
constexpr std::array<Ending, 2> kEndings{{{"_pct", ValueUnit::percent}, {"_dec", ValueUnit::fraction}}};

// Digits with at most one decimal point; no signs, no exponents.
std::optional<double> wavelength_of(std::string_view text) {
    if (text.find_first_not_of("0123456789.") != std::string_view::npos) return std::nullopt;
    return parse_number(text);
}

}  // namespace

FieldMeaning parse_field(std::string_view field) {
    const std::string low = to_lower(field);
    if (low == "spectral_nm") return {FieldMeaning::Kind::pair_wavelength, 0, ValueUnit::unspecified};
    if (low == "spectral_pct") return {FieldMeaning::Kind::pair_value, 0, ValueUnit::percent};
    if (low == "spectral_dec") return {FieldMeaning::Kind::pair_value, 0, ValueUnit::fraction};
    const auto stem =
        std::find_if(kStems.begin(), kStems.end(), [&](const Stem& s) { return low.starts_with(s.text); });
    if (stem == kStems.end()) return {};
    std::string_view rest = std::string_view(low).substr(stem->text.size());
    FieldMeaning meaning{FieldMeaning::Kind::band, 0, stem->unit};
    if (rest.starts_with('_')) rest.remove_prefix(1);
    for (const Ending& ending : kEndings)
        if (rest.ends_with(ending.text)) {
            rest.remove_suffix(ending.text.size());
            meaning.unit = ending.unit;
        }
    if (const auto nm = wavelength_of(rest)) {
        meaning.nm = *nm;
        return meaning;
    }
    if (stem->text == "nm") return {};
    return {FieldMeaning::Kind::damaged, 0, ValueUnit::unspecified};
}

}  // namespace fadewright::colour
