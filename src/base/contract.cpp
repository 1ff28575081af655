#include "fadewright/base/contract.h"

#include <cstdio>
#include <cstdlib>

namespace fadewright {

void contract_violation(const char* kind, const char* condition, const char* file, int line) {
    std::fprintf(stderr, "fadewright: internal error (please report it with the plan): %s %s (%s:%d)\n", kind,
                 condition, file, line);
    std::_Exit(70);
}

}  // namespace fadewright
