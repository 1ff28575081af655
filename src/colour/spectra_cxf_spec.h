// Colour specification of a CxF spectrum: its measurement conditions.
#pragma once

#include "spectra_xml.h"

#include <optional>

namespace fadewright::colour {

struct Specification {
    MeasuredSample sample;  // geometry, backing and so on, for every spectrum that refers to it
    std::optional<double> start_nm, increment_nm;
};

// Empty if a number in it is invalid.
[[nodiscard]] std::optional<Specification> parse_specification(const pugi::xml_node& node,
                                                               const SpectraReader& reader);

// Thickness of PhysicalAttributes; warns if its unit is not a length.
[[nodiscard]] std::optional<Micrometres> parse_thickness(const pugi::xml_node& attributes,
                                                         const SpectraReader& reader);

}  // namespace fadewright::colour
