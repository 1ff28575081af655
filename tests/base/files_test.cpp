// A file is written completely or not at all, and stays what it was: its permissions, and a link a link.
#include "fadewright/base/files.h"

#include "scratch_files.h"

#include <fcntl.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <csignal>
#include <filesystem>
#include <fstream>

using namespace fadewright;
namespace fs = std::filesystem;
using test::empty_folder;
using test::put;
using test::text_of;

namespace {

mode_t mode_of(const std::string& path) {
    struct stat info {};
    REQUIRE(::stat(path.c_str(), &info) == 0);
    return info.st_mode & 07777u;
}

std::size_t entries_of(const std::string& folder) {
    return static_cast<std::size_t>(std::distance(fs::directory_iterator(folder), fs::directory_iterator()));
}

// Writes in a child process whose files may have at most `limit` bytes; returns how it ended: by the signal
// (negative), or with 1 if an error was returned.
int write_limited(const std::string& path, const std::string& bytes, rlim_t limit, bool ignore_signal) {
    const pid_t child = ::fork();
    if (child == 0) {
        const rlimit size{limit, limit}, no_core{0, 0};
        ::setrlimit(RLIMIT_FSIZE, &size);
        ::setrlimit(RLIMIT_CORE, &no_core);
        std::signal(SIGXFSZ, ignore_signal ? SIG_IGN : SIG_DFL);
        const Result<Success> result = write_file_atomic(path, bytes);
        ::_exit(result ? 0 : result.error().message.starts_with("cannot write " + path + ": ") ? 1 : 2);
    }
    int status = 0;
    ::waitpid(child, &status, 0);
    return WIFSIGNALED(status) ? -WTERMSIG(status) : WEXITSTATUS(status);
}

}  // namespace

TEST_CASE("a file is written whole and leaves nothing beside it", "[base][files]") {
    const std::string folder = empty_folder("files-whole"), path = folder + "/a.bin";
    std::string bytes("\0\xFF\n", 3);
    bytes.append(3u << 20, 'x');
    REQUIRE(write_file_atomic(path, bytes));
    CHECK(text_of(path) == bytes);
    REQUIRE(write_file_atomic(path, ""));
    CHECK(text_of(path).empty());
    CHECK(entries_of(folder) == 1);
}

TEST_CASE("a new file has the process's permissions, an old one keeps its own", "[base][files]") {
    const std::string folder = empty_folder("files-mode");
    const mode_t mask = ::umask(022);
    REQUIRE(write_file_atomic(folder + "/new", "x"));
    CHECK(mode_of(folder + "/new") == 0644u);
    for (const mode_t mode : {0600u, 0640u, 0664u, 0755u, 0666u}) {
        const std::string path = folder + "/old";
        put(path, "old");
        REQUIRE(::chmod(path.c_str(), mode) == 0);
        REQUIRE(write_file_atomic(path, "new"));
        CHECK(mode_of(path) == mode);
        CHECK(text_of(path) == "new");
    }
    ::umask(mask);
}

TEST_CASE("a link stays a link, and the file it points to is written", "[base][files]") {
    const std::string folder = empty_folder("files-link");
    fs::create_directories(folder + "/store");
    put(folder + "/store/job", "old");
    REQUIRE(::chmod((folder + "/store/job").c_str(), 0600) == 0);
    fs::create_symlink("store/job", folder + "/first");
    fs::create_symlink(folder + "/first", folder + "/second");
    fs::create_symlink("store/later", folder + "/dangling");
    REQUIRE(write_file_atomic(folder + "/second", "new"));
    REQUIRE(write_file_atomic(folder + "/dangling", "made"));
    for (const char* link : {"/first", "/second", "/dangling"}) CHECK(fs::is_symlink(folder + link));
    CHECK(text_of(folder + "/store/job") == "new");
    CHECK(mode_of(folder + "/store/job") == 0600u);
    CHECK(text_of(folder + "/store/later") == "made");
    CHECK(entries_of(folder) == 4);
    CHECK(entries_of(folder + "/store") == 2);
}

TEST_CASE("a link to itself, a folder and a missing folder are errors with the path", "[base][files]") {
    const std::string folder = empty_folder("files-refused");
    fs::create_symlink("loop", folder + "/loop");
    CHECK(write_file_atomic(folder + "/loop", "x").error().message ==
          "cannot write " + folder + "/loop: Too many levels of symbolic links");
    CHECK(write_file_atomic(folder, "x").error().message == "cannot write " + folder + ": it is a folder");
    CHECK(write_file_atomic(folder + "/none/a", "x").error().message ==
          "cannot write " + folder + "/none/a: No such file or directory");
    CHECK(entries_of(folder) == 1);
}

TEST_CASE("an interrupted write leaves the old file", "[base][files]") {
    const std::string folder = empty_folder("files-interrupted"), path = folder + "/job";
    const std::string old(5000, 'o');
    REQUIRE(write_file_atomic(path, old));
    const std::string bytes(1u << 20, 'n');
    // Killed in the middle of the new bytes.
    CHECK(write_limited(path, bytes, 1u << 16, false) == -SIGXFSZ);
    CHECK(text_of(path) == old);
    CHECK(entries_of(folder) == 2);
    // No room for them: nothing stays behind, nor what the killed program has left.
    CHECK(write_limited(path, bytes, 1u << 16, true) == 1);
    CHECK(text_of(path) == old);
    CHECK(entries_of(folder) == 1);
    REQUIRE(write_file_atomic(path, bytes));
    CHECK(text_of(path) == bytes);
}

TEST_CASE("a pipe is written to, not replaced", "[base][files]") {
    const std::string folder = empty_folder("files-pipe"), path = folder + "/pipe";
    REQUIRE(::mkfifo(path.c_str(), 0600) == 0);
    const int reader = ::open(path.c_str(), O_RDONLY | O_NONBLOCK);
    REQUIRE(reader >= 0);
    REQUIRE(write_file_atomic(path, "through"));
    char buffer[16] = {};
    CHECK(::read(reader, buffer, sizeof buffer) == 7);
    ::close(reader);
    CHECK(std::string(buffer) == "through");
    CHECK(fs::is_fifo(path));
}

TEST_CASE("what a killed write has left is taken over by the next write", "[base][files]") {
    const std::string folder = empty_folder("files-left"), path = folder + "/plan";
    put(path, "old");
    put(path + ".part", "half of something longer than the new text");
    REQUIRE(write_file_atomic(path, "new").ok());
    CHECK(text_of(path) == "new");
    CHECK(entries_of(folder) == 1);
}
