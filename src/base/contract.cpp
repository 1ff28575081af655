#include "fadewright/base/contract.h"

#include <cstdio>
#include <cstdlib>

namespace fadewright {

void contract_violation(const char* kind, const char* condition, const char* file, int line) {
    std::fprintf(stderr, "fadewright: our bug: %s %s (%s:%d); please report it with the plan\n", kind,
                 condition, file, line);
    std::_Exit(70);
}

}  // namespace fadewright
