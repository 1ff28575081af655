#include "convert.h"

#include "fadewright/film/stack.h"
#include "fadewright/film/surface.h"
#include "fadewright/paint/mix.h"
#include "fadewright/paint/parametric_ks.h"
#include "fadewright/plan/names.h"
#include "fadewright/text/units.h"
#include "flake_paint.h"

#include <algorithm>

namespace fadewright::plan {
namespace {

std::vector<double> grid(Nanometres from, Nanometres step, std::size_t count) {
    std::vector<double> wavelengths(count);
    for (std::size_t i = 0; i < count; ++i) wavelengths[i] = from.value + step.value * static_cast<double>(i);
    return wavelengths;
}

bool read_spectrum(const PaintFile& file, paint::Paint& paint, Diagnostics& diagnostics) {
    const PaintSpectrum& spectrum = *file.spectrum;
    if (spectrum.absorption.size() != spectrum.scattering.size()) {
        diagnostics.error("S002", file.span,
                          std::to_string(spectrum.absorption.size()) + " absorption values but " +
                              std::to_string(spectrum.scattering.size()) + " scattering values",
                          "give one of each per wavelength");
        return false;
    }
    const auto wavelengths = grid(spectrum.from, spectrum.step, spectrum.absorption.size());
    paint.K.values = colour::resample(wavelengths, spectrum.absorption);
    paint.S.values = colour::resample(wavelengths, spectrum.scattering);
    return true;
}

bool solids_fit_role(const PaintFile& file, Diagnostics& diagnostics) {
    const bool is_reducer = file.role == paint::Role::reducer;
    if (is_reducer == (file.solids.value == 0)) return true;
    diagnostics.error(
        "S007", file.span, is_reducer ? "a reducer has no solids" : "this paint has no solids",
        is_reducer ? "write  solids = \"0 %\"" : "give its volume solids, or write  role = \"reducer\"");
    return false;
}

}  // namespace

std::optional<paint::Paint> to_paint(const PaintFile& file, const std::string& id, Diagnostics& diagnostics) {
    paint::Paint paint = file;
    paint.id = id;
    if (!solids_fit_role(file, diagnostics)) return std::nullopt;
    if (file.role == paint::Role::reducer) return paint;
    const bool modelled = file.absorption && file.scattering;
    const bool half_modelled = file.absorption.has_value() != file.scattering.has_value();
    if (modelled == file.spectrum.has_value() || half_modelled) {
        const bool given_twice = file.spectrum && (file.absorption || file.scattering);
        diagnostics.error("S001", file.span,
                          given_twice     ? "the paint's colour is given twice"
                          : half_modelled ? "only one of absorption and scattering is given"
                                          : "the paint has no colour",
                          "give [absorption] and [scattering], or [spectrum] alone");
        return std::nullopt;
    }
    if (file.spectrum) {
        if (!read_spectrum(file, paint, diagnostics)) return std::nullopt;
    } else {
        paint.K = paint::parametric_absorption(*file.absorption);
        paint.S = paint::parametric_scattering(*file.scattering);
    }
    if (file.flakes_file && !stir_in(*file.flakes_file, paint, diagnostics)) return std::nullopt;
    return paint;
}

std::optional<Ground> to_ground(const GroundFile& file, const std::string& id, Library& library,
                                Diagnostics& diagnostics) {
    if (file.parts.empty() != file.reflectance.has_value()) {
        diagnostics.error(
            "S003", file.span,
            file.reflectance ? "the ground's colour is given twice" : "the ground has no colour",
            "give either  parts = { PAINT = 1 }  or  [reflectance]");
        return std::nullopt;
    }
    Ground ground{id, file.title, file.origin, {}};
    if (file.reflectance) {
        const auto& values = file.reflectance->values;
        const auto high = std::find_if(values.begin(), values.end(), [](double r) { return r > 1; });
        if (high != values.end()) {
            diagnostics.error("S004", file.span,
                              "reflectance number " + std::to_string(high - values.begin() + 1) + " is " +
                                  number_text(*high) + ", above 1",
                              "write values from 0 to 1, not per cent");
            return std::nullopt;
        }
        colour::Reflectance reflectance;
        reflectance.values =
            colour::resample(grid(file.reflectance->from, file.reflectance->step, values.size()), values);
        ground.inside =
            film::below_surface(reflectance, film::surface_at_normal({}), film::Specular::excluded);
        return ground;
    }
    std::vector<paint::Part> parts;
    for (const Named<double>& part : file.parts) {
        const paint::Paint* paint = find_paint("P001", "paint", {part.name, part.span}, library, diagnostics);
        if (!paint) return std::nullopt;
        parts.push_back({paint, part.value});
    }
    const bool leaves_film = std::any_of(parts.begin(), parts.end(), [](const paint::Part& p) {
        return p.parts > 0 && p.paint->solids.value > 0;
    });
    if (!leaves_film) {
        diagnostics.error("P010", file.span, "the ground has no part that contains solids",
                          "give at least one paint above zero");
        return std::nullopt;
    }
    ground.inside = film::masstone(paint::mix_paints(parts));
    return ground;
}

std::optional<LibraryGun> to_gun(const GunFile& file, const std::string& id, Diagnostics& diagnostics) {
    const bool round = file.pattern == spray::Pattern::round;
    const bool measured = file.pattern == spray::Pattern::measured;
    const bool sized =
        round ? file.sigma.value > 0 : file.fan_width.value > 0 && file.fan_thickness.value > 0;
    const bool profiled =
        std::any_of(file.profile.begin(), file.profile.end(), [](double p) { return p > 0; });
    if (!sized || measured != profiled) {
        diagnostics.error("S006", file.span,
                          !sized     ? (round ? "a round gun needs sigma" : "a fan gun needs its size")
                          : measured ? "a measured gun needs a profile"
                                     : "only a measured gun has a profile",
                          !sized ? (round ? "write  sigma = \"12 mm\"" : "give fan_width and fan_thickness")
                          : measured ? "write  profile = [0, 2, 5, 6, 4, 1, 0]"
                                     : "write  pattern = \"measured\",  or remove the profile");
        return std::nullopt;
    }
    LibraryGun gun{file.origin, file.speed, file};
    gun.gun.id = id;
    return gun;
}

std::optional<colour::Illuminant> to_light(const LightFile& file, const std::string& id,
                                           Diagnostics& diagnostics) {
    if (file.table.has_value() == file.power.has_value()) {
        diagnostics.error("S005", file.span,
                          file.table ? "the light is given twice" : "the light has no spectrum",
                          "give either  table = \"D65\"  or a [power] spectrum");
        return std::nullopt;
    }
    colour::Illuminant light;
    if (file.table) {
        light = colour::standard_illuminant(*file.table);
    } else {
        light.wavelengths_nm = grid(file.power->from, file.power->step, file.power->values.size());
        light.power = file.power->values;
        light.narrow_band = file.narrow_band;
    }
    light.id = id;
    light.title = file.title;
    return light;
}

}  // namespace fadewright::plan
