// Spectra and colours of a job at places on its panel: the plain road from films to what is seen.
//
// Coats are laid bottom-up by Kubelka-Munk, band by band (kernels/layer_stack.h); the air surface comes once,
// at the end. A gloss panel is looked at past its shine (specular excluded); on a matt one, or under a flatted
// clear, the surface's own reflection is spread over everything seen (specular included); a hazy clear throws part
// of it beside the mirror image (film/haze.h).
//
// Where coats hold flakes, single reflections are taken out of the diffuse light and given back as glint
// (film/glint.h) for the way the panel is looked at; even light from all around keeps them, since some of it
// always meets the eye.
//
// This is the truth that faster pictures are held to.
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

// One coat over what lies below, in one band, as it dries: film_um and reflectance place by place.
void lay_coat(const plan::ResolvedCoat& coat, std::size_t band, std::span<const double> film_um,
              std::span<double> reflectance);

// How films are worked out: plainly, which is the truth, in vectors for figures, or in vectors for pictures
// (kernels/quick_layers.h has the bounds).
enum class Precision { reference, fast, preview };

class PanelShader {
public:
    // coats: how many of the job's coats are on the panel, from the first.
    // Looked at as the plan says, by an instrument's beam, unless a way of viewing is given.
    PanelShader(const plan::Job& job, const colour::Illuminant& light, std::size_t coats);
    PanelShader(const plan::Job& job, const colour::Illuminant& light, std::size_t coats,
                const Viewing& viewing, Precision precision = Precision::fast);

    [[nodiscard]] colour::XYZ white() const noexcept { return weights_.white; }
    [[nodiscard]] std::size_t coats() const noexcept { return coats_; }
    [[nodiscard]] bool has_flakes() const noexcept { return lowest_flake_coat_ < coats_; }

    void xyz(std::span<const double> x_mm, std::span<const double> y_mm, std::span<colour::XYZ> out) const;
    [[nodiscard]] colour::Reflectance reflectance(double x_mm, double y_mm) const;

    // Noise power of the luminance of single flakes that flash, mm2, of a perfect white's luminance squared:
    // over A mm2 it deviates by sqrt(power / A) (film/sparkle.h). In a room's light unless a wider lamp is given.
    void sparkle_power_mm2(std::span<const double> x_mm, std::span<const double> y_mm,
                           std::span<double> power) const;

    // Step by step, for those who keep what does not change from one picture to the next: films of places, coat
    // by coat, the bare ground at each, and the light: one for each place, or one for all where the surface's
    // slope does not count.
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
    // No film yet.
    [[nodiscard]] Samples uncoated_samples(std::span<const double> x_mm, std::span<const double> y_mm) const;
    void reset_samples(std::span<const double> x_mm, std::span<const double> y_mm, Samples& out) const;

    void add_film(std::size_t coat, std::span<const double> x_mm, std::span<const double> y_mm,
                  std::span<double> film_um) const;

    // Reflectances below the skin, place by place, bands side by side: of the ground, and with coats from
    // `first` to before `last` laid over them. In the numbers of the loops: float for pictures, else double.
    void fill_substrate(const Samples& samples, std::span<double> reflectance) const;
    void fill_substrate(const Samples& samples, std::span<float> reflectance) const;
    void lay_coats(std::size_t first, std::size_t last, const Samples& samples,
                   std::span<double> reflectance) const;
    void lay_coats(std::size_t first, std::size_t last, const Samples& samples,
                   std::span<float> reflectance) const;
    // What is seen of places whose coats are all laid; `reflectance` is used up.
    void integrate(const Samples& samples, std::span<double> reflectance, std::span<colour::XYZ> out) const;
    void integrate(const Samples& samples, std::span<float> reflectance, std::span<colour::XYZ> out) const;
    // All of that from the ground up.
    void xyz(const Samples& samples, std::span<colour::XYZ> out) const;
    void sparkle_power(const Samples& samples, std::span<double> power) const;

private:
    // How flakes are lit and seen: coats from lowest_flakes_ up in one scene.
    struct FlakeScene {
        film::FlakeReflectionScene glint_scene;
        std::vector<film::FlakeReflectionCoat> coats;
        std::vector<kernels::fast::FlakeReflectionCoat> fast;  // the same; none but for pictures
    };
    [[nodiscard]] FlakeScene flake_scene(const Lighting& point) const;
    // The one for all places, or the place's own, kept in `own`.
    [[nodiscard]] const FlakeScene& flake_scene_at(const Lighting& point, FlakeScene& buffer) const;

    [[nodiscard]] double apply_surface(double internal) const noexcept;
    // What the skin itself mirrors to the eye, sharp and as haze.
    [[nodiscard]] double surface_reflection(const Lighting& point) const noexcept;

    void lay_coat_reference(std::size_t coat, std::span<const double> film_um,
                            std::span<double> reflectance) const;
    // Of places without flakes, and of places with them: from below the skin to what is seen.
    void shade(const Samples& samples, std::span<double> reflectance) const;
    [[nodiscard]] colour::XYZ to_xyz(std::span<const double> spectrum) const noexcept;
    void shade_flakes(const Samples& samples, std::span<double> values) const;
    void shade_flakes_fast(const Samples& samples, std::span<float> values) const;
    [[nodiscard]] film::FlakeReflectionScene glint_scene(const Lighting& point) const;
    void tabulate_lamps();

    const plan::Job& job_;
    std::size_t coats_;
    Precision precision_;
    // Of the coats, for the loops that there are.
    std::vector<kernels::fast::Coat<double>> fast_coats_;
    std::vector<kernels::fast::Coat<float>> preview_coats_;
    Viewing viewing_;
    colour::TristimulusWeights weights_;
    kernels::SpectralToXyz preview_weights_;  // the same for pictures
    film::SaundersonCorrection surface_;
    double matt_share_ = 0;              // share of the skin's own reflection that is spread over everything
    double haze_share_ = 0;              // share that it throws a few degrees beside the mirror image
    std::size_t lowest_flake_coat_ = 0;  // the first coat that has some; coats_ if none has
    std::vector<film::FlakeReflectionPaint> glint_paints_;  // of the coats from there up
    // Where the lamp's angle changes from place to place: the lamp's part of each, by its cosine from 0 to 1.
    std::vector<std::vector<film::FlakeReflectionLamp>> lamp_tables_;
    FlakeScene common_scene_;  // elsewhere
};

}  // namespace fadewright::render
