// A mix resolved down to paints: mixes within mixes, the white cut, then clear base and reducer.
//
// Amounts are volumes of wet paint. A mix within a mix counts by its whole volume in its cup (with its own
// clear base and reducer), because that is what is poured. Each mix is resolved once, and its errors are
// reported once.
#pragma once

#include "fadewright/plan/job.h"

#include <initializer_list>
#include <map>
#include <optional>
#include <string>
#include <vector>

namespace fadewright::plan {

using Parts = std::vector<paint::Part>;

[[nodiscard]] double total_volume(const Parts& parts);  // volume
// Adds that volume of the paint, if it is above 0.
void add_to_parts(Parts& parts, const paint::Paint* paint, double amount);
[[nodiscard]] bool is_reducer(const paint::Part& part);  // reducer

class MixResolver {
public:
    MixResolver(const Plan& plan, Library& library, Diagnostics& diagnostics)
        : plan_(plan), library_(library), diagnostics_(diagnostics) {}

    // The mix or paint of that name; an error at its span if there is none.
    [[nodiscard]] std::optional<Parts> resolve(const Located<std::string>& name);

private:
    [[nodiscard]] std::vector<std::string> known_names() const;
    std::optional<Parts> resolve_mix(const Named<Mix>& mix, const SourceSpan& requested_at);
    std::optional<Parts> colour_part(const Named<Mix>& mix);
    const paint::Paint* paint_for_role(const Located<std::string>& name, std::string_view purpose,
                                       std::initializer_list<paint::Role> roles);
    std::optional<Parts> finish_mix(const Mix& mix, Parts parts);

    const Plan& plan_;
    Library& library_;
    Diagnostics& diagnostics_;
    std::vector<std::string> in_progress_;  // mixes being resolved, outermost first
    std::map<std::string, std::optional<Parts>> resolved_;
};

}  // namespace fadewright::plan
