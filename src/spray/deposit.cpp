#include "fadewright/spray/deposit.h"

#include "fadewright/base/contract.h"
#include "fadewright/kernels/puffs_fast.h"
#include "grid_index.h"

#include <algorithm>
#include <limits>

namespace fadewright::spray {
namespace {

bool contains(const geometry::Box& box, double x, double y) noexcept {
    return x >= box.x0 && x <= box.x1 && y >= box.y0 && y <= box.y1;
}

// Bounding box of the finite sides of all boxes.
geometry::Box bounds_of(const std::vector<geometry::Box>& boxes) noexcept {
    constexpr double endless = std::numeric_limits<double>::infinity();
    geometry::Box all{endless, endless, -endless, -endless};
    for (const geometry::Box& b : boxes)
        all = {std::min(all.x0, b.x0), std::min(all.y0, b.y0), std::max(all.x1, b.x1),
               std::max(all.y1, b.y1)};
    constexpr double far_mm = 1e5;
    return {std::max(all.x0, -far_mm), std::max(all.y0, -far_mm), std::min(all.x1, far_mm),
            std::min(all.y1, far_mm)};
}

void add_to(kernels::fast::PuffRows& rows, const Puff& puff) {
    for (std::size_t i = 0; i < 3; ++i) {
        rows.nozzle[i].push_back(puff.nozzle[i]);
        rows.axis[i].push_back(puff.axis[i]);
        rows.across[i].push_back(puff.across[i]);
        rows.along[i].push_back(puff.along[i]);
    }
    rows.landed_volume.push_back(puff.landed_mm3);
}

}  // namespace

struct Deposit::Parts {
    Footprint footprint;
    double distance_mm;
    std::vector<PassSegment> segments;
    std::vector<Puff> puffs;
    std::vector<geometry::Box> segment_boxes;
    GridIndex segment_index;
    kernels::fast::PuffRows puff_rows;
    RunGridIndex puff_index;
    std::shared_ptr<const Relief> relief;
    double min_feature_mm = std::numeric_limits<double>::infinity();
    PaintUse use;
    int passes = 0;

    Parts(const Gun& gun, std::span<const Pass> all, std::shared_ptr<const Relief> relief_surface)
        : footprint(footprint_of(gun)), distance_mm(gun.distance.value), relief(std::move(relief_surface)) {
        if (relief && relief->flat()) relief = nullptr;
        FlattenedPasses pieces;
        for (const Pass& pass : all) {
            const PaintUse pass_use = flatten_pass(gun, pass, pieces);
            use = {use.sprayed + pass_use.sprayed, use.landed + pass_use.landed,
                   use.trigger + pass_use.trigger};
            passes += pass.repeats;
            min_feature_mm = std::min(min_feature_mm, min_width(gun, pass).value);
        }
        for (const Spot& b : pieces.spots) puffs.push_back(puff_of(b, distance_mm));
        for (const PassSegment& s : pieces.segments) {
            if (relief || s.lead_rad != 0) {
                add_puffs(s, footprint, distance_mm, puffs);
            } else {
                segments.push_back(s);
            }
        }
        for (const PassSegment& s : segments) segment_boxes.push_back(reach(footprint, distance_mm, s));
        const double low = relief ? relief->lowest_mm() : 0, high = relief ? relief->highest_mm() : 0;
        std::vector<geometry::Box> puff_boxes;
        for (const Puff& p : puffs) {
            puff_boxes.push_back(reach(footprint, distance_mm, p, low, high));
            add_to(puff_rows, p);
        }
        segment_index = GridIndex(segment_boxes, bounds_of(segment_boxes));
        puff_index = RunGridIndex(puff_boxes, bounds_of(puff_boxes));
    }

    [[nodiscard]] SurfaceSample surface(double x, double y) const noexcept {
        return relief ? relief->at(x, y) : SurfaceSample{};
    }

    template <class F>
    [[nodiscard]] double puffs_at(const F& f, double x, double y) const noexcept {
        const std::span<const RunGridIndex::Run> runs = puff_index.candidates(x, y);
        if (runs.empty()) return 0;
        const SurfaceSample sample = surface(x, y);
        const kernels::fast::PuffTarget target{x, y, sample.height_mm, sample.dz_dx, sample.dz_dy};
        kernels::fast::PuffRays rays;
        kernels::fast::PuffShares shares;
        double film_mm = 0;
        for (const RunGridIndex::Run& run : runs)
            for (std::size_t first = run.first; first < run.end; first += kernels::fast::kPuffBatch) {
                const std::size_t count = std::min(kernels::fast::kPuffBatch, run.end - first);
                kernels::fast::trace_rays(puff_rows, first, count, target, distance_mm, rays);
                f.at(rays, shares);
                film_mm += kernels::fast::sum_deposit(rays, shares);
            }
        return kMicrometresPerMillimetre * film_mm;
    }

    template <class F>
    [[nodiscard]] double segments_at(const F& f, double x, double y) const noexcept {
        double film = 0;
        for (const std::uint32_t i : segment_index.candidates(x, y))
            if (contains(segment_boxes[i], x, y)) film += spray::wet_um(f, segments[i], distance_mm, x, y);
        return film;
    }

    // A horizontal segment crosses the whole row at one distance, and is constant between its ends.
    template <class F>
    void add_level_segment(const F& f, const PassSegment& s, std::span<const double> x, double y,
                           std::span<double> out) const {
        const CrossSection at = cross_section(f, s, distance_mm, to_segment_frame(s, x[0], y).across);
        const double ends = at.slice.half_mm / at.stretch * s.scale;
        const double from = s.dx > 0 ? s.x_mm + ends : s.x_mm - s.length_mm + ends;
        const double to = s.dx > 0 ? s.x_mm + s.length_mm - ends : s.x_mm - ends;
        const bool constant = s.w_start == s.w_end && from < to;
        const auto film_at = [&](double position) {
            return spray::wet_um(f, s, at, to_segment_frame(s, position, y).along);
        };
        const auto first = constant ? std::lower_bound(x.begin(), x.end(), from) : x.end();
        const auto last = constant ? std::upper_bound(first, x.end(), to) : x.end();
        const auto a = static_cast<std::size_t>(first - x.begin()),
                   b = static_cast<std::size_t>(last - x.begin());
        for (std::size_t k = 0; k < a; ++k) out[k] += film_at(x[k]);
        if (a < b) {
            const double constant_film = film_at((from + to) / 2);
            for (std::size_t k = a; k < b; ++k) out[k] += constant_film;
        }
        for (std::size_t k = b; k < x.size(); ++k) out[k] += film_at(x[k]);
    }

    template <class F>
    void add_row(const F& f, std::span<const double> x, double y, std::span<double> out) const {
        for (std::size_t i = 0; i < segments.size(); ++i) {
            const geometry::Box& box = segment_boxes[i];
            if (y < box.y0 || y > box.y1 || x.back() < box.x0 || x.front() > box.x1) continue;
            const PassSegment& s = segments[i];
            const geometry::Interval interval = row_reach(footprint, distance_mm, s, y);
            const auto first = std::lower_bound(x.begin(), x.end(), interval.from);
            const auto last = std::upper_bound(first, x.end(), interval.to);
            if (first == last) continue;
            const auto from = static_cast<std::size_t>(first - x.begin());
            const auto count = static_cast<std::size_t>(last - first);
            const auto positions = x.subspan(from, count);
            const auto films = out.subspan(from, count);
            if (s.dy == 0) {
                add_level_segment(f, s, positions, y, films);
            } else {
                for (std::size_t k = 0; k < count; ++k)
                    films[k] += spray::wet_um(f, s, distance_mm, positions[k], y);
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
        [&](const auto& f) { return parts_->segments_at(f, x_mm, y_mm) + parts_->puffs_at(f, x_mm, y_mm); },
        parts_->footprint);
}

void Deposit::add_wet_um(std::span<const double> x_mm, double y_mm, std::span<double> out) const {
    FW_EXPECTS(x_mm.size() == out.size());
    FW_EXPECTS(std::is_sorted(x_mm.begin(), x_mm.end()));
    if (x_mm.empty()) return;
    std::visit([&](const auto& f) { parts_->add_row(f, x_mm, y_mm, out); }, parts_->footprint);
}

Millilitres Deposit::sprayed_volume() const noexcept { return parts_->use.sprayed; }
Millilitres Deposit::landed_on_infinite_plane() const noexcept { return parts_->use.landed; }
Seconds Deposit::trigger_time() const noexcept { return parts_->use.trigger; }
int Deposit::passes() const noexcept { return parts_->passes; }
const Footprint& Deposit::footprint() const noexcept { return parts_->footprint; }
double Deposit::distance_mm() const noexcept { return parts_->distance_mm; }
const std::vector<PassSegment>& Deposit::segments() const noexcept { return parts_->segments; }
const std::vector<Puff>& Deposit::puffs() const noexcept { return parts_->puffs; }
double Deposit::min_feature_mm() const noexcept { return parts_->min_feature_mm; }

}  // namespace fadewright::spray
