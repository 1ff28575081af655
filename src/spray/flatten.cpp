#include "fadewright/spray/flatten.h"

#include "fadewright/base/contract.h"
#include "fadewright/geometry/polyline.h"
#include "fadewright/spray/gun.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace fadewright::spray {
namespace {

constexpr double kSecondsPerMinute = 60;
constexpr double kCubicMillimetresPerMillilitre = 1000;
constexpr int kRampPieces = 12;
constexpr double kMinSegment_mm = 1e-9;

// Trigger opening along the path: 0 closed, 1 open.
class Trigger {
public:
    Trigger(double opening_start, double closing_end, double on_mm, double off_mm)
        : opening_start_(opening_start),
          closing_end_(std::max(opening_start, closing_end)),
          on_(std::max(0.0, on_mm)),
          off_(std::max(0.0, off_mm)) {
        const double length = closing_end_ - opening_start_;
        const bool ramps_overlap = on_ + off_ > length;
        opening_end_ = opening_start_ + (ramps_overlap ? length * on_ / (on_ + off_) : on_);
        closing_start_ = ramps_overlap ? opening_end_ : closing_end_ - off_;
    }

    [[nodiscard]] double opening_start() const { return opening_start_; }
    [[nodiscard]] double closing_end() const { return closing_end_; }
    // Where the first ramp ends and the second begins.
    [[nodiscard]] double opening_end() const { return opening_end_; }
    [[nodiscard]] double closing_start() const { return closing_start_; }

    // Between trigger_on and trigger_off; a trigger without a feather is open at the very end of the path.
    [[nodiscard]] double opening_at(double s) const {
        double opening = 1;
        if (on_ > 0) opening = std::min(opening, (s - opening_start_) / on_);
        if (off_ > 0) opening = std::min(opening, (closing_end_ - s) / off_);
        return std::max(0.0, opening);
    }

private:
    double opening_start_, closing_end_;
    double on_, off_;
    double opening_end_, closing_start_;
};

// Values given at the path's points, linear between them.
class PiecewiseLinear {
public:
    PiecewiseLinear(std::vector<double> at, std::vector<double> values)
        : positions_(std::move(at)), values_(std::move(values)) {}

    [[nodiscard]] bool is_constant() const { return values_.size() < 2; }
    [[nodiscard]] double operator()(double s) const {
        if (is_constant() || s <= positions_.front()) return values_.front();
        if (s >= positions_.back()) return values_.back();
        const auto next = std::upper_bound(positions_.begin(), positions_.end(), s);
        const auto i = static_cast<std::size_t>(next - positions_.begin());
        const double t = (s - positions_[i - 1]) / (positions_[i] - positions_[i - 1]);
        return values_[i - 1] + t * (values_[i] - values_[i - 1]);
    }
    // Adds points between which the value changes by no more than a share of itself.
    void add_breaks(double max_change, std::vector<double>& breaks) const {
        if (is_constant()) return;
        for (std::size_t i = 1; i < positions_.size(); ++i) {
            const double ratio = std::abs(std::log(values_[i] / values_[i - 1]));
            const int pieces = 1 + static_cast<int>(ratio / max_change);
            for (int k = 0; k <= pieces; ++k)
                breaks.push_back(positions_[i - 1] + (positions_[i] - positions_[i - 1]) * k / pieces);
        }
    }

private:
    std::vector<double> positions_;
    std::vector<double> values_;
};

// The path of a pass, with speed, distance and trigger at every point.
class PassFlattener {
public:
    PassFlattener(const Gun& gun, const Pass& pass, geometry::Polyline polyline)
        : gun_(gun),
          pass_(pass),
          polyline_(std::move(polyline)),
          trigger_(0, 0, 0, 0),
          speed_({}, {}),
          distance_({}, {}) {
        const std::vector<double> point_lengths = lengths();
        const double overrun = std::max(0.0, pass.overrun.value);
        extend(overrun);
        path_lengths_ = lengths();
        end_ = path_lengths_.back();
        std::vector<double> positions;
        for (const std::size_t i : polyline_.point_index) positions.push_back(overrun + point_lengths[i]);
        const double first = positions.front(), last = positions.back();
        trigger_ = Trigger(std::clamp(pass.trigger_on ? first + pass.trigger_on->value : 0, 0.0, end_),
                           std::clamp(pass.trigger_off ? last + pass.trigger_off->value : end_, 0.0, end_),
                           pass.feather_on.value, pass.feather_off.value);
        std::vector<double> speeds, distances;
        for (const auto& v : pass.speeds) speeds.push_back(v.value);
        for (const auto& d : pass.distances) distances.push_back(d.value);
        FW_EXPECTS(speeds.empty() || speeds.size() == positions.size());
        FW_EXPECTS(distances.empty() || distances.size() == positions.size());
        if (speeds.empty()) speeds = {pass.speed.value};
        if (distances.empty()) distances = {distance_scale(gun, pass.distance) * gun.distance.value};
        for (const double v : speeds) FW_EXPECTS(v > 0);
        speed_ = PiecewiseLinear(positions, speeds);
        distance_ = PiecewiseLinear(positions, distances);
    }

    // Adds the segments, all repeats in one.
    PaintUse add_to(FlattenedPasses& pieces) const {
        PaintUse use;
        const std::vector<double> breaks = all_breaks();
        for (std::size_t i = 1; i < breaks.size(); ++i) {
            const double a = breaks[i - 1], b = breaks[i];
            if (b - a > kMinSegment_mm) add_segment(a, b, pieces, use);
        }
        return use;
    }

private:
    [[nodiscard]] std::vector<double> lengths() const {
        std::vector<double> at{0};
        for (std::size_t i = 1; i < polyline_.x_mm.size(); ++i)
            at.push_back(at.back() + std::hypot(polyline_.x_mm[i] - polyline_.x_mm[i - 1],
                                                polyline_.y_mm[i] - polyline_.y_mm[i - 1]));
        return at;
    }

    // Extends both ends straight.
    void extend(double overrun) {
        if (overrun <= 0) return;
        const auto beyond = [overrun](std::vector<double>& v, std::size_t end, std::size_t inner,
                                      double length) { v[end] += overrun / length * (v[end] - v[inner]); };
        const std::size_t last = polyline_.x_mm.size() - 1;
        const auto length = [&](std::size_t i, std::size_t j) {
            return std::hypot(polyline_.x_mm[i] - polyline_.x_mm[j], polyline_.y_mm[i] - polyline_.y_mm[j]);
        };
        const double first_mm = length(0, 1), last_mm = length(last, last - 1);
        const double x0 = polyline_.x_mm[0], y0 = polyline_.y_mm[0];
        beyond(polyline_.x_mm, 0, 1, first_mm);
        beyond(polyline_.y_mm, 0, 1, first_mm);
        if (last == 1) {
            polyline_.x_mm[1] += overrun / last_mm * (polyline_.x_mm[1] - x0);
            polyline_.y_mm[1] += overrun / last_mm * (polyline_.y_mm[1] - y0);
        } else {
            beyond(polyline_.x_mm, last, last - 1, last_mm);
            beyond(polyline_.y_mm, last, last - 1, last_mm);
        }
    }

    [[nodiscard]] std::vector<double> all_breaks() const {
        std::vector<double> breaks(path_lengths_);
        breaks.insert(breaks.end(), {trigger_.opening_start(), trigger_.opening_end(),
                                     trigger_.closing_start(), trigger_.closing_end()});
        speed_.add_breaks(kMaxSpeedChange, breaks);
        distance_.add_breaks(kMaxDistanceChange, breaks);
        // Towards a standstill the time goes as the root of the path length: shorter steps there.
        for (int i = 0; i <= kRampPieces; ++i) {
            const double share = static_cast<double>(i * i) / (kRampPieces * kRampPieces);
            if (pass_.run_up.value > 0) breaks.push_back(share * pass_.run_up.value);
            if (pass_.run_down.value > 0) breaks.push_back(end_ - share * pass_.run_down.value);
        }
        if (pass_.arc_radius.value > 0) {
            const double reach = pass_.arc_radius.value + distance_(end_ / 2);
            const int steps =
                static_cast<int>(std::ceil(std::atan(end_ / 2 / reach) / geometry::kMaxTurn_rad));
            for (int i = -steps; i <= steps; ++i)
                breaks.push_back(end_ / 2 + reach * std::tan(geometry::kMaxTurn_rad * i));
        }
        for (double& s : breaks) s = std::clamp(s, trigger_.opening_start(), trigger_.closing_end());
        std::sort(breaks.begin(), breaks.end());
        return breaks;
    }

    // Seconds for the path from a to b.
    [[nodiscard]] double seconds(double a, double b) const {
        double time = (b - a) / speed_((a + b) / 2);
        if (!speed_.is_constant()) {
            const double va = speed_(a), vb = speed_(b);
            if (va != vb) time = (b - a) * std::log(vb / va) / (vb - va);
        }
        const double ramped =
            ramp_time(a, b, pass_.run_up.value) + ramp_time(end_ - b, end_ - a, pass_.run_down.value);
        return time * (1 + ramped / (b - a));
    }

    // Extra time that uniform acceleration over a ramp takes between a and b, as path length at full speed.
    [[nodiscard]] static double ramp_time(double a, double b, double ramp) {
        if (ramp <= 0 || a >= ramp) return 0;
        const double end = std::min(b, ramp);
        return 2 * std::sqrt(ramp) * (std::sqrt(end) - std::sqrt(std::max(0.0, a))) - (end - a);
    }

    // Inverse of the speed at a point of the path; 0 at a standstill.
    [[nodiscard]] double slowness(double s) const {
        double share = 1;
        if (pass_.run_up.value > 0) share *= std::sqrt(std::clamp(s / pass_.run_up.value, 0.0, 1.0));
        if (pass_.run_down.value > 0)
            share *= std::sqrt(std::clamp((end_ - s) / pass_.run_down.value, 0.0, 1.0));
        return share > 0 ? 1 / (speed_(s) * share) : 0;
    }

    void add_segment(double a, double b, FlattenedPasses& pieces, PaintUse& use) const {
        const double middle = (a + b) / 2;
        const auto next = std::upper_bound(path_lengths_.begin(), path_lengths_.end(), middle);
        const std::size_t edge =
            std::min(static_cast<std::size_t>(next - path_lengths_.begin()), path_lengths_.size() - 1) - 1;
        const double edge_mm = path_lengths_[edge + 1] - path_lengths_[edge];
        PassSegment s;
        s.dx = (polyline_.x_mm[edge + 1] - polyline_.x_mm[edge]) / edge_mm;
        s.dy = (polyline_.y_mm[edge + 1] - polyline_.y_mm[edge]) / edge_mm;
        s.x_mm = polyline_.x_mm[edge] + (a - path_lengths_[edge]) * s.dx;
        s.y_mm = polyline_.y_mm[edge] + (a - path_lengths_[edge]) * s.dy;
        s.length_mm = b - a;
        double distance = distance_(middle);
        s.heel_rad = radians(pass_.heel_angle);
        s.lead_rad = radians(pass_.lead_angle);
        if (pass_.arc_radius.value > 0) {
            const double reach = pass_.arc_radius.value + distance;
            const double angle = std::atan((middle - end_ / 2) / reach);
            distance = reach / std::cos(angle) - pass_.arc_radius.value;
            s.lead_rad += angle;
        }
        s.scale = distance_scale(gun_, Millimetres{distance});
        const double efficiency = transfer_efficiency_at(gun_, Millimetres{distance}).value;
        const double time = pass_.repeats * seconds(a, b);
        const double flow = gun_.flow.value * kCubicMillimetresPerMillilitre / kSecondsPerMinute;
        const double slowness_a = slowness(a), slowness_b = slowness(b);
        const bool standstill = slowness_a == 0 || slowness_b == 0;  // then uniform over the short path
        const double share_a = standstill ? 1 : 2 * slowness_a / (slowness_a + slowness_b);
        const double rate_a = flow * time / s.length_mm * share_a * trigger_.opening_at(a);
        const double rate_b = flow * time / s.length_mm * (2 - share_a) * trigger_.opening_at(b);
        const double sprayed_mm3 = (rate_a + rate_b) / 2 * s.length_mm;
        s.w_start = efficiency * rate_a;
        s.w_end = efficiency * rate_b;
        pieces.segments.push_back(s);
        use.sprayed = use.sprayed + Millilitres{sprayed_mm3 / kCubicMillimetresPerMillilitre};
        use.landed = use.landed + Millilitres{efficiency * sprayed_mm3 / kCubicMillimetresPerMillilitre};
        use.trigger = use.trigger + Seconds{time};
    }

    const Gun& gun_;
    const Pass& pass_;
    geometry::Polyline polyline_;
    std::vector<double> path_lengths_;  // path length to every corner of the polyline
    double end_ = 0;
    Trigger trigger_;
    PiecewiseLinear speed_, distance_;
};

geometry::Polyline polyline_of(const Pass& pass) {
    if (pass.arc) return geometry::arc_polyline(*pass.arc);
    FW_EXPECTS(!pass.points.empty());
    return pass.smooth ? geometry::smooth_polyline(pass.points) : geometry::straight_polyline(pass.points);
}

PaintUse add_spot(const Gun& gun, const Pass& pass, const geometry::Polyline& polyline,
                  FlattenedPasses& pieces) {
    const double seconds = pass.repeats * pass.dwell.value;
    const Millilitres sprayed = Millilitres{gun.flow.value / kSecondsPerMinute * seconds};
    const double distance = pass.distances.empty() ? distance_scale(gun, pass.distance) * gun.distance.value
                                                   : pass.distances.front().value;
    const double efficiency = transfer_efficiency_at(gun, Millimetres{distance}).value;
    const double fan_angle = radians(pass.fan_angle);
    pieces.spots.push_back({polyline.x_mm[0], polyline.y_mm[0], std::cos(fan_angle), std::sin(fan_angle),
                            distance_scale(gun, Millimetres{distance}), radians(pass.heel_angle),
                            radians(pass.lead_angle),
                            efficiency * sprayed.value * kCubicMillimetresPerMillilitre});
    return {sprayed, efficiency * sprayed, Seconds{seconds}};
}

}  // namespace

PaintUse flatten_pass(const Gun& gun, const Pass& pass, FlattenedPasses& pieces) {
    FW_EXPECTS(pass.repeats >= 0);
    geometry::Polyline polyline = polyline_of(pass);
    if (polyline.x_mm.size() < 2) return add_spot(gun, pass, polyline, pieces);
    return PassFlattener(gun, pass, std::move(polyline)).add_to(pieces);
}

}  // namespace fadewright::spray
