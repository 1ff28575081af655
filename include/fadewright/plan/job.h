// The job: a plan with everything resolved, ready to calculate. Mixes are paints, sweeps are passes, passes are
// deposits. job_builder.h makes it of a plan with passes, resolve() of the text of any plan.
//
// Film is dry, in micrometres. A point is in millimetres from the panel's lower left corner.
#pragma once

#include "fadewright/colour/illuminant.h"
#include "fadewright/film/surface.h"
#include "fadewright/paint/mix.h"
#include "fadewright/plan/library.h"
#include "fadewright/plan/plan.h"
#include "fadewright/spray/deposit.h"
#include "fadewright/spray/mask.h"
#include "fadewright/spray/panel.h"
#include "fadewright/spray/sag_levelling.h"
#include "fadewright/text/display_units.h"

#include <functional>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace fadewright::plan {

// More passes in one plan are a typing error, not a job.
inline constexpr std::size_t kMaxPasses = 20'000;

// A mask over one coat.
struct ResolvedMask {
    std::string name;
    spray::Mask mask;
    Millimetres softness;  // of its edge under this coat's gun; 0: taped down
};

// Flow cup time of a mix that gives none. Source: common practice, no source (13 to 20 s).
inline constexpr FlowCupTime kDefaultFlowCup{FlowCup::din_4, Seconds{17.0}};

// The liquid of a coat, ready to spray.
struct SprayableMix {
    Share solids;
    spray::WetPaint paint;
    double evaporation = 1;       // of the solvent, n-butyl acetate = 1
    Share water;                  // of the volatiles
    bool flow_cup_given = false;  // false: the viscosity is a starting value
};

struct ResolvedCoat {
    std::string name;
    std::string mix_name;
    FadeRole fade_role = FadeRole::none;
    paint::MixedPaint mix;
    bool clear = false;  // only clear
    Laydown laydown = Laydown::wet;
    Micrometres splat;                      // dry thickness of one splat, for dots
    Micrometres even_film;                  // even part of the film
    std::optional<spray::Deposit> deposit;  // wet paint from passes
    std::optional<spray::Gun> gun;          // with the settings of this coat
    std::string gun_name;
    Millimetres distance;             // nozzle to panel, for most of the travel
    std::vector<spray::Pass> passes;  // in spraying order
    std::vector<ResolvedMask> masks;
    SprayableMix liquid;

    // Adds this coat's dry film at points (x[i], y[i]) to film_um[i].
    void add_film_um(std::span<const double> x_mm, std::span<const double> y_mm,
                     std::span<double> film_um) const;
    [[nodiscard]] double film_um(double x_mm, double y_mm) const;
    [[nodiscard]] double wet_um(double x_mm, double y_mm) const;  // of its passes, through its masks
    [[nodiscard]] double mask_transmission(double x_mm, double y_mm) const;
};

// A part of the panel with its own ground.
struct ResolvedRegion {
    geometry::Outline outline;
    std::string ground_name;
    colour::Reflectance ground;  // below the surface, in the first coat's binder
};

// A line across which colours change within fine_width (0: at once), up to `reach` on both sides: masks,
// regions, flanks of the relief. Elsewhere Job::finest_detail applies.
struct Edge {
    std::function<double(double x_mm, double y_mm)> distance_mm;
    Millimetres fine_width, reach;
};

struct Job {
    std::string title;
    std::string hash;    // SHA-256 of the text that the plan was read from; empty if it was never a text
    DisplayUnits units;  // of all output
    spray::Panel panel;
    std::string ground_name;
    colour::Reflectance ground;           // below the surface, in the first coat's binder
    std::vector<ResolvedRegion> regions;  // the last one that contains a point counts
    std::vector<Edge> edges;
    std::vector<ResolvedCoat> coats;
    Booth booth;
    Degrees angle_while_sprayed{90};
    colour::Illuminant light;
    colour::Observer observer = colour::Observer::two_degree;
    Millimetres view_distance;
    Degrees view_angle{45.0};  // aspecular
    Surface surface = Surface::gloss;
    Millimetres finest_detail;  // width of the finest detail of any gun or feather; 0: nothing is sprayed
    paint::Provenance origin = paint::Provenance::measured;  // the least reliable of everything visible
};

}  // namespace fadewright::plan
