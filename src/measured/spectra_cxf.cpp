// CxF3: objects with reflectance spectra, and the colour specifications with their measurement conditions.
//
// Details that the schema leaves open: a spectrum's own StartWL takes precedence over its specification's;
// the length of a list is the number of its words; points of a CustomSpectrum may have any order.
#include "fadewright/text/units.h"
#include "spectra_common.h"

#include <fmt/core.h>
#include <pugixml.hpp>

#include <algorithm>
#include <map>
#include <optional>
#include <set>
#include <string_view>
#include <vector>

namespace fadewright::measured {
namespace {

// Elements of a CxF file by their local names, for any prefix, and their spans.

constexpr std::string_view kCxfNamespace = "http://colorexchangeformat.com/CxF3-core";

// A word of an element's text, with its offset in the file.
struct TextToken {
    std::string_view text;
    std::size_t begin;
};

// The namespace of an element's prefix: the nearest declaration upwards.
std::string_view namespace_of(const pugi::xml_node& node) {
    const std::string_view name = node.name();
    const std::size_t colon = name.find(':');
    const std::string declared =
        colon == std::string_view::npos ? "xmlns" : "xmlns:" + std::string(name.substr(0, colon));
    for (pugi::xml_node ancestor = node; ancestor; ancestor = ancestor.parent())
        if (const pugi::xml_attribute attribute = ancestor.attribute(declared.c_str()))
            return attribute.value();
    return {};
}

std::size_t offset_of(const pugi::xml_node& node) {
    return static_cast<std::size_t>(std::max<std::ptrdiff_t>(node.offset_debug(), 0));
}

std::string_view local_name(const pugi::xml_node& node) {
    const std::string_view name = node.name();
    const std::size_t colon = name.find(':');
    return colon == std::string_view::npos ? name : name.substr(colon + 1);
}

bool is_cxf(const pugi::xml_node& node, std::string_view name) {
    return node.type() == pugi::node_element && local_name(node) == name &&
           namespace_of(node) == kCxfNamespace;
}

// The first child with that name, or an empty node; all children with that name.
pugi::xml_node child_of(const pugi::xml_node& parent, std::string_view name) {
    for (const pugi::xml_node& node : parent.children())
        if (is_cxf(node, name)) return node;
    return {};
}

// The same along several names.
template <class... Names>
pugi::xml_node child_of(const pugi::xml_node& parent, std::string_view first, Names... rest) {
    return child_of(child_of(parent, first), rest...);
}

std::vector<pugi::xml_node> children_of(const pugi::xml_node& parent, std::string_view name) {
    std::vector<pugi::xml_node> found;
    for (const pugi::xml_node& node : parent.children())
        if (is_cxf(node, name)) found.push_back(node);
    return found;
}

std::string text_of(const pugi::xml_node& node) {
    std::string text;
    for (const pugi::xml_node& part : node.children())
        if (part.type() == pugi::node_pcdata || part.type() == pugi::node_cdata) text += part.value();
    return to_utf8(trim(text));
}

SourceSpan span_of(const pugi::xml_node& node, const SpectraReader& reader) {
    const std::size_t begin = offset_of(node);
    return reader.span_at(begin, begin + std::string_view(node.name()).size());
}

std::vector<TextToken> text_tokens(const pugi::xml_node& node, const SpectraReader& reader) {
    std::vector<TextToken> tokens;
    const std::string_view file_text = reader.text();
    constexpr std::string_view kBlank = " \t\r\n";
    for (const pugi::xml_node& part : node.children()) {
        if (part.type() != pugi::node_pcdata) continue;
        const std::size_t begin = offset_of(part);
        const std::size_t end = std::min(file_text.find('<', begin), file_text.size());
        for (std::size_t offset = begin; offset < end;) {
            const std::size_t word = std::min(file_text.find_first_not_of(kBlank, offset), end);
            offset = std::min(file_text.find_first_of(kBlank, word), end);
            if (offset > word) tokens.push_back({file_text.substr(word, offset - word), word});
        }
    }
    return tokens;
}

// Colour specification of a CxF spectrum: its measurement conditions.

struct Specification {
    MeasuredSample sample;  // geometry, backing and so on, for every spectrum that refers to it
    std::optional<double> start_nm, increment_nm;
};

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

// Thickness of PhysicalAttributes; warns if its unit is not a length.
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

// Empty if a number in it is invalid.
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

class CxfReader {
public:
    CxfReader(const SpectraReader& reader, MeasuredFile& file) : reader_(reader), file_(file) {}

    bool read(const pugi::xml_node& root) {
        const pugi::xml_node resources = child_of(root, "Resources");
        bool good = read_specifications(child_of(resources, "ColorSpecificationCollection"));
        for (const pugi::xml_node& object : children_of(child_of(resources, "ObjectCollection"), "Object"))
            good = read_object(object) && good;
        good = good && check_lengths();
        if (skipped_ > 0)
            file_.assumptions.push_back(fmt::format("{} {} no reflectance spectrum and {} ignored", skipped_,
                                                    skipped_ == 1 ? "object has" : "objects have",
                                                    skipped_ == 1 ? "is" : "are"));
        if (good && !spectra_.empty()) file_.assumptions.push_back("values are fractions, as always in CxF3");
        return good && finalise_all(spectra_, 1, reader_, file_);
    }

private:
    // Values on an even grid; not for a CustomSpectrum.
    struct Length {
        std::size_t values;
        SourceSpan span;
    };

    bool read_specifications(const pugi::xml_node& collection) {
        bool good = true;
        for (const pugi::xml_node& node : children_of(collection, "ColorSpecification")) {
            const auto specification = parse_specification(node, reader_);
            good = good && specification.has_value();
            const std::string id = node.attribute("Id").value();
            if (!specification) {
                broken_.insert(id);
                continue;
            }
            if (specifications_.emplace(id, *specification).second) continue;
            reader_.error("R017", span_of(node, reader_),
                          fmt::format("two colour specifications are named '{}'", id),
                          "use every Id once per file");
            good = false;
        }
        return good;
    }

    bool read_object(const pugi::xml_node& object) {
        bool good = true, has_spectrum = false;
        const pugi::xml_node values = child_of(object, "ColorValues");
        for (const pugi::xml_node& node : values.children()) {
            const bool evenly_spaced = is_cxf(node, "ReflectanceSpectrum");
            if (!evenly_spaced && !is_cxf(node, "CustomSpectrum")) continue;
            has_spectrum = true;
            good = read_spectrum(object, node, evenly_spaced) && good;
        }
        if (!has_spectrum) ++skipped_;
        return good;
    }

    bool read_spectrum(const pugi::xml_node& object, const pugi::xml_node& node, bool evenly_spaced) {
        const std::string id = node.attribute("ColorSpecification").value();
        const auto found = specifications_.find(id);
        if (broken_.count(id) > 0) return false;  // reported with the specification
        if (found == specifications_.end()) {
            reader_.error("R017", span_of(node, reader_),
                          id.empty() ? std::string("this spectrum has no ColorSpecification")
                                     : fmt::format("unknown colour specification '{}'", id),
                          "give ColorSpecification an Id of the ColorSpecificationCollection");
            return false;
        }
        RawSpectrum spectrum;
        spectrum.sample = found->second.sample;
        spectrum.sample.name = name_of_sample(object, node, found->second);
        spectrum.sample.span = span_of(object, reader_);
        if (const auto thickness = parse_thickness(child_of(object, "PhysicalAttributes"), reader_))
            spectrum.sample.thickness = thickness;
        if (!(evenly_spaced ? read_list(node, found->second, spectrum) : read_points(node, spectrum)))
            return false;
        spectra_.push_back(std::move(spectrum));
        return true;
    }

    // The object's name; with the name or aspecular angle of the spectrum if the object has several.
    static std::string name_of_sample(const pugi::xml_node& object, const pugi::xml_node& node,
                                      const Specification& specification) {
        std::string name = to_utf8(object.attribute("Name").value());
        if (name.empty()) name = to_utf8(object.attribute("Id").value());
        const pugi::xml_node values = child_of(object, "ColorValues");
        const std::size_t spectrum_count =
            children_of(values, "ReflectanceSpectrum").size() + children_of(values, "CustomSpectrum").size();
        if (spectrum_count < 2) return name;
        std::string own_name = to_utf8(node.attribute("Name").value());
        if (own_name.empty() && specification.sample.aspecular_deg)
            own_name = fmt::format("as{:g}", *specification.sample.aspecular_deg);
        if (own_name.empty()) own_name = to_utf8(node.attribute("ColorSpecification").value());
        return name + " " + own_name;
    }

    std::optional<double> parse_value(const TextToken& token) const {
        const auto number = parse_number(token.text);
        if (!number)
            reader_.error("R011", reader_.span_at(token.begin, token.begin + token.text.size()),
                          fmt::format("'{}' is not a value", token.text), "write a fraction such as 0.25");
        return number;
    }

    bool read_list(const pugi::xml_node& node, const Specification& specification, RawSpectrum& spectrum) {
        std::optional<double> start = specification.start_nm;
        if (const pugi::xml_attribute own_name = node.attribute("StartWL")) {
            start = parse_number(own_name.value());
            if (start && specification.start_nm && *start != *specification.start_nm)
                reader_.warn("R018", span_of(node, reader_),
                             fmt::format("this spectrum begins at {} nm, its specification at {} nm", *start,
                                         *specification.start_nm),
                             "the spectrum's own StartWL is used");
        }
        const auto step = specification.increment_nm;
        if (!start || !step || *step <= 0) {
            reader_.error("R018", span_of(node, reader_),
                          start ? "the increment of this spectrum is not given"
                                : "the first wavelength of this spectrum is not given",
                          "add WavelengthRange with StartWL and Increment to its colour specification");
            return false;
        }
        const std::vector<TextToken> tokens = text_tokens(node, reader_);
        for (std::size_t i = 0; i < tokens.size(); ++i) {
            const auto value = parse_value(tokens[i]);
            if (!value) return false;
            spectrum.values.push_back(
                {*start + *step * static_cast<double>(i), *value,
                 reader_.span_at(tokens[i].begin, tokens[i].begin + tokens[i].text.size())});
        }
        lengths_[{*start, *step}].push_back({tokens.size(), span_of(node, reader_)});
        return true;
    }

    bool read_points(const pugi::xml_node& node, RawSpectrum& spectrum) const {
        for (const pugi::xml_node& point : children_of(node, "SpectralPoint")) {
            const auto nm = parse_number(point.attribute("WL").value());
            const std::vector<TextToken> tokens = text_tokens(point, reader_);
            if (!nm || tokens.size() != 1) {
                reader_.error("R011", span_of(point, reader_), "this point has no wavelength or no value",
                              "write <SpectralPoint WL=\"400\">0.25</SpectralPoint>");
                return false;
            }
            const auto value = parse_value(tokens.front());
            if (!value) return false;
            spectrum.values.push_back({*nm, *value, span_of(point, reader_)});
        }
        return true;
    }

    // A list has no count, but lists of one instrument have the same length: a lost or split value
    // would shift all values after it.
    bool check_lengths() const {
        bool good = true;
        for (const auto& [grid, lengths] : lengths_)
            for (const Length& length : lengths) {
                if (length.values == lengths.front().values) continue;
                reader_.error("R019", length.span,
                              fmt::format("{} values from {} nm, but {} in the first such spectrum",
                                          length.values, grid.first, lengths.front().values),
                              "is a value missing, or are two joined?");
                good = false;
            }
        return good;
    }

    const SpectraReader& reader_;
    MeasuredFile& file_;
    std::map<std::string, Specification> specifications_;
    std::set<std::string> broken_;
    std::vector<RawSpectrum> spectra_;
    std::map<std::pair<double, double>, std::vector<Length>> lengths_;  // by start and increment
    std::size_t skipped_ = 0;
};

}  // namespace

bool read_cxf(const SpectraReader& reader, MeasuredFile& file) {
    pugi::xml_document document;
    const std::string& text = reader.text();
    const unsigned options = pugi::parse_default | pugi::parse_doctype;  // detected, never processed
    const pugi::xml_parse_result parsed =
        document.load_buffer(text.data(), text.size(), options, pugi::encoding_utf8);
    if (!parsed) {
        const auto at =
            std::min(static_cast<std::size_t>(std::max<std::ptrdiff_t>(parsed.offset, 0)), text.size());
        reader.error("R015", reader.span_at(at, at), "this is not XML: " + to_lower(parsed.description()),
                     "export the file again; every element must be closed");
        return false;
    }
    for (const pugi::xml_node& node : document.children())
        if (node.type() == pugi::node_doctype) {
            reader.error("R015", reader.span_at(0, 1), "this file has a document type",
                         "CxF has none: delete the line with <!DOCTYPE");
            return false;
        }
    const pugi::xml_node root = document.document_element();
    if (!is_cxf(root, "CxF")) {
        reader.error("R016", span_of(root, reader), fmt::format("<{}> is not CxF of version 3", root.name()),
                     fmt::format("the first element must be CxF in the namespace {}", kCxfNamespace));
        return false;
    }
    return CxfReader(reader, file).read(root);
}

}  // namespace fadewright::measured
