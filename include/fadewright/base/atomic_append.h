// A file that only ever grows, and that several programs may add to at the same time.
//
// grow_file() waits until nobody else is adding, reads what is there, asks what to put behind it, and puts the
// whole in the old one's place by renaming, flushed to the disk. Whenever it is stopped (killed, or the power
// fails) the file is as it was or has the whole addition; of two that add at once neither is lost. Its mode
// stays, and a link is followed. A file that is not there yet is made, empty at first.
//
// Beside the file a FILE.part may be left by a program that was killed; the next addition uses it up.
//
// Holds for  file systems with flock() and rename() as POSIX has them; an editor that saves the file does not
//            wait, so what is open in an editor should be loaded again first
// Checks     tests/base/growing_file_test.cpp, tests/cli/record_test.cpp (killed at any moment; twenty at once)
#pragma once

#include "fadewright/base/result.h"

#include <cstddef>
#include <functional>
#include <string>

namespace fadewright {

// What to put behind the text that is there; a refusal leaves the file as it is.
using TextToAppend = std::function<Result<std::string>(const std::string& existing)>;

// Refuses what is no ordinary file, what would be larger than `limit`, and to wait longer than kLongestWait_s.
[[nodiscard]] Result<Success> atomic_append(const std::string& path, std::size_t limit,
                                            const TextToAppend& text_to_append);

inline constexpr int kMaxLockWait_s = 20;

}  // namespace fadewright
