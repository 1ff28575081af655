// Measured spectra: what was read, how it was taken, its colours, and how far they are apart.

#include "embedded.h"
#include "fadewright/app/commands.h"
#include "fadewright/app/requests_schema.h"
#include "fadewright/colour/delta_e.h"
#include "fadewright/colour/light.h"
#include "fadewright/colour/spectra_file.h"
#include "fadewright/colour/words.h"
#include "outcome.h"

#include <fmt/core.h>

#include <cmath>
#include <nlohmann/json.hpp>

namespace fadewright::app {
namespace {

struct FileRead {
    std::string path;
    colour::MeasuredFile file;
};

struct Look {
    colour::XYZ xyz;
    colour::Lab lab;
    colour::LCh lch;
};

// What all samples are seen in, and the one they are compared with.
struct Viewing {
    std::string light;
    colour::Observer observer;
    colour::Weights weights;
    std::string standard_name, standard_path;
    colour::Lab standard;
    bool standard_elsewhere = false;  // by --against; else it is the first sample itself
};

Look look_of(const colour::MeasuredSample& sample, const colour::Weights& weights) {
    Look look;
    look.xyz = colour::to_xyz(colour::on_bands(sample), weights);
    look.lab = colour::to_lab(look.xyz, weights.white);
    look.lch = colour::to_lch(look.lab);
    return look;
}

// The difference from the standard; none for the standard itself.
std::optional<double> difference(const Look& look, const Viewing& viewing, bool first) {
    if (first && !viewing.standard_elsewhere) return std::nullopt;
    return colour::delta_e_2000(viewing.standard, look.lab);
}

// "sphere, specular included; over black; 40 um; 400 to 700 nm in 31 bands"
std::string told(const colour::MeasuredSample& sample, ShownUnits units) {
    std::string words;
    if (!sample.geometry.empty()) words += sample.geometry + "; ";
    if (sample.aspecular_deg) words += fmt::format("{:g} deg from the gloss; ", *sample.aspecular_deg);
    if (!sample.backing.empty()) words += fmt::format("over {}; ", sample.backing);
    if (sample.thickness) words += units.as_given(*sample.thickness) + "; ";
    if (sample.bandpass_corrected == false) words += "not corrected for bandpass; ";
    return words + fmt::format("{:g} to {:g} nm in {} bands", sample.wavelengths_nm.front(),
                               sample.wavelengths_nm.back(), sample.wavelengths_nm.size());
}

std::string text_of(const std::vector<FileRead>& files, const Viewing& viewing, ShownUnits units) {
    std::string out;
    for (const FileRead& read : files) {
        out += fmt::format("{}: {}, {} {}\n", read.path, read.file.format, read.file.samples.size(),
                           read.file.samples.size() == 1 ? "spectrum" : "spectra");
        for (const std::string& decision : read.file.decisions) out += "  " + decision + "\n";
    }
    out += fmt::format("seen in {}, {}; dE00 from {} of {}\n\n", viewing.light, name_of(viewing.observer),
                       viewing.standard_name, viewing.standard_path);
    out += fmt::format("{:<24} {:>7} {:>7} {:>7}  {:>6} {:>6} {:>6} {:>6} {:>6} {:>6}\n", "", "X", "Y", "Z",
                       "L", "a", "b", "C", "h", "dE00");
    bool first = true;
    for (const FileRead& read : files)
        for (const colour::MeasuredSample& sample : read.file.samples) {
            const Look look = look_of(sample, viewing.weights);
            const auto dE = difference(look, viewing, first);
            first = false;
            out += fmt::format(
                "{:<24} {:>7.3f} {:>7.3f} {:>7.3f}  {:>6.2f} {:>6.2f} {:>6.2f} {:>6.2f} {:>6.1f} {:>6}  {}\n",
                sample.name, look.xyz.X, look.xyz.Y, look.xyz.Z, look.lab.L, look.lab.a, look.lab.b,
                look.lch.C, look.lch.h, dE ? fmt::format("{:.2f}", *dE) : "", colour::colour_words(look.lab));
            out += fmt::format("{:<24} {}\n", "", told(sample, units));
        }
    return out;
}

std::string measurement_word(colour::Measurement measurement) {
    switch (measurement) {
        case colour::Measurement::reflectance:
            return "reflectance";
        case colour::Measurement::transmittance:
            return "transmittance";
        case colour::Measurement::power:
            return "power";
    }
    return "";
}

template <class T>
nlohmann::ordered_json json_or_null(const std::optional<T>& value) {
    return value ? nlohmann::ordered_json(*value) : nlohmann::ordered_json(nullptr);
}

nlohmann::ordered_json sample_json(const colour::MeasuredSample& sample, const Viewing& viewing, bool first) {
    const Look look = look_of(sample, viewing.weights);
    nlohmann::ordered_json json;
    json["name"] = sample.name;
    json["measurement"] = measurement_word(sample.measurement);
    json["geometry"] = sample.geometry;
    json["aspecular_deg"] = json_or_null(sample.aspecular_deg);
    json["backing"] = sample.backing;
    json["thickness_um"] = sample.thickness ? nlohmann::ordered_json(sample.thickness->value) : nullptr;
    json["bandpass_corrected"] = json_or_null(sample.bandpass_corrected);
    json["wavelengths_nm"] = sample.wavelengths_nm;
    json["values"] = sample.values;
    json["xyz"] = {look.xyz.X, look.xyz.Y, look.xyz.Z};
    json["lab"] = {look.lab.L, look.lab.a, look.lab.b};
    json["lch"] = {look.lch.L, look.lch.C, look.lch.h};
    json["words"] = colour::colour_words(look.lab);
    json["dE00"] = json_or_null(difference(look, viewing, first));
    return json;
}

std::string json_of(const std::vector<FileRead>& files, const Viewing& viewing) {
    nlohmann::ordered_json json;
    json["light"] = viewing.light;
    json["observer"] = name_of(viewing.observer);
    json["compared_with"] = {{"file", viewing.standard_path}, {"sample", viewing.standard_name}};
    json["files"] = nlohmann::ordered_json::array();
    bool first = true;
    for (const FileRead& read : files) {
        nlohmann::ordered_json file;
        file["file"] = read.path;
        file["format"] = read.file.format;
        file["decisions"] = read.file.decisions;
        file["samples"] = nlohmann::ordered_json::array();
        for (const colour::MeasuredSample& sample : read.file.samples) {
            file["samples"].push_back(sample_json(sample, viewing, first));
            first = false;
        }
        json["files"].push_back(std::move(file));
    }
    return json.dump(2, ' ', false, nlohmann::json::error_handler_t::replace) + "\n";
}

// Reads on after a wrong file, so that all mistakes are told at once; a file that cannot be opened ends it.
std::optional<Refusal> read_file(const std::string& path, std::vector<FileRead>& files,
                                 Diagnostics& diagnostics) {
    const Result<std::shared_ptr<const Source>> source = read_source(path);
    if (!source) return source.refusal();
    if (auto file = colour::read_measured(source.value(), diagnostics))
        files.push_back({source.value()->name(), std::move(*file)});
    return std::nullopt;
}

// The light of that name; nothing, and the outcome filled, if the shelf has none.
std::optional<colour::Light> light_called(const ReadRequest& request, Outcome& outcome) {
    Result<plan::Shelf> opened = plan::Shelf::open(embedded_presets(), request.shelf);
    if (!opened) {
        outcome = refused(opened.refusal());
        return std::nullopt;
    }
    plan::Shelf shelf = std::move(opened).value();
    Diagnostics diagnostics;
    const std::string name = request.light.empty() ? "day" : request.light;
    if (const colour::Light* light = shelf.light(name, diagnostics)) return *light;
    const std::vector<std::string> names = shelf.names(plan::ShelfKind::lights);
    outcome = diagnostics.has_errors()
                  ? wrong_data(diagnostics, request.json)
                  : wrong_command(fmt::format("no light is called '{}'", name),
                                  fmt::format("lights: {}", reading::joined(names, ", ")));
    return std::nullopt;
}

}  // namespace

Outcome read(const ReadRequest& request) {
    Outcome outcome;
    const auto light = light_called(request, outcome);
    if (!light) return outcome;
    Diagnostics diagnostics;
    std::vector<FileRead> files, standards;
    for (const std::string& path : request.files)
        if (const auto refusal = read_file(path, files, diagnostics)) return refused(*refusal);
    if (!request.against.empty())
        if (const auto refusal = read_file(request.against, standards, diagnostics)) return refused(*refusal);
    if (diagnostics.has_errors()) return wrong_data(diagnostics, request.json);
    Viewing viewing{light->title, request.observer, colour::weights(*light, request.observer), "", "", {},
                    false};
    const FileRead& standard = standards.empty() ? files.front() : standards.front();
    const colour::MeasuredSample& compared = standard.file.samples.front();
    viewing.standard_name = compared.name;
    viewing.standard_path = standard.path;
    viewing.standard = look_of(compared, viewing.weights).lab;
    viewing.standard_elsewhere = !standards.empty();
    outcome.talk = to_text(diagnostics);  // warnings
    outcome.out =
        request.json ? json_of(files, viewing) : text_of(files, viewing, answer_of(request).shown());
    return outcome;
}

}  // namespace fadewright::app
