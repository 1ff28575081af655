#include "spectra_cxf_spec.h"

#include "fadewright/text/units.h"

#include <fmt/core.h>

#include <algorithm>

namespace fadewright::colour {
namespace {

bool report_wrong_number(const pugi::xml_node& node, std::string_view quantity, std::string_view written,
                         const SpectraReader& reader) {
    reader.error("R018", span_of(node, reader), fmt::format("{} is '{}'", quantity, written),
                 "write nanometres, for example StartWL=\"400\" Increment=\"10\"");
    return false;
}

bool read_range(const pugi::xml_node& range, Specification& out, const SpectraReader& reader) {
    if (!range) return true;
    const auto assign = [&](const char* name, std::optional<double>& nm) {
        const pugi::xml_attribute attribute = range.attribute(name);
        if (!attribute) return true;
        nm = parse_number(attribute.value());
        return nm.has_value() || report_wrong_number(range, name, attribute.value(), reader);
    };
    return assign("StartWL", out.start_nm) && assign("Increment", out.increment_nm);
}

// "sphere, specular included", "45:0", "45as-15"
void read_geometry(const pugi::xml_node& choice, MeasuredSample& sample) {
    if (const pugi::xml_node sphere = child_of(choice, "SphereGeometry")) {
        std::string text = to_lower(text_of(sphere));
        std::replace(text.begin(), text.end(), '_', ' ');
        sample.geometry = "sphere, " + text;
    } else if (const pugi::xml_node single = child_of(choice, "SingleAngle")) {
        const std::string in = text_of(child_of(single, "IlluminationAngle"));
        const std::string out = text_of(child_of(single, "MeasurementAngle"));
        sample.geometry = fmt::format("{}:{}", in.empty() ? "?" : in, out.empty() ? "?" : out);
    } else if (const pugi::xml_node angle = child_of(choice, "MultiAngle", "BRDFAngle")) {
        const std::string in = text_of(child_of(angle, "IlluminationAngle"));
        sample.aspecular_deg = parse_number(text_of(child_of(angle, "Aspecular")));
        sample.geometry = angle.attribute("Notation")
                              ? to_utf8(angle.attribute("Notation").value())
                              : fmt::format("{}as{}", in, text_of(child_of(angle, "Aspecular")));
        const std::string azimuth = text_of(child_of(angle, "Azimuth"));
        if (!azimuth.empty() && parse_number(azimuth) != 0.0) sample.geometry += ", azimuth " + azimuth;
    } else if (child_of(choice, "EmissiveMode")) {
        sample.measurement = Measurement::power;
        sample.geometry = "emissive";
    }
}

void read_type(const pugi::xml_node& measurement, MeasuredSample& sample) {
    const std::string type = to_lower(text_of(child_of(measurement, "MeasurementType")));
    if (type.find("transmi") != std::string::npos) sample.measurement = Measurement::transmittance;
    if (type.find("emis") != std::string::npos) sample.measurement = Measurement::power;
}

// Micrometres per unit.
std::optional<double> to_micrometres(std::string_view unit) {
    const std::string lower_case = to_lower(unit);
    for (const Unit& known : units_of<Micrometres>())
        if (lower_case == known.name) return known.to_internal(1.0);
    for (const Unit& known : units_of<Millimetres>())
        if (lower_case == known.name) return 1000 * known.to_internal(1.0);
    for (const char* word : {"micron", "micrometer", "micrometre", "\xC2\xB5m", "\xCE\xBCm"})
        if (lower_case.starts_with(word)) return 1.0;
    if (lower_case.starts_with("millimet")) return 1000.0;
    if (lower_case.starts_with("inch")) return 25'400.0;  // exactly. Source: [nbs1959].
    if (lower_case == "mils") return 25.4;
    return std::nullopt;
}

}  // namespace

std::optional<Micrometres> parse_thickness(const pugi::xml_node& attributes, const SpectraReader& reader) {
    const pugi::xml_node node = child_of(attributes, "Thickness");
    if (!node) return std::nullopt;
    const std::string unit = to_utf8(node.attribute("Units").value());
    const auto number = parse_number(text_of(node));
    const auto factor = to_micrometres(unit);
    if (!number || !factor) {
        reader.warn("R024", span_of(node, reader),
                    fmt::format("unknown thickness '{}' in '{}'", text_of(node), unit),
                    "it is ignored; write a number, and Units=\"um\"");
        return std::nullopt;
    }
    return Micrometres{*number * *factor};
}

std::optional<Specification> parse_specification(const pugi::xml_node& node, const SpectraReader& reader) {
    Specification out;
    const pugi::xml_node measurement = child_of(node, "MeasurementSpec");
    read_type(measurement, out.sample);
    read_geometry(child_of(measurement, "GeometryChoice"), out.sample);
    out.sample.backing = parse_backing(text_of(child_of(measurement, "Backing")));
    const std::string corrected = to_lower(text_of(child_of(measurement, "BandpassCorrected")));
    if (!corrected.empty()) out.sample.bandpass_corrected = corrected == "true" || corrected == "1";
    out.sample.thickness = parse_thickness(child_of(node, "PhysicalAttributes"), reader);
    if (!read_range(child_of(measurement, "WavelengthRange"), out, reader)) return std::nullopt;
    return out;
}

}  // namespace fadewright::colour
