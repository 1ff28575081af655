// The HTTP server. It adds to httplib: a time limit for every request, so that slow clients cannot occupy the
// threads; and a function that tells a handler whether its client has disconnected.
//
// Limits     kHeadTimeout from the first byte of a request to the end of its head, then kBodyTimeout to the
//            end of its body; kIdleTimeout between requests and between the parts of one
// Checks     tests/serve/hostile_test.cpp, tests/serve/tasks_test.cpp
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

// A function that tells whether the client of the request handled by this thread has disconnected. It may be
// called from any thread until the response is sent.
[[nodiscard]] std::function<bool()> client_disconnected();

}  // namespace fadewright::serve
