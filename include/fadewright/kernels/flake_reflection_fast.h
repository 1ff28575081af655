// Fast version of film/flake_reflection.h for pictures: the light that flakes reflect at a point and the
// light they remove from the diffuse part, in all bands at once, in single-precision vectors.
//
// Holds for  the range of film/flake_reflection.h
// Accuracy   within 3e-6 of the reference implementation, relative where the flake reflection exceeds 1;
//            the same bits for every vector width
// Checks     tests/film/flake_reflection_fast_test.cpp; speed in tests/bench
#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace fadewright::kernels::fast {

// The bands of a film::FlakeReflectionCoat.
struct FlakeReflectionBands {
    std::span<const double> diffuse, diffuse_extinction, lamp, lamp_extinction, trapped, reflectance_factor,
        view_extinction;
};

class FlakeReflectionCoat {
public:
    FlakeReflectionCoat(bool has_flakes, const FlakeReflectionBands& coat);

private:
    friend class FlakeReflection;

    bool has_flakes_;
    std::size_t bands_;
    std::vector<float> numbers_;  // row by row, one value per band
};

// The light on a point: diffuse light and the lamp's beam, and the gloss that the surface reflects to the
// eye. Of the surface, its transmittance in and out, and its internal reflectance.
struct FlakeReflectionLight {
    double diffuse, beam, gloss;
    double surface_transmittance, internal_reflectance;
};

// Coats of one point from the top down, then apply().
class FlakeReflection {
public:
    explicit FlakeReflection(std::size_t bands);

    void clear();
    void add(const FlakeReflectionCoat& coat, double film_um);
    // From the reflectance of the whole stack below the surface to the reflectance that the eye sees.
    void apply(const FlakeReflectionLight& light, std::span<float> reflectance) const;

private:
    std::size_t bands_;
    std::vector<float> numbers_;
};

}  // namespace fadewright::kernels::fast
