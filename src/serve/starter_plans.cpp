#include "starter_plans.h"

#include "fadewright/app/shipped_library.h"

#include <algorithm>

namespace fadewright::serve {
namespace {

StarterPlan load_starter(std::string name, std::string title, std::string about, std::string_view file) {
    return {std::move(name), std::move(title), std::move(about), app::preset_text(file).value_or("")};
}

}  // namespace

const std::vector<StarterPlan>& starter_plans() {
    static const std::vector<StarterPlan> all{
        load_starter("demo", "Demo: dusk fade", "deep plum to apricot on a cargo panel, made with one fade",
                     "plans/dusk-fade-short.toml"),
        load_starter("plain", "A plain panel", "one ground coat, a fade over it, clear",
                     "plans/plain-panel.toml"),
        load_starter("by-hand", "A fade pass by pass", "the dusk fade with every gun pass listed",
                     "plans/dusk-fade.toml"),
        load_starter("burst", "Sunburst along an outline",
                     "dark edge, light centre (sunburst) on a guitar body", "plans/guitar-burst.toml")};
    return all;
}

const StarterPlan* find_starter(std::string_view name) {
    const auto found = std::find_if(starter_plans().begin(), starter_plans().end(),
                                    [&](const StarterPlan& starter) { return starter.name == name; });
    return found == starter_plans().end() ? nullptr : &*found;
}

}  // namespace fadewright::serve
