#include "program.h"

#include "published_table.h"

#include <fcntl.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <stdexcept>
#include <thread>

namespace fadewright::test {
namespace {

namespace fs = std::filesystem;

double seconds_of(const timeval& time) {
    return static_cast<double>(time.tv_sec) + 1e-6 * static_cast<double>(time.tv_usec);
}

void redirect(int to, int from) {
    if (from < 0 || ::dup2(from, to) < 0) ::_exit(126);
}

// In the child process, between fork and exec.
[[noreturn]] void exec_program(const RunOptions& run, const std::string& folder, std::vector<char*>& argv) {
    if (::chdir(source_path("").c_str()) != 0) ::_exit(126);
    redirect(0, ::open(run.input.c_str(), O_RDONLY));
    if (run.output == Output::closed) {
        int ends[2];
        if (::pipe(ends) != 0) ::_exit(126);
        ::close(ends[0]);
        redirect(1, ends[1]);
    } else {
        redirect(1, ::open((folder + "/out").c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0644));
    }
    redirect(2, ::open((folder + "/err").c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0644));
    for (const std::string& setting : run.environment) ::putenv(const_cast<char*>(setting.c_str()));
    ::execv(argv[0], argv.data());
    ::_exit(127);
}

}  // namespace

RunResult run_program(const RunOptions& run) {
    using Clock = std::chrono::steady_clock;
    const std::string folder = fresh_folder("streams-" + std::to_string(::getpid()));
    std::vector<std::string> command{FW_PROGRAM};
    command.insert(command.end(), run.arguments.begin(), run.arguments.end());
    std::vector<char*> argv;
    for (std::string& word : command) argv.push_back(word.data());
    argv.push_back(nullptr);

    const Clock::time_point begin = Clock::now();
    const pid_t child = ::fork();
    if (child < 0) throw std::runtime_error("cannot start the program");
    if (child == 0) exec_program(run, folder, argv);
    RunResult result;
    int status = 0;
    struct rusage used {};
    while (::wait4(child, &status, WNOHANG, &used) == 0) {
        if (Clock::now() - begin > run.limit) {
            result.in_time = false;
            ::kill(child, SIGKILL);
            ::wait4(child, &status, 0, &used);
            break;
        }
        std::this_thread::sleep_for(std::chrono::milliseconds(2));
    }
    result.seconds = seconds_of(used.ru_utime) + seconds_of(used.ru_stime);
    result.exit = WIFSIGNALED(status) ? 128 + WTERMSIG(status) : WEXITSTATUS(status);
    result.out = file_text(folder + "/out");
    result.err = file_text(folder + "/err");
    fs::remove_all(folder);
    return result;
}

int start_program(std::vector<std::string> arguments) {
    arguments.insert(arguments.begin(), FW_PROGRAM);
    std::vector<char*> argv;
    for (std::string& word : arguments) argv.push_back(word.data());
    argv.push_back(nullptr);
    const pid_t child = ::fork();
    if (child < 0) throw std::runtime_error("cannot start the program");
    if (child == 0) {
        const int null_device = ::open("/dev/null", O_RDWR);
        for (const int stream : {0, 1, 2}) ::dup2(null_device, stream);
        ::execv(argv[0], argv.data());
        ::_exit(127);
    }
    return child;
}

std::optional<int> wait_for_program(int child) {
    int status = 0;
    ::waitpid(child, &status, 0);
    return WIFEXITED(status) ? std::optional(WEXITSTATUS(status)) : std::nullopt;
}

unsigned seed_or_default(unsigned default_seed) {
    const char* set = std::getenv("FW_SEED");
    return set ? static_cast<unsigned>(std::strtoul(set, nullptr, 10)) : default_seed;
}

std::string fresh_folder(const std::string& name) {
    const std::string path = scratch_path(name);
    fs::remove_all(path);
    fs::create_directories(path);
    return path;
}

std::string file_text(const std::string& path) {
    std::ifstream file(path, std::ios::binary);
    std::ostringstream text;
    text << file.rdbuf();
    return text.str();
}

void write_file(const std::string& path, const std::string& bytes) {
    std::ofstream file(path, std::ios::binary);
    file << bytes;
    if (!file.flush()) throw std::runtime_error("cannot write " + path);
}

}  // namespace fadewright::test
