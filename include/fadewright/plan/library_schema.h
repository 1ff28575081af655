// The fields of the library's files, each listed once (text/schema.h).
#pragma once

#include "fadewright/plan/library_files.h"
#include "fadewright/plan/plan_schema.h"

namespace fadewright {

template <>
struct Names<paint::Role> {
    static constexpr std::array<std::pair<paint::Role, std::string_view>, 9> list{
        {{paint::Role::opaque, "opaque"},
         {paint::Role::transparent, "transparent"},
         {paint::Role::white, "white"},
         {paint::Role::clear_base, "clear-base"},
         {paint::Role::reducer, "reducer"},
         {paint::Role::pearl, "pearl"},
         {paint::Role::interference, "interference"},
         {paint::Role::flake, "flake"},
         {paint::Role::clear, "clear"}}};
};
template <>
struct Names<paint::Provenance> {
    static constexpr std::array<std::pair<paint::Provenance, std::string_view>, 3> list{
        {{paint::Provenance::measured, "measured"},
         {paint::Provenance::fitted, "fitted"},
         {paint::Provenance::estimated, "estimated"}}};
};
template <>
struct Names<paint::FlakeKind> {
    static constexpr std::array<std::pair<paint::FlakeKind, std::string_view>, 5> list{
        {{paint::FlakeKind::titania_on_mica, "titania-on-mica"},
         {paint::FlakeKind::iron_oxide_on_mica, "iron-oxide-on-mica"},
         {paint::FlakeKind::titania_on_alumina, "titania-on-alumina"},
         {paint::FlakeKind::titania_on_iron_oxide_on_mica, "titania-on-iron-oxide-on-mica"},
         {paint::FlakeKind::aluminium, "aluminium"}}};
};
template <>
struct Names<paint::Titania> {
    static constexpr std::array<std::pair<paint::Titania, std::string_view>, 2> list{
        {{paint::Titania::anatase, "anatase"}, {paint::Titania::rutile, "rutile"}}};
};
template <>
struct Names<spray::Pattern> {
    static constexpr std::array<std::pair<spray::Pattern, std::string_view>, 3> list{
        {{spray::Pattern::round, "round"},
         {spray::Pattern::fan, "fan"},
         {spray::Pattern::measured, "measured"}}};
};
template <>
struct Names<colour::StandardIlluminant> {
    static constexpr std::array<std::pair<colour::StandardIlluminant, std::string_view>, 6> list{
        {{colour::StandardIlluminant::D65, "D65"},
         {colour::StandardIlluminant::D50, "D50"},
         {colour::StandardIlluminant::A, "A"},
         {colour::StandardIlluminant::F2, "F2"},
         {colour::StandardIlluminant::F11, "F11"},
         {colour::StandardIlluminant::LED, "LED"}}};
};

namespace plan {
inline constexpr Limits kVersionLimits = range(1, 1);
inline constexpr Limits kWavelengthLimits = range(200_nm, 1200_nm);
inline constexpr Limits kStepLimits = range(1_nm, 100_nm);
inline constexpr Limits kCoefficientLimits = range(PerMicrometre{0.0}, PerMicrometre{1000.0});
inline constexpr Limits kSkewLimits = range(-0.9, 0.9);
inline constexpr Limits kDensityLimits = range(GramsPerMillilitre{0.5}, GramsPerMillilitre{8.0});
}  // namespace plan

template <>
struct Schema<plan::Spectrum> {
    using T = plan::Spectrum;
    static constexpr std::string_view name = "spectrum";
    static constexpr std::string_view about =
        "values at even steps of wavelength; held constant beyond the ends";
    static constexpr auto fields =
        Fields{Field{"from", &T::from, optional, plan::kWavelengthLimits, "first wavelength"},
               Field{"step", &T::step, optional, plan::kStepLimits, "from one value to the next"},
               Field{"values", &T::values, required, items(1, 1000, range(0.0, 1e6)),
                     "reflectance from 0 to 1, or the power of a light on any scale"}};
};

template <>
struct Schema<plan::PaintSpectrum> {
    using T = plan::PaintSpectrum;
    static constexpr std::string_view name = "paint spectrum";
    static constexpr std::string_view about = "absorption and scattering of the dry film, per micrometre";
    static constexpr auto fields =
        Fields{Field{"from", &T::from, optional, plan::kWavelengthLimits, "first wavelength"},
               Field{"step", &T::step, optional, plan::kStepLimits, "from one value to the next"},
               Field{"absorption", &T::absorption, required, items(1, 1000, range(0.0, 1000.0)),
                     "K, per micrometre"},
               Field{"scattering", &T::scattering, required, items(1, 1000, range(0.0, 1000.0)),
                     "S, per micrometre"}};
};

template <>
struct Schema<paint::AbsorptionBand> {
    using T = paint::AbsorptionBand;
    static constexpr std::string_view name = "absorption band";
    static constexpr std::string_view about = "a part of the spectrum that the pigment absorbs";
    static constexpr auto fields = Fields{
        Field{"centre", &T::centre, required, plan::kWavelengthLimits, "absorption peak"},
        Field{"width", &T::width, required, range(1_nm, 1000_nm), "full width at half maximum"},
        Field{"skew", &T::skew, optional, plan::kSkewLimits, "positive: longer tail to long wavelengths"},
        Field{"strength", &T::strength, required, plan::kCoefficientLimits, "K at the centre"}};
};

template <>
struct Schema<paint::AbsorptionEdge> {
    using T = paint::AbsorptionEdge;
    static constexpr std::string_view name = "absorption edge";
    static constexpr std::string_view about = "absorbs everything below a wavelength: yellows, oranges, reds";
    static constexpr auto fields = Fields{
        Field{"at", &T::at, required, plan::kWavelengthLimits, "where the absorption is halved"},
        Field{"softness", &T::softness, required, range(Nanometres{0.1}, 200_nm), "width of the transition"},
        Field{"strength", &T::strength, required, plan::kCoefficientLimits, "K far below the edge"}};
};

template <>
struct Schema<paint::AbsorptionModel> {
    using T = paint::AbsorptionModel;
    static constexpr std::string_view name = "absorption";
    static constexpr std::string_view about = "absorption of an estimated paint's dry film, per micrometre";
    static constexpr auto fields =
        Fields{Field{"baseline", &T::baseline, optional, plan::kCoefficientLimits,
                     "constant absorption below bands and edges, at 550 nm"},
               Field{"baseline_slope", &T::baseline_slope, optional, range(-10.0, 10.0),
                     "positive: rises towards the blue"},
               Field{"bands", &T::bands, optional, items(0, 20), "absorption bands"},
               Field{"edges", &T::edges, optional, items(0, 20), "absorption edges"}};
};

template <>
struct Schema<paint::ScatteringBand> {
    using T = paint::ScatteringBand;
    static constexpr std::string_view name = "scattering band";
    static constexpr std::string_view about = "extra scattering, as just above a strong absorption edge";
    static constexpr auto fields = Fields{
        Field{"centre", &T::centre, required, plan::kWavelengthLimits, "scattering peak"},
        Field{"width", &T::width, required, range(1_nm, 1000_nm), "full width at half maximum"},
        Field{"skew", &T::skew, optional, plan::kSkewLimits, "positive: longer tail to long wavelengths"},
        Field{"strength", &T::strength, required, plan::kCoefficientLimits, "S at the centre"}};
};

template <>
struct Schema<paint::ScatteringModel> {
    using T = paint::ScatteringModel;
    static constexpr std::string_view name = "scattering";
    static constexpr std::string_view about = "scattering of an estimated paint's dry film, per micrometre";
    static constexpr auto fields =
        Fields{Field{"strength", &T::strength, required, plan::kCoefficientLimits, "S at 550 nm"},
               Field{"slope", &T::slope, optional, range(-10.0, 10.0), "positive: rises towards the blue"},
               Field{"bands", &T::bands, optional, items(0, 20), "extra scattering"}};
};

template <>
struct Schema<plan::FlakesFile> {
    using T = plan::FlakesFile;
    static constexpr std::string_view name = "flakes";
    static constexpr std::string_view about =
        "effect pigment (flakes) of a pearl, interference or metallic paint";
    static constexpr auto fields = Fields{
        Field{"kind", &T::kind, required, "what the flakes are made of"},
        Field{"crystal", &T::crystal, optional, "crystal form of the titania"},
        Field{"oxide", &T::oxide, optional, range(Nanometres{0.0}, 1000_nm),
              "thickness of the oxide layer on each face; it sets the colour"},
        Field{"oxide_spread", &T::oxide_spread, optional, range(Nanometres{0.0}, 200_nm),
              "standard deviation of that thickness"},
        Field{"iron_oxide", &T::iron_oxide, optional, range(Nanometres{0.0}, 500_nm),
              "thickness of the iron oxide layer under the titania, if there is one"},
        Field{"core", &T::core, optional, range(10_nm, 20000_nm),
              "thickness of the core; aluminium: of the whole flake"},
        Field{"core_spread", &T::core_spread, optional, range(Nanometres{0.0}, 2000_nm),
              "standard deviation of that thickness"},
        Field{"porosity", &T::porosity, optional, range(0_pct, 60_pct), "porosity of the oxide"},
        Field{"size", &T::size, optional, range(1_um, 1000_um), "mean diameter"},
        Field{"tilt", &T::tilt, optional, range(Degrees{0.5}, 40_deg),
              "spread of flake orientation (standard deviation) in one medium coat"},
        Field{"wet_disorientation", &T::wet_disorientation, optional, range(0_pct, 200_pct),
              "how much a wetter coat disturbs the flakes: more tilt per further medium coat, wet on wet"},
        Field{"loading", &T::loading, optional, range(GramsPerLitre{0.0}, GramsPerLitre{500.0}),
              "flakes per litre of the paint that the rest of the file describes"},
        Field{"teaspoons", &T::teaspoons, optional, range(0.0, 100.0),
              "the same as level teaspoons of 5 mL per litre"},
        Field{"bulk_density", &T::bulk_density, optional,
              range(GramsPerMillilitre{0.05}, GramsPerMillilitre{3.0}), "bulk density of the dry powder"}};
};

template <>
struct Schema<plan::PaintFile> {
    using T = plan::PaintFile;
    static constexpr std::string_view name = "paint";
    static constexpr std::string_view about = "one paint, as it is in the bottle";
    static constexpr auto fields = Fields{
        Field{"paint", &T::version, required, plan::kVersionLimits, "version of the paint format"},
        Field{"title", &T::title, required, "name"},
        Field{"colour_index", &T::colour_index, optional, "Colour Index generic name of the pigment"},
        Field{"role", &T::role, required, "what the paint is for"},
        Field{"origin", &T::origin, required, "how its colour was obtained"},
        Field{"source", &T::source, required, "where the numbers come from"},
        Field{"solids", &T::solids, optional, range(0_pct, 100_pct),
              "volume solids: dry film left by the paint"},
        Field{"wet_density", &T::wet_density, optional, plan::kDensityLimits, "density of the liquid paint"},
        Field{"dry_density", &T::dry_density, optional, plan::kDensityLimits, "density of the dry film"},
        Field{"binder_density", &T::binder_density, optional, plan::kDensityLimits,
              "density of the dry binder alone"},
        Field{"coat_film", &T::coat_film, optional, range(Micrometres{0.1}, 500_um),
              "dry film of one medium coat"},
        Field{"pigment", &T::pigment, optional, range(0_pct, 90_pct),
              "pigment volume concentration (PVC) of the dry film"},
        Field{"crowding", &T::crowding, optional, range(0.0, 1.69),
              "pigment crowding: how much scattering a white loses (v of the 2/3-power law)"},
        Field{"evaporation", &T::evaporation, optional, range(0.01, 50.0),
              "evaporation rate of the solvent, n-butyl acetate = 1"},
        Field{"water", &T::water, optional, range(0_pct, 100_pct),
              "water share of the volatiles; its evaporation also depends on humidity"},
        Field{"flatting", &T::flatting, optional, range(0_pct, 100_pct),
              "share of the surface reflection that is scattered: 0 % gloss, 100 % dead matt"},
        Field{"haze", &T::haze, optional, range(0_pct, 100_pct),
              "gloss haze: share of the gloss scattered a few degrees off the reflection; 0 % = none"},
        Field{"price_per_litre", &T::price_per_litre, optional, range(0.0, 1e6), "in your currency"},
        Field{"absorption", &T::absorption, optional, "absorption as a model"},
        Field{"scattering", &T::scattering, optional, "scattering as a model"},
        Field{"spectrum", &T::spectrum, optional, "measured or fitted absorption and scattering"},
        Field{"flakes", &T::flakes_file, optional, "effect pigment in the film"}};
};

template <>
struct Schema<plan::GroundFile> {
    using T = plan::GroundFile;
    static constexpr std::string_view name = "ground";
    static constexpr std::string_view about = "what the first coat lands on";
    static constexpr auto fields = Fields{
        Field{"ground", &T::version, required, plan::kVersionLimits, "version of the ground format"},
        Field{"title", &T::title, required, "name"},
        Field{"origin", &T::origin, required, "how its colour was obtained"},
        Field{"source", &T::source, required, "where the numbers come from"},
        Field{"parts", &T::parts, optional, items(1, 12, range(0.0, 1e6)),
              "paints by volume, at full hiding"},
        Field{"reflectance", &T::reflectance, optional, "reflectance measured in air, specular excluded"}};
};

template <>
struct Schema<plan::GunFile> {
    using T = plan::GunFile;
    static constexpr std::string_view name = "gun";
    static constexpr std::string_view about = "a spray gun and its settings";
    static constexpr auto fields =
        Fields{Field{"gun", &T::version, required, plan::kVersionLimits, "version of the gun format"},
               Field{"title", &T::title, required, "name"},
               Field{"origin", &T::origin, required, "how its numbers were obtained"},
               Field{"source", &T::source, required, "where the numbers come from"},
               Field{"pattern", &T::pattern, required, "spray pattern"},
               Field{"distance", &T::distance, required, plan::kDistanceLimits,
                     "distance from nozzle to panel that the other values apply to"},
               Field{"sigma", &T::sigma, optional, range(Millimetres{0.2}, 500_mm),
                     "round: standard deviation of the pattern"},
               Field{"ring", &T::ring, optional, range(0_pct, 100_pct),
                     "round: share of the paint in a ring around the centre (too much air)"},
               Field{"fan_width", &T::fan_width, optional, range(1_mm, 1000_mm),
                     "total length of the fan's long axis"},
               Field{"fan_thickness", &T::fan_thickness, optional, range(1_mm, 1000_mm),
                     "total length of the fan's short axis"},
               Field{"beta_across", &T::beta_across, optional, range(1.0, 20.0),
                     "taper along the long axis: 1 flat, 2 parabola, 3 bell"},
               Field{"beta_along", &T::beta_along, optional, range(1.0, 20.0), "taper along the short axis"},
               Field{"profile", &T::profile, optional, items(2, 1000, range(0.0, 1e6)),
                     "measured: film of one pass at even steps across the fan, on any scale"},
               Field{"flow", &T::flow, required, plan::kFlowLimits, "fluid flow (delivery rate)"},
               Field{"transfer_efficiency", &T::transfer_efficiency, required, range(1_pct, 100_pct),
                     "share of the paint that lands on a panel larger than the pattern"},
               Field{"droplet", &T::droplet, optional, range(1_um, 300_um),
                     "mean droplet size (Sauter mean diameter)"},
               Field{"splat_spread", &T::splat_spread, optional, range(1.0, 6.0),
                     "diameter of a landed droplet, in droplet diameters"},
               Field{"nozzle", &T::nozzle, optional, range(Millimetres{0.1}, 5_mm), "fluid tip size"},
               Field{"air", &T::air, optional, plan::kAirLimits, "air pressure"},
               Field{"speed", &T::speed, optional, plan::kSpeedLimits, "default travel speed"}};
};

template <>
struct Schema<plan::LightFile> {
    using T = plan::LightFile;
    static constexpr std::string_view name = "light";
    static constexpr std::string_view about = "light that the panel is viewed in";
    static constexpr auto fields =
        Fields{Field{"light", &T::version, required, plan::kVersionLimits, "version of the light format"},
               Field{"title", &T::title, required, "name"},
               Field{"source", &T::source, required, "where the numbers come from"},
               Field{"table", &T::table, optional, "a built-in standard illuminant"},
               Field{"power", &T::power, optional, "your own spectrum"},
               Field{"narrow_band", &T::narrow_band, optional,
                     "narrow-band (triphosphor) lamp: do not interpolate"}};
};

}  // namespace fadewright
