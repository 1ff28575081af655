// The served folder: its plans are read and written by file name; nothing else can be reached.
#pragma once

#include "api_message.h"

#include <cstdint>
#include <map>
#include <mutex>
#include <string>

namespace fadewright::serve {

// A plain file name that ends in .toml: no folders, not hidden.
[[nodiscard]] bool is_plan_name(const std::string& name);
// Whether the name exists but is not a regular file: a link could lead out of the folder.
[[nodiscard]] bool is_link_or_special(const std::string& name);

// The program's working directory is the folder, so that plans find the files they name.
class Folder {
public:
    explicit Folder(std::string title) : title_(std::move(title)) {}

    [[nodiscard]] ApiResponse list() const;
    [[nodiscard]] ApiResponse open(const ApiRequest& api_request) const;
    [[nodiscard]] ApiResponse create(const ApiRequest& api_request);
    [[nodiscard]] ApiResponse save(const ApiRequest& api_request);

    // A plan on disk. inode, size and time of change show whether the file must be read again for its hash.
    struct FileState {
        std::string sha256;
        std::uint64_t inode = 0;
        std::int64_t size = 0, modified_ns = 0;
    };
    // All plans by name. Reads only those that differ from `known`; leaves out what cannot be read.
    [[nodiscard]] std::map<std::string, FileState> scan(const std::map<std::string, FileState>& known) const;

private:
    std::string title_;
    std::mutex write_mutex_;  // one write at a time
};

}  // namespace fadewright::serve
