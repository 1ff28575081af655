// Tasks: requests that take long. The page names each; its progress goes out as events (events.h). A task
// ends when the page cancels it, or when the client hangs up because the page sends a new request, opens
// another job or closes.
#pragma once

#include "api_message.h"
#include "events.h"
#include "fadewright/base/progress.h"

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

    // fraction: 0 to 1. May be called from any thread.
    void report_progress(double fraction);
    // Whether to stop working. May be called from any thread, often.
    [[nodiscard]] bool is_cancelled() const { return cancelled_ || is_disconnected(); }
    [[nodiscard]] bool is_disconnected() const { return is_disconnected_ && is_disconnected_(); }
    void cancel() { cancelled_ = true; }

    // For the work, which must end before the task does.
    [[nodiscard]] Progress progress() {
        return {[this](double fraction) { report_progress(fraction); }, [this] { return is_cancelled(); }};
    }

private:
    std::string name_;
    std::function<bool()> is_disconnected_;
    Events& events_;
    std::atomic<bool> cancelled_{false};
    std::mutex report_mutex_;
    std::chrono::steady_clock::time_point last_report_;
};

class TaskRunner {
public:
    explicit TaskRunner(Events& events) : events_(events) {}

    // Runs `work` as the task named in the request.
    [[nodiscard]] ApiResponse run(const ApiRequest& api_request,
                                  const std::function<ApiResponse(Task&)>& work);
    // Cancels the tasks of the name in the request.
    [[nodiscard]] ApiResponse cancel(const ApiRequest& api_request);

private:
    Events& events_;
    std::mutex mutex_;
    std::multimap<std::string, Task*> running_;  // by name
};

// The response of a task that was cancelled.
[[nodiscard]] ApiResponse cancelled_response();

}  // namespace fadewright::serve
