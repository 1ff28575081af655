// Killed at any moment, the sheet and the pages for the client are old or new, each file whole.
#include "program.h"
#include "published.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <chrono>
#include <csignal>
#include <filesystem>
#include <random>
#include <string>
#include <thread>
#include <vector>

using namespace fadewright;
namespace fs = std::filesystem;

namespace {

constexpr int kKills = 100;

std::string plan(const std::string& title, const std::string& colour) {
    return "plan = 1\ntitle = \"" + title +
           "\"\n[panel]\nwidth = \"60 mm\"\nheight = \"40 mm\"\n"
           "[[coats]]\nname = \"base\"\nmix = \"" +
           colour + "\"\ncover.film = \"30 um\"\n";
}

// One command, run on either of two plans into the same files.
struct Job {
    std::string folder;
    std::vector<std::string> words;  // before the plan
    std::vector<std::string> out;    // names asked for
    std::vector<std::string> files;  // names that come of it
};

std::vector<std::string> command(const Job& job, int which) {
    std::vector<std::string> words = job.words;
    words.push_back(job.folder + (which == 0 ? "/old.toml" : "/new.toml"));
    for (const std::string& name : job.out) words.insert(words.end(), {"-o", job.folder + "/out/" + name});
    return words;
}

std::vector<std::string> contents(const Job& job) {
    std::vector<std::string> all;
    for (const std::string& name : job.files) all.push_back(test::file_text(job.folder + "/out/" + name));
    return all;
}

// Names in the folder that are neither results nor what an unfinished writing is called.
std::vector<std::string> strangers(const Job& job) {
    std::vector<std::string> names;
    for (const auto& entry : fs::directory_iterator(job.folder + "/out")) {
        const std::string name = entry.path().filename().string();
        const bool result = std::find(job.files.begin(), job.files.end(), name) != job.files.end();
        if (!result && !name.ends_with(".part")) names.push_back(name);
    }
    return names;
}

void kill_again_and_again(const Job& job, unsigned usual_seed) {
    using Clock = std::chrono::steady_clock;
    const unsigned seed = test::seed_or(usual_seed);
    INFO("FW_SEED=" << seed);
    std::mt19937 random(seed);
    fs::create_directories(job.folder + "/out");
    test::write_file(job.folder + "/old.toml", plan("Old", "titanium-white"));
    test::write_file(job.folder + "/new.toml", plan("New", "carbon-black"));
    std::vector<std::string> whole[2];
    double longest_s = 0;
    for (const int which : {0, 1}) {
        const Clock::time_point begin = Clock::now();
        REQUIRE(test::ended(test::started(command(job, which))) == 0);
        longest_s = std::chrono::duration<double>(Clock::now() - begin).count();
        whole[which] = contents(job);
    }
    REQUIRE(whole[0] != whole[1]);
    int killed = 0, changed_by_killed = 0;
    std::vector<std::string> before = contents(job);
    for (int i = 0; i < kKills; ++i) {
        const int child = test::started(command(job, i % 2));
        // It settles where about half of the runs get through.
        const double share = static_cast<double>(random()) / static_cast<double>(std::mt19937::max());
        std::this_thread::sleep_for(std::chrono::duration<double>(share * longest_s));
        ::kill(child, SIGKILL);
        const bool finished = test::ended(child) == 0;
        const std::vector<std::string> now = contents(job);
        for (std::size_t f = 0; f < now.size(); ++f) {
            CAPTURE(i, job.files[f], finished);
            REQUIRE((now[f] == whole[0][f] || now[f] == whole[1][f]));
            if (finished) REQUIRE(now[f] == whole[i % 2][f]);
        }
        REQUIRE(strangers(job).empty());
        killed += finished ? 0 : 1;
        changed_by_killed += !finished && now != before ? 1 : 0;
        before = now;
        longest_s *= finished ? 0.95 : 1.05;
    }
    INFO(killed << " of " << kKills << " were killed, " << changed_by_killed << " between two files");
    CHECK(killed > kKills / 5);  // else nothing was shown
    CHECK(killed < kKills);
    CHECK(test::ended(test::started(command(job, 0))) == 0);  // through whatever the last kill left behind
    CHECK(contents(job) == whole[0]);
}

}  // namespace

TEST_CASE("killed at any moment the booth sheet is whole, the old or the new one", "[cli][sheet][killed]") {
    kill_again_and_again({test::fresh_folder("sheet-killed"),
                          {"sheet"},
                          {"booth.pdf", "booth.html", "recipe.csv"},
                          {"booth.pdf", "booth.html", "recipe.csv"}},
                         20'260'311u);
}

TEST_CASE("killed at any moment the client's pages are whole, the old or the new ones",
          "[cli][proof][killed]") {
    kill_again_and_again({test::fresh_folder("proof-killed"),
                          {"proof"},
                          {"client.pdf", "client.html", "client.png"},
                          {"client.pdf", "client.html", "client-a.png"}},
                         20'260'321u);
}
