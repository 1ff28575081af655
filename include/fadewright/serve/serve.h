// The bench in the browser: plans of a folder, edited and looked at on the shop's computer or a tablet.
//
// The page (web/) asks, the server answers (serve/questions.h, tests/docs/bench.md). Nothing is kept here but
// pictures being worked on: every question carries the plan's whole text, and files change only when the page
// saves, whole or not at all, and never over a change made meanwhile by someone else.
//
// Who may ask: the printed address holds a random key, which becomes a cookie; requests without it, for another
// host name or from another page's script are refused. Without `lan` only this machine can connect.
// Limits: kMostBody_bytes to a request, kMostPicture_px, one picture at a time for each page.
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
    std::function<void(const std::string&)> on_address;  // hears the address as soon as it can be opened
    std::function<bool()> is_cancelled;                  // asked now and then whether to end
};

// Answers until it is stopped.
[[nodiscard]] app::Outcome serve(const ServeRequest& request);

}  // namespace fadewright::serve

namespace fadewright {

template <>
struct Schema<serve::ServeRequest> {
    using T = serve::ServeRequest;
    static constexpr std::string_view name = "serve";
    static constexpr std::string_view about = "opens the plans of a folder in the browser";
    static constexpr auto fields = Fields{
        Field{"folder", &T::folder, optional, "where the plans lie; else the folder you are in"},
        Field{"port", &T::port, optional, range(0, 65535), "of this machine; 0 takes a free one"},
        Field{"lan", &T::lan, optional,
              "lets other machines of the shop's network in as well; whoever has the address can read and "
              "change "
              "the plans"},
        Field{"shelf", &T::library, optional, "folder of your own paints, guns, grounds, panels and lights"}};
    static constexpr std::array<std::string_view, 1> positional{"folder"};
    static constexpr std::array<std::string_view, 1> examples{"fadewright serve my-jobs"};
};

}  // namespace fadewright
