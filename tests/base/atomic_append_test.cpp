// Appending to a file from several threads (each with its own lock, like separate programs) loses nothing.

#include "fadewright/base/files.h"
#include "scratch_files.h"

#include <sys/stat.h>

#include <algorithm>
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <set>
#include <sstream>
#include <thread>
#include <vector>

using namespace fadewright;
namespace fs = std::filesystem;
using test::empty_folder;
using test::put;
using test::text_of;

namespace {

constexpr std::size_t kLimit = 1u << 20;

TextToAppend line(const std::string& text_line) {
    return [text_line](const std::string&) -> Result<std::string> { return text_line + "\n"; };
}

}  // namespace

TEST_CASE("text is appended after the existing text, and a missing file is created", "[base]") {
    const std::string path = empty_folder("growing") + "/list";
    REQUIRE(atomic_append(path, kLimit, line("first")).ok());
    REQUIRE(atomic_append(path, kLimit, [](const std::string& existing) -> Result<std::string> {
                CHECK(existing == "first\n");
                return std::string("second\n");
            }).ok());
    CHECK(text_of(path) == "first\nsecond\n");
    CHECK_FALSE(fs::exists(path + ".part"));
}

TEST_CASE("an error leaves the file unchanged", "[base]") {
    const std::string path = empty_folder("growing-refused") + "/list";
    put(path, "old\n");
    const auto refuse = [](const std::string&) -> Result<std::string> { return Error{"not today"}; };
    CHECK(atomic_append(path, kLimit, refuse).error().message == "not today");
    CHECK_FALSE(atomic_append(path, 8, line("more than eight bytes")).ok());
    CHECK(text_of(path) == "old\n");
    CHECK_FALSE(fs::exists(path + ".part"));
    CHECK_FALSE(atomic_append(path + "-new", kLimit, refuse).ok());
    CHECK_FALSE(fs::exists(path + "-new"));
}

TEST_CASE("folders and devices are refused", "[base]") {
    const std::string folder = empty_folder("growing-folder");
    CHECK(atomic_append(folder, kLimit, line("x")).error().message ==
          "cannot add to " + folder + ": it is a folder");
    CHECK(atomic_append("/dev/null", kLimit, line("x")).error().message ==
          "cannot add to /dev/null: it is not a regular file");
    CHECK_FALSE(atomic_append(folder + "/none/list", kLimit, line("x")).ok());
}

TEST_CASE("the mode is kept, a link is followed, and the file of a killed program is overwritten", "[base]") {
    const std::string folder = empty_folder("growing-mode");
    const std::string path = folder + "/list", link = folder + "/link";
    put(path, "old\n");
    put(path + ".part", "half of someth");
    fs::permissions(path, fs::perms::owner_read | fs::perms::owner_write | fs::perms::group_read);
    fs::create_symlink("list", link);
    REQUIRE(atomic_append(link, kLimit, line("new")).ok());
    CHECK(fs::is_symlink(link));
    CHECK(text_of(path) == "old\nnew\n");
    CHECK(fs::status(path).permissions() ==
          (fs::perms::owner_read | fs::perms::owner_write | fs::perms::group_read));
    CHECK_FALSE(fs::exists(path + ".part"));
}

TEST_CASE("of many simultaneous calls none is lost", "[base]") {
    const std::string path = empty_folder("growing-many") + "/list";
    constexpr int threads = 8, each = 25;
    std::vector<std::thread> workers;
    for (int t = 0; t < threads; ++t)
        workers.emplace_back([&path, t] {
            for (int i = 0; i < each; ++i)
                if (!atomic_append(path, kLimit, line(std::to_string(t * each + i))).ok()) return;
        });
    for (std::thread& item : workers) item.join();
    std::multiset<std::string> lines;
    std::istringstream in(text_of(path));
    for (std::string item; std::getline(in, item);) lines.insert(item);
    CHECK(lines.size() == threads * each);
    for (int i = 0; i < threads * each; ++i) CHECK(lines.count(std::to_string(i)) == 1);
}
