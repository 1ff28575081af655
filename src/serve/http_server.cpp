#include "http_server.h"

#include "fadewright/serve/serve.h"

#include <arpa/inet.h>
#include <poll.h>
#include <sys/socket.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <cstdint>
#include <string>

namespace fadewright::serve {
namespace {

using Clock = std::chrono::steady_clock;
using std::chrono::milliseconds;

constexpr milliseconds kSocketPollInterval{50};  // between checks whether the server stops
constexpr std::size_t kBuffer_bytes = 4096;

thread_local socket_t current_socket = INVALID_SOCKET;

// True if the socket is ready for `events` before the deadline.
bool wait_for(socket_t socket, short events, Clock::time_point deadline) {
    for (;;) {
        const auto remaining = std::chrono::ceil<milliseconds>(deadline - Clock::now());
        pollfd descriptor{socket, events, 0};
        const int found = ::poll(&descriptor, 1, static_cast<int>(std::max<long>(remaining.count(), 0)));
        if (found > 0) return true;
        if (found == 0 || errno != EINTR) return false;
    }
}

bool is_closed_by_peer(socket_t socket) {
    char next = 0;
    const ssize_t received = ::recv(socket, &next, 1, MSG_PEEK | MSG_DONTWAIT);
    return received == 0 || (received < 0 && errno != EAGAIN && errno != EWOULDBLOCK && errno != EINTR);
}

// Address and port of one end of a connection; unchanged if it is closed.
void read_endpoint(int (*end_of)(int, sockaddr*, socklen_t*), socket_t socket, std::string& ip, int& port) {
    sockaddr_in end{};
    socklen_t size = sizeof end;
    if (end_of(socket, reinterpret_cast<sockaddr*>(&end), &size) != 0 || end.sin_family != AF_INET) return;
    std::array<char, INET_ADDRSTRLEN> text{};
    ip = ::inet_ntop(AF_INET, &end.sin_addr, text.data(), text.size());
    port = ntohs(end.sin_port);
}

// A connection whose reads have a deadline.
class Connection final : public httplib::Stream {
public:
    explicit Connection(socket_t socket) : socket_(socket) {}

    void set_read_timeout(std::chrono::seconds time) { read_deadline_ = Clock::now() + time; }

    [[nodiscard]] bool is_readable() const override {
        return next_ < filled_ ||
               wait_for(socket_, POLLIN, std::min(read_deadline_, Clock::now() + kIdleTimeout));
    }

    [[nodiscard]] bool is_writable() const override {
        return wait_for(socket_, POLLOUT, Clock::now() + kIdleTimeout) && !is_closed_by_peer(socket_);
    }

    ssize_t read(char* to, std::size_t size) override {
        if (Clock::now() > read_deadline_ || !is_readable()) return -1;
        if (next_ == filled_) {
            const ssize_t received = ::recv(socket_, buffer_.data(), buffer_.size(), 0);
            if (received <= 0) return received;
            next_ = 0;
            filled_ = static_cast<std::size_t>(received);
        }
        const std::size_t count = std::min(size, filled_ - next_);
        std::copy_n(buffer_.data() + next_, count, to);
        next_ += count;
        body_left_ -= std::min(body_left_, count);
        return static_cast<ssize_t>(count);
    }

    ssize_t write(const char* from, std::size_t size) override {
        return is_writable() ? ::send(socket_, from, size, MSG_NOSIGNAL) : -1;
    }

    void get_remote_ip_and_port(std::string& ip, int& port) const override {
        read_endpoint(::getpeername, socket_, ip, port);
    }
    void get_local_ip_and_port(std::string& ip, int& port) const override {
        read_endpoint(::getsockname, socket_, ip, port);
    }
    [[nodiscard]] socket_t socket() const override { return socket_; }

    [[nodiscard]] bool has_more() const { return next_ < filled_; }

    // After the head: the body has its own deadline and length.
    void begin_body(const httplib::Request& request) {
        set_read_timeout(kBodyTimeout);
        body_left_ = request.get_header_value<std::uint64_t>("Content-Length");
        chunked_ = request.has_header("Transfer-Encoding");
    }

    // Reads the rest of a rejected request's body, so that it is not taken for the next request. False if
    // impossible.
    bool drain_body() {
        std::array<char, kBuffer_bytes> discarded{};
        if (chunked_ || body_left_ > kMaxBody_bytes) return false;
        while (body_left_ > 0)
            if (read(discarded.data(), std::min(body_left_, discarded.size())) <= 0) return false;
        return true;
    }

private:
    socket_t socket_;
    Clock::time_point read_deadline_;
    std::array<char, kBuffer_bytes> buffer_{};
    std::size_t next_ = 0, filled_ = 0;
    std::size_t body_left_ = 0;
    bool chunked_ = false;  // the length of the body is not known in advance
};

}  // namespace

bool HttpServer::process_and_close_socket(socket_t socket) {
    Connection connection(socket);
    const auto has_next_request = [&] {
        const Clock::time_point end = Clock::now() + kIdleTimeout;
        while (svr_sock_ != INVALID_SOCKET && Clock::now() < end)
            if (connection.has_more() || wait_for(socket, POLLIN, Clock::now() + kSocketPollInterval))
                return true;
        return false;
    };
    current_socket = socket;
    bool ok = false;
    for (std::size_t remaining = keep_alive_max_count_; remaining > 0 && has_next_request(); --remaining) {
        bool closed = false;
        connection.set_read_timeout(kHeadTimeout);
        ok = process_request(connection, remaining == 1, closed,
                             [&](httplib::Request& request) { connection.begin_body(request); });
        if (!ok || closed || !connection.drain_body()) break;
    }
    current_socket = INVALID_SOCKET;
    ::shutdown(socket, SHUT_RDWR);
    ::close(socket);
    return ok;
}

std::function<bool()> client_disconnected() {
    return [socket = current_socket] { return socket != INVALID_SOCKET && is_closed_by_peer(socket); };
}

}  // namespace fadewright::serve
