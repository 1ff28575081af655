#include "cgats_wavelengths.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace fadewright::colour {
namespace {

constexpr double kRounding_nm = 1.001;     // names are whole nanometres, rounded or truncated
constexpr double kEndRounding_nm = 0.501;  // the ends are exact or rounded

bool is_evenly_spaced(const std::vector<SpectralValue>& points) {
    for (std::size_t i = 2; i < points.size(); ++i)
        if (std::abs((points[i].nm - points[i - 1].nm) - (points[1].nm - points[0].nm)) > 1e-9) return false;
    return true;
}

// The wavelengths of the header, if it has all three numbers.
std::optional<std::vector<double>> header_wavelengths(const CgatsTable& table) {
    const auto start = parse_number(table.value("SPECTRAL_START_NM"));
    const auto end = parse_number(table.value("SPECTRAL_END_NM"));
    const auto bands = parse_number(table.value("SPECTRAL_BANDS"));
    constexpr double kMaxBands = 10'000;
    if (!start || !end || !bands || *bands < 2 || *bands > kMaxBands) return std::nullopt;
    std::vector<double> grid(static_cast<std::size_t>(*bands));
    const double step = (*end - *start) / static_cast<double>(grid.size() - 1);
    for (std::size_t i = 0; i < grid.size(); ++i) grid[i] = *start + step * static_cast<double>(i);
    return grid;
}

bool matches_names(const std::vector<SpectralValue>& field_values, const std::vector<double>& grid) {
    if (field_values.size() != grid.size()) return false;
    if (std::abs(field_values.front().nm - grid.front()) > kEndRounding_nm) return false;
    if (std::abs(field_values.back().nm - grid.back()) > kEndRounding_nm) return false;
    for (std::size_t i = 0; i < grid.size(); ++i)
        if (std::abs(field_values[i].nm - grid[i]) > kRounding_nm) return false;
    return true;
}

}  // namespace

void divide_scaled_wavelengths(std::vector<SpectralValue>& field_values, MeasuredFile& file) {
    constexpr double kFactor = 1000, kMinScaled = 100'000;
    const bool all = std::all_of(field_values.begin(), field_values.end(),
                                 [](const SpectralValue& p) { return p.nm >= kMinScaled; });
    if (!all) return;
    for (SpectralValue& p : field_values) p.nm /= kFactor;
    file.assumptions.push_back(fmt::format("field names are wavelengths times {}", kFactor));
}

bool apply_header_wavelengths(std::vector<SpectralValue>& field_values, const CgatsTable& table,
                              const SpectraReader& reader, MeasuredFile& file) {
    const auto grid = header_wavelengths(table);
    const bool is_even = is_evenly_spaced(field_values);
    if (!grid) {
        if (!is_even)
            reader.warn("R010", field_values[1].span,
                        "the wavelengths of the fields are not evenly spaced; they may be rounded",
                        "add SPECTRAL_BANDS, SPECTRAL_START_NM and SPECTRAL_END_NM for exact wavelengths");
        return true;
    }
    if (matches_names(field_values, *grid)) {
        if (is_even) return true;
        for (std::size_t i = 0; i < field_values.size(); ++i) field_values[i].nm = (*grid)[i];
        file.assumptions.push_back(fmt::format(
            "wavelengths: every {:.4g} nm from {} to {}, from the header; the field names are rounded",
            (*grid)[1] - (*grid)[0], grid->front(), grid->back()));
        return true;
    }
    const Keyword* bands = table.find("SPECTRAL_BANDS");
    const std::string message = fmt::format(
        "the header gives {} wavelengths from {} to {} nm, the fields give {} from {} to {} nm", grid->size(),
        grid->front(), grid->back(), field_values.size(), field_values.front().nm, field_values.back().nm);
    if (is_even) {
        reader.warn("R014", bands->span, message, "the field names are used; correct the header");
        return true;
    }
    reader.error("R014", bands->span, message,
                 "correct SPECTRAL_BANDS, SPECTRAL_START_NM or SPECTRAL_END_NM");
    return false;
}

}  // namespace fadewright::colour
