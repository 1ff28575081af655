// A film thickness does not scale a reflectance.
#include "fadewright/base/quantity.h"
#include "fadewright/colour/spectrum.h"

using namespace fadewright;

#if FW_MISTAKE
const auto product = Micrometres{20.0} * colour::Reflectance{};
#else
const auto product = Micrometres{20.0} * 2.0;
#endif
