// A number without a unit does not become a quantity by itself.
#include "fadewright/base/quantity.h"

using namespace fadewright;

#if FW_MISTAKE
const Micrometres film = 12.0;
#else
const Micrometres film{12.0};
#endif
