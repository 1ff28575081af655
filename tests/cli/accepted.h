// Reviewed and accepted texts, as files next to the tests.
//
// With FW_ACCEPT=1 in the environment the files are rewritten from the current output; review the
// difference before it is committed.
#pragma once

#include <string>

namespace fadewright::test {

[[nodiscard]] bool is_accepting();

// The accepted text of that file. When accepting, `now` becomes the file's text first.
[[nodiscard]] std::string accepted_text(const std::string& path, const std::string& actual);

// Makes the source tree the working folder during its lifetime, so that messages have relative paths.
class SourceTreeAsWorkingFolder {
public:
    SourceTreeAsWorkingFolder();
    ~SourceTreeAsWorkingFolder();
    SourceTreeAsWorkingFolder(const SourceTreeAsWorkingFolder&) = delete;
    SourceTreeAsWorkingFolder& operator=(const SourceTreeAsWorkingFolder&) = delete;

private:
    std::string before_;
};

}  // namespace fadewright::test
