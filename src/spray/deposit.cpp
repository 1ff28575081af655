#include "fadewright/spray/deposit.h"

#include "bins.h"
#include "fadewright/base/contract.h"
#include "fadewright/kernels/quick_puffs.h"

#include <algorithm>
#include <limits>

namespace fadewright::spray {
namespace {

bool holds(const Box& box, double x, double y) noexcept {
    return x >= box.x0 && x <= box.x1 && y >= box.y0 && y <= box.y1;
}

// Round the finite sides of all boxes.
Box around(const std::vector<Box>& boxes) noexcept {
    constexpr double endless = std::numeric_limits<double>::infinity();
    Box all{endless, endless, -endless, -endless};
    for (const Box& b : boxes)
        all = {std::min(all.x0, b.x0), std::min(all.y0, b.y0), std::max(all.x1, b.x1),
               std::max(all.y1, b.y1)};
    constexpr double far_mm = 1e5;
    return {std::max(all.x0, -far_mm), std::max(all.y0, -far_mm), std::min(all.x1, far_mm),
            std::min(all.y1, far_mm)};
}

void add_to(kernels::quick::PuffRows& rows, const Puff& puff) {
    for (std::size_t i = 0; i < 3; ++i) {
        rows.nozzle[i].push_back(puff.nozzle[i]);
        rows.axis[i].push_back(puff.axis[i]);
        rows.across[i].push_back(puff.across[i]);
        rows.along[i].push_back(puff.along[i]);
    }
    rows.landed.push_back(puff.landed_mm3);
}

}  // namespace

struct Deposit::Parts {
    Footprint footprint;
    double distance_mm;
    std::vector<Stroke> strokes;
    std::vector<Puff> puffs;
    std::vector<Box> stroke_boxes;
    Bins stroke_bins;
    kernels::quick::PuffRows puff_rows;
    RunBins puff_bins;
    std::shared_ptr<const Relief> relief;
    double finest_mm = std::numeric_limits<double>::infinity();
    Used used;
    int passes = 0;

    Parts(const Gun& gun, std::span<const Pass> all, std::shared_ptr<const Relief> form)
        : footprint(footprint_of(gun)), distance_mm(gun.distance.value), relief(std::move(form)) {
        if (relief && relief->flat()) relief = nullptr;
        Strokes pieces;
        for (const Pass& pass : all) {
            const Used one = add_strokes(gun, pass, pieces);
            used = {used.sprayed + one.sprayed, used.landed + one.landed, used.trigger + one.trigger};
            passes += pass.repeats;
            finest_mm = std::min(finest_mm, finest_width(gun, pass).value);
        }
        for (const Burst& b : pieces.bursts) puffs.push_back(puff_of(b, distance_mm));
        for (const Stroke& s : pieces.strokes) {
            if (relief || s.lean != 0) {
                add_puffs(s, footprint, distance_mm, puffs);
            } else {
                strokes.push_back(s);
            }
        }
        for (const Stroke& s : strokes) stroke_boxes.push_back(reach(footprint, distance_mm, s));
        const double low = relief ? relief->lowest_mm() : 0, high = relief ? relief->highest_mm() : 0;
        std::vector<Box> puff_boxes;
        for (const Puff& p : puffs) {
            puff_boxes.push_back(reach(footprint, distance_mm, p, low, high));
            add_to(puff_rows, p);
        }
        stroke_bins = Bins(stroke_boxes, around(stroke_boxes));
        puff_bins = RunBins(puff_boxes, around(puff_boxes));
    }

    [[nodiscard]] Slope surface(double x, double y) const noexcept {
        return relief ? relief->at(x, y) : Slope{};
    }

    template <class F>
    [[nodiscard]] double puffs_at(const F& f, double x, double y) const noexcept {
        const std::span<const RunBins::Run> near = puff_bins.near(x, y);
        if (near.empty()) return 0;
        const Slope here = surface(x, y);
        const kernels::quick::PuffTarget target{x, y, here.height_mm, here.dz_dx, here.dz_dy};
        kernels::quick::PuffRays rays;
        kernels::quick::PuffShares shares;
        double film_mm = 0;
        for (const RunBins::Run& run : near)
            for (std::size_t first = run.first; first < run.end; first += kernels::quick::kPuffsAtOnce) {
                const std::size_t count = std::min(kernels::quick::kPuffsAtOnce, run.end - first);
                kernels::quick::rays(puff_rows, first, count, target, distance_mm, rays);
                f.at(rays, shares);
                film_mm += kernels::quick::laid(rays, shares);
            }
        return kMicrometresPerMillimetre * film_mm;
    }

    template <class F>
    [[nodiscard]] double strokes_at(const F& f, double x, double y) const noexcept {
        double film = 0;
        for (const std::uint32_t i : stroke_bins.near(x, y))
            if (holds(stroke_boxes[i], x, y)) film += spray::wet_um(f, strokes[i], distance_mm, x, y);
        return film;
    }

    // A level stroke crosses the whole row at one distance, and between its ends lays the same all along.
    template <class F>
    void add_level(const F& f, const Stroke& s, std::span<const double> x, double y,
                   std::span<double> out) const {
        const Beside at = beside(f, s, distance_mm, alongside(s, x[0], y).across);
        const double ends = at.cut.half_mm / at.stretch * s.scale;
        const double from = s.dx > 0 ? s.x_mm + ends : s.x_mm - s.length_mm + ends;
        const double to = s.dx > 0 ? s.x_mm + s.length_mm - ends : s.x_mm - ends;
        const bool even = s.w_start == s.w_end && from < to;
        const auto film_at = [&](double place) {
            return spray::wet_um(f, s, at, alongside(s, place, y).along);
        };
        const auto first = even ? std::lower_bound(x.begin(), x.end(), from) : x.end();
        const auto last = even ? std::upper_bound(first, x.end(), to) : x.end();
        const auto a = static_cast<std::size_t>(first - x.begin()),
                   b = static_cast<std::size_t>(last - x.begin());
        for (std::size_t k = 0; k < a; ++k) out[k] += film_at(x[k]);
        if (a < b) {
            const double same = film_at((from + to) / 2);
            for (std::size_t k = a; k < b; ++k) out[k] += same;
        }
        for (std::size_t k = b; k < x.size(); ++k) out[k] += film_at(x[k]);
    }

    template <class F>
    void add_row(const F& f, std::span<const double> x, double y, std::span<double> out) const {
        for (std::size_t i = 0; i < strokes.size(); ++i) {
            const Box& box = stroke_boxes[i];
            if (y < box.y0 || y > box.y1 || x.back() < box.x0 || x.front() > box.x1) continue;
            const Stroke& s = strokes[i];
            const Interval reached = row_reach(footprint, distance_mm, s, y);
            const auto first = std::lower_bound(x.begin(), x.end(), reached.from);
            const auto last = std::upper_bound(first, x.end(), reached.to);
            if (first == last) continue;
            const auto from = static_cast<std::size_t>(first - x.begin());
            const auto count = static_cast<std::size_t>(last - first);
            const auto places = x.subspan(from, count);
            const auto films = out.subspan(from, count);
            if (s.dy == 0) {
                add_level(f, s, places, y, films);
            } else {
                for (std::size_t k = 0; k < count; ++k)
                    films[k] += spray::wet_um(f, s, distance_mm, places[k], y);
            }
        }
        if (puffs.empty()) return;
        for (std::size_t k = 0; k < x.size(); ++k) out[k] += puffs_at(f, x[k], y);
    }
};

Deposit::Deposit(const Gun& gun, std::span<const Pass> passes, std::shared_ptr<const Relief> relief)
    : parts_(std::make_shared<const Parts>(gun, passes, std::move(relief))) {}

double Deposit::wet_um(double x_mm, double y_mm) const noexcept {
    return std::visit(
        [&](const auto& f) { return parts_->strokes_at(f, x_mm, y_mm) + parts_->puffs_at(f, x_mm, y_mm); },
        parts_->footprint);
}

void Deposit::add_wet_um(std::span<const double> x_mm, double y_mm, std::span<double> out) const {
    FW_EXPECTS(x_mm.size() == out.size());
    FW_EXPECTS(std::is_sorted(x_mm.begin(), x_mm.end()));
    if (x_mm.empty()) return;
    std::visit([&](const auto& f) { parts_->add_row(f, x_mm, y_mm, out); }, parts_->footprint);
}

Millilitres Deposit::sprayed() const noexcept { return parts_->used.sprayed; }
Millilitres Deposit::landed_endless() const noexcept { return parts_->used.landed; }
Seconds Deposit::trigger_time() const noexcept { return parts_->used.trigger; }
int Deposit::passes() const noexcept { return parts_->passes; }
const Footprint& Deposit::footprint() const noexcept { return parts_->footprint; }
double Deposit::distance_mm() const noexcept { return parts_->distance_mm; }
const std::vector<Stroke>& Deposit::strokes() const noexcept { return parts_->strokes; }
const std::vector<Puff>& Deposit::puffs() const noexcept { return parts_->puffs; }
double Deposit::finest_mm() const noexcept { return parts_->finest_mm; }

}  // namespace fadewright::spray
