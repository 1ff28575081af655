// A mix resolved down to paints: mixes within mixes, the white cut, then clear base and reducer.
//
// Amounts are volumes of wet paint. A mix within a mix counts by its whole volume as it stands in its cup
// (its own clear base and reducer included), because that is what is poured. Each mix is worked out once, and
// what is wrong with it is reported once.
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
// So much more of that paint; nothing if it is nothing.
void add_to_parts(Parts& parts, const paint::Paint* paint, double amount);
[[nodiscard]] bool is_reducer(const paint::Part& part);  // reducer

class MixResolver {
public:
    MixResolver(const Plan& plan, Library& library, Diagnostics& diagnostics)
        : plan_(plan), library_(library), diagnostics_(diagnostics) {}

    // The mix or paint of that name; reported at its place if there is none.
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
    std::vector<std::string> in_progress_;  // the mixes being worked out, outermost first
    std::map<std::string, std::optional<Parts>> resolved_;
};

}  // namespace fadewright::plan
