// Files: read completely, written completely or not at all; appended to by several programs at the same time.
//
// write_file_atomic() writes to NAME.part in the same folder, flushes it to the disk, renames it over the target
// and flushes the folder, so that after a kill or a power cut there is the old file or the new one, never a part.
// The old file's permissions are kept, and a symbolic link stays a link. A target that is not a regular file (a
// device, a pipe) is written directly, never replaced. An error contains the path and the system's reason.
//
// atomic_append() locks the file, reads it, calls the function for the text to append, and replaces the file in
// the same way: of two simultaneous calls neither is lost. A missing file is created, empty at first.
//
// A killed program may leave NAME.part, which the next write of the same file takes over. Writers of one file
// wait for each other, at most kMaxLockWait_s.
//
// Holds for  file systems with POSIX flock() and rename(); an editor does not take the lock, so a file that
//            is open in an editor should be reloaded before it is saved
// Checks     tests/base/files_test.cpp, tests/base/atomic_append_test.cpp, tests/cli/killed_test.cpp,
//            tests/cli/record_test.cpp (killed at any moment; twenty at once)
#pragma once

#include "fadewright/base/result.h"

#include <cstddef>
#include <functional>
#include <string>
#include <string_view>

namespace fadewright {

// A data file compiled into the program (presets, tables).
struct EmbeddedFile {
    std::string_view path;  // relative to its source folder, separated by '/'
    std::string_view text;
};

inline constexpr std::size_t kTextFileLimit_bytes = 4u << 20;  // plans, library files: more than any needs
inline constexpr std::size_t kBinaryFileLimit_bytes = 256u << 20;  // pictures, profiles

// The whole file as bytes; fails for folders, endless devices, and files larger than `limit`.
// "-" reads standard input.
[[nodiscard]] Result<std::string> read_file_bytes(const std::string& path, std::size_t limit);

[[nodiscard]] Result<Success> write_file_atomic(const std::string& path, std::string_view bytes);

// Lower-case hexadecimal SHA-256 of the bytes (by GLib). Source: [fips180].
[[nodiscard]] std::string sha256_hex(std::string_view bytes);

// The text to append to the existing text; after an error the file is unchanged.
using TextToAppend = std::function<Result<std::string>(const std::string& existing)>;

// Fails if it is not a regular file, if it would be larger than `limit`, or after kMaxLockWait_s for the
// lock.
[[nodiscard]] Result<Success> atomic_append(const std::string& path, std::size_t limit,
                                            const TextToAppend& text_to_append);

inline constexpr int kMaxLockWait_s = 20;

}  // namespace fadewright
