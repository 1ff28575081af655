#include "tasks.h"

namespace fadewright::serve {
namespace {

constexpr std::chrono::milliseconds kReportInterval{150};
constexpr std::size_t kMaxTaskNameLength = 64;

}  // namespace

void Task::report_progress(double fraction) {
    if (name_.empty()) return;
    {
        const std::lock_guard lock(report_mutex_);
        const auto now = std::chrono::steady_clock::now();
        if (now - last_report_ < kReportInterval) return;
        last_report_ = now;
    }
    events_.publish("progress", {{"task", name_}, {"fraction", fraction}});
}

ApiResponse TaskRunner::run(const ApiRequest& api_request, const std::function<ApiResponse(Task&)>& work) {
    const std::string name = api_request.text("task").substr(0, kMaxTaskNameLength);
    Task task(name, api_request.is_disconnected, events_);
    struct Registration {  // ends even if the work throws
        TaskRunner& runner;
        std::multimap<std::string, Task*>::iterator position;
        ~Registration() {
            const std::lock_guard lock(runner.mutex_);
            runner.running_.erase(position);
        }
    };
    std::unique_lock lock(mutex_);
    const Registration registration{*this, running_.emplace(name, &task)};
    lock.unlock();
    return work(task);
}

ApiResponse TaskRunner::cancel(const ApiRequest& api_request) {
    const std::string name = api_request.text("task");
    if (name.empty()) return error_response(400, "the task has no name");
    const std::lock_guard lock(mutex_);
    const auto [first, last] = running_.equal_range(name);
    for (auto entry = first; entry != last; ++entry) entry->second->cancel();
    return json_response({{"cancelled", std::distance(first, last)}});
}

ApiResponse cancelled_response() {
    return json_response({{"superseded", true}, {"error", "cancelled"}}, 409);
}

}  // namespace fadewright::serve
