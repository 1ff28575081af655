#include "fadewright/base/atomic_append.h"

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

class FileDescriptor {
public:
    explicit FileDescriptor(int number) : number_(number) {}
    ~FileDescriptor() { close(); }
    FileDescriptor(FileDescriptor&& other) noexcept : number_(other.number_) { other.number_ = -1; }
    FileDescriptor(const FileDescriptor&) = delete;
    FileDescriptor& operator=(const FileDescriptor&) = delete;
    FileDescriptor& operator=(FileDescriptor&& other) noexcept {
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

Error errno_error(const std::string& path) { return {"cannot add to " + path + ": " + std::strerror(errno)}; }

bool same_file(const struct stat& a, const struct stat& b) {
    return a.st_dev == b.st_dev && a.st_ino == b.st_ino;
}

// Waits for the lock; false if it was not acquired in time (errno has the reason).
bool wait_for_lock(const FileDescriptor& file) {
    using Clock = std::chrono::steady_clock;
    const Clock::time_point end = Clock::now() + std::chrono::seconds(kMaxLockWait_s);
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

struct LockedFile {
    FileDescriptor file;
    bool created = false;  // by this process, and empty
};

// Opens and locks the file, and checks that it is still the one with that name: the previous owner of the
// lock may have replaced it.
Result<LockedFile> open_locked(const std::string& path) {
    for (;;) {
        constexpr int kFlags = O_RDWR | O_CLOEXEC | O_NONBLOCK;
        FileDescriptor file(::open(path.c_str(), kFlags));
        const bool created = !file && errno == ENOENT;
        if (created) file = FileDescriptor(::open(path.c_str(), kFlags | O_CREAT | O_EXCL, 0666));
        if (!file && created && errno == EEXIST) continue;  // created by another process meanwhile
        if (!file) return errno_error(path);
        struct stat opened_info {
        }, path_info{};
        if (::fstat(file.number(), &opened_info) != 0) return errno_error(path);
        if (!S_ISREG(opened_info.st_mode))
            return Error{"cannot add to " + path + ": it is not a regular file"};
        if (!wait_for_lock(file)) {
            if (errno != EWOULDBLOCK) return errno_error(path);
            return Error{"cannot add to " + path + ": the file has been locked by another process for " +
                         std::to_string(kMaxLockWait_s) + " s"};
        }
        if (::stat(path.c_str(), &path_info) == 0 && same_file(opened_info, path_info))
            return LockedFile{std::move(file), created};
    }
}

bool write_all(const FileDescriptor& file, std::string_view bytes) {
    while (!bytes.empty()) {
        const ssize_t count = ::write(file.number(), bytes.data(), bytes.size());
        if (count < 0 && errno == EINTR) continue;
        if (count < 0) return false;
        bytes.remove_prefix(static_cast<std::size_t>(count));
    }
    return true;
}

// Flushes the folder, so that the new name survives a power cut; not supported by all file systems.
void flush_folder_of(const std::string& path) {
    const fs::path folder = fs::path(path).parent_path();
    const FileDescriptor opened(
        ::open(folder.empty() ? "." : folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
    if (opened) (void)::fsync(opened.number());
}

Result<Success> replace_file(const std::string& path, const FileDescriptor& old, std::string_view bytes) {
    const std::string part = path + ".part";
    struct stat info {};
    if (::fstat(old.number(), &info) != 0) return errno_error(path);
    FileDescriptor file(::open(part.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC | O_NOFOLLOW, 0600));
    if (!file) return errno_error(path);
    const bool complete = ::fchmod(file.number(), info.st_mode & 07777u) == 0 && write_all(file, bytes) &&
                          ::fsync(file.number()) == 0 && file.close() &&
                          std::rename(part.c_str(), path.c_str()) == 0;
    if (!complete) {
        const Error error = errno_error(path);
        std::remove(part.c_str());
        return error;
    }
    flush_folder_of(path);
    return Success{};
}

}  // namespace

Result<Success> atomic_append(const std::string& path, std::size_t limit,
                              const TextToAppend& text_to_append) {
    std::error_code ec;
    const std::string target = fs::is_symlink(path, ec) ? fs::weakly_canonical(path, ec).string() : path;
    if (fs::is_directory(target, ec)) return Error{"cannot add to " + path + ": it is a folder"};
    const Result<LockedFile> locked_file = open_locked(target);
    if (!locked_file) return locked_file.error();
    const auto append = [&]() -> Result<Success> {
        const Result<std::string> existing = read_file_bytes(target, limit);
        if (!existing) return existing.error();
        const Result<std::string> appended = text_to_append(existing.value());
        if (!appended) return appended.error();
        if (existing.value().size() + appended.value().size() > limit)
            return Error{"cannot add to " + path + ": it would be larger than " +
                         std::to_string(limit >> 20) + " MiB"};
        return replace_file(target, locked_file.value().file, existing.value() + appended.value());
    };
    Result<Success> result = append();
    if (!result && locked_file.value().created)
        std::remove(target.c_str());  // whoever waits for it makes another
    return result;
}

}  // namespace fadewright
