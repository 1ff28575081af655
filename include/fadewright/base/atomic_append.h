// Locked, atomic appending to a file by several programs at the same time.
//
// atomic_append() locks the file, reads it, calls the function for the text to append, writes the whole to a
// temporary file, flushes it to the disk and renames it over the original. If it is killed or the power
// fails, the file is unchanged or has the complete text; of two simultaneous calls neither is lost. The mode
// is kept, and a link is followed. A missing file is created, empty at first.
//
// A killed program may leave FILE.part next to the file; the next call overwrites it.
//
// Holds for  file systems with POSIX flock() and rename(); an editor does not take the lock, so a file that
//            is open in an editor should be reloaded before it is saved
// Checks     tests/base/atomic_append_test.cpp, tests/cli/record_test.cpp (killed at any moment; twenty at
//            once)
#pragma once

#include "fadewright/base/result.h"

#include <cstddef>
#include <functional>
#include <string>

namespace fadewright {

// The text to append to the existing text; after an error the file is unchanged.
using TextToAppend = std::function<Result<std::string>(const std::string& existing)>;

// Fails if it is not a regular file, if it would be larger than `limit`, or after kMaxLockWait_s for the
// lock.
[[nodiscard]] Result<Success> atomic_append(const std::string& path, std::size_t limit,
                                            const TextToAppend& text_to_append);

inline constexpr int kMaxLockWait_s = 20;

}  // namespace fadewright
