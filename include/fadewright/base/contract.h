// Contracts: a violated condition is an error of this program; it stops at once with the condition, file and
// line.
//
// FW_EXPECTS checks a precondition, FW_ENSURES a postcondition. The message holds the text of the condition,
// not the values in it. Errors in the user's text go to text/diagnostic.h, errors of files and devices to
// base/result.h. Active in every build; not used inside kernels. Exit code 70 (internal error).
#pragma once

namespace fadewright {

[[noreturn]] void contract_violation(const char* kind, const char* condition, const char* file, int line);

}  // namespace fadewright

#define FW_EXPECTS(condition) \
    ((condition) ? void(0) : ::fadewright::contract_violation("expected", #condition, __FILE__, __LINE__))
#define FW_ENSURES(condition) \
    ((condition) ? void(0) : ::fadewright::contract_violation("ensured", #condition, __FILE__, __LINE__))
