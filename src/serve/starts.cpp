#include "starts.h"

#include "fadewright/app/presets.h"

#include <algorithm>

namespace fadewright::serve {
namespace {

Start start(std::string name, std::string title, std::string about, std::string_view file) {
    return {std::move(name), std::move(title), std::move(about), app::preset_text(file).value_or("")};
}

}  // namespace

const std::vector<Start>& starts() {
    static const std::vector<Start> all{
        start("demo", "The demo: a dusk fade", "deep plum to apricot on a cargo panel, as one fade",
              "plans/dusk-fade-short.toml"),
        start("plain", "A plain panel", "one ground coat, one fade over it, clear", "plans/plain-panel.toml"),
        start("by-hand", "A fade pass by pass", "the dusk fade with every pass of the gun written out",
              "plans/dusk-fade.toml"),
        start("burst", "A burst around an outline", "dark at the rim, light in the middle, on a guitar body",
              "plans/guitar-burst.toml")};
    return all;
}

const Start* start_called(std::string_view name) {
    const auto found =
        std::find_if(starts().begin(), starts().end(), [&](const Start& s) { return s.name == name; });
    return found == starts().end() ? nullptr : &*found;
}

}  // namespace fadewright::serve
