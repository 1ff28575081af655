// Measured spectra: content of the files, geometry, colours and colour differences.

#include "fadewright/app/commands.h"
#include "fadewright/app/requests_schema.h"
#include "fadewright/colour/delta_e.h"
#include "fadewright/colour/illuminant.h"
#include "fadewright/measured/spectra_file.h"
#include "fadewright/report/colour_naming.h"
#include "outcome.h"

#include <fmt/core.h>

#include <cmath>
#include <nlohmann/json.hpp>

namespace fadewright::app {
namespace {

struct SpectraFile {
    std::string path;
    measured::MeasuredFile file;
};

struct SampleColour {
    colour::XYZ xyz;
    colour::Lab lab;
    colour::LCh lch;
};

// Light and observer of all samples, and the standard they are compared with.
struct Comparison {
    std::string light;
    colour::Observer observer;
    colour::TristimulusWeights weights;
    std::string standard_name, standard_path;
    colour::Lab standard;
    bool standard_is_separate = false;  // by --against; otherwise the first sample is the standard
};

SampleColour sample_colour(const measured::MeasuredSample& sample,
                           const colour::TristimulusWeights& weights) {
    SampleColour values;
    values.xyz = colour::to_xyz(measured::resample_to_bands(sample), weights);
    values.lab = colour::to_lab(values.xyz, weights.white);
    values.lch = colour::to_lch(values.lab);
    return values;
}

// The difference from the standard; none for the standard itself.
std::optional<double> difference(const SampleColour& values, const Comparison& viewing, bool first) {
    if (first && !viewing.standard_is_separate) return std::nullopt;
    return colour::delta_e_2000(viewing.standard, values.lab);
}

// "sphere, specular included; over black; 40 um; 400 to 700 nm in 31 bands"
std::string describe_sample(const measured::MeasuredSample& sample, DisplayUnits units) {
    std::string text;
    if (!sample.geometry.empty()) text += sample.geometry + "; ";
    if (sample.aspecular_deg) text += fmt::format("{:g}° aspecular; ", *sample.aspecular_deg);
    if (!sample.backing.empty()) text += fmt::format("over {}; ", sample.backing);
    if (sample.thickness) text += units.input_text(*sample.thickness) + "; ";
    if (sample.bandpass_corrected == false) text += "not corrected for bandpass; ";
    return text + fmt::format("{:g} to {:g} nm in {} bands", sample.wavelengths_nm.front(),
                              sample.wavelengths_nm.back(), sample.wavelengths_nm.size());
}

std::string spectra_text(const std::vector<SpectraFile>& files, const Comparison& viewing,
                         DisplayUnits units) {
    std::string out;
    for (const SpectraFile& spectra_file : files) {
        out += fmt::format("{}: {}, {} {}\n", spectra_file.path, spectra_file.file.format,
                           spectra_file.file.samples.size(),
                           spectra_file.file.samples.size() == 1 ? "spectrum" : "spectra");
        for (const std::string& decision : spectra_file.file.assumptions) out += "  " + decision + "\n";
    }
    out += fmt::format("in {}, {}° observer; ΔE00 from {} of {}\n\n", viewing.light,
                       name_of(viewing.observer), viewing.standard_name, viewing.standard_path);
    out += fmt::format("{:<24} {:>7} {:>7} {:>7}  {:>6} {:>6} {:>6} {:>6} {:>6} {:>6}\n", "", "X", "Y", "Z",
                       "L*", "a*", "b*", "C*", "h", "ΔE00");
    bool first = true;
    for (const SpectraFile& spectra_file : files)
        for (const measured::MeasuredSample& sample : spectra_file.file.samples) {
            const SampleColour values = sample_colour(sample, viewing.weights);
            const auto dE = difference(values, viewing, first);
            first = false;
            out += fmt::format(
                "{:<24} {:>7.3f} {:>7.3f} {:>7.3f}  {:>6.2f} {:>6.2f} {:>6.2f} {:>6.2f} {:>6.1f} {:>6}  {}\n",
                sample.name, values.xyz.X, values.xyz.Y, values.xyz.Z, values.lab.L, values.lab.a,
                values.lab.b, values.lch.C, values.lch.h, dE ? fmt::format("{:.2f}", *dE) : "",
                report::colour_name(values.lab));
            out += fmt::format("{:<24} {}\n", "", describe_sample(sample, units));
        }
    return out;
}

std::string measurement_label(measured::Measurement measurement) {
    switch (measurement) {
        case measured::Measurement::reflectance:
            return "reflectance";
        case measured::Measurement::transmittance:
            return "transmittance";
        case measured::Measurement::power:
            return "power";
    }
    return "";
}

template <class T>
nlohmann::ordered_json json_or_null(const std::optional<T>& value) {
    return value ? nlohmann::ordered_json(*value) : nlohmann::ordered_json(nullptr);
}

nlohmann::ordered_json sample_json(const measured::MeasuredSample& sample, const Comparison& viewing,
                                   bool first) {
    const SampleColour values = sample_colour(sample, viewing.weights);
    nlohmann::ordered_json json;
    json["name"] = sample.name;
    json["measurement"] = measurement_label(sample.measurement);
    json["geometry"] = sample.geometry;
    json["aspecular_deg"] = json_or_null(sample.aspecular_deg);
    json["backing"] = sample.backing;
    json["thickness_um"] = sample.thickness ? nlohmann::ordered_json(sample.thickness->value) : nullptr;
    json["bandpass_corrected"] = json_or_null(sample.bandpass_corrected);
    json["wavelengths_nm"] = sample.wavelengths_nm;
    json["values"] = sample.values;
    json["xyz"] = {values.xyz.X, values.xyz.Y, values.xyz.Z};
    json["lab"] = {values.lab.L, values.lab.a, values.lab.b};
    json["lch"] = {values.lch.L, values.lch.C, values.lch.h};
    json["colour_name"] = report::colour_name(values.lab);
    json["dE00"] = json_or_null(difference(values, viewing, first));
    return json;
}

std::string spectra_json(const std::vector<SpectraFile>& files, const Comparison& viewing) {
    nlohmann::ordered_json json;
    json["light"] = viewing.light;
    json["observer"] = viewing.observer == colour::Observer::two_degree ? 2 : 10;
    json["compared_with"] = {{"file", viewing.standard_path}, {"sample", viewing.standard_name}};
    json["files"] = nlohmann::ordered_json::array();
    bool first = true;
    for (const SpectraFile& spectra_file : files) {
        nlohmann::ordered_json file;
        file["file"] = spectra_file.path;
        file["format"] = spectra_file.file.format;
        file["decisions"] = spectra_file.file.assumptions;
        file["samples"] = nlohmann::ordered_json::array();
        for (const measured::MeasuredSample& sample : spectra_file.file.samples) {
            file["samples"].push_back(sample_json(sample, viewing, first));
            first = false;
        }
        json["files"].push_back(std::move(file));
    }
    return json_text(json);
}

// Continues after a file with errors, so that all are reported at once; stops at a file that cannot be
// opened.
Attempt<std::vector<SpectraFile>> read_spectra_files(const std::vector<std::string>& paths,
                                                     Diagnostics& diagnostics) {
    std::vector<SpectraFile> files;
    for (const std::string& path : paths) {
        const Result<std::shared_ptr<const Source>> source = read_source(path);
        if (!source) return system_failure(source.error());
        if (auto file = measured::read_measured_file(source.value(), diagnostics))
            files.push_back({source.value()->name(), std::move(*file)});
    }
    return files;
}

}  // namespace

Outcome spectra(Session& session, const SpectraRequest& request) {
    const Result<plan::Library> library = session.library();
    if (!library) return failed(system_failure(library.error()), request);
    const Attempt<colour::Illuminant> found =
        find_light(library.value(), request.light.empty() ? "day" : request.light);
    if (!found) return failed(found.error(), request);
    const colour::Illuminant& light = found.value();
    Diagnostics diagnostics;
    const Attempt<std::vector<SpectraFile>> read = read_spectra_files(request.files, diagnostics);
    if (!read) return failed(read.error(), request);
    std::vector<std::string> against;
    if (!request.against.empty()) against.push_back(request.against);
    const Attempt<std::vector<SpectraFile>> compared_with = read_spectra_files(against, diagnostics);
    if (!compared_with) return failed(compared_with.error(), request);
    if (diagnostics.has_errors()) return failed(data_failure(diagnostics), request);
    const std::vector<SpectraFile>&files = read.value(), &standards = compared_with.value();
    Comparison viewing{
        light.title, request.observer, colour::tristimulus_weights(light, request.observer), "", "", {},
        false};
    const SpectraFile& standard = standards.empty() ? files.front() : standards.front();
    const measured::MeasuredSample& compared = standard.file.samples.front();
    viewing.standard_name = compared.name;
    viewing.standard_path = standard.path;
    viewing.standard = sample_colour(compared, viewing.weights).lab;
    viewing.standard_is_separate = !standards.empty();
    Outcome outcome;
    outcome.err = to_text(diagnostics);  // warnings
    outcome.out = request.json ? spectra_json(files, viewing)
                               : spectra_text(files, viewing, output_options(request).display_units());
    return outcome;
}

}  // namespace fadewright::app
