// One band of film/ks_fit.h: two unknowns, K and S, both at least 0.
#pragma once

#include "fadewright/film/ks_fit.h"

#include <vector>

namespace fadewright::film {

struct BandReading {
    double film = 0, ground = 0, measured = 0, noise = 0;
    double share = 1, known_K = 0, known_S = 0;
};

struct KsPair {
    double K = 0, S = 0;
};

enum class Coefficient { K, S };

class BandProblem {
public:
    BandProblem(std::vector<BandReading> readings, SaundersonCorrection surface, Specular specular);

    [[nodiscard]] double predict(const BandReading& reading, KsPair p) const noexcept;
    [[nodiscard]] double chi2(KsPair p) const noexcept;

    [[nodiscard]] KsPair best_fit() const;  // over both
    [[nodiscard]] KsPair best_fit_with_S(double S, KsPair initial) const;

    // Standard errors by the linearised sum, and the values at which chi2 has risen by `rise` (times `scale`
    // squared).
    [[nodiscard]] Estimate estimate(Coefficient coefficient, KsPair best_fit, double scale,
                                    double rise) const;
    // An infinite film fits as well: S has no upper limit.
    [[nodiscard]] bool allows_opaque(KsPair best_fit, double rise) const;
    // The smallest S at which chi2, minimised over K, has risen by no more than `rise`.
    [[nodiscard]] double min_S(KsPair best_fit, double rise) const;

    // Adds the effect of an error of its ground to each reading's noise.
    void add_ground_noise(std::span<const double> ground_noise, KsPair at);

    [[nodiscard]] const std::vector<BandReading>& readings() const { return readings_; }

private:
    struct NormalEquations {
        double KK = 0, KS = 0, SS = 0;  // J'J
        double K = 0, S = 0;            // J'r
        double chi2 = 0;
    };
    enum class FreeCoefficients { both, K, S };

    [[nodiscard]] NormalEquations normal_equations(KsPair p) const noexcept;
    [[nodiscard]] KsPair minimise(KsPair p, FreeCoefficients free) const;
    [[nodiscard]] KsPair coarse_fit() const;
    [[nodiscard]] KsPair profile_point(Coefficient coefficient, double value, KsPair best_fit) const;
    [[nodiscard]] double lower_limit(Coefficient coefficient, KsPair best_fit, double limit) const;
    [[nodiscard]] double upper_limit(Coefficient coefficient, KsPair best_fit, double limit,
                                     double error) const;

    std::vector<BandReading> readings_;
    SaundersonCorrection surface_;
    Specular specular_;
    double typical_film_ = 1;  // geometric mean of the finite films
};

}  // namespace fadewright::film
