// The inside of a search for a recipe: how far a trial is from the target, and the best shares of given
// paints.
//
// A share is kept as its logarithm (`log_weight`, with any common offset), because a strong blue does in
// thousandths what white does in halves, and because no share can then turn negative.
#pragma once

#include "fadewright/film/looker.h"
#include "fadewright/film/match.h"
#include "fadewright/film/pot.h"

#include <array>
#include <optional>
#include <vector>

namespace fadewright::film {

// One light the target is compared in. `ruler` is upper triangular and turns a small difference in Lab at the
// target into one whose length is its CIEDE2000.
struct Eye {
    Looker looker;
    colour::Lab target;
    double weight = 1;
    std::array<std::array<double, 3>, 3> ruler{};

    Eye(const Looker& by, const colour::Lab& at, double counted);
};

struct Fit {
    std::size_t count = 0;
    std::array<std::size_t, kMostInPot> who{};
    std::array<double, kMostInPot> log_weight{};
    double miss = 0;  // all lights, by their weights

    [[nodiscard]] Trial trial() const noexcept;
};

class Fitter {
public:
    Fitter(const Pot& pot, std::vector<Eye> eyes, Specular specular, std::optional<MatchFilm> over);

    [[nodiscard]] const Pot& pot() const noexcept { return pot_; }

    // The same paints in better shares, by at most so many steps of damped least squares on the rulers.
    [[nodiscard]] Fit fitted(Fit fit, int steps) const;

    // The same by CIEDE2000 itself; never worse than the start. Sets `miss` by CIEDE2000.
    [[nodiscard]] Fit polished(const Fit& start) const;

    // CIEDE2000 from the target, all lights by their weights.
    [[nodiscard]] double miss(const Trial& trial) const;

private:
    struct Bend;
    struct Slopes;
    [[nodiscard]] Bend bend(const PotOptics& mix) const;
    [[nodiscard]] double square_of(const Fit& fit, Slopes& slopes) const;

    const Pot& pot_;
    std::vector<Eye> eyes_;
    std::optional<MatchFilm> over_;
    Skin skin_;
    Specular specular_;
};

}  // namespace fadewright::film
