#include "card_files.h"

#include "fadewright/colour/spectra_file.h"
#include "fadewright/render/png.h"
#include "fadewright/text/schema.h"
#include "outcome.h"

#include <fmt/core.h>

#include <filesystem>
#include <map>
#include <memory>

namespace fadewright::app {
namespace {

using Measured = std::optional<colour::MeasuredFile>;

// The sample of that name; without a name, the only one there is.
const colour::MeasuredSample* sample_of(const colour::MeasuredFile& file, const std::string& path,
                                        const std::string& name, const Place& place,
                                        Diagnostics& diagnostics) {
    if (name.empty() && file.samples.size() == 1) return &file.samples.front();
    std::vector<std::string> names;
    for (const colour::MeasuredSample& sample : file.samples) {
        if (sample.name == name) return &sample;
        names.push_back(sample.name);
    }
    const std::string_view close = closest_name(name, names);
    names.resize(std::min<std::size_t>(names.size(), 12));
    diagnostics.error("C014", place,
                      name.empty()
                          ? fmt::format("{} has {} samples and none is named", path, file.samples.size())
                          : fmt::format("{} has no sample called '{}'", path, name),
                      close.empty() ? fmt::format("samples: {}", reading::joined(names, ", "))
                                    : fmt::format("did you mean '{}'?", close));
    return nullptr;
}

Measured read_file(const std::string& path, const Place& place, Diagnostics& diagnostics) {
    const Result<std::shared_ptr<const Source>> source = read_source(path);
    if (source) return colour::read_measured(source.value(), diagnostics);
    diagnostics.error("C014", place, source.refusal().message,
                      "name a measurement file beside the card file");
    return std::nullopt;
}

}  // namespace

plan::CardFiles files_beside(const std::string& card_path) {
    const auto beside = [folder = std::filesystem::path(card_path == "-" ? "" : card_path).parent_path()](
                            const std::string& name) { return (folder / name).string(); };
    plan::CardFiles files;
    files.picture = [beside](const std::string& name) -> Result<Picture> {
        const std::string path = beside(name);
        const Result<std::string> bytes = read_whole(path, kBinaryFileLimit_bytes);
        if (!bytes) return bytes.refusal();
        return render::read_picture(bytes.value(), path);
    };
    files.measured = [beside, known = std::make_shared<std::map<std::string, Measured>>()](
                         const std::string& name, const std::string& sample, const Place& place,
                         Diagnostics& diagnostics) -> std::optional<colour::Reflectance> {
        const std::string path = beside(name);
        if (!known->contains(path)) known->emplace(path, read_file(path, place, diagnostics));
        const Measured& file = known->at(path);
        if (!file) return std::nullopt;  // reported once
        const colour::MeasuredSample* found = sample_of(*file, path, sample, place, diagnostics);
        if (!found) return std::nullopt;
        if (found->measurement == colour::Measurement::reflectance) return colour::on_bands(*found);
        diagnostics.error("C014", place, fmt::format("'{}' in {} is no reflectance", found->name, path),
                          "name a sample that was measured by reflection");
        return std::nullopt;
    };
    return files;
}

}  // namespace fadewright::app
