#include "lagrange.h"

#include "fadewright/base/contract.h"

#include <algorithm>
#include <cmath>

namespace fadewright::colour {

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
