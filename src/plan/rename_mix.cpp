#include "fadewright/plan/rename_mix.h"

#include "fadewright/plan/read_plan.h"
#include "fadewright/text/edit.h"
#include "fadewright/text/schema.h"

#include <fmt/core.h>

#include <algorithm>
#include <vector>

namespace fadewright::plan {
namespace {

// A span of the text with the name of the mix, and its replacement.
struct NameUse {
    std::size_t begin, end;
    std::string text;
};

void add_use(const Located<std::string>& named, const std::string& old, const std::string& name,
             std::vector<NameUse>& uses) {
    if (named.value == old) uses.push_back({named.span.begin, named.span.end, detail::toml_string(name)});
}

std::vector<NameUse> uses_of(const Plan& plan, const std::string& old, const std::string& name) {
    std::vector<NameUse> uses;
    for (const Named<Mix>& mix : plan.mixes)
        for (const Named<double>& part : mix.value.parts)
            if (part.name == old) uses.push_back({part.span.begin, part.span.end, detail::toml_key(name)});
    for (const Coat& coat : plan.coats) {
        add_use(coat.mix, old, name, uses);
        if (!coat.fade) continue;
        add_use(coat.fade->from, old, name, uses);
        add_use(coat.fade->to, old, name, uses);
    }
    return uses;
}

}  // namespace

Result<std::string> rename_mix(const std::string& text, std::string_view path, const std::string& name) {
    constexpr std::string_view kMixes = "mixes.";
    if (!path.starts_with(kMixes)) return Error{fmt::format("'{}' is not a mix", path)};
    std::string old(path.substr(kMixes.size()));
    if (old.size() > 1 && old.front() == '"') old = old.substr(1, old.size() - 2);
    const std::optional<Plan> plan = read_plan(std::make_shared<const Source>("plan", text)).plan;
    if (!plan) return Error{"fix the errors of the plan first"};
    if (name.empty()) return Error{"a mix needs a name"};
    const auto has = [&](const std::string& wanted_name) {
        return std::any_of(plan->mixes.begin(), plan->mixes.end(),
                           [&](const Named<Mix>& mix) { return mix.name == wanted_name; });
    };
    if (!has(old)) return Error{fmt::format("no mix is called '{}'", old)};
    if (name != old && has(name)) return Error{fmt::format("another mix is already called '{}'", name)};
    std::vector<NameUse> uses = uses_of(*plan, old, name);
    std::sort(uses.begin(), uses.end(), [](const NameUse& a, const NameUse& b) { return a.begin > b.begin; });
    std::string out = text;
    for (const NameUse& use : uses) out.replace(use.begin, use.end - use.begin, use.text);
    return rename_key(out, path, name);
}

}  // namespace fadewright::plan
