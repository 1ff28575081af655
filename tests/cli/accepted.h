// Texts that were read once and accepted, kept as files beside the tests.
//
// With FW_ACCEPT=1 in the environment the files are rewritten from what the program says now; read the
// difference before it is committed.
#pragma once

#include <string>

namespace fadewright::test {

[[nodiscard]] bool is_accepting();

// The accepted text of that file. When accepting, `now` becomes the file's text first.
[[nodiscard]] std::string accepted_text(const std::string& path, const std::string& actual);

// The source tree as working folder while it lives, so that messages name files as a user there would.
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
