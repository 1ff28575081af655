#include "cie_tables.h"

#include "embedded.h"
#include "fadewright/base/contract.h"

#include <algorithm>
#include <charconv>

namespace fadewright::colour {
namespace {

std::vector<double> split_cells(std::string_view line) {
    std::vector<double> cells;
    while (!line.empty()) {
        const std::size_t comma = std::min(line.find(','), line.size());
        double value = 0;
        const auto [end, ec] = std::from_chars(line.data(), line.data() + comma, value);
        FW_ENSURES(ec == std::errc{} && end == line.data() + comma);
        cells.push_back(value);
        line.remove_prefix(std::min(comma + 1, line.size()));
    }
    return cells;
}

}  // namespace

std::vector<std::vector<double>> cie_table_columns(std::string_view file) {
    const auto files = embedded_tables();
    const auto found =
        std::find_if(files.begin(), files.end(), [&](const EmbeddedFile& f) { return f.path == file; });
    FW_EXPECTS(found != files.end());
    std::vector<std::vector<double>> columns;
    std::string_view text = found->text;
    bool has_header = false;
    while (!text.empty()) {
        const std::size_t size = std::min(text.find('\n'), text.size());
        const std::string_view line = text.substr(0, size);
        text.remove_prefix(std::min(size + 1, text.size()));
        if (line.empty() || line.front() == '#') continue;
        if (!has_header) {
            has_header = true;  // the line with the column names
            continue;
        }
        const std::vector<double> cells = split_cells(line);
        columns.resize(cells.size());
        for (std::size_t i = 0; i < cells.size(); ++i) columns[i].push_back(cells[i]);
    }
    return columns;
}

}  // namespace fadewright::colour
