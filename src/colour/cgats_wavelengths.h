// Wavelengths that the names of CGATS fields say, and the header beside them.
#pragma once

#include "cgats_table.h"

namespace fadewright::colour {

// Some programs name fields by wavelengths times 1000, SPEC_380000.
void divide_scaled_wavelengths(std::vector<SpectralValue>& field_values, MeasuredFile& file);

// SPECTRAL_START_NM, _END_NM and _BANDS: where the names are those wavelengths rounded, the header's are
// taken. Where they contradict, names in even steps stand, with a warning; others are an error (false).
[[nodiscard]] bool apply_header_wavelengths(std::vector<SpectralValue>& field_values, const CgatsTable& table,
                                            const SpectraReader& reader, MeasuredFile& file);

}  // namespace fadewright::colour
