#include "events.h"

#include <fmt/core.h>

#include <algorithm>
#include <chrono>

namespace fadewright::serve {
namespace {

using namespace std::chrono_literals;

constexpr auto kPollInterval = 400ms;
constexpr auto kKeepAliveInterval = 15s;
constexpr std::size_t kMaxRecentEvents = 256;

}  // namespace

Events::Events(const Folder& folder) : folder_(folder), watcher_([this] { watch_folder(); }) {}

Events::~Events() {
    stop();
    watcher_.join();
}

void Events::stop() {
    stopped_ = true;
    published_.notify_all();
}

void Events::watch_folder() {
    std::map<std::string, Folder::FileState> known = folder_.scan({});
    while (!stopped_) {
        {
            std::unique_lock lock(mutex_);
            published_.wait_for(lock, kPollInterval, [&] { return stopped_.load(); });
        }
        if (stopped_) return;
        std::map<std::string, Folder::FileState> now = folder_.scan(known);
        const auto publish_change = [&](const std::string& file, const std::string& sha256) {
            publish("file-changed", {{"file", file}, {"sha256", sha256}});
        };
        for (const auto& [file, plan] : now)
            if (const auto previous = known.find(file);
                previous == known.end() || previous->second.sha256 != plan.sha256)
                publish_change(file, plan.sha256);
        for (const auto& [file, plan] : known)
            if (!now.contains(file)) publish_change(file, "");
        known = std::move(now);
    }
}

void Events::publish(const std::string& name, const Json& data) {
    const std::string event = fmt::format("event: {}\ndata: {}\n\n", name, json_response(data).body);
    const std::lock_guard lock(mutex_);
    recent_.push_back(event);
    ++count_;
    if (recent_.size() > kMaxRecentEvents) recent_.pop_front();
    published_.notify_all();
}

std::uint64_t Events::latest() const {
    const std::lock_guard lock(mutex_);
    return count_;
}

std::optional<std::string> Events::wait_for_next(std::uint64_t& since) {
    std::unique_lock lock(mutex_);
    const bool any =
        published_.wait_for(lock, kKeepAliveInterval, [&] { return stopped_ || count_ > since; });
    if (stopped_) return std::nullopt;
    if (!any) return ": keep-alive\n\n";
    std::string text;
    const auto fresh = std::min<std::uint64_t>(count_ - since, recent_.size());
    for (auto i = recent_.size() - static_cast<std::size_t>(fresh); i < recent_.size(); ++i)
        text += recent_[i];
    since = count_;
    return text;
}

}  // namespace fadewright::serve
