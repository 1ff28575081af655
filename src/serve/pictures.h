// Pictures for the page: one at a time for each page that asks, the newest question ending the one before it.
#pragma once

#include "answer.h"
#include "desk.h"
#include "errands.h"
#include "fadewright/render/redraw.h"

#include <atomic>
#include <cstdint>
#include <map>
#include <memory>
#include <mutex>
#include <string>

namespace fadewright::serve {

class Pictures {
public:
    [[nodiscard]] Answer picture(Desk& desk, const Asked& asked);
    [[nodiscard]] Answer strip(Desk& desk, const Asked& asked, Errand& errand);

private:
    static constexpr std::size_t kMostPages = 24;

    // What one page is being shown; coarse, full and wide-gamut pictures are kept apart.
    struct Easel {
        std::mutex painting;
        std::atomic<std::uint64_t> newest{0};
        render::Redraw full, draft, wide;
        std::uint64_t used = 0;  // guarded by Pictures::lock_
        Easel();
    };
    [[nodiscard]] std::shared_ptr<Easel> easel_of(const std::string& page);

    std::mutex lock_;
    std::map<std::string, std::shared_ptr<Easel>> easels_;
    std::uint64_t uses_ = 0;
};

}  // namespace fadewright::serve
