// A plan in hand, made ready: read once, however many questions the page asks about the same text.
#pragma once

#include "answer.h"
#include "fadewright/plan/job.h"
#include "fadewright/plan/plan.h"
#include "fadewright/plan/shelf.h"

#include <deque>
#include <memory>
#include <mutex>
#include <optional>
#include <string>

namespace fadewright::serve {

struct InWork {
    std::string file, text;
    std::optional<UnitSystem> units;  // to tell quantities in; else as the plan says
    std::shared_ptr<const Source> source;
    Diagnostics diagnostics;
    std::optional<plan::Plan> plan;  // as written; none if a field is wrong
    std::optional<plan::Plan> laid;  // with coats and passes instead of fades; none if anything is wrong
    std::optional<plan::Job> job;    // of what is laid
    plan::Shelf shelf;               // that it was read from; copy it to read on

    // Of a coat as written: the coats that are laid for it, the first and behind the last.
    struct Coats {
        std::size_t first = 0, last = 0;
    };
    [[nodiscard]] Coats laid_for(std::size_t coat) const;
    [[nodiscard]] std::size_t written_for(std::size_t laid_coat) const;
};

class Desk {
public:
    Desk(plan::Shelf shelf, std::string shelf_folder)
        : shelf_(std::move(shelf)), shelf_folder_(std::move(shelf_folder)) {}

    [[nodiscard]] std::shared_ptr<const InWork> work(const Asked& asked);
    [[nodiscard]] plan::Shelf shelf() const;
    [[nodiscard]] const std::string& shelf_folder() const { return shelf_folder_; }

private:
    static constexpr std::size_t kKept = 6;

    mutable std::mutex lock_;
    plan::Shelf shelf_;  // warm: what was read once is kept
    std::string shelf_folder_;
    std::deque<std::shared_ptr<const InWork>> kept_;  // the newest first
};

// The units that the page wants to read; nothing if it does not say.
[[nodiscard]] std::optional<UnitSystem> asked_units(const Asked& asked);

// What a question about a plan that is not in order gets.
[[nodiscard]] Answer not_in_order(const InWork& work);

// The light of that name, else the plan's own; nothing if there is none of that name.
[[nodiscard]] std::optional<colour::Light> light_for(const InWork& work, const std::string& name);

}  // namespace fadewright::serve
