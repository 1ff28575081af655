#include "bounded_fit.h"

#include <algorithm>
#include <cmath>

namespace fadewright::plan {
namespace {

constexpr double kPullMatters = 1e-9;  // of a bound, against the right side's size
constexpr std::size_t kRoundsEach = 6;

// Cholesky's root of the square over the free amounts, and the place where their slope is nothing.
class FreePlace {
public:
    FreePlace(const Bowl& bowl, const std::vector<std::size_t>& free, const std::vector<double>& x)
        : n_(free.size()), root_(n_ * n_), place_(n_) {
        for (std::size_t i = 0; i < n_; ++i) {
            double right = bowl.right[free[i]];
            std::size_t next = 0;
            for (std::size_t j = 0; j < bowl.count(); ++j) {
                if (next < n_ && free[next] == j) {
                    ++next;
                } else {
                    right -= bowl.at(free[i], j) * x[j];
                }
            }
            place_[i] = right;
            for (std::size_t j = 0; j <= i; ++j) root_[i * n_ + j] = bowl.at(free[i], free[j]);
        }
        take_root();
        solve();
    }
    [[nodiscard]] const std::vector<double>& place() const noexcept { return place_; }

private:
    void take_root() {
        for (std::size_t i = 0; i < n_; ++i) {
            double* row = root_.data() + i * n_;
            for (std::size_t j = 0; j <= i; ++j) {
                const double* other = root_.data() + j * n_;
                double sum = row[j];
                for (std::size_t k = 0; k < j; ++k) sum -= row[k] * other[k];
                row[j] = i == j ? std::sqrt(std::max(sum, 1e-300)) : sum / other[j];
            }
        }
    }

    void solve() {
        for (std::size_t i = 0; i < n_; ++i) {
            for (std::size_t k = 0; k < i; ++k) place_[i] -= root_[i * n_ + k] * place_[k];
            place_[i] /= root_[i * n_ + i];
        }
        for (std::size_t i = n_; i-- > 0;) {
            for (std::size_t k = i + 1; k < n_; ++k) place_[i] -= root_[k * n_ + i] * place_[k];
            place_[i] /= root_[i * n_ + i];
        }
    }

    std::size_t n_;
    std::vector<double> root_, place_;
};

// The amount at its bound that the slope pulls up hardest; count() if none is.
std::size_t pulled(const Bowl& bowl, const std::vector<bool>& bound, const std::vector<double>& x) {
    std::size_t hardest = bowl.count();
    double most = 0;
    for (std::size_t i = 0; i < x.size(); ++i) {
        if (!bound[i]) continue;
        double pull = bowl.pull(x, i);
        if (pull <= kPullMatters * std::abs(bowl.right[i])) continue;
        pull /= std::sqrt(bowl.at(i, i));  // all amounts alike, whatever their unit
        if (pull > most) most = pull, hardest = i;
    }
    return hardest;
}

}  // namespace

double Bowl::height(const std::vector<double>& x) const noexcept {
    double height = 0;
    for (std::size_t a = 0; a < x.size(); ++a)
        if (x[a] != 0) height -= x[a] * (pull(x, a) + right[a]);
    return height;
}

double Bowl::pull(const std::vector<double>& x, std::size_t amount) const noexcept {
    double pull = right[amount];
    for (std::size_t b = 0; b < x.size(); ++b) pull -= at(amount, b) * x[b];
    return pull;
}

std::vector<double> lowest_place(const Bowl& bowl, const std::vector<double>& low,
                                 const std::vector<bool>& held, std::vector<double> start) {
    std::vector<double> x = std::move(start);
    const std::size_t n = x.size();
    std::vector<bool> bound(n);
    for (std::size_t i = 0; i < n; ++i) bound[i] = !held[i] && x[i] <= low[i];
    for (std::size_t round = 0; round < kRoundsEach * (n + 1); ++round) {
        std::vector<std::size_t> free;
        for (std::size_t i = 0; i < n; ++i)
            if (!held[i] && !bound[i]) free.push_back(i);
        const FreePlace lowest(bowl, free, x);
        // As far towards it as the bounds allow.
        double part = 1;
        std::size_t stop = n;
        for (std::size_t k = 0; k < free.size(); ++k) {
            const double from = x[free[k]], to = lowest.place()[k];
            if (to >= low[free[k]]) continue;
            const double way = (from - low[free[k]]) / (from - to);
            if (way < part) part = way, stop = free[k];
        }
        for (std::size_t k = 0; k < free.size(); ++k) x[free[k]] += part * (lowest.place()[k] - x[free[k]]);
        if (stop < n) {
            x[stop] = low[stop];
            bound[stop] = true;
            continue;
        }
        const std::size_t next = pulled(bowl, bound, x);
        if (next == n) break;
        bound[next] = false;
    }
    return x;
}

}  // namespace fadewright::plan
