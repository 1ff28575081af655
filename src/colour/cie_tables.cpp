#include "cie_tables.h"

#include "embedded.h"
#include "fadewright/base/contract.h"
#include "fadewright/base/strings.h"

#include <algorithm>
#include <cmath>

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

double lagrange(const std::vector<double>& wavelengths_nm, const std::vector<double>& values, double nm,
                std::size_t points) {
    FW_EXPECTS(points >= 2 && wavelengths_nm.size() >= points && values.size() == wavelengths_nm.size());
    if (nm < wavelengths_nm.front() || nm > wavelengths_nm.back()) return 0;
    const double step = wavelengths_nm[1] - wavelengths_nm[0];
    const double position = (nm - wavelengths_nm.front()) / step;
    const std::size_t points_before = points / 2 - 1;
    const double first = std::floor(position) - static_cast<double>(points_before);
    const auto start =
        static_cast<std::size_t>(std::clamp(first, 0.0, static_cast<double>(wavelengths_nm.size() - points)));
    double sum = 0;
    for (std::size_t i = 0; i < points; ++i) {
        double share = 1;
        for (std::size_t j = 0; j < points; ++j)
            if (j != i)
                share *= (position - static_cast<double>(start + j)) /
                         (static_cast<double>(i) - static_cast<double>(j));
        sum += share * values[start + i];
    }
    return sum;
}

}  // namespace fadewright::colour
