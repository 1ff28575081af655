#include "fadewright/app/session.h"

#include "embedded.h"
#include "fadewright/base/files.h"
#include "page_renderers.h"
#include "prepared_plan.h"

#include <algorithm>
#include <deque>
#include <filesystem>
#include <mutex>

namespace fadewright::app {

struct Session::State {
    static constexpr std::size_t kMaxPlans = 6;

    // Several threads may ask for a plan at the same time: the first resolves it, the others wait.
    struct CachedPlan {
        PlanInput input;
        std::optional<UnitSystem> units;
        std::once_flag once;
        std::shared_ptr<const PreparedPlan> plan;
    };

    std::string library_folder;
    mutable std::mutex mutex;
    mutable std::optional<Result<plan::Library>> opened_library;
    std::optional<plan::Library> used_library;      // with the items read so far
    std::deque<std::shared_ptr<CachedPlan>> plans;  // newest first
    std::size_t resolved = 0;
    PageRenderers page_renderers;

    // Opened once and never changed.
    [[nodiscard]] const Result<plan::Library>& library() const {
        const std::lock_guard lock(mutex);
        if (!opened_library) opened_library = plan::Library::open(embedded_presets(), library_folder);
        return *opened_library;
    }

    // Of an opened library. Items that are read already need not be read again.
    [[nodiscard]] plan::Library library_for_resolving() const {
        const std::lock_guard lock(mutex);
        return used_library ? *used_library : opened_library->value();
    }

    [[nodiscard]] std::shared_ptr<CachedPlan> cached(const PlanInput& input,
                                                     std::optional<UnitSystem> units) {
        const std::lock_guard lock(mutex);
        const auto found = std::find_if(plans.begin(), plans.end(), [&](const auto& candidate) {
            return candidate->input.name == input.name && candidate->input.folder == input.folder &&
                   candidate->input.text == input.text && candidate->units == units;
        });
        if (found != plans.end()) return *found;
        auto added = std::make_shared<CachedPlan>();
        added->input = input;
        added->units = units;
        plans.push_front(added);
        if (plans.size() > kMaxPlans) plans.pop_back();
        return added;
    }

    void note_resolved(const PreparedPlan& plan) {
        const std::lock_guard lock(mutex);
        ++resolved;
        if (plan.job) used_library = plan.library;
    }
};

namespace {

// The only place where a plan's text is resolved for a front end.
std::shared_ptr<const PreparedPlan> prepare(std::shared_ptr<const Source> source, plan::Library library,
                                            std::optional<UnitSystem> units) {
    auto prepared = std::make_shared<PreparedPlan>();
    prepared->library = std::move(library);
    static_cast<planner::ResolvedPlan&>(*prepared) =
        planner::resolve(std::move(source), prepared->library, units);
    return prepared;
}

}  // namespace

PlanInput plan_file(const std::string& path) {
    return {path, path == "-" ? "" : std::filesystem::path(path).parent_path().string(), std::nullopt};
}

Result<std::shared_ptr<const Source>> source_of(const PlanInput& input) {
    Result<std::string> text =
        input.text ? Result<std::string>(*input.text) : read_file_bytes(input.name, kTextFileLimit_bytes);
    if (!text) return text.error();
    return std::shared_ptr<const Source>(std::make_shared<Source>(
        input.name == "-" ? "standard input" : input.name, std::move(text).value(), input.folder));
}

Session::Session(std::string library_folder) : state_(std::make_unique<State>()) {
    state_->library_folder = std::move(library_folder);
}

Session::~Session() = default;

Result<plan::Library> Session::library() const { return state_->library(); }

Result<Success> Session::check_library() const {
    const Result<plan::Library>& opened = state_->library();
    if (!opened) return opened.error();
    return Success{};
}

Result<std::shared_ptr<const PreparedPlan>> Session::resolve(const PlanInput& input,
                                                             std::optional<UnitSystem> units) {
    if (const Result<Success> done = check_library(); !done) return done.error();
    const Result<std::shared_ptr<const Source>> source = source_of(input);
    if (!source) return source.error();
    PlanInput key = input;
    key.text = source.value()->text();
    const std::shared_ptr<State::CachedPlan> cached = state_->cached(key, units);
    std::call_once(cached->once, [&] {
        cached->plan = prepare(source.value(), state_->library_for_resolving(), units);
        state_->note_resolved(*cached->plan);
    });
    return cached->plan;
}

std::size_t Session::resolved_count() const {
    const std::lock_guard lock(state_->mutex);
    return state_->resolved;
}

PageRenderers& Session::page_renderers() { return state_->page_renderers; }

std::optional<std::string> preset_text(std::string_view path) {
    const auto files = embedded_presets();
    const auto found =
        std::find_if(files.begin(), files.end(), [&](const EmbeddedFile& file) { return file.path == path; });
    return found == files.end() ? std::nullopt : std::optional<std::string>(found->text);
}

}  // namespace fadewright::app
