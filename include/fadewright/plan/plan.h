// The plan: the job as the painter writes it.
//
// Plain structs that mirror the plan file name for name; plan_schema.h lists their fields for the reader, the
// checks and the reference. Nothing here is resolved: a mix is a name, a gun is a name. resolve() turns the
// text of a plan into a job that the engine works with.
//
// Reading order of this layer: workpiece.h, movement.h, shop_settings.h, plan.h, plan_schema.h, read_plan.h
// (text -> plan), library_files.h (paints, guns, grounds, lights, panels), library.h (where they are found),
// resolve.h (text -> job, all stages), fade.h (a fade -> coats and passes), job.h and job_builder.h (plan
// with passes -> job), coverage.h, amounts.h and dry_times.h (paint and time of a job), rules.h.
//
// Points on the panel: x from the left edge, y up from the lower edge.
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/plan/default_names.h"
#include "fadewright/plan/flow_cup.h"
#include "fadewright/plan/movement.h"
#include "fadewright/plan/shop_settings.h"
#include "fadewright/plan/workpiece.h"
#include "fadewright/text/diagnostic.h"
#include "fadewright/text/field.h"

#include <optional>
#include <string>
#include <vector>

namespace fadewright::plan {

inline constexpr int kPlanVersion = 1;

// The air that the paint flies and dries in.
struct Booth {
    Celsius temperature{21};
    Share humidity{0.5};
    friend bool operator==(const Booth&, const Booth&) = default;
};

enum class Surface { gloss, matt };
enum class ObserverAngle { two, ten };

// How the panel is viewed.
struct View {
    Located<std::string> light{kDefaultLight, {}};
    ObserverAngle observer = ObserverAngle::two;
    Millimetres distance{1500.0};
    Degrees angle{45.0};  // aspecular: from the gloss direction of the light to the eye
    Surface surface = Surface::gloss;
    friend bool operator==(const View&, const View&) = default;
};

enum class PartsBy { volume, weight };

struct Mix {
    std::vector<Named<double>> parts;  // paints or other mixes
    PartsBy by = PartsBy::volume;
    Share white_cut;      // share of white in the colour part
    double extend = 0.0;  // parts of clear base per part of colour
    Share reduce;         // reducer, % of paint
    Located<std::string> white{kDefaultWhite, {}};
    Located<std::string> clear_base{kDefaultClearBase, {}};
    Located<std::string> reducer{kDefaultReducer, {}};
    std::optional<FlowCupTime> flow_cup;  // ready to spray
    SourceSpan span;

    friend bool operator==(const Mix& a, const Mix& b) {
        return a.parts == b.parts && a.by == b.by && a.white_cut == b.white_cut && a.extend == b.extend &&
               a.reduce == b.reduce && a.white == b.white && a.clear_base == b.clear_base &&
               a.reducer == b.reducer && a.flow_cup == b.flow_cup;
    }
};

// An even film over the whole panel, without passes.
struct EvenCoat {
    Micrometres film;
    friend bool operator==(const EvenCoat&, const EvenCoat&) = default;
};

// Whether the droplets of a coat flow out or dry as dots; automatic: they flow out where the film is wet
// enough, and dry as dots where it is thin.
enum class Laydown { wet, dots, automatic };

struct Coat {
    std::string name;
    Located<std::string> mix;  // empty with a fade
    Located<std::string> gun;
    std::optional<MillilitresPerMinute> flow;  // default: the gun's
    std::optional<MillimetresPerSecond> speed;
    std::optional<Millimetres> distance;
    std::optional<Share> needle_opening;  // default: fully open
    std::optional<Bar> air;               // default: the gun's
    Laydown laydown = Laydown::wet;
    std::vector<Located<std::string>> masks;
    std::optional<EvenCoat> even_coat;
    std::optional<Fade> fade;
    std::vector<Sweep> sweeps;
    std::vector<OutlinePass> outline_passes;
    std::vector<Pass> passes;
    FadeRole fade_role = FadeRole::none;  // set where fades are expanded; not in files, not compared
    SourceSpan span;

    friend bool operator==(const Coat& a, const Coat& b) {
        return a.name == b.name && a.mix == b.mix && a.gun == b.gun && a.flow == b.flow &&
               a.speed == b.speed && a.distance == b.distance && a.needle_opening == b.needle_opening &&
               a.air == b.air && a.laydown == b.laydown && a.masks == b.masks && a.even_coat == b.even_coat &&
               a.fade == b.fade && a.sweeps == b.sweeps && a.outline_passes == b.outline_passes &&
               a.passes == b.passes;
    }
};

struct Plan {
    int version = kPlanVersion;
    std::string title;
    UnitSystem units = UnitSystem::metric;  // of output only
    Panel panel;
    Booth booth;
    View view;
    ShopSettings mixing;
    std::vector<Named<Mix>> mixes;
    std::vector<Named<Mask>> masks;
    std::vector<Coat> coats;
    SourceSpan span;  // its source is the text that the plan was read from

    friend bool operator==(const Plan& a, const Plan& b) {
        return a.version == b.version && a.title == b.title && a.units == b.units && a.panel == b.panel &&
               a.booth == b.booth && a.view == b.view && a.mixing == b.mixing && a.mixes == b.mixes &&
               a.masks == b.masks && a.coats == b.coats;
    }
};

}  // namespace fadewright::plan
