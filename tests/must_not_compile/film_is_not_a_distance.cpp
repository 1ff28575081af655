// A film thickness is not taken where a distance belongs.
#include "fadewright/base/quantity.h"

using namespace fadewright;

constexpr double doubled(Millimetres distance) { return 2 * distance.value; }

#if FW_MISTAKE
const double result = doubled(Micrometres{150.0});
#else
const double result = doubled(Millimetres{150.0});
#endif
