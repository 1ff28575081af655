// What pages are told without asking: plans that changed on disk, and how far long answers are.
#pragma once

#include "api_message.h"
#include "folder.h"

#include <atomic>
#include <condition_variable>
#include <cstdint>
#include <deque>
#include <map>
#include <mutex>
#include <optional>
#include <string>
#include <thread>

namespace fadewright::serve {

class Events {
public:
    explicit Events(const Folder& folder);
    ~Events();  // ends the watch, and whoever waits
    Events(const Events&) = delete;
    Events& operator=(const Events&) = delete;

    // From where a page that has just come listens on.
    [[nodiscard]] std::uint64_t latest() const;
    // What happened since, as text/event-stream, waiting a while for it; a remark if nothing did. Nothing once the
    // server ends.
    [[nodiscard]] std::optional<std::string> wait_for_next(std::uint64_t& since);
    // Tells every page that listens.
    void publish(const std::string& kind, const Json& data);
    void stop();

private:
    void watch_folder();

    const Folder& folder_;
    mutable std::mutex mutex_;
    std::condition_variable published_;
    std::deque<std::string> recent_;  // the last ones
    std::uint64_t count_ = 0;         // of all
    std::atomic<bool> stopped_{false};
    std::thread watcher_;
};

}  // namespace fadewright::serve
