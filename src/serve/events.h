// Events for all open pages: plans that changed on disk, and the progress of tasks (tasks.h).
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
    ~Events();  // stops watching the folder and ends every wait
    Events(const Events&) = delete;
    Events& operator=(const Events&) = delete;

    // Number of the newest event; a new stream continues from it.
    [[nodiscard]] std::uint64_t latest() const;
    // The events after number `since` as text/event-stream, which becomes the newest. Waits for the next one;
    // a comment line if none comes for a while. Nothing once the server stops.
    [[nodiscard]] std::optional<std::string> wait_for_next(std::uint64_t& since);
    // Sends an event to every stream.
    void publish(const std::string& name, const Json& data);
    void stop();

private:
    void watch_folder();

    const Folder& folder_;
    mutable std::mutex mutex_;
    std::condition_variable published_;
    std::deque<std::string> recent_;  // the newest events, oldest first
    std::uint64_t count_ = 0;         // of all events so far
    std::atomic<bool> stopped_{false};
    std::thread watcher_;
};

}  // namespace fadewright::serve
