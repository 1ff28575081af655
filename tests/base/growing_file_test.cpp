// Adding to a file from several threads (each with its own lock, as separate programs have) loses nothing.
#include "fadewright/base/growing_file.h"

#include "fadewright/base/files.h"
#include "published.h"

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

namespace {

constexpr std::size_t kLimit = 1u << 20;

std::string empty_folder(const std::string& name) {
    const std::string path = test::scratch_path(name);
    fs::remove_all(path);
    fs::create_directories(path);
    return path;
}

void put(const std::string& path, const std::string& text) { std::ofstream(path) << text; }

std::string text_of(const std::string& path) { return read_whole(path, kLimit).value(); }

Addition line(const std::string& words) {
    return [words](const std::string&) -> Result<std::string> { return words + "\n"; };
}

}  // namespace

TEST_CASE("an addition stands behind what was there, and a missing file is made", "[base]") {
    const std::string path = empty_folder("growing") + "/list";
    REQUIRE(grow_file(path, kLimit, line("first")).ok());
    REQUIRE(grow_file(path, kLimit, [](const std::string& there) -> Result<std::string> {
                CHECK(there == "first\n");
                return std::string("second\n");
            }).ok());
    CHECK(text_of(path) == "first\nsecond\n");
    CHECK_FALSE(fs::exists(path + ".part"));
}

TEST_CASE("a refusal leaves the file as it is", "[base]") {
    const std::string path = empty_folder("growing-refused") + "/list";
    put(path, "old\n");
    const auto refusing = [](const std::string&) -> Result<std::string> { return Refusal{"not today"}; };
    CHECK(grow_file(path, kLimit, refusing).refusal().message == "not today");
    CHECK_FALSE(grow_file(path, 8, line("more than eight bytes")).ok());
    CHECK(text_of(path) == "old\n");
    CHECK_FALSE(fs::exists(path + ".part"));
    CHECK_FALSE(grow_file(path + "-new", kLimit, refusing).ok());
    CHECK_FALSE(fs::exists(path + "-new"));
}

TEST_CASE("folders and devices do not grow", "[base]") {
    const std::string folder = empty_folder("growing-folder");
    CHECK(grow_file(folder, kLimit, line("x")).refusal().message ==
          "cannot add to " + folder + ": it is a folder");
    CHECK(grow_file("/dev/null", kLimit, line("x")).refusal().message ==
          "cannot add to /dev/null: it is no ordinary file");
    CHECK_FALSE(grow_file(folder + "/none/list", kLimit, line("x")).ok());
}

TEST_CASE("the mode stays, a link is followed, and what a killed program left is used up", "[base]") {
    const std::string folder = empty_folder("growing-mode");
    const std::string path = folder + "/list", link = folder + "/link";
    put(path, "old\n");
    put(path + ".part", "half of someth");
    fs::permissions(path, fs::perms::owner_read | fs::perms::owner_write | fs::perms::group_read);
    fs::create_symlink("list", link);
    REQUIRE(grow_file(link, kLimit, line("new")).ok());
    CHECK(fs::is_symlink(link));
    CHECK(text_of(path) == "old\nnew\n");
    CHECK(fs::status(path).permissions() ==
          (fs::perms::owner_read | fs::perms::owner_write | fs::perms::group_read));
    CHECK_FALSE(fs::exists(path + ".part"));
}

TEST_CASE("of many that add at once none is lost", "[base]") {
    const std::string path = empty_folder("growing-many") + "/list";
    constexpr int threads = 8, each = 25;
    std::vector<std::thread> adding;
    for (int t = 0; t < threads; ++t)
        adding.emplace_back([&path, t] {
            for (int i = 0; i < each; ++i)
                if (!grow_file(path, kLimit, line(std::to_string(t * each + i))).ok()) return;
        });
    for (std::thread& one : adding) one.join();
    std::multiset<std::string> lines;
    std::istringstream in(text_of(path));
    for (std::string one; std::getline(in, one);) lines.insert(one);
    CHECK(lines.size() == threads * each);
    for (int i = 0; i < threads * each; ++i) CHECK(lines.count(std::to_string(i)) == 1);
}
