// Droplets: atomised size, spread on impact, and impaction on the panel.
//
// Air from the cap atomises the liquid. More air speed and more air per liquid make finer drops, a more
// viscous liquid and a wider tip make coarser ones. The sizes of one spray are distributed about their Sauter
// mean SMD, the droplet with the same ratio of volume to surface as the whole spray. The mass share in
// droplets below d is
//
//     F = 1 - exp(-(d/X)^q),   SMD = X / Gamma(1 - 1/q),   MMD = X (ln 2)^(1/q)      MMD: half the mass
//
// The air is deflected in front of the panel and carries the finest droplets with it: with d50 the size of
// which half lands, the share e = exp(-(d50/X)^q) of the mass lands. Where droplets of spread beta_s fall on
// a ground at random with wet film T, the covered share of it is
//
//     c = 1 - exp(-m),   m = 3 beta_s^2 T / (2 SMD)      only the Sauter mean matters
//
// Symbols    q narrowness of the distribution, from 2 (wide) to 3.5 (narrow); m splats over a point on
//            average
// Source: [rizk1984] (break-up, plain jet), [rosin1933] (sizes), [scheller1995] (impact); free round jet and
//            impaction as in aerosol textbooks, put together by our own derivation.
// Holds for  q > 1; air jets below the speed of sound at the exit; distances beyond six exit widths.
//            Atomisation correlations differ by a factor of 2 to 4 for real guns: calibrate the result with
//            one scale factor
// Accuracy   of the arithmetic 1e-12; of the sizes see above; e is for an infinite panel
// Checks     tests/spray/droplet_test.cpp,
//            tests/published/{plain_jet,rosin_rammler,impaction,impact_spread}.csv
#pragma once

#include "fadewright/base/quantity.h"

namespace fadewright::spray {

// Speed of room air expanding from the cap, the pressure above that outside. From a plain hole air leaves no
// faster than sound, however high the pressure.
[[nodiscard]] double cap_air_m_per_s(Bar cap_pressure);

struct PlainJet {
    Millimetres tip{1.3};
    double air_m_per_s = 250;
    double air_over_liquid = 2.8;  // mass of air per mass of liquid
    double viscosity_mPa_s = 20;
    double tension_mN_per_m = 30;
    GramsPerMillilitre density{1.0};
    double air_kg_per_m3 = 1.2;
};

[[nodiscard]] Micrometres plain_jet_sauter(const PlainJet& jet);

// Distribution of droplet sizes about the Sauter mean (Rosin-Rammler).
class DropletSizes {
public:
    DropletSizes(Micrometres sauter, double narrowness);

    [[nodiscard]] Micrometres scale() const noexcept { return Micrometres{X_um_}; }  // X
    [[nodiscard]] Micrometres mass_median() const noexcept;
    [[nodiscard]] Share mass_below(Micrometres droplet) const noexcept;
    [[nodiscard]] Micrometres quantile(Share mass) const;  // inverse of mass_below; mass below 1
    [[nodiscard]] double relative_span() const;  // from the 10 % to the 90 % quantile, over the median

private:
    double X_um_;
    double q_;
};

// Free round jet of air.
struct AirJet {
    Millimetres exit{3};
    double exit_m_per_s = 250;
};

[[nodiscard]] double centreline_m_per_s(const AirJet& jet, Millimetres distance);

// Size of droplet of which half lands on a panel square to the jet; the rest is carried off sideways.
[[nodiscard]] Micrometres cut_diameter(const AirJet& jet, Millimetres distance, GramsPerMillilitre density);
[[nodiscard]] Share impaction(const AirJet& jet, Millimetres distance, GramsPerMillilitre density,
                              const DropletSizes& sizes);

struct Impact {
    Micrometres droplet;
    double m_per_s = 0;
    double viscosity_mPa_s = 0;
    double tension_mN_per_m = 30;
    GramsPerMillilitre density{1.0};
};

// Width of the splat over that of the droplet: by impact, at equilibrium, and the one to use (the larger; a
// slow droplet does not flatten by impact at all).
[[nodiscard]] double impact_spread(const Impact& impact);
[[nodiscard]] double equilibrium_spread(Degrees contact_angle);
[[nodiscard]] double splat_spread(const Impact& impact, Degrees contact_angle);

// Splats over a point on average, and the share of the ground below at least one.
[[nodiscard]] double mean_coverage(Micrometres wet_film, Micrometres sauter, double spread);
[[nodiscard]] Share covered_share(Micrometres wet_film, Micrometres sauter, double spread);

}  // namespace fadewright::spray
