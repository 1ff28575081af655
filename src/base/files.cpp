#include "fadewright/base/files.h"

#include <fcntl.h>
#include <glib.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <chrono>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <memory>
#include <thread>
#include <utility>

namespace fadewright {
namespace {

namespace fs = std::filesystem;

struct CloseFile {
    void operator()(std::FILE* file) const { std::fclose(file); }
};
using File = std::unique_ptr<std::FILE, CloseFile>;

Error errno_error(const std::string& action) { return {"cannot " + action + ": " + std::strerror(errno)}; }

Result<std::string> read_stream(std::FILE* file, const std::string& path, std::size_t limit) {
    std::string bytes;
    char buffer[65536];
    for (std::size_t count = 0; (count = std::fread(buffer, 1, sizeof buffer, file)) > 0;) {
        bytes.append(buffer, count);
        if (bytes.size() > limit)
            return Error{path + " is larger than " + std::to_string(limit >> 20) +
                         " MiB, the limit for such a file"};
    }
    if (std::ferror(file)) return errno_error("read " + path);
    return bytes;
}

// What a symbolic link points to, whether that exists or not; any other path unchanged.
Result<std::string> follow_links(const std::string& path) {
    constexpr int kMaxLinks = 40;  // as Linux
    fs::path target = path;
    std::error_code ec;
    for (int i = 0; fs::is_symlink(target, ec); ++i) {
        if (i == kMaxLinks) return Error{"cannot write " + path + ": " + std::strerror(ELOOP)};
        target = target.parent_path() / fs::read_symlink(target, ec);
    }
    return target.string();
}

class FileDescriptor {
public:
    explicit FileDescriptor(int number) : number_(number) {}
    ~FileDescriptor() {
        if (number_ >= 0) ::close(number_);
    }
    FileDescriptor(FileDescriptor&& other) noexcept : number_(other.number_) { other.number_ = -1; }
    FileDescriptor(const FileDescriptor&) = delete;
    FileDescriptor& operator=(const FileDescriptor&) = delete;
    FileDescriptor& operator=(FileDescriptor&& other) noexcept {
        std::swap(number_, other.number_);
        return *this;
    }

    [[nodiscard]] int number() const noexcept { return number_; }
    explicit operator bool() const noexcept { return number_ >= 0; }

private:
    int number_;
};

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

// Opens the file, created with that mode if it is missing, and locks it; `action` is for messages. Checks
// that it is still the one with that name: the previous owner of the lock may have replaced it.
Result<LockedFile> open_locked(const std::string& action, const std::string& path, mode_t mode) {
    for (;;) {
        constexpr int kFlags = O_RDWR | O_CLOEXEC | O_NONBLOCK | O_NOFOLLOW;
        FileDescriptor file(::open(path.c_str(), kFlags));
        const bool created = !file && errno == ENOENT;
        if (created) file = FileDescriptor(::open(path.c_str(), kFlags | O_CREAT | O_EXCL, mode));
        if (!file && created && errno == EEXIST) continue;  // created by another process meanwhile
        if (!file) return errno_error(action);
        struct stat opened_info {
        }, path_info{};
        if (::fstat(file.number(), &opened_info) != 0) return errno_error(action);
        if (!S_ISREG(opened_info.st_mode)) return Error{"cannot " + action + ": it is not a regular file"};
        if (!wait_for_lock(file)) {
            if (errno != EWOULDBLOCK) return errno_error(action);
            return Error{"cannot " + action + ": the file has been locked by another process for " +
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

Result<Success> write_in_place(const std::string& path, std::string_view bytes) {
    const FileDescriptor file(::open(path.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0666));
    if (!file || !write_all(file, bytes)) return errno_error("write " + path);
    return Success{};
}

// Flushes the folder, so that the new name survives a power cut; not supported by all file systems.
void flush_folder_of(const std::string& path) {
    const fs::path folder = fs::path(path).parent_path();
    const FileDescriptor opened(
        ::open(folder.empty() ? "." : folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
    if (opened) (void)::fsync(opened.number());
}

// Writes the bytes to PATH.part and renames that to `path`, which keeps its mode. What a killed program has left
// there is overwritten; of several writers each waits for the one before.
Result<Success> replace_file(const std::string& action, const std::string& path, std::string_view bytes) {
    struct stat info {};
    const bool exists = ::stat(path.c_str(), &info) == 0;
    const std::string part = path + ".part";
    const Result<LockedFile> opened = open_locked(action, part, exists ? 0600 : 0666);
    if (!opened) return opened.error();
    const FileDescriptor& file = opened.value().file;
    bool complete = ::ftruncate(file.number(), 0) == 0 && write_all(file, bytes);
    if (exists) (void)::fchmod(file.number(), info.st_mode & 07777u);  // not supported by all file systems
    complete = complete && ::fsync(file.number()) == 0 && std::rename(part.c_str(), path.c_str()) == 0;
    if (!complete) {
        const Error error = errno_error(action);
        std::remove(part.c_str());
        return error;
    }
    flush_folder_of(path);
    return Success{};
}

}  // namespace

Result<std::string> read_file_bytes(const std::string& path, std::size_t limit) {
    if (path == "-") return read_stream(stdin, "standard input", limit);
    struct stat info {};
    if (::stat(path.c_str(), &info) != 0) return errno_error("read " + path);
    if (S_ISDIR(info.st_mode)) return Error{"cannot read " + path + ": it is a folder"};
    const File file(std::fopen(path.c_str(), "rb"));
    if (!file) return errno_error("read " + path);
    return read_stream(file.get(), path, limit);
}

Result<Success> write_file_atomic(const std::string& path, std::string_view bytes) {
    struct stat info {};
    const bool exists = ::stat(path.c_str(), &info) == 0;
    if (exists && S_ISDIR(info.st_mode)) return Error{"cannot write " + path + ": it is a folder"};
    // A stream may lead to a regular file, which another process has open.
    const bool is_stream = path.starts_with("/dev/std") || path.starts_with("/dev/fd/");
    if (exists && (is_stream || !S_ISREG(info.st_mode))) return write_in_place(path, bytes);
    const Result<std::string> target = follow_links(path);
    if (!target) return target.error();
    return replace_file("write " + path, target.value(), bytes);
}

std::string sha256_hex(std::string_view bytes) {
    const std::unique_ptr<char, decltype(&g_free)> digest(
        g_compute_checksum_for_data(G_CHECKSUM_SHA256, reinterpret_cast<const guchar*>(bytes.data()),
                                    bytes.size()),
        &g_free);
    return digest.get();
}

Result<Success> atomic_append(const std::string& path, std::size_t limit,
                              const TextToAppend& text_to_append) {
    std::error_code ec;
    const std::string target = fs::is_symlink(path, ec) ? fs::weakly_canonical(path, ec).string() : path;
    if (fs::is_directory(target, ec)) return Error{"cannot add to " + path + ": it is a folder"};
    const Result<LockedFile> locked_file = open_locked("add to " + path, target, 0666);
    if (!locked_file) return locked_file.error();
    const auto append = [&]() -> Result<Success> {
        const Result<std::string> existing = read_file_bytes(target, limit);
        if (!existing) return existing.error();
        const Result<std::string> appended = text_to_append(existing.value());
        if (!appended) return appended.error();
        if (existing.value().size() + appended.value().size() > limit)
            return Error{"cannot add to " + path + ": it would be larger than " +
                         std::to_string(limit >> 20) + " MiB"};
        return replace_file("add to " + path, target, existing.value() + appended.value());
    };
    Result<Success> result = append();
    if (!result && locked_file.value().created)
        std::remove(target.c_str());  // whoever waits for it makes another
    return result;
}

}  // namespace fadewright
