// Files: read completely, written completely or not at all.
//
// write_file_atomic() writes to a temporary file of a random name in the same folder, flushes it to the disk,
// renames it over the target and flushes the folder (by GLib), so that after a power cut there is the old file
// or the new one, never a part. The old file's permissions are kept, and a symbolic link stays a link. A target
// that is not a regular file (a device, a pipe) is written directly, never replaced. An error contains the path
// and the system's reason.
//
// Checks     tests/base/files_test.cpp
#pragma once

#include "fadewright/base/result.h"

#include <cstddef>
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

}  // namespace fadewright
