// Files in a scratch folder of the base tests.
#pragma once

#include "fadewright/base/files.h"
#include "published_table.h"

#include <filesystem>
#include <fstream>
#include <string>

namespace fadewright::test {

inline std::string empty_folder(const std::string& name) {
    const std::string path = scratch_path(name);
    std::filesystem::remove_all(path);
    std::filesystem::create_directories(path);
    return path;
}

inline void put(const std::string& path, const std::string& text) { std::ofstream(path) << text; }

// At most 8 MiB.
inline std::string text_of(const std::string& path) { return read_file_bytes(path, 8u << 20).value(); }

}  // namespace fadewright::test
