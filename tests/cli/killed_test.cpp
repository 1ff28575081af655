// After a kill at any moment, the booth sheet and the client pages are old or new, and every file is
// complete.
#include "program.h"
#include "published_table.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cctype>
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
           colour + "\"\neven_coat.film = \"30 um\"\n";
}

// One command, run with two plans that write the same files.
struct Job {
    std::string folder;
    std::vector<std::string> arguments;  // before the plan
    std::vector<std::string> out;        // names asked for
    std::vector<std::string> files;      // names that come of it
};

std::vector<std::string> command(const Job& job, int plan_index) {
    std::vector<std::string> arguments = job.arguments;
    arguments.push_back(job.folder + (plan_index == 0 ? "/old.toml" : "/new.toml"));
    for (const std::string& name : job.out)
        arguments.insert(arguments.end(), {"-o", job.folder + "/out/" + name});
    return arguments;
}

std::vector<std::string> contents(const Job& job) {
    std::vector<std::string> all;
    for (const std::string& name : job.files) all.push_back(test::file_text(job.folder + "/out/" + name));
    return all;
}

// The one temporary file that a killed write of a result may leave.
bool is_temporary(const std::string& name, const std::vector<std::string>& results) {
    return std::any_of(results.begin(), results.end(),
                       [&](const std::string& result) { return name == result + ".part"; });
}

// Names in the folder that are neither results nor temporary files.
std::vector<std::string> unexpected_files(const Job& job) {
    std::vector<std::string> names;
    for (const auto& entry : fs::directory_iterator(job.folder + "/out")) {
        const std::string name = entry.path().filename().string();
        const bool result = std::find(job.files.begin(), job.files.end(), name) != job.files.end();
        if (!result && !is_temporary(name, job.files)) names.push_back(name);
    }
    return names;
}

void kill_again_and_again(const Job& job, unsigned default_seed) {
    using Clock = std::chrono::steady_clock;
    const unsigned seed = test::seed_or_default(default_seed);
    INFO("FW_SEED=" << seed);
    std::mt19937 random(seed);
    fs::create_directories(job.folder + "/out");
    test::write_file(job.folder + "/old.toml", plan("Old", "titanium-white"));
    test::write_file(job.folder + "/new.toml", plan("New", "carbon-black"));
    std::vector<std::string> complete[2];
    double longest_s = 0;
    for (const int plan_index : {0, 1}) {
        const Clock::time_point begin = Clock::now();
        REQUIRE(test::wait_for_program(test::start_program(command(job, plan_index))) == 0);
        longest_s = std::chrono::duration<double>(Clock::now() - begin).count();
        complete[plan_index] = contents(job);
    }
    REQUIRE(complete[0] != complete[1]);
    int killed = 0, changed_by_killed = 0;
    std::vector<std::string> before = contents(job);
    for (int i = 0; i < kKills; ++i) {
        const int child = test::start_program(command(job, i % 2));
        // Converges to a wait at which about half of the runs finish.
        const double share = static_cast<double>(random()) / static_cast<double>(std::mt19937::max());
        std::this_thread::sleep_for(std::chrono::duration<double>(share * longest_s));
        ::kill(child, SIGKILL);
        const bool finished = test::wait_for_program(child) == 0;
        const std::vector<std::string> current = contents(job);
        for (std::size_t f = 0; f < current.size(); ++f) {
            CAPTURE(i, job.files[f], finished);
            REQUIRE((current[f] == complete[0][f] || current[f] == complete[1][f]));
            if (finished) REQUIRE(current[f] == complete[i % 2][f]);
        }
        REQUIRE(unexpected_files(job).empty());
        killed += finished ? 0 : 1;
        changed_by_killed += !finished && current != before ? 1 : 0;
        before = current;
        longest_s *= finished ? 0.95 : 1.05;
    }
    INFO(killed << " of " << kKills << " were killed, " << changed_by_killed << " between two files");
    CHECK(killed > kKills / 5);  // else nothing was shown
    CHECK(killed < kKills);
    CHECK(test::wait_for_program(test::start_program(command(job, 0))) ==
          0);  // through whatever the last kill left behind
    CHECK(contents(job) == complete[0]);
}

}  // namespace

TEST_CASE("a booth sheet killed at any moment is complete, old or new", "[cli][sheet][killed]") {
    kill_again_and_again({test::fresh_folder("sheet-killed"),
                          {"sheet"},
                          {"booth.pdf", "booth.html", "recipe.csv"},
                          {"booth.pdf", "booth.html", "recipe.csv"}},
                         20'260'311u);
}

TEST_CASE("client pages killed at any moment are complete, old or new", "[cli][proof][killed]") {
    kill_again_and_again({test::fresh_folder("proof-killed"),
                          {"proof"},
                          {"client.pdf", "client.html", "client.png"},
                          {"client.pdf", "client.html", "client-a.png"}},
                         20'260'321u);
}
