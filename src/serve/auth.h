// Who may ask: the holder of the key, from this server's own page, under an address that names this machine.
#pragma once

#include <string>

namespace fadewright::serve {

class Auth {
public:
    // key: given by the environment FW_BENCH_KEY if that is long enough, else drawn at random.
    explicit Auth(int port);

    [[nodiscard]] const std::string& key() const { return key_; }
    [[nodiscard]] bool key_matches(
        const std::string& candidate) const;  // takes the same time whatever is given
    [[nodiscard]] bool cookie_matches(const std::string& cookies) const;
    [[nodiscard]] std::string set_cookie_value() const;  // to be set

    // The name by which the server was asked: this machine's address in figures, or localhost. A name that someone
    // else's page could give itself is refused.
    [[nodiscard]] bool host_allowed(const std::string& host) const;
    // A script's own page; nothing is said by plain links, which only the cookie's SameSite lets in.
    [[nodiscard]] bool origin_allowed(const std::string& origin, const std::string& host) const;

private:
    std::string key_;
    int port_;
};

}  // namespace fadewright::serve
