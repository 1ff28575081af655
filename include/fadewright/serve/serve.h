// The page in the browser: the plans of a folder, edited and shown on the shop's computer or a tablet.
//
// The page (src/page/) sends requests, the server answers them (serve/routes.h, tests/docs/api.md). The server
// keeps nothing but caches: every request carries the whole text of the plan. Files change only when the page
// saves them, completely or not at all, and never over a change made elsewhere.
//
// Access: the printed address holds a random key, which becomes a cookie. Requests without it, for another
// host name or from the script of another page are rejected. Without `lan` only this machine can connect.
// Limits: kMaxBody_bytes per request, kMaxPicture_px, one picture at a time for each page.
#pragma once

#include "fadewright/app/commands.h"
#include "fadewright/text/schema.h"

#include <cstddef>
#include <functional>
#include <string>

namespace fadewright::serve {

inline constexpr std::size_t kMaxBody_bytes = 4'000'000;
inline constexpr int kMaxPicture_px = 4096;  // the longer side

struct ServeRequest {
    std::string folder = ".";
    int port = 0;
    bool lan = false;
    std::string library;
    std::function<void(const std::string&)> on_address;  // called with the address once it can be opened
    std::function<bool()> is_cancelled;                  // polled; true stops the server
};

// Serves until `is_cancelled`.
[[nodiscard]] app::Outcome serve(const ServeRequest& request);

}  // namespace fadewright::serve

namespace fadewright {

template <>
struct Schema<serve::ServeRequest> {
    using T = serve::ServeRequest;
    static constexpr std::string_view name = "serve";
    static constexpr std::string_view about = "opens the plans of a folder in the browser";
    static constexpr auto fields = Fields{
        Field{"folder", &T::folder, optional, "folder of plans (default: current folder)"},
        Field{"port", &T::port, optional, range(0, 65535), "port on this machine; 0: any free port"},
        Field{"lan", &T::lan, optional,
              "also accept connections from your network; anyone with the address can read and change the "
              "plans"},
        Field{"library", &T::library, optional,
              "folder of your own paints, guns, grounds, panels and lights"}};
    static constexpr std::array<std::string_view, 1> positional{"folder"};
    static constexpr std::array<std::string_view, 1> examples{"fadewright serve my-jobs"};
};

}  // namespace fadewright
