// Wavelengths from the names of CGATS fields and from the header.
#pragma once

#include "cgats_table.h"

namespace fadewright::colour {

// Some programs name fields by wavelengths times 1000, SPEC_380000.
void divide_scaled_wavelengths(std::vector<SpectralValue>& field_values, MeasuredFile& file);

// SPECTRAL_START_NM, _END_NM and _BANDS: if the names are the rounded wavelengths of the header, the
// header is used. If they contradict, evenly spaced names are used with a warning; others are an error
// (false).
[[nodiscard]] bool apply_header_wavelengths(std::vector<SpectralValue>& field_values, const CgatsTable& table,
                                            const SpectraReader& reader, MeasuredFile& file);

}  // namespace fadewright::colour
