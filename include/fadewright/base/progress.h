// Progress reports and cancellation of long tasks.
//
// The task calls both functions from any of its threads, several at the same time: they must be thread safe
// and quick. Both may be called until the task returns, and not after it.
#pragma once

#include <functional>

namespace fadewright {

struct Progress {
    // Receives the fraction done, 0 to 1. Reports of several threads may arrive out of order.
    std::function<void(double)> report = [](double) {};
    // Polled often; once it is true, the task ends soon. Each task says what it then returns.
    std::function<bool()> is_cancelled = [] { return false; };

    // Of one part of the task, from `begin` to `end` of the whole.
    [[nodiscard]] Progress subrange(double begin, double end) const {
        return {[outer = report, begin, end](double share) { outer(begin + share * (end - begin)); },
                is_cancelled};
    }
};

}  // namespace fadewright
