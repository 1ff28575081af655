// K is not taken for S, although both are per micrometre.
#include "fadewright/colour/spectrum.h"

using namespace fadewright;

#if FW_MISTAKE
const colour::Scattering scattering = colour::Absorption{};
#else
const colour::Scattering scattering = colour::Scattering{};
#endif
