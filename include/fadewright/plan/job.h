// The job: a plan and a shelf, checked and resolved into what the engine works with.
//
// ready_job() checks every cross-field rule (rules.h), resolves mixes down to paints, turns sweeps into
// passes and passes into deposits, and works out what each coat leaves as dry film. It reports everything
// that is wrong; it gives a job only if nothing is.
//
// Film is dry, in micrometres. A place is in millimetres from the panel's lower left corner.
#pragma once

#include "fadewright/colour/illuminant.h"
#include "fadewright/colour/observer.h"
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

// More passes than this in one plan is a slip of the pen, not a job.
inline constexpr std::size_t kMaxPasses = 20'000;

// A mask over one coat: how much of what flies there lands there.
struct ResolvedMask {
    std::string name;
    spray::Mask mask;
    Millimetres softness;  // of its edge under this coat's gun; 0: taped down
};

// How long a 4 mm DIN cup of paint thinned for spraying takes to run out, where nobody has timed it; between 13 and
// 20 s is common practice, no source.
inline constexpr Seconds kDefaultFlowCup{17};

// What a coat's liquid is, as it leaves the gun.
struct SprayableMix {
    Share solids;
    spray::WetPaint paint;
    double evaporation = 1;       // of the solvent, n-butyl acetate = 1
    Share water;                  // of what leaves
    bool flow_cup_given = false;  // else the viscosity is a starting value
};

struct ResolvedCoat {
    std::string name;
    std::string mix_name;
    paint::MixedPaint mix;
    bool clear = false;  // nothing but clear
    Laydown laydown = Laydown::wet;
    Micrometres splat;                      // dry thickness of one splat, for fog
    Micrometres even_film;                  // even part of the film
    std::optional<spray::Deposit> deposit;  // wet paint from passes
    std::optional<spray::Gun> gun;          // as set for this coat
    std::string gun_name;
    Millimetres distance;             // nozzle to panel, most of the way
    std::vector<spray::Pass> passes;  // as they are laid
    std::vector<ResolvedMask> masks;
    SprayableMix liquid;

    // Adds this coat's dry film at places (x[i], y[i]) to film_um[i].
    void add_film_um(std::span<const double> x_mm, std::span<const double> y_mm,
                     std::span<double> film_um) const;
    [[nodiscard]] double film_um(double x_mm, double y_mm) const;
    [[nodiscard]] double wet_um(double x_mm, double y_mm) const;  // of its passes, through its masks
    [[nodiscard]] double mask_transmission(double x_mm, double y_mm) const;
};

// A part of the panel with a ground of its own.
struct ResolvedRegion {
    spray::Outline outline;
    std::string ground_name;
    colour::Reflectance ground;  // inside the first binder
};

// A line across which colours change within `fine` (0: at once) as far as `band` to both sides: masks, regions,
// flanks of the relief. Elsewhere Job::finest holds.
struct Edge {
    std::function<double(double x_mm, double y_mm)> distance_mm;
    Millimetres fine_width, reach;
};

struct Job {
    std::string title;
    std::string hash;    // SHA-256 of the plan's text
    DisplayUnits units;  // in which people are told of it
    spray::Panel panel;
    std::string ground_name;
    colour::Reflectance ground;           // inside the first binder
    std::vector<ResolvedRegion> regions;  // the last one that holds a place counts
    std::vector<Edge> edges;
    std::vector<ResolvedCoat> coats;
    Booth booth;
    Degrees angle_while_sprayed{90};
    colour::Illuminant light;
    colour::Observer observer = colour::Observer::two_degree;
    Millimetres view_distance;
    Degrees view_angle{45.0};  // aspecular
    Surface surface = Surface::gloss;
    Millimetres finest_detail;  // width of the finest thing any gun or feather lays; 0: nothing is sprayed
    paint::Provenance origin = paint::Provenance::measured;  // the least sure of everything seen
};

// Reads a plan's text. Nothing if the text or any field is wrong. Mistakes are told in
// the units asked for, else in the plan's own.
[[nodiscard]] std::optional<Plan> read_plan(std::shared_ptr<const Source> source, Diagnostics& diagnostics,
                                            std::optional<UnitSystem> units = {});

[[nodiscard]] std::optional<Job> resolve_job(const Plan& plan, const std::string& plan_text, Library& library,
                                             Diagnostics& diagnostics);

// The plan with coats and passes instead of its fades, and the job that it makes; both of one expansion.
struct ExpandedPlan {
    Plan plan;
    Job job;
};
[[nodiscard]] std::optional<ExpandedPlan> expand_plan(const Plan& plan, const std::string& plan_text,
                                                      Library& library, Diagnostics& diagnostics);

// The mix of that name resolved down to paints, or the paint itself; nothing (and reported) if it cannot be.
[[nodiscard]] std::optional<std::vector<paint::Part>> parts_of(const Plan& plan,
                                                               const Located<std::string>& name,
                                                               Library& library, Diagnostics& diagnostics);

}  // namespace fadewright::plan
