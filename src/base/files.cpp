#include "fadewright/base/files.h"

#include <glib.h>
#include <sys/stat.h>
#include <unistd.h>

#include <atomic>
#include <cerrno>
#include <cstdio>
#include <cstring>
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
    if (::stat(path.c_str(), &info) == 0) {
        if (S_ISDIR(info.st_mode)) return Error{"cannot write " + path + ": it is a folder"};
        if (!S_ISREG(info.st_mode)) return write_in_place(path, bytes);
    }
    static std::atomic<unsigned> serial{0};
    const std::string temporary =
        path + "." + std::to_string(::getpid()) + "-" + std::to_string(serial++) + ".part";
    File file(std::fopen(temporary.c_str(), "wb"));
    if (!file) return errno_error("write", path);
    const bool written = write_all(file.get(), bytes) && ::fsync(::fileno(file.get())) == 0;
    if (!written) {
        const Error error = errno_error("write", path);
        file.reset();
        std::remove(temporary.c_str());
        return error;
    }
    file.reset();
    if (std::rename(temporary.c_str(), path.c_str()) != 0) {
        const Error error = errno_error("write", path);
        std::remove(temporary.c_str());
        return error;
    }
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
