// Reading files of measured spectra in tests.
#pragma once

#include "fadewright/measured/spectra_file.h"

#include <memory>
#include <set>
#include <string>
#include <utility>

namespace fadewright::test {

struct ReadSpectra {
    std::optional<measured::MeasuredFile> file;
    Diagnostics diagnostics;

    // What was said: rule and message.
    [[nodiscard]] std::set<std::pair<std::string, std::string>> messages() const {
        std::set<std::pair<std::string, std::string>> all;
        for (const Diagnostic& d : diagnostics.sorted_list()) all.emplace(d.rule, d.message);
        return all;
    }
};

inline ReadSpectra read_spectra(std::string text, std::string name = "file") {
    ReadSpectra result;
    const auto source = std::make_shared<const Source>(std::move(name), std::move(text));
    result.file = measured::read_measured_file(source, result.diagnostics);
    return result;
}

}  // namespace fadewright::test
