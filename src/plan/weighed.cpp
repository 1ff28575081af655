// A recipe as it is weighed.

#include "fadewright/base/contract.h"
#include "fadewright/plan/amounts.h"
#include "fadewright/plan/quantities.h"
#include "mixes.h"

#include <algorithm>
#include <cmath>

namespace fadewright::plan {
namespace {

double weight(const paint::Part& part) { return part.parts * part.paint->wet_density.value; }

// The most first; reducer last, when the thickness of the paint can be judged.
void in_pouring_order(std::vector<paint::Part>& parts) {
    std::stable_sort(parts.begin(), parts.end(), [](const paint::Part& a, const paint::Part& b) {
        if (thins(a) != thins(b)) return thins(b);
        return weight(a) > weight(b);
    });
}

}  // namespace

std::vector<Poured> weighed(std::vector<paint::Part> parts, Millilitres volume, Grams division) {
    FW_EXPECTS(!parts.empty());
    FW_EXPECTS(division.value > 0);
    in_pouring_order(parts);
    double all = 0, unthinned = 0, least = parts.front().parts;
    for (const paint::Part& part : parts) {
        all += part.parts;
        if (!thins(part)) unthinned += part.parts;
        least = std::min(least, part.parts);
    }
    FW_EXPECTS(least > 0);
    std::vector<Poured> poured;
    double exact = 0;
    Grams shown;
    for (const paint::Part& part : parts) {
        Poured one;
        one.paint = part.paint;
        one.parts = part.parts / least;
        one.of_mix = Share{part.parts / all};
        one.of_paint = Share{unthinned > 0 ? part.parts / unthinned : 0};
        one.exact = paint::weight_of(*part.paint, Millilitres{volume.value * part.parts / all});
        exact += one.exact.value;
        one.reads = Grams{std::round(exact / division.value) * division.value};
        one.grams = one.reads - shown;
        shown = one.reads;
        one.volume = paint::volume_of(*part.paint, one.grams);
        const double off = std::abs(one.grams.value - one.exact.value) / one.exact.value;
        one.error = std::max(weighing_error(one.exact, division), Share{off});
        poured.push_back(one);
    }
    return poured;
}

bool coarse(std::span<const Poured> poured) {
    return std::any_of(poured.begin(), poured.end(), [](const Poured& p) { return p.is_coarse(); });
}

Millilitres enough_to_weigh(const std::vector<paint::Part>& parts, Steps steps, Grams division) {
    const std::vector<Poured> one = weighed(parts, steps.step, division);
    const auto least = std::min_element(one.begin(), one.end(),
                                        [](const Poured& a, const Poured& b) { return a.exact < b.exact; });
    // From here on a whole division more or less is still good enough.
    const double sure = std::ceil(division.value / kCoarseWeighing.value / least->exact.value);
    for (std::int64_t n = steps.from; n < steps.from + steps.tried && static_cast<double>(n) < sure; ++n) {
        const Millilitres volume = static_cast<double>(n) * steps.step;
        if (!coarse(weighed(parts, volume, division))) return volume;
    }
    return std::max(static_cast<double>(steps.from), sure) * steps.step;
}

}  // namespace fadewright::plan
