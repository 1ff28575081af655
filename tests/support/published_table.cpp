#include "published_table.h"

#include <filesystem>
#include <fstream>
#include <sstream>
#include <stdexcept>

namespace fadewright::test {
namespace {

std::vector<std::string> cells_of(const std::string& line) {
    std::vector<std::string> cells;
    std::stringstream in(line);
    for (std::string cell; std::getline(in, cell, ',');) {
        const auto first = cell.find_first_not_of(" \t\r");
        const auto last = cell.find_last_not_of(" \t\r");
        cells.push_back(first == std::string::npos ? "" : cell.substr(first, last - first + 1));
    }
    if (!line.empty() && line.back() == ',') cells.emplace_back();
    return cells;
}

}  // namespace

Row::Row(const std::vector<std::string>& names, const std::vector<std::string>& cells) {
    if (names.size() != cells.size()) throw std::runtime_error("published table: row of another width");
    for (std::size_t i = 0; i < names.size(); ++i) cells_[names[i]] = cells[i];
}

const std::string& Row::text(const std::string& column) const { return cells_.at(column); }

double Row::number(const std::string& column) const { return std::stod(cells_.at(column)); }

std::vector<Row> published_rows(const std::string& file) {
    std::ifstream in(source_path("tests/published/" + file));
    if (!in) throw std::runtime_error("published table missing: " + file);
    std::vector<std::string> names;
    std::vector<Row> rows;
    for (std::string line; std::getline(in, line);) {
        if (line.empty() || line[0] == '#') continue;
        if (names.empty()) {
            names = cells_of(line);
        } else {
            rows.emplace_back(names, cells_of(line));
        }
    }
    if (rows.empty()) throw std::runtime_error("published table empty: " + file);
    return rows;
}

std::string source_path(const std::string& below) { return std::string(FW_SOURCE_DIR) + "/" + below; }

std::string scratch_path(const std::string& name) {
    const std::filesystem::path folder = std::filesystem::path(FW_BINARY_DIR) / "scratch";
    std::filesystem::create_directories(folder);
    return (folder / name).string();
}

}  // namespace fadewright::test
