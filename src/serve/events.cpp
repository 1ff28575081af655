#include "events.h"

#include <fmt/core.h>

#include <algorithm>
#include <chrono>

namespace fadewright::serve {
namespace {

using namespace std::chrono_literals;

constexpr auto kLookEvery = 400ms;
constexpr auto kRemarkEvery = 15s;
constexpr std::size_t kMostTold = 256;

}  // namespace

Events::Events(const Folder& folder) : folder_(folder), watching_([this] { watch(); }) {}

Events::~Events() {
    end();
    watching_.join();
}

void Events::end() {
    over_ = true;
    happened_.notify_all();
}

void Events::watch() {
    std::map<std::string, Folder::OnDisk> known = folder_.on_disk({});
    while (!over_) {
        {
            std::unique_lock lock(lock_);
            happened_.wait_for(lock, kLookEvery, [&] { return over_.load(); });
        }
        if (over_) return;
        std::map<std::string, Folder::OnDisk> now = folder_.on_disk(known);
        const auto changed = [&](const std::string& file, const std::string& stamp) {
            tell("changed", {{"file", file}, {"stamp", stamp}});
        };
        for (const auto& [file, plan] : now)
            if (const auto was = known.find(file); was == known.end() || was->second.stamp != plan.stamp)
                changed(file, plan.stamp);
        for (const auto& [file, plan] : known)
            if (!now.contains(file)) changed(file, "");
        known = std::move(now);
    }
}

void Events::tell(const std::string& kind, const Json& data) {
    const std::string event = fmt::format("event: {}\ndata: {}\n\n", kind, answer(data).body);
    const std::lock_guard lock(lock_);
    told_.push_back(event);
    ++count_;
    if (told_.size() > kMostTold) told_.pop_front();
    happened_.notify_all();
}

std::uint64_t Events::now() const {
    const std::lock_guard lock(lock_);
    return count_;
}

std::optional<std::string> Events::next(std::uint64_t& since) {
    std::unique_lock lock(lock_);
    const bool any = happened_.wait_for(lock, kRemarkEvery, [&] { return over_ || count_ > since; });
    if (over_) return std::nullopt;
    if (!any) return ": still here\n\n";
    std::string text;
    const auto fresh = std::min<std::uint64_t>(count_ - since, told_.size());
    for (auto i = told_.size() - static_cast<std::size_t>(fresh); i < told_.size(); ++i) text += told_[i];
    since = count_;
    return text;
}

}  // namespace fadewright::serve
