#include "auth.h"

#include <fmt/core.h>

#include <arpa/inet.h>
#include <sys/random.h>

#include <algorithm>
#include <array>
#include <cstdlib>
#include <cstring>

namespace fadewright::serve {
namespace {

constexpr std::size_t kKey_bytes = 16, kMinKeyLength = 16;
constexpr std::string_view kCookie = "fadewright-key=";

std::string random_key() {
    std::array<unsigned char, kKey_bytes> bytes{};
    std::size_t count = 0;
    while (count < bytes.size()) {
        const ssize_t received = ::getrandom(bytes.data() + count, bytes.size() - count, 0);
        if (received > 0) count += static_cast<std::size_t>(received);
    }
    std::string key;
    for (const unsigned char byte : bytes) key += fmt::format("{:02x}", byte);
    return key;
}

bool is_ip_address(const std::string& host) {
    in_addr four{};
    in6_addr six{};
    if (::inet_pton(AF_INET, host.c_str(), &four) == 1) return true;
    return host.size() > 2 && host.front() == '[' && host.back() == ']' &&
           ::inet_pton(AF_INET6, host.substr(1, host.size() - 2).c_str(), &six) == 1;
}

}  // namespace

Auth::Auth(int port) : port_(port) {
    const char* candidate = std::getenv("FW_SERVE_KEY");
    key_ = candidate && std::strlen(candidate) >= kMinKeyLength ? candidate : random_key();
}

bool Auth::key_matches(const std::string& candidate) const {
    if (candidate.size() != key_.size()) return false;
    unsigned differ = 0;
    for (std::size_t i = 0; i < key_.size(); ++i)
        differ |= static_cast<unsigned>(candidate[i] ^ key_[i]) & 0xFFu;
    return differ == 0;
}

bool Auth::cookie_matches(const std::string& cookies) const {
    for (std::size_t at = 0; at < cookies.size();) {
        const std::size_t end = std::min(cookies.find(';', at), cookies.size());
        std::string entry = cookies.substr(at, end - at);
        entry.erase(0, std::min(entry.find_first_not_of(' '), entry.size()));
        if (entry.starts_with(kCookie) && key_matches(entry.substr(kCookie.size()))) return true;
        at = end + 1;
    }
    return false;
}

std::string Auth::set_cookie_value() const {
    return fmt::format("{}{}; HttpOnly; SameSite=Strict; Path=/", kCookie, key_);
}

bool Auth::host_allowed(const std::string& host) const {
    const std::string port = fmt::format(":{}", port_);
    if (!host.ends_with(port)) return false;
    const std::string name = host.substr(0, host.size() - port.size());
    return name == "localhost" || is_ip_address(name);
}

bool Auth::origin_allowed(const std::string& origin, const std::string& host) const {
    return origin.empty() || origin == "http://" + host;
}

}  // namespace fadewright::serve
