// Finds every mistake in plans and library files. The kind of a file follows from its first key
// (plan = 1, paint = 1, ...), or, for a panel, from the folder it is in.

#include "card_files.h"
#include "fadewright/app/commands.h"
#include "fadewright/calibration/gun_calibration.h"
#include "fadewright/plan/library_schema.h"
#include "fadewright/plan/plan_schema.h"
#include "fadewright/planner/resolve.h"
#include "fadewright/production/job_log.h"
#include "outcome.h"

#include <fmt/core.h>

#include <algorithm>
#include <filesystem>

namespace fadewright::app {
namespace {

namespace fs = std::filesystem;

// A panel has a ground by name; a ground file begins with  ground = 1.
bool is_ground_name(std::string_view key, const Node& node) {
    return key == "ground" && node.kind != Node::Kind::integer;
}

// The kind of library file; none if it cannot be told.
std::optional<plan::LibraryKind> library_kind_of(const std::string& path, const ParsedTree& tree) {
    constexpr std::pair<std::string_view, plan::LibraryKind> kKeys[] = {
        {"plan", plan::LibraryKind::plans},
        {"paint", plan::LibraryKind::paints},
        {"ground", plan::LibraryKind::grounds},
        {"gun", plan::LibraryKind::guns},
        {"light", plan::LibraryKind::lights}};
    for (const auto& [key, kind] : kKeys)
        if (const Node* node = tree.root.find(key); node && !is_ground_name(key, *node)) return kind;
    if (fs::path(path).parent_path().filename() == "panels") return plan::LibraryKind::panels;
    return std::nullopt;
}

// Checks a file as an item of the library, which reads it under its own name.
void check_library_file(plan::LibraryKind kind, const std::string& name, plan::Library& library,
                        Diagnostics& diagnostics) {
    switch (kind) {
        case plan::LibraryKind::paints:
            (void)library.paint(name, diagnostics);
            return;
        case plan::LibraryKind::grounds:
            (void)library.ground(name, diagnostics);
            return;
        case plan::LibraryKind::guns:
            (void)library.gun(name, diagnostics);
            return;
        case plan::LibraryKind::panels:
            (void)library.panel(name, diagnostics);
            return;
        case plan::LibraryKind::lights:
            (void)library.light(name, diagnostics);
            return;
        case plan::LibraryKind::plans:
            return;
    }
}

class Checker {
public:
    Checker(plan::Library& library, bool canonical, const OutputOptions& output)
        : library_(library), canonical_(canonical), output_(output) {}

    Check check_file(const PlanInput& input) {
        const std::string& path = input.name;
        Result<std::shared_ptr<const Source>> source = source_of(input);
        if (!source) return system_failure(source.error());
        ++files_;
        diagnostics.set_units(output_.display_units().system());
        Diagnostics found;  // a file that is not TOML has no kind
        const std::optional<ParsedTree> tree = read_toml(source.value(), found);
        if (!tree) {
            (void)read_toml(source.value(), diagnostics);
            return Success{};
        }
        if (tree->root.find("spray_out_card")) {
            check_spray_out_card(source.value(), path);
            return Success{};
        }
        if (tree->root.find("spray_pattern_card")) {
            check_spray_pattern_card(source.value(), path);
            return Success{};
        }
        if (tree->root.find("record")) {
            (void)production::read_job_log(source.value(), diagnostics);
            return Success{};
        }
        const std::optional<plan::LibraryKind> kind = library_kind_of(path, *tree);
        if (!kind || *kind == plan::LibraryKind::plans) {  // a plan must say so itself
            check_plan(source.value());
        } else {
            const std::string name = fs::path(path).stem().string();
            library_.add_file(*kind, name, source.value());
            check_library_file(*kind, name, library_, diagnostics);
        }
        return Success{};
    }

    Check check_folder(const std::string& folder) {
        std::vector<std::string> paths;
        std::error_code error;
        for (fs::recursive_directory_iterator entry(folder, error), end; !error && entry != end;
             entry.increment(error))
            if (entry->path().extension() == ".toml") paths.push_back(entry->path().string());
        if (error) return system_failure({"cannot read " + folder + ": " + error.message()});
        if (paths.empty()) return system_failure({"cannot check " + folder + ": it contains no .toml file"});
        std::sort(paths.begin(), paths.end());
        for (const std::string& path : paths)
            if (Check done = check_file(plan_file(path)); !done) return done;
        return Success{};
    }

    Diagnostics diagnostics;
    std::string canonical_text;

    [[nodiscard]] std::size_t files() const { return files_; }

private:
    void check_plan(const std::shared_ptr<const Source>& source) {
        planner::ResolvedPlan resolved = planner::resolve(source, library_, output_.unit_system());
        diagnostics.add_all(resolved.diagnostics);
        if (!canonical_ || !resolved.plan) return;
        resolved.plan->units = resolved.written_units;
        canonical_text += fadewright::canonical_text(*resolved.plan);
    }

    void check_spray_out_card(const std::shared_ptr<const Source>& source, const std::string& path) {
        const std::optional<calibration::SprayOutCard> card =
            calibration::read_spray_out_card(source, diagnostics);
        if (card) (void)calibration::prepare_card(*card, library_, card_files(path), diagnostics);
    }

    void check_spray_pattern_card(const std::shared_ptr<const Source>& source, const std::string& path) {
        const std::optional<calibration::SprayPatternCard> card =
            calibration::read_spray_pattern_card(source, diagnostics);
        if (card) (void)calibration::fit_gun(*card, library_, card_files(path), diagnostics);
    }

    plan::Library& library_;
    bool canonical_;
    OutputOptions output_;
    std::size_t files_ = 0;
};

}  // namespace

Outcome check(Session& session, const CheckRequest& request) {
    Result<plan::Library> library = session.library();
    if (!library) return failed(system_failure(library.error()), request);
    plan::Library opened = std::move(library).value();
    Checker checker(opened, request.canonical, output_options(request));
    for (const PlanInput& input : request.plans) {
        std::error_code error;
        const bool is_folder = !input.text && fs::is_directory(input.name, error);
        const Check done = is_folder ? checker.check_folder(input.name) : checker.check_file(input);
        if (!done) return failed(done.error(), request);
    }
    if (checker.diagnostics.has_errors()) return failed(data_failure(checker.diagnostics), request);
    Outcome outcome;
    if (request.json) {
        outcome.out = to_json(checker.diagnostics);
    } else {
        outcome.err = to_text(checker.diagnostics);
        outcome.out = request.canonical      ? checker.canonical_text
                      : checker.files() == 1 ? fmt::format("{}: OK\n", request.plans.front().name == "-"
                                                                           ? "standard input"
                                                                           : request.plans.front().name)
                                             : fmt::format("{} files OK\n", checker.files());
    }
    return outcome;
}

}  // namespace fadewright::app
