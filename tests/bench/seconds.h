// Duration of a call by the steady clock.
#pragma once

#include <chrono>
#include <functional>

namespace fadewright::bench {

inline double seconds_of(const std::function<void()>& work) {
    const auto begin = std::chrono::steady_clock::now();
    work();
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
}

}  // namespace fadewright::bench
