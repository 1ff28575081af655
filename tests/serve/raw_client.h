// A connection that says what no well-behaved client would, or says it slowly.
#pragma once

#include <chrono>
#include <string>
#include <string_view>

namespace fadewright::test {

class RawClient {
public:
    explicit RawClient(int port);
    ~RawClient();  // hangs up
    RawClient(const RawClient&) = delete;
    RawClient& operator=(const RawClient&) = delete;

    [[nodiscard]] bool open() const { return fd_ >= 0; }
    // False if the other end has closed.
    bool send(std::string_view bytes) const;
    // What came within the time; nothing if nothing did. `closed` tells whether the other end has hung up.
    [[nodiscard]] std::string receive(std::chrono::milliseconds time, bool& closed) const;

private:
    int fd_;
};

}  // namespace fadewright::test
