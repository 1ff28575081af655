// The served folder: its plans are read and written by file name; nothing else can be reached.
#pragma once

#include "api_message.h"

#include <cstdint>
#include <map>
#include <mutex>
#include <string>
#include <vector>

namespace fadewright::serve {

// A plain file name that ends in .toml: no folders, not hidden.
[[nodiscard]] bool is_plan_name(const std::string& name);

class Folder {
public:
    // An absolute path.
    explicit Folder(std::string path) : path_(std::move(path)) {}

    [[nodiscard]] const std::string& path() const { return path_; }
    // Whether the name exists but is not a regular file: a link could lead out of the folder.
    [[nodiscard]] bool is_link_or_special(const std::string& name) const;

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
    [[nodiscard]] std::string path_of(const std::string& name) const { return path_ + "/" + name; }
    // Files of the folder that may be plans, sorted by name.
    [[nodiscard]] std::vector<std::string> plan_names() const;
    [[nodiscard]] ApiResponse write_plan(const std::string& name, const std::string& text) const;

    std::string path_;
    std::mutex write_mutex_;  // one write at a time
};

}  // namespace fadewright::serve
