// Long answers under way. The page gives each a name; how far it is comes to the page as an event of that name
// (events.h), and it ends when the page says so, or when nobody waits for it any more: a page that asks anew, goes to
// another job or is closed hangs up.
#pragma once

#include "api_message.h"
#include "events.h"
#include "fadewright/render/progress.h"

#include <atomic>
#include <chrono>
#include <functional>
#include <map>
#include <memory>
#include <mutex>
#include <string>

namespace fadewright::serve {

class Task {
public:
    Task(std::string name, std::function<bool()> disconnected, Events& events)
        : name_(std::move(name)), is_disconnected_(std::move(disconnected)), events_(events) {}

    // How much is done, 0 to 1; from any thread.
    void report_progress(double share);
    // Whether to end: asked often, from any thread.
    [[nodiscard]] bool is_cancelled() const { return cancelled_ || is_disconnected(); }
    [[nodiscard]] bool is_disconnected() const { return is_disconnected_ && is_disconnected_(); }
    void cancel() { cancelled_ = true; }

    // The same for those who work at it.
    [[nodiscard]] render::Progress progress() {
        return {[this](double share) { report_progress(share); }, [this] { return is_cancelled(); }};
    }

private:
    std::string name_;
    std::function<bool()> is_disconnected_;
    Events& events_;
    std::atomic<bool> cancelled_{false};
    std::mutex report_mutex_;
    std::chrono::steady_clock::time_point last_report_;  // last
};

class TaskRunner {
public:
    explicit TaskRunner(Events& events) : events_(events) {}

    // Does what was asked as an errand.
    [[nodiscard]] ApiResponse run(const ApiRequest& api_request,
                                  const std::function<ApiResponse(Task&)>& work);
    // Ends those of that name.
    [[nodiscard]] ApiResponse cancel(const ApiRequest& api_request);

private:
    Events& events_;
    std::mutex mutex_;
    std::multimap<std::string, Task*> running_;  // by name
};

// What whoever stopped an errand gets, if it still listens.
[[nodiscard]] ApiResponse cancelled_response();

}  // namespace fadewright::serve
