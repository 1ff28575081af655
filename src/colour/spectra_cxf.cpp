// CxF3: objects with reflectance spectra, and the colour specifications with their measurement conditions.
//
// Details that the schema leaves open: a spectrum's own StartWL takes precedence over its specification's;
// the length of a list is the number of its words; points of a CustomSpectrum may have any order.

#include "spectra_cxf_spec.h"

#include <fmt/core.h>

#include <algorithm>
#include <map>
#include <set>

namespace fadewright::colour {
namespace {

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

}  // namespace fadewright::colour
