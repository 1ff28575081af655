// Finds every mistake in plans and files of the shelf. What a file is follows from its first key
// (plan = 1, paint = 1, ...), or, for a panel, from the folder it lies in.

#include "card_files.h"
#include "embedded.h"
#include "fadewright/app/commands.h"
#include "fadewright/plan/gun_card.h"
#include "fadewright/plan/plan_schema.h"
#include "fadewright/plan/record.h"
#include "fadewright/plan/shelf_schema.h"
#include "outcome.h"

#include <fmt/core.h>

#include <algorithm>
#include <filesystem>

namespace fadewright::app {
namespace {

namespace fs = std::filesystem;

// A panel has a ground by name; a ground file begins with  ground = 1.
bool names_a_ground(std::string_view key, const Node& node) {
    return key == "ground" && node.kind != Node::Kind::whole;
}

// The kind of shelf file a source is; plans when it says so or says nothing.
std::optional<plan::ShelfKind> kind_of(const std::string& path, const ReadTree& tree) {
    constexpr std::pair<std::string_view, plan::ShelfKind> kKeys[] = {{"plan", plan::ShelfKind::plans},
                                                                      {"paint", plan::ShelfKind::paints},
                                                                      {"ground", plan::ShelfKind::grounds},
                                                                      {"gun", plan::ShelfKind::guns},
                                                                      {"light", plan::ShelfKind::lights}};
    for (const auto& [key, kind] : kKeys)
        if (const Node* node = tree.root.find(key); node && !names_a_ground(key, *node)) return kind;
    if (fs::path(path).parent_path().filename() == "panels") return plan::ShelfKind::panels;
    return std::nullopt;
}

// Checks a file as a thing on the shelf: the shelf reads it under its own name.
void check_on_shelf(plan::ShelfKind kind, const std::string& name, plan::Shelf& shelf,
                    Diagnostics& diagnostics) {
    switch (kind) {
        case plan::ShelfKind::paints:
            (void)shelf.paint(name, diagnostics);
            return;
        case plan::ShelfKind::grounds:
            (void)shelf.ground(name, diagnostics);
            return;
        case plan::ShelfKind::guns:
            (void)shelf.gun(name, diagnostics);
            return;
        case plan::ShelfKind::panels:
            (void)shelf.panel(name, diagnostics);
            return;
        case plan::ShelfKind::lights:
            (void)shelf.light(name, diagnostics);
            return;
        case plan::ShelfKind::plans:
            return;
    }
}

class Checker {
public:
    Checker(plan::Shelf& shelf, bool canonical, const Answer& answer)
        : shelf_(shelf), canonical_(canonical), answer_(answer) {}

    std::optional<Refusal> check_file(const std::string& path) {
        Result<std::shared_ptr<const Source>> source = read_source(path);
        if (!source) return source.refusal();
        ++files_;
        diagnostics.show_in(answer_.shown().system());
        Diagnostics found;  // a file that is not readable at all says nothing about what it is
        const std::optional<ReadTree> tree = read_toml(source.value(), found);
        if (!tree) {
            (void)read_toml(source.value(), diagnostics);
            return std::nullopt;
        }
        if (tree->root.find("card")) {
            check_card(source.value(), path);
            return std::nullopt;
        }
        if (tree->root.find("gun_card")) {
            check_gun_card(source.value(), path);
            return std::nullopt;
        }
        if (tree->root.find("record")) {
            (void)plan::read_record(source.value(), diagnostics);
            return std::nullopt;
        }
        const std::optional<plan::ShelfKind> kind = kind_of(path, *tree);
        if (!kind || *kind == plan::ShelfKind::plans) {  // a plan must say so itself
            check_plan(source.value());
        } else {
            const std::string name = fs::path(path).stem().string();
            shelf_.put(*kind, name, source.value());
            check_on_shelf(*kind, name, shelf_, diagnostics);
        }
        return std::nullopt;
    }

    std::optional<Refusal> check_folder(const std::string& folder) {
        std::vector<std::string> paths;
        std::error_code fault;
        for (fs::recursive_directory_iterator entry(folder, fault), end; !fault && entry != end;
             entry.increment(fault))
            if (entry->path().extension() == ".toml") paths.push_back(entry->path().string());
        if (fault) return Refusal{"cannot read " + folder + ": " + fault.message()};
        if (paths.empty()) return Refusal{"cannot check " + folder + ": there is no .toml file in it"};
        std::sort(paths.begin(), paths.end());
        for (const std::string& path : paths)
            if (auto refusal = check_file(path)) return refusal;
        return std::nullopt;
    }

    Diagnostics diagnostics;
    std::string canonical_text;

    [[nodiscard]] std::size_t files() const { return files_; }

private:
    void check_plan(const std::shared_ptr<const Source>& source) {
        const std::optional<plan::Plan> plan = plan::read_plan(source, diagnostics, answer_.shown_in());
        if (!plan) return;
        (void)plan::ready_job(*plan, source->text(), shelf_, diagnostics);
        if (canonical_) canonical_text += fadewright::canonical_text(*plan);
    }

    void check_card(const std::shared_ptr<const Source>& source, const std::string& path) {
        const std::optional<plan::CardFile> card = plan::read_card(source, diagnostics);
        if (card) (void)plan::ready_card(*card, shelf_, files_beside(path), diagnostics);
    }

    void check_gun_card(const std::shared_ptr<const Source>& source, const std::string& path) {
        const std::optional<plan::GunCardFile> card = plan::read_gun_card(source, diagnostics);
        if (card) (void)plan::learned_gun(*card, shelf_, files_beside(path), diagnostics);
    }

    plan::Shelf& shelf_;
    bool canonical_;
    Answer answer_;
    std::size_t files_ = 0;
};

}  // namespace

Outcome check(const CheckRequest& request) {
    Result<plan::Shelf> shelf = plan::Shelf::open(embedded_presets(), request.shelf);
    if (!shelf) return refused(shelf.refusal());
    plan::Shelf opened = std::move(shelf).value();
    Checker checker(opened, request.canonical, answer_of(request));
    for (const std::string& path : request.plans) {
        std::error_code fault;
        const auto refusal =
            fs::is_directory(path, fault) ? checker.check_folder(path) : checker.check_file(path);
        if (refusal) return refused(*refusal);
    }
    if (checker.diagnostics.has_errors()) return wrong_data(checker.diagnostics, request.json);
    Outcome outcome;
    if (request.json) {
        outcome.out = to_json(checker.diagnostics);
    } else {
        outcome.talk = to_text(checker.diagnostics);
        outcome.out =
            request.canonical
                ? checker.canonical_text
                : fmt::format(
                      "{} in order\n",
                      checker.files() == 1
                          ? (request.plans.front() == "-" ? "standard input" : request.plans.front()) + " is"
                          : fmt::format("{} files are", checker.files()));
    }
    return outcome;
}

}  // namespace fadewright::app
