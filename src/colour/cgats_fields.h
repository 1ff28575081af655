// What the fields of a CGATS table mean, by their names.
#pragma once

#include <optional>
#include <string_view>

namespace fadewright::colour {

enum class ValueUnit { unspecified, percent, fraction };

struct FieldMeaning {
    enum class Kind {
        other,            // nothing spectral
        band,             // the value at `nm`
        pair_wavelength,  // SPECTRAL_NM: the wavelength of the field beside it
        pair_value,       // SPECTRAL_PCT, SPECTRAL_DEC
        damaged           // begins like a spectral field and is none
    };
    Kind kind = Kind::other;
    double nm = 0;  // as written; may be nanometres times 1000
    ValueUnit unit = ValueUnit::unspecified;
};

// Upper and lower case are the same. Wavelengths follow SPEC, SPECTRAL, SPECTRAL_NM, SPECTRAL_PCT,
// SPECTRAL_DEC or NM, with or without "_"; _PCT or _DEC may follow them.
[[nodiscard]] FieldMeaning parse_field(std::string_view field);

}  // namespace fadewright::colour
