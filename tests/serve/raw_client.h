// A TCP connection to send malformed or slow requests.
#pragma once

#include <chrono>
#include <string>
#include <string_view>

namespace fadewright::test {

class RawClient {
public:
    explicit RawClient(int port);
    ~RawClient();  // closes the connection
    RawClient(const RawClient&) = delete;
    RawClient& operator=(const RawClient&) = delete;

    [[nodiscard]] bool open() const { return fd_ >= 0; }
    // False if the other end has closed.
    bool send(std::string_view bytes) const;
    // What arrives within the timeout. closed: whether the other end has closed the connection.
    [[nodiscard]] std::string receive(std::chrono::milliseconds timeout, bool& closed) const;

private:
    int fd_;
};

}  // namespace fadewright::test
