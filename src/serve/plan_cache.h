// Plans read and resolved once for all requests about the same text.
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
    std::optional<UnitSystem> units;  // for display; default: as the plan says
    std::shared_ptr<const Source> source;
    Diagnostics diagnostics;
    std::optional<plan::Plan> plan;      // as written; nothing if a field is invalid
    std::optional<plan::Plan> expanded;  // coats and passes in place of fades; nothing if the plan is invalid
    std::optional<plan::Job> job;        // of the expanded plan
    plan::Library library;               // as used for the plan; copy it to read more items

    // The expanded coats of a coat of the plan: from `first` to before `last`.
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
    plan::Library library_;  // with the items read so far
    std::string library_folder_;
    std::deque<std::shared_ptr<const PreparedPlan>> plans_;  // newest first
};

// The units the page asks for; nothing if it asks for none.
[[nodiscard]] std::optional<UnitSystem> requested_units(const ApiRequest& api_request);

// The response to a request about an invalid plan.
[[nodiscard]] ApiResponse invalid_plan_response(const PreparedPlan& prepared);

// The light of that name, for an empty name that of the plan; nothing if the library has no such light.
[[nodiscard]] std::optional<colour::Illuminant> light_for(const PreparedPlan& prepared,
                                                          const std::string& name);

}  // namespace fadewright::serve
