#include "raw_client.h"

#include <arpa/inet.h>
#include <poll.h>
#include <sys/socket.h>
#include <unistd.h>

#include <array>

namespace fadewright::test {

RawClient::RawClient(int port) : fd_(::socket(AF_INET, SOCK_STREAM, 0)) {
    sockaddr_in address{};
    address.sin_family = AF_INET;
    address.sin_port = htons(static_cast<std::uint16_t>(port));
    address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    if (fd_ < 0 || ::connect(fd_, reinterpret_cast<const sockaddr*>(&address), sizeof address) == 0) return;
    ::close(fd_);
    fd_ = -1;
}

RawClient::~RawClient() {
    if (fd_ >= 0) ::close(fd_);
}

bool RawClient::send(std::string_view bytes) const {
    return ::send(fd_, bytes.data(), bytes.size(), MSG_NOSIGNAL) == static_cast<ssize_t>(bytes.size());
}

std::string RawClient::receive(std::chrono::milliseconds timeout, bool& closed) const {
    pollfd descriptor{fd_, POLLIN, 0};
    if (::poll(&descriptor, 1, static_cast<int>(timeout.count())) <= 0) return "";
    std::array<char, 4096> part{};
    const ssize_t received = ::recv(fd_, part.data(), part.size(), 0);
    closed = received <= 0;
    return closed ? "" : std::string(part.data(), static_cast<std::size_t>(received));
}

}  // namespace fadewright::test
