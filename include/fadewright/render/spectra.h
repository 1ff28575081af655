// Spectra and colours of a job at places on its panel: the plain road from films to what is seen.
//
// Coats are laid bottom-up by Kubelka-Munk, band by band (kernels/layer_stack.h); the air surface comes once,
// at the end. A gloss panel is looked at past its shine (specular excluded); on a matt one the surface's own
// reflection is spread over everything seen (specular included).
//
// This is the truth that faster pictures are held to.
#pragma once

#include "fadewright/colour/lab.h"
#include "fadewright/colour/light.h"
#include "fadewright/plan/job.h"

#include <span>
#include <vector>

namespace fadewright::render {

// One coat over what lies below, in one band, as it dries: film_um and reflectance place by place.
void lay(const plan::ReadyCoat& coat, std::size_t band, std::span<const double> film_um,
         std::span<double> reflectance);

class SeenJob {
public:
    // coats: how many of the job's coats are on the panel, from the first.
    SeenJob(const plan::Job& job, const colour::Light& light, std::size_t coats);

    [[nodiscard]] colour::XYZ white() const noexcept { return weights_.white; }
    [[nodiscard]] std::size_t coats() const noexcept { return coats_; }

    void xyz(std::span<const double> x_mm, std::span<const double> y_mm, std::span<colour::XYZ> out) const;
    [[nodiscard]] colour::Reflectance reflectance(double x_mm, double y_mm) const;

private:
    // The bare ground at each place.
    using Grounds = std::vector<const colour::Reflectance*>;
    [[nodiscard]] Grounds grounds(std::span<const double> x_mm, std::span<const double> y_mm) const;

    // films: coats() rows of count films; one band of reflectance, from the ground to the air.
    void seen_band(std::size_t band, const Grounds& grounds, std::span<const double> films,
                   std::span<double> reflectance) const;

    const plan::Job& job_;
    std::size_t coats_;
    colour::Weights weights_;
    film::Skin skin_;
    film::Specular specular_;
};

}  // namespace fadewright::render
