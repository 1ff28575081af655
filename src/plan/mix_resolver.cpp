#include "fadewright/plan/mix_resolver.h"

#include "fadewright/plan/names.h"
#include "fadewright/text/schema.h"

#include <fmt/core.h>

#include <algorithm>

namespace fadewright::plan {
namespace {

double wet_density(const Parts& parts) {
    double grams = 0;
    for (const paint::Part& part : parts) grams += part.parts * part.paint->wet_density.value;
    return grams / total_volume(parts);
}

}  // namespace

double total_volume(const Parts& parts) {
    double sum = 0;
    for (const paint::Part& part : parts) sum += part.parts;
    return sum;
}

void add_to_parts(Parts& parts, const paint::Paint* paint, double amount) {
    if (amount <= 0) return;
    const auto same =
        std::find_if(parts.begin(), parts.end(), [&](const paint::Part& p) { return p.paint == paint; });
    if (same != parts.end()) {
        same->parts += amount;
    } else {
        parts.push_back({paint, amount});
    }
}

bool is_reducer(const paint::Part& part) { return part.paint->role == paint::Role::reducer; }

std::optional<Parts> MixResolver::resolve(const Located<std::string>& name) {
    const auto mix = std::find_if(plan_.mixes.begin(), plan_.mixes.end(),
                                  [&](const Named<Mix>& m) { return m.name == name.value; });
    if (mix != plan_.mixes.end()) return resolve_mix(*mix, name.span);
    if (const paint::Paint* paint = library_.paint(name.value, mistakes_)) return Parts{{paint, 1.0}};
    const bool may_be_unread = unread_.has_field(plan_.span, "mixes");
    if (!may_be_unread && !library_.file(LibraryKind::paints, name.value))
        report_unknown("P001", "mix or paint", name, known_names(), mistakes_);
    return std::nullopt;
}

std::vector<std::string> MixResolver::known_names() const {
    std::vector<std::string> names = library_.names(LibraryKind::paints);
    for (const Named<Mix>& mix : plan_.mixes) names.push_back(mix.name);
    return names;
}

std::optional<Parts> MixResolver::resolve_mix(const Named<Mix>& mix, const SourceSpan& requested_at) {
    if (std::find(in_progress_.begin(), in_progress_.end(), mix.name) != in_progress_.end()) {
        mistakes_.error("P002", requested_at,
                        fmt::format("mix '{}' contains itself: {} -> {}", mix.name,
                                    detail::join_text(in_progress_, " -> "), mix.name),
                        "make one of these mixes from paints only");
        return std::nullopt;
    }
    // Each mix is resolved once, however many others use it.
    const auto known = resolved_.find(mix.name);
    if (known != resolved_.end()) return known->second;
    in_progress_.push_back(mix.name);
    std::optional<Parts> parts = colour_part(mix);
    in_progress_.pop_back();
    parts = finish_mix(mix.value, std::move(parts));
    if (unread_.is_in(mix.span)) parts.reset();
    resolved_[mix.name] = parts;
    return parts;
}

// The colour part as a volume of 1.
std::optional<Parts> MixResolver::colour_part(const Named<Mix>& mix) {
    Parts all;
    bool good = true;
    for (const Named<double>& part : mix.value.parts) {
        const std::optional<Parts> sub_parts = resolve({part.name, part.span});
        if (!sub_parts) {
            good = false;
            continue;
        }
        const double share =
            mix.value.by == PartsBy::weight ? part.value / wet_density(*sub_parts) : part.value;
        const double volume = total_volume(*sub_parts);
        for (const paint::Part& p : *sub_parts) add_to_parts(all, p.paint, share * p.parts / volume);
    }
    return good ? parts_above_zero(mix, std::move(all)) : std::nullopt;
}

std::optional<Parts> MixResolver::parts_above_zero(const Named<Mix>& mix, Parts parts) {
    const double volume = total_volume(parts);
    if (!(volume > 0)) {
        if (!unread_.has_field(mix.value.span, "parts"))
            mistakes_.error("P010", mix.span, fmt::format("mix '{}' has no part above zero", mix.name),
                            "give at least one part, for example  parts = { carbon-black = 1 }");
        return std::nullopt;
    }
    for (paint::Part& part : parts) part.parts /= volume;
    return parts;
}

// A paint for a role, checked for that role.
const paint::Paint* MixResolver::paint_for_role(const Located<std::string>& name, std::string_view purpose,
                                                std::initializer_list<paint::Role> roles) {
    const paint::Paint* paint = find_paint("P001", purpose, name, library_, mistakes_);
    if (!paint) return nullptr;
    if (std::find(roles.begin(), roles.end(), paint->role) == roles.end()) {
        mistakes_.error("P017", name.span, fmt::format("'{}' is not a {}", name.value, purpose),
                        fmt::format("use a paint from the library with the role {}", purpose));
        return nullptr;
    }
    return paint;
}

// All three paints are checked, even if the colour part has mistakes.
std::optional<Parts> MixResolver::finish_mix(const Mix& mix, std::optional<Parts> parts) {
    const auto add = [&](bool used, const paint::Paint* paint, auto amount) {
        if (!used) return;
        if (!paint) parts.reset();
        if (parts) add_to_parts(*parts, paint, amount());
    };
    const bool cut = mix.white_cut.value > 0, extended = mix.extend > 0, reduced = mix.reduce.value > 0;
    const paint::Paint* white = cut ? paint_for_role(mix.white, "white", {paint::Role::white}) : nullptr;
    const paint::Paint* base =
        extended ? paint_for_role(mix.clear_base, "clear base", {paint::Role::clear_base, paint::Role::clear})
                 : nullptr;
    const paint::Paint* reducer =
        reduced ? paint_for_role(mix.reducer, "reducer", {paint::Role::reducer}) : nullptr;
    if (cut && parts)
        for (paint::Part& part : *parts) part.parts *= 1 - mix.white_cut.value;
    add(cut, white, [&] { return mix.white_cut.value; });
    add(extended, base, [&] { return mix.extend; });
    add(reduced, reducer, [&] { return mix.reduce.value * total_volume(*parts); });
    return parts;
}

std::optional<Parts> parts_of(const Plan& plan, const Located<std::string>& name, Library& library) {
    return MixResolver(plan, library).resolve(name);
}

std::optional<Parts> parts_of(const Plan& plan, const Located<std::string>& name, Library& library,
                              Diagnostics& diagnostics) {
    MixResolver mixes(plan, library, diagnostics.units());
    std::optional<Parts> parts = mixes.resolve(name);
    diagnostics.add_all(mixes.mistakes());
    return parts;
}

}  // namespace fadewright::plan
