// Striping: the sum of pass profiles of the footprint at the spacing of the plan.

#include "fadewright/assess/striping.h"
#include "fadewright/assess/defects.h"
#include "fadewright/film/graininess.h"
#include "fadewright/spray/gun.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace fadewright::assess {
namespace {

constexpr std::size_t kMinPasses = 3;
constexpr double kSameSpacing = 0.01;
constexpr double kSameDirection = 1e-3;  // radians
constexpr int kSamples = 360;            // over one spacing

// Identical straight passes at one spacing.
struct PassTrain {
    spray::PassSegment segment;  // of the first pass; carries scale, tilt and direction
    double offset_mm = 0;        // of the first pass, to the left of its own travel
    double spacing_mm = 0;       // signed, to the left
    double paint_per_mm = 0;     // relative paint per travel of one pass
    std::size_t passes = 0;
    bool asymmetric = false;  // the profile of the pass is not symmetrical
    geometry::Box area{0, 0, 0, 0};
};

bool is_straight_pass(const spray::Pass& pass) {
    return !pass.arc && !pass.smooth && pass.points.size() == 2 && pass.points[0] != pass.points[1] &&
           pass.speeds.empty() && pass.distances.empty() && pass.arc_radius.value == 0 &&
           pass.lead_angle.value == 0;
}

PassTrain pass_train(const spray::Pass& pass, const spray::Gun& gun, const spray::Footprint& footprint) {
    const double x0 = pass.points[0].x.value, y0 = pass.points[0].y.value;
    const double x1 = pass.points[1].x.value, y1 = pass.points[1].y.value;
    const double length = std::hypot(x1 - x0, y1 - y0);
    PassTrain train;
    train.segment.dx = (x1 - x0) / length;
    train.segment.dy = (y1 - y0) / length;
    train.segment.scale = spray::distance_scale(gun, pass.distance);
    train.segment.heel_rad = radians(pass.heel_angle);
    train.offset_mm = y0 * train.segment.dx - x0 * train.segment.dy;
    const Millimetres distance = train.segment.scale * gun.distance;
    train.paint_per_mm = pass.repeats * spray::transfer_efficiency_at(gun, distance).value / pass.speed.value;
    train.passes = 1;
    train.asymmetric =
        train.segment.heel_rad != 0 || std::holds_alternative<spray::MeasuredFootprint>(footprint);
    train.area = {std::min(x0, x1), std::min(y0, y1), std::max(x0, x1), std::max(y0, y1)};
    return train;
}

geometry::Box bounding_box(const geometry::Box& a, const geometry::Box& b) {
    return {std::min(a.x0, b.x0), std::min(a.y0, b.y0), std::max(a.x1, b.x1), std::max(a.y1, b.y1)};
}

// 1 for the same direction, -1 for the opposite, 0 for any other.
int relative_direction(const PassTrain& a, const PassTrain& b) {
    const double sine = a.segment.dx * b.segment.dy - a.segment.dy * b.segment.dx;
    if (std::abs(sine) > kSameDirection) return 0;
    const bool along = a.segment.dx * b.segment.dx + a.segment.dy * b.segment.dy > 0;
    if (!along && (a.asymmetric || b.asymmetric)) return 0;
    return along ? 1 : -1;
}

bool nearly_equal(double a, double b) { return std::abs(a - b) <= 1e-6 * std::abs(a); }

// Adds the pass to the train if it is the next one.
bool extend_train(PassTrain& train, const PassTrain& next) {
    const int direction = relative_direction(train, next);
    if (direction == 0 || !nearly_equal(train.paint_per_mm, next.paint_per_mm) ||
        !nearly_equal(train.segment.scale, next.segment.scale) ||
        train.segment.heel_rad != next.segment.heel_rad)
        return false;
    const double last = train.offset_mm + static_cast<double>(train.passes - 1) * train.spacing_mm;
    const double step = direction * next.offset_mm - last;
    if (std::abs(step) < 1e-6) return false;
    if (train.passes > 1 && std::abs(step - train.spacing_mm) > kSameSpacing * std::abs(train.spacing_mm))
        return false;
    if (train.passes == 1) train.spacing_mm = step;
    ++train.passes;
    train.area = bounding_box(train.area, next.area);
    return true;
}

std::vector<PassTrain> find_trains(const plan::ResolvedCoat& coat) {
    const spray::Footprint& footprint = coat.deposit->footprint();
    std::vector<PassTrain> trains;
    bool open = false;
    for (const spray::Pass& pass : coat.passes) {
        if (!is_straight_pass(pass)) {
            open = false;
            continue;
        }
        const PassTrain next = pass_train(pass, *coat.gun, footprint);
        if (open && extend_train(trains.back(), next)) continue;
        trains.push_back(next);
        open = true;
    }
    std::erase_if(trains, [](const PassTrain& t) { return t.passes < kMinPasses; });
    return trains;
}

// Film of the endless train, `beside` to the left of its first pass, in any scale.
double film_at_offset(const PassTrain& train, const spray::Footprint& footprint, double distance_mm,
                      double offset) {
    const double s = std::abs(train.spacing_mm);
    const double reach =
        std::visit([](const auto& f) { return f.reach_across_mm(); }, footprint) * train.segment.scale;
    const int copies = static_cast<int>(std::ceil((train.segment.heel_rad == 0 ? 1 : 4) * reach / s)) + 1;
    double film = 0;
    for (int k = -copies; k <= copies; ++k) {
        const double across = (offset - k * s) / train.segment.scale;
        film += std::visit(
            [&](const auto& f) {
                const spray::CrossSection section =
                    spray::cross_section(f, train.segment, distance_mm, across);
                return section.slice.profile * section.thinning;
            },
            footprint);
    }
    return train.paint_per_mm * film / train.segment.scale;
}

// Parallel trains at one spacing, summed with their phases.
struct Wave {
    const PassTrain* first;
    std::vector<double> film;  // over one spacing

    [[nodiscard]] double mean() const {
        double sum = 0;
        for (const double f : film) sum += f;
        return sum / static_cast<double>(film.size());
    }
    [[nodiscard]] double half_range() const {
        const auto [low, high] = std::minmax_element(film.begin(), film.end());
        return (*high - *low) / 2;
    }
};

void add_train(const PassTrain& train, const spray::Footprint& footprint, double distance_mm,
               std::vector<Wave>& waves) {
    const auto same = std::find_if(waves.begin(), waves.end(), [&](const Wave& wave) {
        const double s = std::abs(wave.first->spacing_mm);
        return relative_direction(*wave.first, train) != 0 &&
               std::abs(std::abs(train.spacing_mm) - s) <= kSameSpacing * s;
    });
    Wave& wave =
        same != waves.end() ? *same : waves.emplace_back(Wave{&train, std::vector<double>(kSamples)});
    const int direction = relative_direction(*wave.first, train);
    const double s = std::abs(wave.first->spacing_mm);
    for (int i = 0; i < kSamples; ++i) {
        const double offset_mm =
            wave.first->offset_mm + s * i / kSamples;  // to the left of the first's travel
        wave.film[static_cast<std::size_t>(i)] +=
            film_at_offset(train, footprint, distance_mm, direction * offset_mm - train.offset_mm);
    }
}

double area(const geometry::Box& box) {
    return std::max(0.0, box.x1 - box.x0) * std::max(0.0, box.y1 - box.y0);
}

geometry::Box intersection(const geometry::Box& a, const geometry::Box& b) {
    return {std::max(a.x0, b.x0), std::max(a.y0, b.y0), std::min(a.x1, b.x1), std::min(a.y1, b.y1)};
}

bool share_area(const PassTrain& a, const PassTrain& b) {
    return area(intersection(a.area, b.area)) > 0.5 * std::min(area(a.area), area(b.area));
}

Striping train_striping(const std::vector<const PassTrain*>& trains, const spray::Footprint& footprint,
                        double distance_mm) {
    std::vector<Wave> waves;
    for (const PassTrain* train : trains) add_train(*train, footprint, distance_mm, waves);
    Striping out;
    out.area = trains.front()->area;
    double mean = 0, range = 0, strongest = -1;
    for (const Wave& wave : waves) {
        mean += wave.mean();
        range += wave.half_range();
        out.area = intersection(out.area, wave.first->area);
        if (wave.half_range() > strongest) {
            strongest = wave.half_range();
            out.spacing = Millimetres{std::abs(wave.first->spacing_mm)};
        }
    }
    out.half_range = mean > 0 ? range / mean : 0;
    return out;
}

}  // namespace

std::vector<Striping> find_striping(const plan::ResolvedCoat& coat) {
    std::vector<Striping> out;
    if (!coat.deposit || !coat.gun) return out;
    const std::vector<PassTrain> trains = find_trains(coat);
    std::vector<std::vector<const PassTrain*>> groups;
    for (const PassTrain& train : trains) {
        const auto same = std::find_if(groups.begin(), groups.end(),
                                       [&](const auto& group) { return share_area(*group.front(), train); });
        if (same != groups.end()) {
            same->push_back(&train);
        } else {
            groups.push_back({&train});
        }
    }
    for (const auto& group : groups)
        out.push_back(train_striping(group, coat.deposit->footprint(), coat.deposit->distance_mm()));
    return out;
}

double striping_threshold(Millimetres spacing, Millimetres viewing_distance) noexcept {
    const double per_degree = viewing_distance.value * std::numbers::pi / 180 / spacing.value;
    const double best = film::eye_response(per_degree);
    // Broad stripes stay visible as the eye scans over them; fine ones are invisible.
    const double response = per_degree < 5 ? std::max(best, kBroadStripeResponse) : best;
    return kVisibleStriping / std::max(response, 1e-6);
}

}  // namespace fadewright::assess
