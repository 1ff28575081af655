#include "fadewright/plan/rename.h"

#include "fadewright/plan/job.h"
#include "fadewright/text/edit.h"
#include "fadewright/text/schema.h"

#include <fmt/core.h>

#include <algorithm>
#include <vector>

namespace fadewright::plan {
namespace {

// A place in the text that names the mix, and what to write there.
struct Use {
    std::size_t begin, end;
    std::string written;
};

void add_use(const Placed<std::string>& named, const std::string& old, const std::string& name,
             std::vector<Use>& uses) {
    if (named.value == old) uses.push_back({named.place.begin, named.place.end, reading::quoted(name)});
}

std::vector<Use> uses_of(const Plan& plan, const std::string& old, const std::string& name) {
    std::vector<Use> uses;
    for (const Named<Mix>& mix : plan.mixes)
        for (const Named<double>& part : mix.value.parts)
            if (part.name == old) uses.push_back({part.place.begin, part.place.end, reading::key_text(name)});
    for (const Coat& coat : plan.coats) {
        add_use(coat.mix, old, name, uses);
        if (!coat.fade) continue;
        add_use(coat.fade->from, old, name, uses);
        add_use(coat.fade->to, old, name, uses);
    }
    return uses;
}

}  // namespace

Result<std::string> with_mix_renamed(const std::string& text, std::string_view path,
                                     const std::string& name) {
    constexpr std::string_view kMixes = "mixes.";
    if (!path.starts_with(kMixes)) return Refusal{fmt::format("'{}' is not a mix", path)};
    std::string old(path.substr(kMixes.size()));
    if (old.size() > 1 && old.front() == '"') old = old.substr(1, old.size() - 2);
    Diagnostics unheard;
    const std::optional<Plan> plan = read_plan(std::make_shared<const Source>("plan", text), unheard);
    if (!plan) return Refusal{"the plan has mistakes that have to be mended first"};
    if (name.empty()) return Refusal{"a mix needs a name"};
    const auto has = [&](const std::string& wanted) {
        return std::any_of(plan->mixes.begin(), plan->mixes.end(),
                           [&](const Named<Mix>& mix) { return mix.name == wanted; });
    };
    if (!has(old)) return Refusal{fmt::format("no mix is called '{}'", old)};
    if (name != old && has(name)) return Refusal{fmt::format("another mix is already called '{}'", name)};
    std::vector<Use> uses = uses_of(*plan, old, name);
    std::sort(uses.begin(), uses.end(), [](const Use& a, const Use& b) { return a.begin > b.begin; });
    std::string out = text;
    for (const Use& use : uses) out.replace(use.begin, use.end - use.begin, use.written);
    return renamed(out, path, name);
}

}  // namespace fadewright::plan
