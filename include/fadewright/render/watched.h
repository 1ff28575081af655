// Long work that somebody waits for: it tells how far it is, and asks whether to go on.
#pragma once

#include <functional>

namespace fadewright::render {

struct Watched {
    std::function<void(double)> told;  // share done, 0 to 1; called from any thread
    std::function<bool()> stopped;     // asked now and then, by any thread, whether to end

    void tell(double share) const {
        if (told) told(share);
    }
    [[nodiscard]] bool over() const { return stopped && stopped(); }

    // One piece of it, from `begin` to `end` of the whole.
    [[nodiscard]] Watched piece(double begin, double end) const {
        if (!told) return *this;
        return {[whole = told, begin, end](double share) { whole(begin + share * (end - begin)); }, stopped};
    }
};

}  // namespace fadewright::render
