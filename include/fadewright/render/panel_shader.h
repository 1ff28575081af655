// Spectra and colours of a job at points of its panel: the reference computation from films to colours.
//
// Coats are stacked from below by Kubelka-Munk, band by band (kernels/layer_stack.h); the air surface is
// applied once, at the end. A gloss panel is viewed off the highlight (specular excluded); on a matt one, or
// under a flatted clear, the surface reflection is spread over all directions (specular included); a hazy
// clear scatters part of it a few degrees off the reflection (film/surface.h).
//
// Where coats hold flakes, their single reflections are removed from the diffuse light and added as flake
// reflection (film/flake_reflection.h) for the viewing geometry; under diffuse light from all around they
// stay, since some of it always reaches the eye.
//
// Faster renderings are checked against this one.
#pragma once

#include "fadewright/colour/illuminant.h"
#include "fadewright/colour/lab.h"
#include "fadewright/film/flake_reflection.h"
#include "fadewright/kernels/flake_reflection_fast.h"
#include "fadewright/kernels/layer_stack_fast.h"
#include "fadewright/kernels/spectral_to_xyz.h"
#include "fadewright/plan/job.h"
#include "fadewright/render/viewing.h"

#include <span>
#include <vector>

namespace fadewright::render {

// One coat over the coats below, in one band, as it dries: film_um and reflectance point by point.
void lay_coat(const plan::ResolvedCoat& coat, std::size_t band, std::span<const double> film_um,
              std::span<double> reflectance);

// Computation of films: the scalar reference, vectorised for figures, or vectorised for pictures
// (kernels/layer_stack_fast.h has the error bounds).
enum class Precision { reference, fast, preview };

class PanelShader {
public:
    // coats: the number of the job's coats on the panel, from the first. Viewed as the plan says, lit by an
    // instrument's beam, unless a viewing geometry is given.
    PanelShader(const plan::Job& job, const colour::Illuminant& light, std::size_t coats);
    PanelShader(const plan::Job& job, const colour::Illuminant& light, std::size_t coats,
                const Viewing& viewing, Precision precision = Precision::fast);

    [[nodiscard]] colour::XYZ white() const noexcept { return weights_.white; }
    [[nodiscard]] std::size_t coats() const noexcept { return coats_; }
    [[nodiscard]] bool has_flakes() const noexcept { return lowest_flake_coat_ < coats_; }

    void xyz(std::span<const double> x_mm, std::span<const double> y_mm, std::span<colour::XYZ> out) const;
    [[nodiscard]] colour::Reflectance reflectance(double x_mm, double y_mm) const;

    // Noise power of the luminance by sparkling flakes, mm2, relative to the squared luminance of a perfect
    // white: over A mm2 the standard deviation is sqrt(power / A) (film/sparkle.h). In the light of a room
    // unless a wider lamp is given.
    void sparkle_power_mm2(std::span<const double> x_mm, std::span<const double> y_mm,
                           std::span<double> power) const;

    // The computation step by step, for callers that cache results from one picture to the next: films at the
    // points, coat by coat, the bare ground at each, and the lighting: one for each point, or one for all
    // where the slope of the surface does not count.
    struct Samples {
        std::vector<double> films;
        std::vector<const colour::Reflectance*> grounds;
        std::vector<Lighting> lightings;
        [[nodiscard]] std::size_t count() const noexcept { return grounds.size(); }
        [[nodiscard]] std::span<double> film(std::size_t coat) noexcept {
            return std::span(films).subspan(coat * count(), count());
        }
        [[nodiscard]] const Lighting& lighting_at(std::size_t point) const noexcept {
            return lightings.size() > 1 ? lightings[point] : lightings.front();
        }
    };
    [[nodiscard]] Samples sample(std::span<const double> x_mm, std::span<const double> y_mm) const;
    // Samples without any film.
    [[nodiscard]] Samples uncoated_samples(std::span<const double> x_mm, std::span<const double> y_mm) const;
    void reset_samples(std::span<const double> x_mm, std::span<const double> y_mm, Samples& out) const;

    void add_film(std::size_t coat, std::span<const double> x_mm, std::span<const double> y_mm,
                  std::span<double> film_um) const;

    // Internal reflectances (below the surface), point by point, bands side by side: of the ground, and with
    // the coats from `first` to before `last` over them. float for pictures, double otherwise.
    void fill_substrate(const Samples& samples, std::span<double> reflectance) const;
    void fill_substrate(const Samples& samples, std::span<float> reflectance) const;
    void lay_coats(std::size_t first, std::size_t last, const Samples& samples,
                   std::span<double> reflectance) const;
    void lay_coats(std::size_t first, std::size_t last, const Samples& samples,
                   std::span<float> reflectance) const;
    // Tristimulus values of samples with all coats; overwrites `reflectance`.
    void integrate(const Samples& samples, std::span<double> reflectance, std::span<colour::XYZ> out) const;
    void integrate(const Samples& samples, std::span<float> reflectance, std::span<colour::XYZ> out) const;
    // All steps from the ground up.
    void xyz(const Samples& samples, std::span<colour::XYZ> out) const;
    void sparkle_power(const Samples& samples, std::span<double> power) const;

private:
    // Lighting and viewing of flakes: coats from lowest_flake_coat_ up in one scene.
    struct FlakeScene {
        film::FlakeReflectionScene reflection_scene;
        std::vector<film::FlakeReflectionCoat> coats;
        std::vector<kernels::fast::FlakeReflectionCoat> fast;  // the same, for pictures only
    };
    [[nodiscard]] FlakeScene flake_scene(const Lighting& point) const;
    // The scene for all points, or that of this point, stored in `buffer`.
    [[nodiscard]] const FlakeScene& flake_scene_at(const Lighting& point, FlakeScene& buffer) const;

    [[nodiscard]] double apply_surface(double internal) const noexcept;
    // Surface reflection towards the eye, sharp and as haze.
    [[nodiscard]] double surface_reflection(const Lighting& point) const noexcept;

    void lay_coat_reference(std::size_t coat, std::span<const double> film_um,
                            std::span<double> reflectance) const;
    // From internal to visible reflectance: without flakes, and with flakes.
    void shade(const Samples& samples, std::span<double> reflectance) const;
    [[nodiscard]] colour::XYZ to_xyz(std::span<const double> spectrum) const noexcept;
    void shade_flakes(const Samples& samples, std::span<double> values) const;
    void shade_flakes_fast(const Samples& samples, std::span<float> values) const;
    [[nodiscard]] film::FlakeReflectionScene reflection_scene(const Lighting& point) const;
    void tabulate_lamps();

    const plan::Job& job_;
    std::size_t coats_;
    Precision precision_;
    // Of the coats, for the vectorised loops.
    std::vector<kernels::fast::Coat<double>> fast_coats_;
    std::vector<kernels::fast::Coat<float>> preview_coats_;
    Viewing viewing_;
    colour::TristimulusWeights weights_;
    kernels::SpectralToXyz preview_weights_;  // the same for pictures
    film::SaundersonCorrection surface_;
    double matt_share_ = 0;              // share of the surface reflection that is spread over all directions
    double haze_share_ = 0;              // share that is scattered a few degrees off the reflection
    std::size_t lowest_flake_coat_ = 0;  // the first coat with flakes; coats_ without any
    std::vector<film::FlakeReflectionPaint> reflection_paints_;  // of the coats from there up
    // Where the angle of the lamp differs from point to point: the lamp's part by the cosine of its angle, 0
    // to 1.
    std::vector<std::vector<film::FlakeReflectionLamp>> lamp_tables_;
    FlakeScene common_scene_;  // where it does not
};

}  // namespace fadewright::render
