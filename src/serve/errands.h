// Long answers under way. The page gives each a name; how far it is comes to the page as an event of that name
// (events.h), and it ends when the page says so, or when nobody waits for it any more: a page that asks anew, goes to
// another job or is closed hangs up.
#pragma once

#include "answer.h"
#include "events.h"
#include "fadewright/render/watched.h"

#include <atomic>
#include <chrono>
#include <functional>
#include <map>
#include <memory>
#include <mutex>
#include <string>

namespace fadewright::serve {

class Errand {
public:
    Errand(std::string name, std::function<bool()> left, Events& events)
        : name_(std::move(name)), left_(std::move(left)), events_(events) {}

    // How much is done, 0 to 1; from any thread.
    void tell(double share);
    // Whether to end: asked often, from any thread.
    [[nodiscard]] bool over() const { return stopped_ || left(); }
    [[nodiscard]] bool left() const { return left_ && left_(); }
    void stop() { stopped_ = true; }

    // The same for those who work at it.
    [[nodiscard]] render::Watched watched() {
        return {[this](double share) { tell(share); }, [this] { return over(); }};
    }

private:
    std::string name_;
    std::function<bool()> left_;
    Events& events_;
    std::atomic<bool> stopped_{false};
    std::mutex telling_;
    std::chrono::steady_clock::time_point told_;  // last
};

class Errands {
public:
    explicit Errands(Events& events) : events_(events) {}

    // Does what was asked as an errand.
    [[nodiscard]] Answer run(const Asked& asked, const std::function<Answer(Errand&)>& work);
    // Ends those of that name.
    [[nodiscard]] Answer stop(const Asked& asked);

private:
    Events& events_;
    std::mutex lock_;
    std::multimap<std::string, Errand*> under_way_;  // by name
};

// What whoever stopped an errand gets, if it still listens.
[[nodiscard]] Answer was_stopped();

}  // namespace fadewright::serve
