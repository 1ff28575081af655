#include "guard.h"

#include <fmt/core.h>

#include <arpa/inet.h>
#include <sys/random.h>

#include <algorithm>
#include <array>
#include <cstdlib>
#include <cstring>

namespace fadewright::serve {
namespace {

constexpr std::size_t kKey_bytes = 16, kShortestKey = 16;
constexpr std::string_view kCookie = "fadewright-key=";

std::string random_key() {
    std::array<unsigned char, kKey_bytes> bytes{};
    std::size_t got = 0;
    while (got < bytes.size()) {
        const ssize_t more = ::getrandom(bytes.data() + got, bytes.size() - got, 0);
        if (more > 0) got += static_cast<std::size_t>(more);
    }
    std::string key;
    for (const unsigned char byte : bytes) key += fmt::format("{:02x}", byte);
    return key;
}

bool in_figures(const std::string& host) {
    in_addr four{};
    in6_addr six{};
    if (::inet_pton(AF_INET, host.c_str(), &four) == 1) return true;
    return host.size() > 2 && host.front() == '[' && host.back() == ']' &&
           ::inet_pton(AF_INET6, host.substr(1, host.size() - 2).c_str(), &six) == 1;
}

}  // namespace

Guard::Guard(int port) : port_(port) {
    const char* given = std::getenv("FW_BENCH_KEY");
    key_ = given && std::strlen(given) >= kShortestKey ? given : random_key();
}

bool Guard::right_key(const std::string& given) const {
    if (given.size() != key_.size()) return false;
    unsigned differ = 0;
    for (std::size_t i = 0; i < key_.size(); ++i) differ |= static_cast<unsigned>(given[i] ^ key_[i]) & 0xFFu;
    return differ == 0;
}

bool Guard::right_cookie(const std::string& cookies) const {
    for (std::size_t at = 0; at < cookies.size();) {
        const std::size_t end = std::min(cookies.find(';', at), cookies.size());
        std::string one = cookies.substr(at, end - at);
        one.erase(0, std::min(one.find_first_not_of(' '), one.size()));
        if (one.starts_with(kCookie) && right_key(one.substr(kCookie.size()))) return true;
        at = end + 1;
    }
    return false;
}

std::string Guard::cookie() const {
    return fmt::format("{}{}; HttpOnly; SameSite=Strict; Path=/", kCookie, key_);
}

bool Guard::right_host(const std::string& host) const {
    const std::string port = fmt::format(":{}", port_);
    if (!host.ends_with(port)) return false;
    const std::string name = host.substr(0, host.size() - port.size());
    return name == "localhost" || in_figures(name);
}

bool Guard::right_origin(const std::string& origin, const std::string& host) const {
    return origin.empty() || origin == "http://" + host;
}

}  // namespace fadewright::serve
