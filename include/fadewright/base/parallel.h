// Parallel loops whose results do not depend on the number of threads.
//
// parallel_for(count, work) calls work(i) once for every i below count, in any order, on oneTBB's
// threads. Each call must write only the data of its own i.
#pragma once

#include <cstddef>
#include <functional>

namespace fadewright {

void parallel_for(std::size_t count, const std::function<void(std::size_t)>& work);

// Limits the number of threads during its lifetime.
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
