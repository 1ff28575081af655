// The quick twin of film/glint.h for pictures: what flakes add to the light of a place and take from it, in all bands
// at once, in vectors of short numbers.
//
// Holds for  what film/glint.h holds for
// Accuracy   within 3e-6 of film::GlintSum and film::seen_with_glint(), of the glint itself where that is more than 1;
//            the same bits on every machine, whatever its vectors hold
// Checks     tests/film/quick_glint_test.cpp; speed in tests/bench
#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace fadewright::kernels::fast {

// The bands of a film::GlintCoat.
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
    std::vector<float> numbers_;  // row by row, one for each band
};

// How a place is lit: even light and the lamp's beam, of a surface in the middle of both; and what its skin throws to
// the eye besides. Of the skin, what it lets in and out again and what it turns back from inside.
struct FlakeReflectionLight {
    double diffuse, beam, gloss;
    double surface_transmittance, internal_reflectance;
};

// Coats of one place from the top down, then see().
class FlakeReflection {
public:
    explicit FlakeReflection(std::size_t bands);

    void clear();
    void add(const FlakeReflectionCoat& coat, double film_um);
    // From reflectance inside, of the whole stack, to what is seen.
    void apply(const FlakeReflectionLight& light, std::span<float> reflectance) const;

private:
    std::size_t bands_;
    std::vector<float> numbers_;
};

}  // namespace fadewright::kernels::fast
