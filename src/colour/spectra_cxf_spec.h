// How a CxF spectrum was measured: its colour specification.
#pragma once

#include "spectra_xml.h"

#include <optional>

namespace fadewright::colour {

struct Specification {
    MeasuredSample sample;  // geometry, backing and the like, for every spectrum that names it
    std::optional<double> start_nm, increment_nm;
};

// Nothing if a number in it is none.
[[nodiscard]] std::optional<Specification> parse_specification(const pugi::xml_node& node,
                                                               const SpectraReader& reader);

// Thickness of PhysicalAttributes; warns where its unit is no length.
[[nodiscard]] std::optional<Micrometres> parse_thickness(const pugi::xml_node& attributes,
                                                         const SpectraReader& reader);

}  // namespace fadewright::colour
