// The spectrum of a light is not taken where the reflectance of a surface belongs.
#include "fadewright/colour/illuminant.h"

using namespace fadewright;

#if FW_MISTAKE
using Object = colour::Spd;
#else
using Object = colour::Reflectance;
#endif

colour::XYZ look(const Object& object, const colour::TristimulusWeights& weights) {
    return colour::to_xyz(object, weights);
}
