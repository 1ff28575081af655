// The folder that is served: its plans are read and written by name alone, and nothing beside them.
#pragma once

#include "api_message.h"

#include <cstdint>
#include <map>
#include <mutex>
#include <string>

namespace fadewright::serve {

// A plain file name that ends in .toml: no folders, not hidden.
[[nodiscard]] bool is_plan_name(const std::string& name);
// Something of that name is there that is no plain file: a link could lead out of the folder.
[[nodiscard]] bool is_link_or_special(const std::string& name);

// The program works inside the folder, so that plans find what lies beside them under the names written in them.
class Folder {
public:
    explicit Folder(std::string title) : title_(std::move(title)) {}

    [[nodiscard]] ApiResponse list() const;
    [[nodiscard]] ApiResponse open(const ApiRequest& api_request) const;
    [[nodiscard]] ApiResponse create(const ApiRequest& api_request);
    [[nodiscard]] ApiResponse save(const ApiRequest& api_request);

    // A plan on disk; what its file was like when its stamp was taken tells whether it must be read again.
    struct FileState {
        std::string sha256;
        std::uint64_t inode = 0;
        std::int64_t size = 0, modified_ns = 0;
    };
    // All plans by name, reading those that are not as they were known; what could not be read is left out.
    [[nodiscard]] std::map<std::string, FileState> scan(const std::map<std::string, FileState>& known) const;

private:
    std::string title_;
    std::mutex write_mutex_;  // one save at a time
};

}  // namespace fadewright::serve
