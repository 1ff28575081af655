// There is no dimensional algebra: a film times a film is not a film.
#include "fadewright/base/quantity.h"

using namespace fadewright;

#if FW_MISTAKE
const Micrometres product = Micrometres{2.0} * Micrometres{3.0};
#else
const Micrometres product = 2.0 * Micrometres{3.0};
#endif
