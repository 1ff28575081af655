// Progress reports and cancellation of long tasks.
#pragma once

#include <functional>

namespace fadewright::render {

struct Progress {
    std::function<void(double)> on_report;   // fraction done, 0 to 1; called from any thread
    std::function<bool()> cancel_requested;  // polled by any thread

    void report(double share) const {
        if (on_report) on_report(share);
    }
    [[nodiscard]] bool cancelled() const { return cancel_requested && cancel_requested(); }

    // Of one part of the task, from `begin` to `end` of the whole.
    [[nodiscard]] Progress subrange(double begin, double end) const {
        if (!on_report) return *this;
        return {[outer = on_report, begin, end](double share) { outer(begin + share * (end - begin)); },
                cancel_requested};
    }
};

}  // namespace fadewright::render
