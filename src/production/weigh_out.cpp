#include "fadewright/production/weigh_out.h"

#include "fadewright/base/contract.h"
#include "fadewright/plan/mix_resolver.h"
#include "fadewright/production/coverage.h"

#include <algorithm>
#include <cmath>

namespace fadewright::production {
namespace {

double weight(const paint::Part& part) { return part.parts * part.paint->wet_density.value; }

// The largest part first; reducer last, when the consistency of the paint can be judged.
void sort_for_pouring(std::vector<paint::Part>& parts) {
    std::stable_sort(parts.begin(), parts.end(), [](const paint::Part& a, const paint::Part& b) {
        if (plan::is_reducer(a) != plan::is_reducer(b)) return plan::is_reducer(b);
        return weight(a) > weight(b);
    });
}

}  // namespace

std::vector<RecipeLine> weigh_out(std::vector<paint::Part> parts, Millilitres volume, Grams division) {
    FW_EXPECTS(!parts.empty());
    FW_EXPECTS(division.value > 0);
    sort_for_pouring(parts);
    double all = 0, unreduced = 0, smallest = parts.front().parts;
    for (const paint::Part& part : parts) {
        all += part.parts;
        if (!plan::is_reducer(part)) unreduced += part.parts;
        smallest = std::min(smallest, part.parts);
    }
    FW_EXPECTS(smallest > 0);
    std::vector<RecipeLine> recipe;
    double exact = 0;
    Grams shown;
    for (const paint::Part& part : parts) {
        RecipeLine line;
        line.paint = part.paint;
        line.parts = part.parts / smallest;
        line.share_of_mix = Share{part.parts / all};
        line.share_of_paint = Share{unreduced > 0 ? part.parts / unreduced : 0};
        line.exact = paint::weight_of(*part.paint, Millilitres{volume.value * part.parts / all});
        exact += line.exact.value;
        line.scale_reading = Grams{std::round(exact / division.value) * division.value};
        line.grams = line.scale_reading - shown;
        shown = line.scale_reading;
        line.volume = paint::volume_of(*part.paint, line.grams);
        const double deviation = std::abs(line.grams.value - line.exact.value) / line.exact.value;
        line.error = std::max(weighing_error(line.exact, division), Share{deviation});
        recipe.push_back(line);
    }
    return recipe;
}

bool has_coarse_weighing(std::span<const RecipeLine> recipe) {
    return std::any_of(recipe.begin(), recipe.end(), [](const RecipeLine& p) { return p.is_coarse(); });
}

Millilitres smallest_weighable_batch(const std::vector<paint::Part>& parts, BatchSteps steps,
                                     Grams division) {
    const std::vector<RecipeLine> line = weigh_out(parts, steps.step, division);
    const auto smallest = std::min_element(
        line.begin(), line.end(), [](const RecipeLine& a, const RecipeLine& b) { return a.exact < b.exact; });
    // From here on an error of a whole scale division is small enough.
    const double sufficient = std::ceil(division.value / kCoarseWeighing.value / smallest->exact.value);
    for (std::int64_t n = steps.min_steps;
         n < steps.min_steps + steps.max_tried && static_cast<double>(n) < sufficient; ++n) {
        const Millilitres volume = static_cast<double>(n) * steps.step;
        if (!has_coarse_weighing(weigh_out(parts, volume, division))) return volume;
    }
    return std::max(static_cast<double>(steps.min_steps), sufficient) * steps.step;
}

}  // namespace fadewright::production
