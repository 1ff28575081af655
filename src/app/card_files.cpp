#include "card_files.h"

#include "fadewright/measured/spectra_file.h"
#include "fadewright/render/png.h"
#include "fadewright/text/schema.h"
#include "outcome.h"

#include <fmt/core.h>

#include <filesystem>
#include <map>
#include <memory>

namespace fadewright::app {
namespace {

using Measured = std::optional<measured::MeasuredFile>;

// The sample of that name; without a name, the only one there is.
const measured::MeasuredSample* find_sample(const measured::MeasuredFile& file, const std::string& path,
                                            const std::string& name, const SourceSpan& span,
                                            Diagnostics& diagnostics) {
    if (name.empty() && file.samples.size() == 1) return &file.samples.front();
    std::vector<std::string> names;
    for (const measured::MeasuredSample& sample : file.samples) {
        if (sample.name == name) return &sample;
        names.push_back(sample.name);
    }
    const std::string_view close = closest_name(name, names);
    names.resize(std::min<std::size_t>(names.size(), 12));
    diagnostics.error("C014", span,
                      name.empty()
                          ? fmt::format("{} has {} samples and none is named", path, file.samples.size())
                          : fmt::format("{} has no sample called '{}'", path, name),
                      close.empty() ? fmt::format("samples: {}", detail::join_text(names, ", "))
                                    : fmt::format("did you mean '{}'?", close));
    return nullptr;
}

Measured read_spectra_file(const std::string& path, const SourceSpan& span, Diagnostics& diagnostics) {
    const Result<std::shared_ptr<const Source>> source = read_source(path);
    if (source) return measured::read_measured_file(source.value(), diagnostics);
    diagnostics.error("C014", span, source.error().message, "give a measurement file beside the card file");
    return std::nullopt;
}

}  // namespace

calibration::CardFiles card_files(const std::string& card_path) {
    const auto path_beside = [folder = std::filesystem::path(plan_file(card_path).folder)](
                                 const std::string& name) { return (folder / name).string(); };
    calibration::CardFiles files;
    files.read_picture = [path_beside](const std::string& name) -> Result<Picture> {
        const std::string path = path_beside(name);
        const Result<std::string> bytes = read_file_bytes(path, kBinaryFileLimit_bytes);
        if (!bytes) return bytes.error();
        return render::read_picture(bytes.value(), path);
    };
    files.read_sample = [path_beside, cache = std::make_shared<std::map<std::string, Measured>>()](
                            const std::string& name, const std::string& sample, const SourceSpan& span,
                            Diagnostics& diagnostics) -> std::optional<colour::Reflectance> {
        const std::string path = path_beside(name);
        if (!cache->contains(path)) cache->emplace(path, read_spectra_file(path, span, diagnostics));
        const Measured& file = cache->at(path);
        if (!file) return std::nullopt;  // reported once
        const measured::MeasuredSample* found = find_sample(*file, path, sample, span, diagnostics);
        if (!found) return std::nullopt;
        if (found->measurement == measured::Measurement::reflectance)
            return measured::resample_to_bands(*found);
        diagnostics.error("C014", span, fmt::format("'{}' in {} is not a reflectance", found->name, path),
                          "give a sample measured in reflection");
        return std::nullopt;
    };
    return files;
}

}  // namespace fadewright::app
