// Pictures for the page: one at a time for each page; a newer request cancels the one before it.
#pragma once

#include "api_message.h"
#include "fadewright/render/incremental_renderer.h"
#include "plan_cache.h"
#include "tasks.h"

#include <atomic>
#include <cstdint>
#include <map>
#include <memory>
#include <mutex>
#include <string>

namespace fadewright::serve {

class Pictures {
public:
    [[nodiscard]] ApiResponse picture(PlanCache& plan_cache, const ApiRequest& api_request);
    [[nodiscard]] ApiResponse thumbnails(PlanCache& plan_cache, const ApiRequest& api_request, Task& task);

private:
    static constexpr std::size_t kMaxPages = 24;

    // The renderers of one page: full, draft and wide-gamut pictures are cached separately.
    struct PageRenderer {
        std::mutex mutex;
        std::atomic<std::uint64_t> newest_sequence{0};
        render::IncrementalRenderer full, draft, wide;
        std::uint64_t last_use = 0;  // guarded by Pictures::mutex_
        PageRenderer();
    };
    [[nodiscard]] std::shared_ptr<PageRenderer> renderer_of(const std::string& page);

    std::mutex mutex_;
    std::map<std::string, std::shared_ptr<PageRenderer>> renderers_;
    std::uint64_t use_count_ = 0;
};

}  // namespace fadewright::serve
