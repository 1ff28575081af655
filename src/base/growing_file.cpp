#include "fadewright/base/growing_file.h"

#include "fadewright/base/files.h"

#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <chrono>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <thread>
#include <utility>

namespace fadewright {
namespace {

namespace fs = std::filesystem;

class Opened {
public:
    explicit Opened(int number) : number_(number) {}
    ~Opened() { close(); }
    Opened(Opened&& other) noexcept : number_(other.number_) { other.number_ = -1; }
    Opened(const Opened&) = delete;
    Opened& operator=(const Opened&) = delete;
    Opened& operator=(Opened&& other) noexcept {
        std::swap(number_, other.number_);
        return *this;
    }

    [[nodiscard]] int number() const noexcept { return number_; }
    explicit operator bool() const noexcept { return number_ >= 0; }
    bool close() noexcept {
        const bool closed = number_ < 0 || ::close(number_) == 0;
        number_ = -1;
        return closed;
    }

private:
    int number_;
};

Refusal refused(const std::string& path) { return {"cannot add to " + path + ": " + std::strerror(errno)}; }

bool same_file(const struct stat& a, const struct stat& b) {
    return a.st_dev == b.st_dev && a.st_ino == b.st_ino;
}

// Waits for the lock; false if it was not to be had in time or at all (errno says why).
bool locked(const Opened& file) {
    using Clock = std::chrono::steady_clock;
    const Clock::time_point end = Clock::now() + std::chrono::seconds(kLongestWait_s);
    while (::flock(file.number(), LOCK_EX | LOCK_NB) != 0) {
        if (errno != EWOULDBLOCK && errno != EINTR) return false;
        if (Clock::now() > end) {
            errno = EWOULDBLOCK;
            return false;
        }
        std::this_thread::sleep_for(std::chrono::milliseconds(2));
    }
    return true;
}

struct Locked {
    Opened file;
    bool made = false;  // by us, and empty
};

// The file, locked and still the one of that name: whoever had the lock before may have renamed another over it.
Result<Locked> opened_and_locked(const std::string& path) {
    for (;;) {
        constexpr int kFlags = O_RDWR | O_CLOEXEC | O_NONBLOCK;
        Opened file(::open(path.c_str(), kFlags));
        const bool made = !file && errno == ENOENT;
        if (made) file = Opened(::open(path.c_str(), kFlags | O_CREAT | O_EXCL, 0666));
        if (!file && made && errno == EEXIST) continue;  // another made it meanwhile
        if (!file) return refused(path);
        struct stat mine {
        }, named{};
        if (::fstat(file.number(), &mine) != 0) return refused(path);
        if (!S_ISREG(mine.st_mode)) return Refusal{"cannot add to " + path + ": it is no ordinary file"};
        if (!locked(file)) {
            if (errno != EWOULDBLOCK) return refused(path);
            return Refusal{"cannot add to " + path + ": somebody else has been writing to it for " +
                           std::to_string(kLongestWait_s) + " s"};
        }
        if (::stat(path.c_str(), &named) == 0 && same_file(mine, named)) return Locked{std::move(file), made};
    }
}

bool written(const Opened& file, std::string_view bytes) {
    while (!bytes.empty()) {
        const ssize_t count = ::write(file.number(), bytes.data(), bytes.size());
        if (count < 0 && errno == EINTR) continue;
        if (count < 0) return false;
        bytes.remove_prefix(static_cast<std::size_t>(count));
    }
    return true;
}

// Flushes the folder, so that the new name outlives a power cut. Some file systems cannot; then it may not.
void flush_folder_of(const std::string& path) {
    const fs::path folder = fs::path(path).parent_path();
    const Opened opened(::open(folder.empty() ? "." : folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
    if (opened) (void)::fsync(opened.number());
}

Result<Done> replaced(const std::string& path, const Opened& old, std::string_view bytes) {
    const std::string part = path + ".part";
    struct stat info {};
    if (::fstat(old.number(), &info) != 0) return refused(path);
    Opened file(::open(part.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC | O_NOFOLLOW, 0600));
    if (!file) return refused(path);
    const bool whole = ::fchmod(file.number(), info.st_mode & 07777u) == 0 && written(file, bytes) &&
                       ::fsync(file.number()) == 0 && file.close() &&
                       std::rename(part.c_str(), path.c_str()) == 0;
    if (!whole) {
        const Refusal why = refused(path);
        std::remove(part.c_str());
        return why;
    }
    flush_folder_of(path);
    return Done{};
}

}  // namespace

Result<Done> grow_file(const std::string& path, std::size_t limit, const Addition& addition) {
    std::error_code fault;
    const std::string target =
        fs::is_symlink(path, fault) ? fs::weakly_canonical(path, fault).string() : path;
    if (fs::is_directory(target, fault)) return Refusal{"cannot add to " + path + ": it is a folder"};
    const Result<Locked> locked = opened_and_locked(target);
    if (!locked) return locked.refusal();
    const auto grown = [&]() -> Result<Done> {
        const Result<std::string> there = read_whole(target, limit);
        if (!there) return there.refusal();
        const Result<std::string> more = addition(there.value());
        if (!more) return more.refusal();
        if (there.value().size() + more.value().size() > limit)
            return Refusal{"cannot add to " + path + ": it would grow beyond " + std::to_string(limit >> 20) +
                           " MiB"};
        return replaced(target, locked.value().file, there.value() + more.value());
    };
    Result<Done> done = grown();
    if (!done && locked.value().made) std::remove(target.c_str());  // whoever waits for it makes another
    return done;
}

}  // namespace fadewright
