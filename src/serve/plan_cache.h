// A plan in hand, made ready: read once, however many questions the page asks about the same text.
#pragma once

#include "api_message.h"
#include "fadewright/plan/job.h"
#include "fadewright/plan/library.h"
#include "fadewright/plan/plan.h"

#include <deque>
#include <memory>
#include <mutex>
#include <optional>
#include <string>

namespace fadewright::serve {

struct PreparedPlan {
    std::string file, text;
    std::optional<UnitSystem> units;  // to tell quantities in; else as the plan says
    std::shared_ptr<const Source> source;
    Diagnostics diagnostics;
    std::optional<plan::Plan> plan;      // as written; none if a field is wrong
    std::optional<plan::Plan> expanded;  // with coats and passes instead of fades; none if anything is wrong
    std::optional<plan::Job> job;        // of what is laid
    plan::Library library;               // that it was read from; copy it to read on

    // Of a coat as written: the coats that are laid for it, the first and behind the last.
    struct CoatRange {
        std::size_t first = 0, last = 0;
    };
    [[nodiscard]] CoatRange expanded_coats(std::size_t coat) const;
    [[nodiscard]] std::size_t plan_coat(std::size_t expanded_coat) const;
};

class PlanCache {
public:
    PlanCache(plan::Library library, std::string library_folder)
        : library_(std::move(library)), library_folder_(std::move(library_folder)) {}

    [[nodiscard]] std::shared_ptr<const PreparedPlan> prepare(const ApiRequest& api_request);
    [[nodiscard]] plan::Library library() const;
    [[nodiscard]] const std::string& library_folder() const { return library_folder_; }

private:
    static constexpr std::size_t kMaxPlans = 6;

    mutable std::mutex mutex_;
    plan::Library library_;  // warm: what was read once is kept
    std::string library_folder_;
    std::deque<std::shared_ptr<const PreparedPlan>> plans_;  // the newest first
};

// The units that the page wants to read; nothing if it does not say.
[[nodiscard]] std::optional<UnitSystem> requested_units(const ApiRequest& api_request);

// What a question about a plan that is not in order gets.
[[nodiscard]] ApiResponse invalid_plan_response(const PreparedPlan& prepared);

// The light of that name, else the plan's own; nothing if there is none of that name.
[[nodiscard]] std::optional<colour::Illuminant> light_for(const PreparedPlan& prepared,
                                                          const std::string& name);

}  // namespace fadewright::serve
