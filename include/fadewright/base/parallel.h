// Work spread over threads, with results that do not depend on how many there are.
//
// for_each_index(count, work) calls work(i) once for every i below count, in any order, on oneTBB's
// threads. Each call must write only what belongs to its own i.
#pragma once

#include <cstddef>
#include <functional>

namespace fadewright {

void parallel_for(std::size_t count, const std::function<void(std::size_t)>& work);

// Holds the number of threads for its lifetime.
class ThreadLimit {
public:
    explicit ThreadLimit(int threads);  // 0: all cores
    ~ThreadLimit();
    ThreadLimit(const ThreadLimit&) = delete;
    ThreadLimit& operator=(const ThreadLimit&) = delete;

private:
    void* control_;
};

}  // namespace fadewright
