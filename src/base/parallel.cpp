#include "fadewright/base/parallel.h"

#include <tbb/global_control.h>
#include <tbb/parallel_for.h>

namespace fadewright {

void parallel_for(std::size_t count, const std::function<void(std::size_t)>& work) {
    tbb::parallel_for(std::size_t{0}, count, [&](std::size_t i) { work(i); });
}

ThreadLimit::ThreadLimit(int threads)
    : control_(threads > 0 ? new tbb::global_control(tbb::global_control::max_allowed_parallelism,
                                                     static_cast<std::size_t>(threads))
                           : nullptr) {}

ThreadLimit::~ThreadLimit() { delete static_cast<tbb::global_control*>(control_); }

}  // namespace fadewright
