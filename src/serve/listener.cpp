#include "listener.h"

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

constexpr milliseconds kLookAgain{50};  // whether the server is to end
constexpr std::size_t kBuffer_bytes = 4096;

thread_local socket_t answering = INVALID_SOCKET;

// True if it comes to that before the time is over.
bool ready_for(socket_t socket, short events, Clock::time_point until) {
    for (;;) {
        const auto left = std::chrono::ceil<milliseconds>(until - Clock::now());
        pollfd one{socket, events, 0};
        const int found = ::poll(&one, 1, static_cast<int>(std::max<long>(left.count(), 0)));
        if (found > 0) return true;
        if (found == 0 || errno != EINTR) return false;
    }
}

bool hung_up(socket_t socket) {
    char next = 0;
    const ssize_t got = ::recv(socket, &next, 1, MSG_PEEK | MSG_DONTWAIT);
    return got == 0 || (got < 0 && errno != EAGAIN && errno != EWOULDBLOCK && errno != EINTR);
}

// One end of a connection as figures; nothing if there is no such end any more.
void name_end(int (*end_of)(int, sockaddr*, socklen_t*), socket_t socket, std::string& ip, int& port) {
    sockaddr_in end{};
    socklen_t size = sizeof end;
    if (end_of(socket, reinterpret_cast<sockaddr*>(&end), &size) != 0 || end.sin_family != AF_INET) return;
    std::array<char, INET_ADDRSTRLEN> text{};
    ip = ::inet_ntop(AF_INET, &end.sin_addr, text.data(), text.size());
    port = ntohs(end.sin_port);
}

// What comes and goes on one connection; reading ends when its time is over.
class Connection final : public httplib::Stream {
public:
    explicit Connection(socket_t socket) : socket_(socket) {}

    void hear_within(std::chrono::seconds time) { until_ = Clock::now() + time; }

    [[nodiscard]] bool is_readable() const override {
        return next_ < filled_ || ready_for(socket_, POLLIN, std::min(until_, Clock::now() + kLongestIdle));
    }

    [[nodiscard]] bool is_writable() const override {
        return ready_for(socket_, POLLOUT, Clock::now() + kLongestIdle) && !hung_up(socket_);
    }

    ssize_t read(char* to, std::size_t size) override {
        if (Clock::now() > until_ || !is_readable()) return -1;
        if (next_ == filled_) {
            const ssize_t got = ::recv(socket_, buffer_.data(), buffer_.size(), 0);
            if (got <= 0) return got;
            next_ = 0;
            filled_ = static_cast<std::size_t>(got);
        }
        const std::size_t taken = std::min(size, filled_ - next_);
        std::copy_n(buffer_.data() + next_, taken, to);
        next_ += taken;
        body_left_ -= std::min(body_left_, taken);
        return static_cast<ssize_t>(taken);
    }

    ssize_t write(const char* from, std::size_t size) override {
        return is_writable() ? ::send(socket_, from, size, MSG_NOSIGNAL) : -1;
    }

    void get_remote_ip_and_port(std::string& ip, int& port) const override {
        name_end(::getpeername, socket_, ip, port);
    }
    void get_local_ip_and_port(std::string& ip, int& port) const override {
        name_end(::getsockname, socket_, ip, port);
    }
    [[nodiscard]] socket_t socket() const override { return socket_; }

    [[nodiscard]] bool has_more() const { return next_ < filled_; }

    // The head has been read; so much follows it.
    void expect_body(const httplib::Request& request) {
        hear_within(kSlowestBody);
        body_left_ = request.get_header_value<std::uint64_t>("Content-Length");
        in_pieces_ = request.has_header("Transfer-Encoding");
    }

    // Reads what a refused question left unread, so that it is not taken for the next. False if that cannot be.
    bool pass_over_body() {
        std::array<char, kBuffer_bytes> unheard{};
        if (in_pieces_ || body_left_ > kMostBody_bytes) return false;
        while (body_left_ > 0)
            if (read(unheard.data(), std::min(body_left_, unheard.size())) <= 0) return false;
        return true;
    }

private:
    socket_t socket_;
    Clock::time_point until_;
    std::array<char, kBuffer_bytes> buffer_{};
    std::size_t next_ = 0, filled_ = 0;
    std::size_t body_left_ = 0;
    bool in_pieces_ = false;  // chunked: where it ends is not known before
};

}  // namespace

bool Listener::process_and_close_socket(socket_t socket) {
    Connection connection(socket);
    const auto another = [&] {
        const Clock::time_point end = Clock::now() + kLongestIdle;
        while (svr_sock_ != INVALID_SOCKET && Clock::now() < end)
            if (connection.has_more() || ready_for(socket, POLLIN, Clock::now() + kLookAgain)) return true;
        return false;
    };
    answering = socket;
    bool fine = false;
    for (std::size_t left = keep_alive_max_count_; left > 0 && another(); --left) {
        bool closed = false;
        connection.hear_within(kSlowestHead);
        fine = process_request(connection, left == 1, closed,
                               [&](httplib::Request& request) { connection.expect_body(request); });
        if (!fine || closed || !connection.pass_over_body()) break;
    }
    answering = INVALID_SOCKET;
    ::shutdown(socket, SHUT_RDWR);
    ::close(socket);
    return fine;
}

std::function<bool()> client_left() {
    return [socket = answering] { return socket != INVALID_SOCKET && hung_up(socket); };
}

}  // namespace fadewright::serve
