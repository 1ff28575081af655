// CxF3: objects with reflectance spectra, and the colour specifications that say how they were measured.
//
// Facts of the format that the schema leaves open and how they are taken: a spectrum's own StartWL goes
// before its specification's; a list is as long as its words; points of a CustomSpectrum may stand in any
// order.

#include "spectra_cxf_spec.h"

#include <fmt/core.h>

#include <algorithm>
#include <map>
#include <set>

namespace fadewright::colour {
namespace {

class CxfReader {
public:
    CxfReader(const Reader& reader, MeasuredFile& file) : reader_(reader), file_(file) {}

    bool read(const pugi::xml_node& root) {
        const pugi::xml_node resources = child_of(root, "Resources");
        bool good = read_specifications(child_of(resources, "ColorSpecificationCollection"));
        for (const pugi::xml_node& object : children_of(child_of(resources, "ObjectCollection"), "Object"))
            good = read_object(object) && good;
        good = good && equally_long();
        if (without_ > 0)
            file_.decisions.push_back(fmt::format("{} {} no reflectance spectrum and {} left out", without_,
                                                  without_ == 1 ? "object has" : "objects have",
                                                  without_ == 1 ? "is" : "are"));
        if (good && !spectra_.empty())
            file_.decisions.push_back("values are fractions of one, as CxF3 has them");
        return good && settle_all(spectra_, 1, reader_, file_);
    }

private:
    // Values on an even grid; a CustomSpectrum has none.
    struct Length {
        std::size_t values;
        Place place;
    };

    bool read_specifications(const pugi::xml_node& collection) {
        bool good = true;
        for (const pugi::xml_node& node : children_of(collection, "ColorSpecification")) {
            const auto specification = specification_of(node, reader_);
            good = good && specification.has_value();
            const std::string id = node.attribute("Id").value();
            if (!specification) {
                broken_.insert(id);
                continue;
            }
            if (specifications_.emplace(id, *specification).second) continue;
            reader_.error("R017", place_of(node, reader_),
                          fmt::format("there are two colour specifications '{}'", id),
                          "every Id stands once in a file");
            good = false;
        }
        return good;
    }

    bool read_object(const pugi::xml_node& object) {
        bool good = true, any = false;
        const pugi::xml_node values = child_of(object, "ColorValues");
        for (const pugi::xml_node& node : values.children()) {
            const bool even = is_cxf(node, "ReflectanceSpectrum");
            if (!even && !is_cxf(node, "CustomSpectrum")) continue;
            any = true;
            good = read_spectrum(object, node, even) && good;
        }
        if (!any) ++without_;
        return good;
    }

    bool read_spectrum(const pugi::xml_node& object, const pugi::xml_node& node, bool even) {
        const std::string id = node.attribute("ColorSpecification").value();
        const auto found = specifications_.find(id);
        if (broken_.count(id) > 0) return false;  // reported where it stands
        if (found == specifications_.end()) {
            reader_.error("R017", place_of(node, reader_),
                          id.empty() ? std::string("this spectrum names no colour specification")
                                     : fmt::format("there is no colour specification '{}'", id),
                          "give ColorSpecification the Id of one of the ColorSpecificationCollection");
            return false;
        }
        Spectrum spectrum;
        spectrum.sample = found->second.sample;
        spectrum.sample.name = name_of_sample(object, node, found->second);
        spectrum.sample.place = place_of(object, reader_);
        if (const auto thickness = thickness_of(child_of(object, "PhysicalAttributes"), reader_))
            spectrum.sample.thickness = thickness;
        if (!(even ? read_list(node, found->second, spectrum) : read_points(node, spectrum))) return false;
        spectra_.push_back(std::move(spectrum));
        return true;
    }

    // The object's name; with the spectrum's own, or its aspecular angle, where the object has several.
    static std::string name_of_sample(const pugi::xml_node& object, const pugi::xml_node& node,
                                      const Specification& specification) {
        std::string name = as_utf8(object.attribute("Name").value());
        if (name.empty()) name = as_utf8(object.attribute("Id").value());
        const pugi::xml_node values = child_of(object, "ColorValues");
        const std::size_t several =
            children_of(values, "ReflectanceSpectrum").size() + children_of(values, "CustomSpectrum").size();
        if (several < 2) return name;
        std::string own = as_utf8(node.attribute("Name").value());
        if (own.empty() && specification.sample.aspecular_deg)
            own = fmt::format("as{:g}", *specification.sample.aspecular_deg);
        if (own.empty()) own = as_utf8(node.attribute("ColorSpecification").value());
        return name + " " + own;
    }

    std::optional<double> number_in(const TextWord& word) const {
        const auto number = number_of(word.text);
        if (!number)
            reader_.error("R011", reader_.at(word.begin, word.begin + word.text.size()),
                          fmt::format("'{}' is no value", word.text), "write a fraction, as 0.25");
        return number;
    }

    bool read_list(const pugi::xml_node& node, const Specification& specification, Spectrum& spectrum) {
        std::optional<double> start = specification.start_nm;
        if (const pugi::xml_attribute own = node.attribute("StartWL")) {
            start = number_of(own.value());
            if (start && specification.start_nm && *start != *specification.start_nm)
                reader_.warn("R018", place_of(node, reader_),
                             fmt::format("this spectrum begins at {} nm, its specification at {} nm", *start,
                                         *specification.start_nm),
                             "the spectrum's own StartWL is taken");
        }
        const auto step = specification.increment_nm;
        if (!start || !step || *step <= 0) {
            reader_.error("R018", place_of(node, reader_),
                          start ? "the increment of this spectrum is not given"
                                : "the first wavelength of this spectrum is not given",
                          "its colour specification needs WavelengthRange with StartWL and Increment");
            return false;
        }
        const std::vector<TextWord> words = words_of(node, reader_);
        for (std::size_t i = 0; i < words.size(); ++i) {
            const auto value = number_in(words[i]);
            if (!value) return false;
            spectrum.points.push_back({*start + *step * static_cast<double>(i), *value,
                                       reader_.at(words[i].begin, words[i].begin + words[i].text.size())});
        }
        lengths_[{*start, *step}].push_back({words.size(), place_of(node, reader_)});
        return true;
    }

    bool read_points(const pugi::xml_node& node, Spectrum& spectrum) const {
        for (const pugi::xml_node& point : children_of(node, "SpectralPoint")) {
            const auto nm = number_of(point.attribute("WL").value());
            const std::vector<TextWord> words = words_of(point, reader_);
            if (!nm || words.size() != 1) {
                reader_.error("R011", place_of(point, reader_), "this point has no wavelength or no value",
                              "write <SpectralPoint WL=\"400\">0.25</SpectralPoint>");
                return false;
            }
            const auto value = number_in(words.front());
            if (!value) return false;
            spectrum.points.push_back({*nm, *value, place_of(point, reader_)});
        }
        return true;
    }

    // A list has no count of its own, but one instrument gives lists of one length: a value lost or split
    // would shift all that follow it.
    bool equally_long() const {
        bool good = true;
        for (const auto& [grid, lengths] : lengths_)
            for (const Length& length : lengths) {
                if (length.values == lengths.front().values) continue;
                reader_.error("R019", length.place,
                              fmt::format("{} values from {} nm, but {} in the first spectrum like it",
                                          length.values, grid.first, lengths.front().values),
                              "is a value missing, or are two run together?");
                good = false;
            }
        return good;
    }

    const Reader& reader_;
    MeasuredFile& file_;
    std::map<std::string, Specification> specifications_;
    std::set<std::string> broken_;
    std::vector<Spectrum> spectra_;
    std::map<std::pair<double, double>, std::vector<Length>> lengths_;  // by start and increment
    std::size_t without_ = 0;
};

}  // namespace

bool read_cxf(const Reader& reader, MeasuredFile& file) {
    pugi::xml_document document;
    const std::string& text = reader.text();
    const unsigned options = pugi::parse_default | pugi::parse_doctype;  // seen, never acted upon
    const pugi::xml_parse_result parsed =
        document.load_buffer(text.data(), text.size(), options, pugi::encoding_utf8);
    if (!parsed) {
        const auto at =
            std::min(static_cast<std::size_t>(std::max<std::ptrdiff_t>(parsed.offset, 0)), text.size());
        reader.error("R015", reader.at(at, at), "this is no XML: " + lower(parsed.description()),
                     "export the file again; every element must be closed");
        return false;
    }
    for (const pugi::xml_node& node : document.children())
        if (node.type() == pugi::node_doctype) {
            reader.error("R015", reader.at(0, 1), "this file has a document type",
                         "CxF has none: take the line with <!DOCTYPE out");
            return false;
        }
    const pugi::xml_node root = document.document_element();
    if (!is_cxf(root, "CxF")) {
        reader.error("R016", place_of(root, reader), fmt::format("<{}> is no CxF of version 3", root.name()),
                     fmt::format("the first element is CxF in the namespace {}", kCxfNamespace));
        return false;
    }
    return CxfReader(reader, file).read(root);
}

}  // namespace fadewright::colour
