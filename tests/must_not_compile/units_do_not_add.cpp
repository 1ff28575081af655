// A length on the panel and a film thickness do not add, although both are lengths.
#include "fadewright/base/quantity.h"

using namespace fadewright;

#if FW_MISTAKE
const auto sum = Millimetres{1.0} + Micrometres{1.0};
#else
const auto sum = Millimetres{1.0} + Millimetres{1.0};
#endif
