// The meaning of the fields of a CGATS table, by their names.
#pragma once

#include <optional>
#include <string_view>

namespace fadewright::colour {

enum class ValueUnit { unspecified, percent, fraction };

struct FieldMeaning {
    enum class Kind {
        other,            // not spectral
        band,             // the value at `nm`
        pair_wavelength,  // SPECTRAL_NM: the wavelength of the next field
        pair_value,       // SPECTRAL_PCT, SPECTRAL_DEC
        damaged           // starts like a spectral field but is not one
    };
    Kind kind = Kind::other;
    double nm = 0;  // as written; may be nanometres times 1000
    ValueUnit unit = ValueUnit::unspecified;
};

// Case is ignored. Wavelengths follow SPEC, SPECTRAL, SPECTRAL_NM, SPECTRAL_PCT,
// SPECTRAL_DEC or NM, with or without "_"; _PCT or _DEC may follow them.
[[nodiscard]] FieldMeaning parse_field(std::string_view field);

}  // namespace fadewright::colour
