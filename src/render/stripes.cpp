// Stripes: sums of the footprint's own passes at the spacing that the plan lays them.

#include "fadewright/film/grain.h"
#include "fadewright/render/faults.h"
#include "fadewright/spray/settings.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace fadewright::render {
namespace {

constexpr std::size_t kFewestPasses = 3;
constexpr double kSameSpacing = 0.01;
constexpr double kSameWay = 1e-3;  // radians
constexpr int kSamples = 360;      // over one spacing

// Straight passes at one spacing, all alike.
struct Train {
    spray::Stroke stroke;   // of the first pass; carries scale, tilt and direction
    double offset_mm = 0;   // of the first pass, to the left of its own travel
    double spacing_mm = 0;  // signed, to the left
    double laid = 0;        // relative paint per travel of one pass
    std::size_t passes = 0;
    bool one_sided = false;  // the pass is not the same to the left as to the right
    spray::Box over{0, 0, 0, 0};
};

bool is_plain(const spray::Pass& pass) {
    return !pass.arc && !pass.smooth && pass.points.size() == 2 && pass.points[0] != pass.points[1] &&
           pass.speeds.empty() && pass.distances.empty() && pass.swing.value == 0 && pass.lean.value == 0;
}

Train train_of(const spray::Pass& pass, const spray::Gun& gun, const spray::Footprint& footprint) {
    const double x0 = pass.points[0].x.value, y0 = pass.points[0].y.value;
    const double x1 = pass.points[1].x.value, y1 = pass.points[1].y.value;
    const double length = std::hypot(x1 - x0, y1 - y0);
    Train train;
    train.stroke.dx = (x1 - x0) / length;
    train.stroke.dy = (y1 - y0) / length;
    train.stroke.scale = spray::distance_scale(gun, pass.distance);
    train.stroke.tilt = pass.tilt.value * std::numbers::pi / 180;
    train.offset_mm = y0 * train.stroke.dx - x0 * train.stroke.dy;
    const Millimetres distance = train.stroke.scale * gun.distance;
    train.laid = pass.repeats * spray::transfer_at(gun, distance).value / pass.speed.value;
    train.passes = 1;
    train.one_sided = train.stroke.tilt != 0 || std::holds_alternative<spray::MeasuredFootprint>(footprint);
    train.over = {std::min(x0, x1), std::min(y0, y1), std::max(x0, x1), std::max(y0, y1)};
    return train;
}

spray::Box joined(const spray::Box& a, const spray::Box& b) {
    return {std::min(a.x0, b.x0), std::min(a.y0, b.y0), std::max(a.x1, b.x1), std::max(a.y1, b.y1)};
}

// 1 the same way, -1 the opposite way, 0 neither.
int same_way(const Train& a, const Train& b) {
    const double sine = a.stroke.dx * b.stroke.dy - a.stroke.dy * b.stroke.dx;
    if (std::abs(sine) > kSameWay) return 0;
    const bool along = a.stroke.dx * b.stroke.dx + a.stroke.dy * b.stroke.dy > 0;
    if (!along && (a.one_sided || b.one_sided)) return 0;
    return along ? 1 : -1;
}

bool alike(double a, double b) { return std::abs(a - b) <= 1e-6 * std::abs(a); }

// Lengthens the train by the pass if it is the next one.
bool takes(Train& train, const Train& next) {
    const int way = same_way(train, next);
    if (way == 0 || !alike(train.laid, next.laid) || !alike(train.stroke.scale, next.stroke.scale) ||
        train.stroke.tilt != next.stroke.tilt)
        return false;
    const double last = train.offset_mm + static_cast<double>(train.passes - 1) * train.spacing_mm;
    const double step = way * next.offset_mm - last;
    if (std::abs(step) < 1e-6) return false;
    if (train.passes > 1 && std::abs(step - train.spacing_mm) > kSameSpacing * std::abs(train.spacing_mm))
        return false;
    if (train.passes == 1) train.spacing_mm = step;
    ++train.passes;
    train.over = joined(train.over, next.over);
    return true;
}

std::vector<Train> trains_of(const plan::ReadyCoat& coat) {
    const spray::Footprint& footprint = coat.deposit->footprint();
    std::vector<Train> trains;
    bool open = false;
    for (const spray::Pass& pass : coat.passes) {
        if (!is_plain(pass)) {
            open = false;
            continue;
        }
        const Train next = train_of(pass, *coat.gun, footprint);
        if (open && takes(trains.back(), next)) continue;
        trains.push_back(next);
        open = true;
    }
    std::erase_if(trains, [](const Train& t) { return t.passes < kFewestPasses; });
    return trains;
}

// Film of the endless train, `beside` to the left of its first pass, in any scale.
double film_beside(const Train& train, const spray::Footprint& footprint, double distance_mm, double beside) {
    const double s = std::abs(train.spacing_mm);
    const double reach =
        std::visit([](const auto& f) { return f.reach_across_mm(); }, footprint) * train.stroke.scale;
    const int far = static_cast<int>(std::ceil((train.stroke.tilt == 0 ? 1 : 4) * reach / s)) + 1;
    double film = 0;
    for (int k = -far; k <= far; ++k) {
        const double across = (beside - k * s) / train.stroke.scale;
        film += std::visit(
            [&](const auto& f) {
                const spray::Beside at = spray::beside(f, train.stroke, distance_mm, across);
                return at.cut.profile * at.thinned;
            },
            footprint);
    }
    return train.laid * film / train.stroke.scale;
}

// Trains that run alike at one spacing, summed with their phases.
struct Wave {
    const Train* first;
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

void add_train(const Train& train, const spray::Footprint& footprint, double distance_mm,
               std::vector<Wave>& waves) {
    const auto same = std::find_if(waves.begin(), waves.end(), [&](const Wave& wave) {
        const double s = std::abs(wave.first->spacing_mm);
        return same_way(*wave.first, train) != 0 &&
               std::abs(std::abs(train.spacing_mm) - s) <= kSameSpacing * s;
    });
    Wave& wave =
        same != waves.end() ? *same : waves.emplace_back(Wave{&train, std::vector<double>(kSamples)});
    const int way = same_way(*wave.first, train);
    const double s = std::abs(wave.first->spacing_mm);
    for (int i = 0; i < kSamples; ++i) {
        const double place = wave.first->offset_mm + s * i / kSamples;  // to the left of the first's travel
        wave.film[static_cast<std::size_t>(i)] +=
            film_beside(train, footprint, distance_mm, way * place - train.offset_mm);
    }
}

double area(const spray::Box& box) { return std::max(0.0, box.x1 - box.x0) * std::max(0.0, box.y1 - box.y0); }

spray::Box shared(const spray::Box& a, const spray::Box& b) {
    return {std::max(a.x0, b.x0), std::max(a.y0, b.y0), std::min(a.x1, b.x1), std::min(a.y1, b.y1)};
}

bool over_the_same_place(const Train& a, const Train& b) {
    return area(shared(a.over, b.over)) > 0.5 * std::min(area(a.over), area(b.over));
}

Stripes stripes_of(const std::vector<const Train*>& trains, const spray::Footprint& footprint,
                   double distance_mm) {
    std::vector<Wave> waves;
    for (const Train* train : trains) add_train(*train, footprint, distance_mm, waves);
    Stripes out;
    out.over = trains.front()->over;
    double mean = 0, range = 0, strongest = -1;
    for (const Wave& wave : waves) {
        mean += wave.mean();
        range += wave.half_range();
        out.over = shared(out.over, wave.first->over);
        if (wave.half_range() > strongest) {
            strongest = wave.half_range();
            out.spacing = Millimetres{std::abs(wave.first->spacing_mm)};
        }
    }
    out.half_range = mean > 0 ? range / mean : 0;
    return out;
}

}  // namespace

std::vector<Stripes> stripes(const plan::ReadyCoat& coat) {
    std::vector<Stripes> out;
    if (!coat.deposit || !coat.gun) return out;
    const std::vector<Train> trains = trains_of(coat);
    std::vector<std::vector<const Train*>> places;
    for (const Train& train : trains) {
        const auto same = std::find_if(places.begin(), places.end(), [&](const auto& place) {
            return over_the_same_place(*place.front(), train);
        });
        if (same != places.end()) {
            same->push_back(&train);
        } else {
            places.push_back({&train});
        }
    }
    for (const auto& place : places)
        out.push_back(stripes_of(place, coat.deposit->footprint(), coat.deposit->distance_mm()));
    return out;
}

double ripple_that_shows(Millimetres spacing, Millimetres viewing_distance) noexcept {
    const double per_degree = viewing_distance.value * std::numbers::pi / 180 / spacing.value;
    const double best = film::eye_response(per_degree);
    // Broad stripes are seen all the same as the eye wanders over them; fine ones are not seen at all.
    const double response = per_degree < 5 ? std::max(best, kBroadStripes) : best;
    return kStripesShow / std::max(response, 1e-6);
}

}  // namespace fadewright::render
