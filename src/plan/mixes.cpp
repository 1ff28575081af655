#include "mixes.h"

#include "names.h"

#include <fmt/core.h>

#include <algorithm>

namespace fadewright::plan {
namespace {

double wet_density(const Parts& parts) {
    double grams = 0;
    for (const paint::Part& part : parts) grams += part.parts * part.paint->wet_density.value;
    return grams / total(parts);
}

}  // namespace

double total(const Parts& parts) {
    double sum = 0;
    for (const paint::Part& part : parts) sum += part.parts;
    return sum;
}

void add(Parts& parts, const paint::Paint* paint, double amount) {
    if (amount <= 0) return;
    const auto same =
        std::find_if(parts.begin(), parts.end(), [&](const paint::Part& p) { return p.paint == paint; });
    if (same != parts.end()) {
        same->parts += amount;
    } else {
        parts.push_back({paint, amount});
    }
}

bool thins(const paint::Part& part) { return part.paint->role == paint::Role::reducer; }

std::optional<Parts> MixResolver::named(const Placed<std::string>& name) {
    const auto mix = std::find_if(plan_.mixes.begin(), plan_.mixes.end(),
                                  [&](const Named<Mix>& m) { return m.name == name.value; });
    if (mix != plan_.mixes.end()) return of_mix(*mix, name.place);
    const std::size_t before = diagnostics_.error_count();
    if (const paint::Paint* paint = shelf_.paint(name.value, diagnostics_)) return Parts{{paint, 1.0}};
    if (diagnostics_.error_count() == before)
        report_unknown("P001", "mix or paint", name, known_names(), diagnostics_);
    return std::nullopt;
}

std::vector<std::string> MixResolver::known_names() const {
    std::vector<std::string> names = shelf_.names(ShelfKind::paints);
    for (const Named<Mix>& mix : plan_.mixes) names.push_back(mix.name);
    return names;
}

std::optional<Parts> MixResolver::of_mix(const Named<Mix>& mix, const Place& asked_at) {
    if (std::find(open_.begin(), open_.end(), mix.name) != open_.end()) {
        diagnostics_.error("P002", asked_at,
                           fmt::format("mix '{}' is made of itself: {} -> {}", mix.name,
                                       reading::joined(open_, " -> "), mix.name),
                           "make one of these mixes of paints only");
        return std::nullopt;
    }
    // Each mix is worked out once, however many others pour from it.
    const auto known = done_.find(mix.name);
    if (known != done_.end()) return known->second;
    open_.push_back(mix.name);
    std::optional<Parts> parts = colour_part(mix);
    open_.pop_back();
    if (parts) parts = finished(mix.value, std::move(*parts));
    done_[mix.name] = parts;
    return parts;
}

// The colour part as a volume of 1.
std::optional<Parts> MixResolver::colour_part(const Named<Mix>& mix) {
    Parts all;
    bool good = true;
    for (const Named<double>& part : mix.value.parts) {
        const std::optional<Parts> inner = named({part.name, part.place});
        if (!inner) {
            good = false;
            continue;
        }
        const double share = mix.value.by == PartsBy::weight ? part.value / wet_density(*inner) : part.value;
        const double whole = total(*inner);
        for (const paint::Part& p : *inner) add(all, p.paint, share * p.parts / whole);
    }
    if (!good) return std::nullopt;
    const double whole = total(all);
    if (!(whole > 0)) {
        diagnostics_.error("P010", mix.place, fmt::format("mix '{}' has no part above zero", mix.name),
                           "give at least one part, for example  parts = { carbon-black = 1 }");
        return std::nullopt;
    }
    for (paint::Part& part : all) part.parts /= whole;
    return all;
}

// A paint named for a purpose, checked for it.
const paint::Paint* MixResolver::purposed(const Placed<std::string>& name, std::string_view purpose,
                                          std::initializer_list<paint::Role> roles) {
    const std::size_t before = diagnostics_.error_count();
    const paint::Paint* paint = shelf_.paint(name.value, diagnostics_);
    if (!paint) {
        if (diagnostics_.error_count() == before)
            report_unknown("P001", purpose, name, shelf_.names(ShelfKind::paints), diagnostics_);
        return nullptr;
    }
    if (std::find(roles.begin(), roles.end(), paint->role) == roles.end()) {
        diagnostics_.error("P017", name.place, fmt::format("'{}' is not a {}", name.value, purpose),
                           fmt::format("name a paint of the shelf whose role is {}", purpose));
        return nullptr;
    }
    return paint;
}

std::optional<Parts> MixResolver::finished(const Mix& mix, Parts parts) {
    if (mix.white_cut.value > 0) {
        const paint::Paint* white = purposed(mix.white, "white", {paint::Role::white});
        if (!white) return std::nullopt;
        for (paint::Part& part : parts) part.parts *= 1 - mix.white_cut.value;
        add(parts, white, mix.white_cut.value);
    }
    if (mix.extend > 0) {
        const paint::Paint* base =
            purposed(mix.clear_base, "clear base", {paint::Role::clear_base, paint::Role::clear});
        if (!base) return std::nullopt;
        add(parts, base, mix.extend);
    }
    if (mix.reduce.value > 0) {
        const paint::Paint* reducer = purposed(mix.reducer, "reducer", {paint::Role::reducer});
        if (!reducer) return std::nullopt;
        add(parts, reducer, mix.reduce.value * total(parts));
    }
    return parts;
}

std::optional<std::vector<paint::Part>> parts_of(const Plan& plan, const Placed<std::string>& name,
                                                 Shelf& shelf, Diagnostics& diagnostics) {
    return MixResolver(plan, shelf, diagnostics).named(name);
}

}  // namespace fadewright::plan
