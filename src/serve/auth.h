// Access control: the key, this server's own page, and an address that names this machine.
#pragma once

#include <string>

namespace fadewright::serve {

class Auth {
public:
    // The key comes from the environment variable FW_SERVE_KEY if that is long enough; default: random.
    explicit Auth(int port);

    [[nodiscard]] const std::string& key() const { return key_; }
    [[nodiscard]] bool key_matches(const std::string& candidate) const;  // in constant time
    [[nodiscard]] bool cookie_matches(const std::string& cookies) const;
    [[nodiscard]] std::string set_cookie_value() const;

    // Allows numeric addresses and localhost. Any other host name is rejected: a foreign page could have its
    // own name resolved to this machine (DNS rebinding).
    [[nodiscard]] bool host_allowed(const std::string& host) const;
    // Allows scripts of this server's own page. Plain links send no origin; for them the cookie is SameSite.
    [[nodiscard]] bool origin_allowed(const std::string& origin, const std::string& host) const;

private:
    std::string key_;
    int port_;
};

}  // namespace fadewright::serve
