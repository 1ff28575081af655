#include "fadewright/base/parallel.h"

#include "fadewright/base/contract.h"

#include <tbb/global_control.h>
#include <tbb/parallel_for.h>

#include <algorithm>

namespace fadewright {

void for_each_index(std::size_t count, const std::function<void(std::size_t)>& work) {
    tbb::parallel_for(std::size_t{0}, count, [&](std::size_t i) { work(i); });
}

void for_each_turn(std::size_t count, std::size_t at_once,
                   const std::function<void(std::size_t first, std::size_t end)>& work) {
    FW_EXPECTS(at_once > 0);
    for_each_index((count + at_once - 1) / at_once,
                   [&](std::size_t turn) { work(turn * at_once, std::min(count, (turn + 1) * at_once)); });
}

ThreadLimit::ThreadLimit(int threads)
    : control_(threads > 0 ? new tbb::global_control(tbb::global_control::max_allowed_parallelism,
                                                     static_cast<std::size_t>(threads))
                           : nullptr) {}

ThreadLimit::~ThreadLimit() { delete static_cast<tbb::global_control*>(control_); }

}  // namespace fadewright
