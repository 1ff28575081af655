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

Refusal refused(const std::string& doing, const std::string& path) {
    return {"cannot " + doing + " " + path + ": " + std::strerror(errno)};
}

Result<std::string> read_open(std::FILE* file, const std::string& path, std::size_t limit) {
    std::string bytes;
    char piece[65536];
    for (std::size_t got = 0; (got = std::fread(piece, 1, sizeof piece, file)) > 0;) {
        bytes.append(piece, got);
        if (bytes.size() > limit)
            return Refusal{path + " is larger than " + std::to_string(limit >> 20) +
                           " MiB, the limit for such a file"};
    }
    if (std::ferror(file)) return refused("read", path);
    return bytes;
}

bool put_all(std::FILE* file, std::string_view bytes) {
    return std::fwrite(bytes.data(), 1, bytes.size(), file) == bytes.size() && std::fflush(file) == 0;
}

Result<Done> write_straight(const std::string& path, std::string_view bytes) {
    const File file(std::fopen(path.c_str(), "wb"));
    if (!file || !put_all(file.get(), bytes)) return refused("write", path);
    return Done{};
}

}  // namespace

Result<std::string> read_whole(const std::string& path, std::size_t limit) {
    if (path == "-") return read_open(stdin, "standard input", limit);
    struct stat info {};
    if (::stat(path.c_str(), &info) != 0) return refused("read", path);
    if (S_ISDIR(info.st_mode)) return Refusal{"cannot read " + path + ": it is a folder"};
    const File file(std::fopen(path.c_str(), "rb"));
    if (!file) return refused("read", path);
    return read_open(file.get(), path, limit);
}

Result<Done> write_whole(const std::string& path, std::string_view bytes) {
    struct stat info {};
    if (::stat(path.c_str(), &info) == 0) {
        if (S_ISDIR(info.st_mode)) return Refusal{"cannot write " + path + ": it is a folder"};
        if (!S_ISREG(info.st_mode)) return write_straight(path, bytes);
    }
    static std::atomic<unsigned> serial{0};
    const std::string temporary =
        path + "." + std::to_string(::getpid()) + "-" + std::to_string(serial++) + ".part";
    File file(std::fopen(temporary.c_str(), "wb"));
    if (!file) return refused("write", path);
    const bool written = put_all(file.get(), bytes) && ::fsync(::fileno(file.get())) == 0;
    if (!written) {
        const Refusal why = refused("write", path);
        file.reset();
        std::remove(temporary.c_str());
        return why;
    }
    file.reset();
    if (std::rename(temporary.c_str(), path.c_str()) != 0) {
        const Refusal why = refused("write", path);
        std::remove(temporary.c_str());
        return why;
    }
    return Done{};
}

std::string sha256_hex(std::string_view bytes) {
    const std::unique_ptr<char, decltype(&g_free)> digest(
        g_compute_checksum_for_data(G_CHECKSUM_SHA256, reinterpret_cast<const guchar*>(bytes.data()),
                                    bytes.size()),
        &g_free);
    return digest.get();
}

}  // namespace fadewright
