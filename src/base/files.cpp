#include "fadewright/base/files.h"

#include <glib.h>
#include <sys/stat.h>

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <memory>

namespace fadewright {
namespace {

struct CloseFile {
    void operator()(std::FILE* file) const { std::fclose(file); }
};
using File = std::unique_ptr<std::FILE, CloseFile>;

Error errno_error(const std::string& action, const std::string& path) {
    return {"cannot " + action + " " + path + ": " + std::strerror(errno)};
}

Result<std::string> read_stream(std::FILE* file, const std::string& path, std::size_t limit) {
    std::string bytes;
    char buffer[65536];
    for (std::size_t count = 0; (count = std::fread(buffer, 1, sizeof buffer, file)) > 0;) {
        bytes.append(buffer, count);
        if (bytes.size() > limit)
            return Error{path + " is larger than " + std::to_string(limit >> 20) +
                         " MiB, the limit for such a file"};
    }
    if (std::ferror(file)) return errno_error("read", path);
    return bytes;
}

bool write_all(std::FILE* file, std::string_view bytes) {
    return std::fwrite(bytes.data(), 1, bytes.size(), file) == bytes.size() && std::fflush(file) == 0;
}

Result<Success> write_in_place(const std::string& path, std::string_view bytes) {
    const File file(std::fopen(path.c_str(), "wb"));
    if (!file || !write_all(file.get(), bytes)) return errno_error("write", path);
    return Success{};
}

// What a symbolic link points to, whether that exists or not; any other path unchanged.
Result<std::string> follow_links(const std::string& path) {
    constexpr int kMaxLinks = 40;  // as Linux
    std::filesystem::path target = path;
    std::error_code ec;
    for (int i = 0; std::filesystem::is_symlink(target, ec); ++i) {
        if (i == kMaxLinks) return Error{"cannot write " + path + ": " + std::strerror(ELOOP)};
        target = target.parent_path() / std::filesystem::read_symlink(target, ec);
    }
    return target.string();
}

}  // namespace

Result<std::string> read_file_bytes(const std::string& path, std::size_t limit) {
    if (path == "-") return read_stream(stdin, "standard input", limit);
    struct stat info {};
    if (::stat(path.c_str(), &info) != 0) return errno_error("read", path);
    if (S_ISDIR(info.st_mode)) return Error{"cannot read " + path + ": it is a folder"};
    const File file(std::fopen(path.c_str(), "rb"));
    if (!file) return errno_error("read", path);
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
    const char* name = target.value().c_str();
    const mode_t mode = exists ? info.st_mode & 07777u : 0666u;
    GError* raw = nullptr;
    const auto flags =
        static_cast<GFileSetContentsFlags>(G_FILE_SET_CONTENTS_CONSISTENT | G_FILE_SET_CONTENTS_DURABLE);
    g_file_set_contents_full(name, bytes.data(), static_cast<gssize>(bytes.size()), flags,
                             static_cast<int>(mode), &raw);
    const std::unique_ptr<GError, decltype(&g_error_free)> error(raw, &g_error_free);
    if (error) {
        // The system's reason comes last.
        const std::string message = error->message;
        const std::size_t colon = message.rfind(": ");
        return Error{"cannot write " + path + ": " +
                     (colon == std::string::npos ? message : message.substr(colon + 2))};
    }
    // The process's mask may have removed bits that the old file had; not all file systems can set them.
    if (exists && ::stat(name, &info) == 0 && (info.st_mode & 07777u) != mode) (void)::chmod(name, mode);
    return Success{};
}

std::string sha256_hex(std::string_view bytes) {
    const std::unique_ptr<char, decltype(&g_free)> digest(
        g_compute_checksum_for_data(G_CHECKSUM_SHA256, reinterpret_cast<const guchar*>(bytes.data()),
                                    bytes.size()),
        &g_free);
    return digest.get();
}

}  // namespace fadewright
