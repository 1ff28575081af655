// The renderers of the pages: a picture is rendered again only where it changed.
#pragma once

#include "fadewright/render/incremental_renderer.h"

#include <atomic>
#include <cstdint>
#include <map>
#include <memory>
#include <mutex>
#include <string>

namespace fadewright::app {

// Full, draft and wide-gamut pictures of one page are cached separately.
struct PageRenderer {
    std::mutex mutex;  // one picture at a time
    std::atomic<std::uint64_t> newest_sequence{0};
    render::IncrementalRenderer full, draft, wide;
    PageRenderer();
};

class PageRenderers {
public:
    // Beyond kMaxPages the renderer that was used longest ago is dropped.
    [[nodiscard]] std::shared_ptr<PageRenderer> renderer_of(const std::string& page);

private:
    static constexpr std::size_t kMaxPages = 24;

    struct Entry {
        std::shared_ptr<PageRenderer> renderer;
        std::uint64_t last_use = 0;
    };
    std::mutex mutex_;
    std::map<std::string, Entry> renderers_;
    std::uint64_t use_count_ = 0;
};

}  // namespace fadewright::app
