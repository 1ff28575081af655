// The HTTP server, with what the library leaves open: a client must say what it wants in time, so that none can hold
// a thread by saying it letter by letter; and whoever works on an answer can ask whether it is still waited for.
//
// Limits     from the first byte of a request kSlowestHead to the end of its head, then kSlowestBody to the end of its
//            body; kLongestIdle between requests and between the pieces of one
// Checks     tests/serve/hostile_test.cpp, tests/serve/errands_test.cpp
#pragma once

#include <httplib.h>

#include <chrono>
#include <functional>

namespace fadewright::serve {

inline constexpr std::chrono::seconds kHeadTimeout{5}, kBodyTimeout{10}, kIdleTimeout{5};

class HttpServer final : public httplib::Server {
private:
    bool process_and_close_socket(socket_t socket) override;
};

// Whether the client whose request this thread answers has hung up. To be asked, from any thread, until it is
// answered.
[[nodiscard]] std::function<bool()> client_disconnected();

}  // namespace fadewright::serve
