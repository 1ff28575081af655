// A mix resolved down to paints: mixes within mixes, the white cut, then clear base and reducer.
//
// Amounts are volumes of wet paint. A mix within a mix counts by its whole volume in its cup (with its own
// clear base and reducer), because that is what is poured. Each mix is resolved once.
//
// Checks     tests/plan/mix_resolver_test.cpp
#pragma once

#include "fadewright/paint/mix.h"
#include "fadewright/plan/library.h"
#include "fadewright/plan/plan.h"
#include "fadewright/text/diagnostic.h"
#include "fadewright/text/unread_fields.h"

#include <initializer_list>
#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace fadewright::plan {

using Parts = std::vector<paint::Part>;

[[nodiscard]] double total_volume(const Parts& parts);  // volume
// Adds that volume of the paint, if it is above 0.
void add_to_parts(Parts& parts, const paint::Paint* paint, double amount);
[[nodiscard]] bool is_reducer(const paint::Part& part);  // reducer

class MixResolver {
public:
    // `units`: of the mistakes. A mix with unread fields is checked as far as it was read and gives no parts.
    MixResolver(const Plan& plan, Library& library, UnitSystem units = UnitSystem::metric,
                UnreadFields unread = {})
        : plan_(plan), library_(library), unread_(std::move(unread)) {
        mistakes_.set_units(units);
    }

    // The mix or paint of that name; nothing if there is none or if it has mistakes.
    [[nodiscard]] std::optional<Parts> resolve(const Located<std::string>& name);

    // Of everything resolved so far: why there was nothing.
    [[nodiscard]] const Diagnostics& mistakes() const noexcept { return mistakes_; }

private:
    [[nodiscard]] std::vector<std::string> known_names() const;
    std::optional<Parts> resolve_mix(const Named<Mix>& mix, const SourceSpan& requested_at);
    std::optional<Parts> colour_part(const Named<Mix>& mix);
    std::optional<Parts> parts_above_zero(const Named<Mix>& mix, Parts parts);
    const paint::Paint* paint_for_role(const Located<std::string>& name, std::string_view purpose,
                                       std::initializer_list<paint::Role> roles);
    std::optional<Parts> finish_mix(const Mix& mix, std::optional<Parts> parts);

    const Plan& plan_;
    Library& library_;
    UnreadFields unread_;
    Diagnostics mistakes_;
    std::vector<std::string> in_progress_;  // mixes being resolved, outermost first
    std::map<std::string, std::optional<Parts>> resolved_;
};

// One name of a plan; the second also reports why there is nothing.
[[nodiscard]] std::optional<Parts> parts_of(const Plan& plan, const Located<std::string>& name,
                                            Library& library);
[[nodiscard]] std::optional<Parts> parts_of(const Plan& plan, const Located<std::string>& name,
                                            Library& library, Diagnostics& diagnostics);

}  // namespace fadewright::plan
