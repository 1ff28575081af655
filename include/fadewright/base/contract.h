// Broken promises of our own: stop at once, with both sides of the comparison in the message.
//
// FW_EXPECTS guards what a caller must give, FW_ENSURES what a function gives back. They are for mistakes
// in this program; a mistake in the user's text goes to text/diagnostic.h, a refusal of the machine to
// base/result.h. Active in every build; not used inside kernels. Exit code 70 (our bug).
#pragma once

namespace fadewright {

[[noreturn]] void contract_violation(const char* kind, const char* condition, const char* file, int line);

}  // namespace fadewright

#define FW_EXPECTS(condition) \
    ((condition) ? void(0) : ::fadewright::contract_violation("expected", #condition, __FILE__, __LINE__))
#define FW_ENSURES(condition) \
    ((condition) ? void(0) : ::fadewright::contract_violation("ensured", #condition, __FILE__, __LINE__))
