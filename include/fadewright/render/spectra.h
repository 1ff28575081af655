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

#include "fadewright/colour/lab.h"
#include "fadewright/colour/light.h"
#include "fadewright/film/glint.h"
#include "fadewright/kernels/quick_glint.h"
#include "fadewright/kernels/quick_layers.h"
#include "fadewright/kernels/seen_sums.h"
#include "fadewright/plan/job.h"
#include "fadewright/render/viewing.h"

#include <span>
#include <vector>

namespace fadewright::render {

// One coat over what lies below, in one band, as it dries: film_um and reflectance place by place.
void lay(const plan::ReadyCoat& coat, std::size_t band, std::span<const double> film_um,
         std::span<double> reflectance);

// How films are worked out: plainly, which is the truth, in vectors for figures, or in vectors for pictures
// (kernels/quick_layers.h has the bounds).
enum class Loops { plain, quick, for_pictures };

class SeenJob {
public:
    // coats: how many of the job's coats are on the panel, from the first.
    // Looked at as the plan says, by an instrument's beam, unless a way of viewing is given.
    SeenJob(const plan::Job& job, const colour::Light& light, std::size_t coats);
    SeenJob(const plan::Job& job, const colour::Light& light, std::size_t coats, const Viewing& viewing,
            Loops loops = Loops::quick);

    [[nodiscard]] colour::XYZ white() const noexcept { return weights_.white; }
    [[nodiscard]] std::size_t coats() const noexcept { return coats_; }
    [[nodiscard]] bool sparkles() const noexcept { return lowest_flakes_ < coats_; }

    void xyz(std::span<const double> x_mm, std::span<const double> y_mm, std::span<colour::XYZ> out) const;
    [[nodiscard]] colour::Reflectance reflectance(double x_mm, double y_mm) const;

    // Noise power of the luminance of single flakes that flash, mm2, of a perfect white's luminance squared:
    // over A mm2 it deviates by sqrt(power / A) (film/sparkle.h). In a room's light unless a wider lamp is given.
    void sparkle_power_mm2(std::span<const double> x_mm, std::span<const double> y_mm,
                           std::span<double> power) const;

    // Step by step, for those who keep what does not change from one picture to the next: films of places, coat
    // by coat, the bare ground at each, and the light: one for each place, or one for all where the surface's
    // slope does not count.
    struct Laid {
        std::vector<double> films;
        std::vector<const colour::Reflectance*> grounds;
        std::vector<Lighting> lights;
        [[nodiscard]] std::size_t count() const noexcept { return grounds.size(); }
        [[nodiscard]] std::span<double> film(std::size_t coat) noexcept {
            return std::span(films).subspan(coat * count(), count());
        }
        [[nodiscard]] const Lighting& light(std::size_t place) const noexcept {
            return lights.size() > 1 ? lights[place] : lights.front();
        }
    };
    [[nodiscard]] Laid laid(std::span<const double> x_mm, std::span<const double> y_mm) const;
    // No film yet.
    [[nodiscard]] Laid unlaid(std::span<const double> x_mm, std::span<const double> y_mm) const;
    void unlay(std::span<const double> x_mm, std::span<const double> y_mm, Laid& out) const;

    void add_film(std::size_t coat, std::span<const double> x_mm, std::span<const double> y_mm,
                  std::span<double> film_um) const;

    // Reflectances below the skin, place by place, bands side by side: of the ground, and with coats from
    // `first` to before `last` laid over them. In the numbers of the loops: float for pictures, else double.
    void bare(const Laid& laid, std::span<double> reflectance) const;
    void bare(const Laid& laid, std::span<float> reflectance) const;
    void lay_coats(std::size_t first, std::size_t last, const Laid& laid,
                   std::span<double> reflectance) const;
    void lay_coats(std::size_t first, std::size_t last, const Laid& laid, std::span<float> reflectance) const;
    // What is seen of places whose coats are all laid; `reflectance` is used up.
    void see(const Laid& laid, std::span<double> reflectance, std::span<colour::XYZ> out) const;
    void see(const Laid& laid, std::span<float> reflectance, std::span<colour::XYZ> out) const;
    // All of that from the ground up.
    void xyz(const Laid& laid, std::span<colour::XYZ> out) const;
    void sparkle(const Laid& laid, std::span<double> power) const;

private:
    // How flakes are lit and seen: coats from lowest_flakes_ up in one scene.
    struct Facing {
        film::GlintScene scene;
        std::vector<film::GlintCoat> coats;
        std::vector<kernels::quick::GlintCoat> quick;  // the same; none but for pictures
    };
    [[nodiscard]] Facing facing(const Lighting& place) const;
    // The one for all places, or the place's own, kept in `own`.
    [[nodiscard]] const Facing& facing_at(const Lighting& place, Facing& own) const;

    [[nodiscard]] double through_skin(double inside) const noexcept;
    // What the skin itself mirrors to the eye, sharp and as haze.
    [[nodiscard]] double shine_of(const Lighting& place) const noexcept;

    void lay_plainly(std::size_t coat, std::span<const double> film_um, std::span<double> reflectance) const;
    // Of places without flakes, and of places with them: from below the skin to what is seen.
    void light_up(const Laid& laid, std::span<double> reflectance) const;
    [[nodiscard]] colour::XYZ weighed(std::span<const double> seen) const noexcept;
    void light_flakes(const Laid& laid, std::span<double> values) const;
    void light_flakes_quickly(const Laid& laid, std::span<float> values) const;
    [[nodiscard]] film::GlintScene scene_of(const Lighting& place) const;
    void tabulate_lamps();

    const plan::Job& job_;
    std::size_t coats_;
    Loops loops_;
    // Of the coats, for the loops that there are.
    std::vector<kernels::quick::Coat<double>> quick_;
    std::vector<kernels::quick::Coat<float>> for_pictures_;
    Viewing viewing_;
    colour::Weights weights_;
    kernels::SeenWeights picture_weights_;  // the same for pictures
    film::Skin skin_;
    double spread_shine_ = 0;        // share of the skin's own reflection that is spread over everything
    double hazy_shine_ = 0;          // share that it throws a few degrees beside the mirror image
    std::size_t lowest_flakes_ = 0;  // the first coat that has some; coats_ if none has
    std::vector<film::GlintPaint> glint_paints_;  // of the coats from there up
    // Where the lamp's angle changes from place to place: the lamp's part of each, by its cosine from 0 to 1.
    std::vector<std::vector<film::GlintLamp>> lamps_;
    Facing for_all_;  // elsewhere
};

}  // namespace fadewright::render
