#include "spectra_grid.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace fadewright::colour {
namespace {

constexpr double kRounding_nm = 1.001;     // names are whole nanometres, rounded or cut off
constexpr double kEndRounding_nm = 0.501;  // but the ends are told exactly or rounded

bool in_even_steps(const std::vector<Point>& points) {
    for (std::size_t i = 2; i < points.size(); ++i)
        if (std::abs((points[i].nm - points[i - 1].nm) - (points[1].nm - points[0].nm)) > 1e-9) return false;
    return true;
}

// The wavelengths of the header, if it says all three of its numbers.
std::optional<std::vector<double>> announced(const CgatsTable& table) {
    const auto start = number_of(table.value("SPECTRAL_START_NM"));
    const auto end = number_of(table.value("SPECTRAL_END_NM"));
    const auto bands = number_of(table.value("SPECTRAL_BANDS"));
    constexpr double kMostBands = 10'000;
    if (!start || !end || !bands || *bands < 2 || *bands > kMostBands) return std::nullopt;
    std::vector<double> grid(static_cast<std::size_t>(*bands));
    const double step = (*end - *start) / static_cast<double>(grid.size() - 1);
    for (std::size_t i = 0; i < grid.size(); ++i) grid[i] = *start + step * static_cast<double>(i);
    return grid;
}

bool agree(const std::vector<Point>& named, const std::vector<double>& grid) {
    if (named.size() != grid.size()) return false;
    if (std::abs(named.front().nm - grid.front()) > kEndRounding_nm) return false;
    if (std::abs(named.back().nm - grid.back()) > kEndRounding_nm) return false;
    for (std::size_t i = 0; i < grid.size(); ++i)
        if (std::abs(named[i].nm - grid[i]) > kRounding_nm) return false;
    return true;
}

}  // namespace

void take_thousandths(std::vector<Point>& named, MeasuredFile& file) {
    constexpr double kFactor = 1000, kLeast = 100'000;
    const bool all = std::all_of(named.begin(), named.end(), [](const Point& p) { return p.nm >= kLeast; });
    if (!all) return;
    for (Point& p : named) p.nm /= kFactor;
    file.decisions.push_back(fmt::format("fields are named by wavelengths times {}", kFactor));
}

bool take_announced_grid(std::vector<Point>& named, const CgatsTable& table, const Reader& reader,
                         MeasuredFile& file) {
    const auto grid = announced(table);
    const bool even = in_even_steps(named);
    if (!grid) {
        if (!even)
            reader.warn("R010", named[1].place,
                        "the fields' wavelengths are not evenly spaced, maybe rounded",
                        "SPECTRAL_BANDS, SPECTRAL_START_NM and SPECTRAL_END_NM would say the right ones");
        return true;
    }
    if (agree(named, *grid)) {
        if (even) return true;
        for (std::size_t i = 0; i < named.size(); ++i) named[i].nm = (*grid)[i];
        file.decisions.push_back(fmt::format(
            "wavelengths are every {:.4g} nm from {} to {}, by the header: the fields' names are rounded",
            (*grid)[1] - (*grid)[0], grid->front(), grid->back()));
        return true;
    }
    const Keyword* bands = table.find("SPECTRAL_BANDS");
    const std::string message = fmt::format(
        "the header tells of {} wavelengths from {} to {} nm, the fields of {} from {} to {} nm",
        grid->size(), grid->front(), grid->back(), named.size(), named.front().nm, named.back().nm);
    if (even) {
        reader.warn("R014", bands->place, message, "the fields' names are taken; correct the header");
        return true;
    }
    reader.error("R014", bands->place, message,
                 "correct SPECTRAL_BANDS, SPECTRAL_START_NM or SPECTRAL_END_NM");
    return false;
}

}  // namespace fadewright::colour
