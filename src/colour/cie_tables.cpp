#include "cie_tables.h"

#include "embedded.h"
#include "fadewright/base/contract.h"
#include "fadewright/base/csv.h"

#include <algorithm>

namespace fadewright::colour {

std::vector<std::vector<double>> cie_table_columns(std::string_view file) {
    const auto files = embedded_tables();
    const auto found =
        std::find_if(files.begin(), files.end(), [&](const EmbeddedFile& f) { return f.path == file; });
    FW_EXPECTS(found != files.end());
    const std::vector<std::vector<double>> rows = number_table(found->text);
    FW_ENSURES(!rows.empty());
    std::vector<std::vector<double>> columns(rows.front().size());
    for (const std::vector<double>& row : rows)
        for (std::size_t i = 0; i < row.size(); ++i) columns[i].push_back(row[i]);
    return columns;
}

}  // namespace fadewright::colour
