#include "fadewright/base/csv.h"

#include "fadewright/base/contract.h"
#include "fadewright/base/trim.h"

#include <algorithm>
#include <charconv>

namespace fadewright {
namespace {

// Removes the part of the text before the mark, and the mark.
std::string_view take_until(std::string_view& text, char mark) {
    const std::size_t size = std::min(text.find(mark), text.size());
    const std::string_view part = text.substr(0, size);
    text.remove_prefix(std::min(size + 1, text.size()));
    return part;
}

}  // namespace

std::string csv_cell(std::string_view text) {
    if (text.find_first_of(",\"\r\n") == std::string_view::npos) return std::string(text);
    std::string out = "\"";
    for (const char c : text) {
        if (c == '"') out += '"';
        out += c;
    }
    return out + "\"";
}

std::vector<std::vector<double>> number_table(std::string_view text) {
    std::vector<std::vector<double>> rows;
    std::size_t columns = 0;
    while (!text.empty()) {
        std::string_view line = trim(take_until(text, '\n'));
        if (line.empty() || line.front() == '#') continue;
        if (columns == 0) {
            columns = 1 + static_cast<std::size_t>(std::count(line.begin(), line.end(), ','));
            continue;
        }
        std::vector<double>& row = rows.emplace_back();
        while (!line.empty()) {
            const std::string_view cell = take_until(line, ',');
            const auto [end, error] =
                std::from_chars(cell.data(), cell.data() + cell.size(), row.emplace_back());
            FW_ENSURES(error == std::errc{} && end == cell.data() + cell.size());
        }
        FW_ENSURES(row.size() == columns);
    }
    return rows;
}

}  // namespace fadewright
