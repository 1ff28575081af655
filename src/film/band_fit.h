// One band of film/fit.h: two unknowns, K and S, both at least 0.
#pragma once

#include "fadewright/film/fit.h"

#include <vector>

namespace fadewright::film {

struct BandReading {
    double film = 0, ground = 0, seen = 0, noise = 0;
    double share = 1, known_K = 0, known_S = 0;
};

struct Pair {
    double K = 0, S = 0;
};

enum class Coefficient { K, S };

class BandProblem {
public:
    BandProblem(std::vector<BandReading> readings, Skin skin, Specular specular);

    [[nodiscard]] double predicted(const BandReading& reading, Pair p) const noexcept;
    [[nodiscard]] double chi2(Pair p) const noexcept;

    [[nodiscard]] Pair best() const;  // over both
    [[nodiscard]] Pair best_with_S(double S, Pair near) const;

    // Standard errors by the linearised sum, and the values at which chi2 has risen by `rise` (times `scale`
    // squared).
    [[nodiscard]] Estimate estimate(Coefficient which, Pair best, double scale, double rise) const;
    // A film without end would do as well: S may be as large as it likes.
    [[nodiscard]] bool may_hide(Pair best, double rise) const;
    // The smallest S at which chi2, K following, has risen by no more than `rise`.
    [[nodiscard]] double weakest_S(Pair best, double rise) const;

    // Adds to each reading's noise what an error of its ground would do to it.
    void add_ground_noise(std::span<const double> ground_noise, Pair at);

    [[nodiscard]] const std::vector<BandReading>& readings() const { return readings_; }

private:
    struct Normal {
        double KK = 0, KS = 0, SS = 0;  // J'J
        double K = 0, S = 0;            // J'r
        double chi2 = 0;
    };
    enum class Free { both, K, S };

    [[nodiscard]] Normal normal(Pair p) const noexcept;
    [[nodiscard]] Pair minimum(Pair p, Free free) const;
    [[nodiscard]] Pair coarse_best() const;
    [[nodiscard]] Pair profile_point(Coefficient which, double value, Pair best) const;
    [[nodiscard]] double lower_edge(Coefficient which, Pair best, double limit) const;
    [[nodiscard]] double upper_edge(Coefficient which, Pair best, double limit, double error) const;

    std::vector<BandReading> readings_;
    Skin skin_;
    Specular specular_;
    double typical_film_ = 1;  // geometric mean of the films that have a thickness
};

}  // namespace fadewright::film
