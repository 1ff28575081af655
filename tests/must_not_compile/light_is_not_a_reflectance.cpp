// The spectrum of a light is not taken where the reflectance of a surface belongs.
#include "fadewright/colour/illuminant.h"

using namespace fadewright;

#if FW_MISTAKE
using Shown = colour::Spd;
#else
using Shown = colour::Reflectance;
#endif

colour::XYZ look(const Shown& shown, const colour::TristimulusWeights& weights) {
    return colour::to_xyz(shown, weights);
}
