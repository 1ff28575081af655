// Texts that were read once and accepted, kept as files beside the tests.
//
// With FW_ACCEPT=1 in the environment the files are rewritten from what the program says now; read the
// difference before it is committed.
#pragma once

#include <string>

namespace fadewright::test {

[[nodiscard]] bool accepting();

// The accepted text of that file. When accepting, `now` becomes the file's text first.
[[nodiscard]] std::string accepted(const std::string& path, const std::string& now);

// The source tree as working folder while it lives, so that messages name files as a user there would.
class InSourceTree {
public:
    InSourceTree();
    ~InSourceTree();
    InSourceTree(const InSourceTree&) = delete;
    InSourceTree& operator=(const InSourceTree&) = delete;

private:
    std::string before_;
};

}  // namespace fadewright::test
