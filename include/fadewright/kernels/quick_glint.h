// The quick twin of film/glint.h for pictures: what flakes add to the light of a place and take from it, in all bands
// at once, in vectors of short numbers.
//
// Holds for  what film/glint.h holds for; places that are seen through at most 80 times their depth of fading
// Accuracy   within 3e-6 of film::GlintSum and film::seen_with_glint(), of the glint itself where that is more than 1;
//            the same bits on every machine, whatever its vectors hold
// Checks     tests/film/quick_glint_test.cpp; speed in tests/bench
#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace fadewright::kernels::quick {

// The bands of a film::GlintCoat.
struct GlintBands {
    std::span<const double> diffuse, lost_diffuse, lamp, lost_lamp, turned, seen, lost_seen;
};

class GlintCoat {
public:
    GlintCoat(bool has_flakes, const GlintBands& coat);

private:
    friend class GlintSum;

    bool has_flakes_;
    std::size_t bands_;
    std::vector<float> numbers_;  // row by row, one for each band
};

// How a place is lit: even light and the lamp's beam, of a surface in the middle of both; and what its skin throws to
// the eye besides. Of the skin, what it lets in and out again and what it turns back from inside.
struct GlintLight {
    double even, beam, shine;
    double let_through, turned_back;
};

// Coats of one place from the top down, then see().
class GlintSum {
public:
    explicit GlintSum(std::size_t bands);

    void clear();
    void add(const GlintCoat& coat, double film_um);
    // From reflectance inside, of the whole stack, to what is seen.
    void see(const GlintLight& light, std::span<float> reflectance) const;

private:
    std::size_t bands_;
    std::vector<float> numbers_;
};

}  // namespace fadewright::kernels::quick
