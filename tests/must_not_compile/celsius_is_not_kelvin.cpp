// A temperature in °C is not taken for one in K.
#include "fadewright/base/quantity.h"

using namespace fadewright;

#if FW_MISTAKE
const Kelvin air = Celsius{21.0};
#else
const Kelvin air{294.15};
#endif
