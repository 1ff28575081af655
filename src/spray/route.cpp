#include "fadewright/spray/route.h"

#include "fadewright/base/contract.h"
#include "fadewright/spray/curve.h"
#include "fadewright/spray/settings.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace fadewright::spray {
namespace {

constexpr double kSecondsPerMinute = 60;
constexpr double kCubicMillimetresPerMillilitre = 1000;
constexpr int kRampPieces = 12;
constexpr double kShortest_mm = 1e-9;

double radians(Degrees angle) noexcept { return angle.value * std::numbers::pi / 180; }

// The trigger between two places of the path: 0 shut, 1 open.
class Trigger {
public:
    Trigger(double opens, double closes, double on_mm, double off_mm)
        : opens_(opens),
          closes_(std::max(opens, closes)),
          on_(std::max(0.0, on_mm)),
          off_(std::max(0.0, off_mm)) {
        const double length = closes_ - opens_;
        const bool meets = on_ + off_ > length;
        opened_ = opens_ + (meets ? length * on_ / (on_ + off_) : on_);
        closing_ = meets ? opened_ : closes_ - off_;
    }

    [[nodiscard]] double opens() const { return opens_; }
    [[nodiscard]] double closes() const { return closes_; }
    // Where the first ramp ends and the second begins.
    [[nodiscard]] double opened() const { return opened_; }
    [[nodiscard]] double closing() const { return closing_; }

    // Between opens and closes; a trigger without a feather is open at the very end of the path.
    [[nodiscard]] double open_at(double s) const {
        double open = 1;
        if (on_ > 0) open = std::min(open, (s - opens_) / on_);
        if (off_ > 0) open = std::min(open, (closes_ - s) / off_);
        return std::max(0.0, open);
    }

private:
    double opens_, closes_;
    double on_, off_;
    double opened_, closing_;
};

// Values given at the path's places, straight between them.
class Along {
public:
    Along(std::vector<double> at, std::vector<double> values)
        : at_(std::move(at)), values_(std::move(values)) {}

    [[nodiscard]] bool even() const { return values_.size() < 2; }
    [[nodiscard]] double operator()(double s) const {
        if (even() || s <= at_.front()) return values_.front();
        if (s >= at_.back()) return values_.back();
        const auto next = std::upper_bound(at_.begin(), at_.end(), s);
        const auto i = static_cast<std::size_t>(next - at_.begin());
        const double t = (s - at_[i - 1]) / (at_[i] - at_[i - 1]);
        return values_[i - 1] + t * (values_[i] - values_[i - 1]);
    }
    // Adds places between which the value changes by no more than a share of itself.
    void add_breaks(double most_change, std::vector<double>& breaks) const {
        if (even()) return;
        for (std::size_t i = 1; i < at_.size(); ++i) {
            const double ratio = std::abs(std::log(values_[i] / values_[i - 1]));
            const int pieces = 1 + static_cast<int>(ratio / most_change);
            for (int k = 0; k <= pieces; ++k)
                breaks.push_back(at_[i - 1] + (at_[i] - at_[i - 1]) * k / pieces);
        }
    }

private:
    std::vector<double> at_;
    std::vector<double> values_;
};

// The path of a pass, with what the hand does at every place of it.
class Route {
public:
    Route(const Gun& gun, const Pass& pass, Polyline line)
        : gun_(gun),
          pass_(pass),
          line_(std::move(line)),
          trigger_(0, 0, 0, 0),
          speed_({}, {}),
          distance_({}, {}) {
        const std::vector<double> own = lengths();
        const double over = std::max(0.0, pass.overrun.value);
        extend(over);
        at_ = lengths();
        end_ = at_.back();
        std::vector<double> places;
        for (const std::size_t i : line_.places) places.push_back(over + own[i]);
        const double first = places.front(), last = places.back();
        trigger_ = Trigger(std::clamp(pass.opens ? first + pass.opens->value : 0, 0.0, end_),
                           std::clamp(pass.closes ? last + pass.closes->value : end_, 0.0, end_),
                           pass.feather_on.value, pass.feather_off.value);
        std::vector<double> speeds, distances;
        for (const auto& v : pass.speeds) speeds.push_back(v.value);
        for (const auto& d : pass.distances) distances.push_back(d.value);
        FW_EXPECTS(speeds.empty() || speeds.size() == places.size());
        FW_EXPECTS(distances.empty() || distances.size() == places.size());
        if (speeds.empty()) speeds = {pass.speed.value};
        if (distances.empty()) distances = {distance_scale(gun, pass.distance) * gun.distance.value};
        for (const double v : speeds) FW_EXPECTS(v > 0);
        speed_ = Along(places, speeds);
        distance_ = Along(places, distances);
    }

    // Adds the strokes, all repeats in one.
    Used add_to(Strokes& pieces) const {
        Used used;
        const std::vector<double> breaks = all_breaks();
        for (std::size_t i = 1; i < breaks.size(); ++i) {
            const double a = breaks[i - 1], b = breaks[i];
            if (b - a > kShortest_mm) add_stroke(a, b, pieces, used);
        }
        return used;
    }

private:
    [[nodiscard]] std::vector<double> lengths() const {
        std::vector<double> at{0};
        for (std::size_t i = 1; i < line_.x_mm.size(); ++i)
            at.push_back(at.back() +
                         std::hypot(line_.x_mm[i] - line_.x_mm[i - 1], line_.y_mm[i] - line_.y_mm[i - 1]));
        return at;
    }

    // Carries both ends straight on.
    void extend(double over) {
        if (over <= 0) return;
        const auto beyond = [over](std::vector<double>& v, std::size_t end, std::size_t inner,
                                   double length) { v[end] += over / length * (v[end] - v[inner]); };
        const std::size_t last = line_.x_mm.size() - 1;
        const auto length = [&](std::size_t i, std::size_t j) {
            return std::hypot(line_.x_mm[i] - line_.x_mm[j], line_.y_mm[i] - line_.y_mm[j]);
        };
        const double first_mm = length(0, 1), last_mm = length(last, last - 1);
        const double x0 = line_.x_mm[0], y0 = line_.y_mm[0];
        beyond(line_.x_mm, 0, 1, first_mm);
        beyond(line_.y_mm, 0, 1, first_mm);
        if (last == 1) {
            line_.x_mm[1] += over / last_mm * (line_.x_mm[1] - x0);
            line_.y_mm[1] += over / last_mm * (line_.y_mm[1] - y0);
        } else {
            beyond(line_.x_mm, last, last - 1, last_mm);
            beyond(line_.y_mm, last, last - 1, last_mm);
        }
    }

    [[nodiscard]] std::vector<double> all_breaks() const {
        std::vector<double> breaks(at_);
        breaks.insert(breaks.end(),
                      {trigger_.opens(), trigger_.opened(), trigger_.closing(), trigger_.closes()});
        speed_.add_breaks(kMostSpeedChange, breaks);
        distance_.add_breaks(kMostDistanceChange, breaks);
        // Towards a standstill the time goes as the root of the way: pieces get shorter there.
        for (int i = 0; i <= kRampPieces; ++i) {
            const double share = static_cast<double>(i * i) / (kRampPieces * kRampPieces);
            if (pass_.run_up.value > 0) breaks.push_back(share * pass_.run_up.value);
            if (pass_.run_down.value > 0) breaks.push_back(end_ - share * pass_.run_down.value);
        }
        if (pass_.swing.value > 0) {
            const double reach = pass_.swing.value + distance_(end_ / 2);
            const int steps = static_cast<int>(std::ceil(std::atan(end_ / 2 / reach) / kMostTurn_rad));
            for (int i = -steps; i <= steps; ++i)
                breaks.push_back(end_ / 2 + reach * std::tan(kMostTurn_rad * i));
        }
        for (double& s : breaks) s = std::clamp(s, trigger_.opens(), trigger_.closes());
        std::sort(breaks.begin(), breaks.end());
        return breaks;
    }

    // Seconds for the way from a to b.
    [[nodiscard]] double seconds(double a, double b) const {
        double time = (b - a) / speed_((a + b) / 2);
        if (!speed_.even()) {
            const double va = speed_(a), vb = speed_(b);
            if (va != vb) time = (b - a) * std::log(vb / va) / (vb - va);
        }
        const double ramped =
            ramp_time(a, b, pass_.run_up.value) + ramp_time(end_ - b, end_ - a, pass_.run_down.value);
        return time * (1 + ramped / (b - a));
    }

    // What even speeding up over a ramp adds to the way from a to b, as way at full speed.
    [[nodiscard]] static double ramp_time(double a, double b, double ramp) {
        if (ramp <= 0 || a >= ramp) return 0;
        const double end = std::min(b, ramp);
        return 2 * std::sqrt(ramp) * (std::sqrt(end) - std::sqrt(std::max(0.0, a))) - (end - a);
    }

    // Time per way, on any scale, as it is felt at a place; 0 at a standstill.
    [[nodiscard]] double pace(double s) const {
        double share = 1;
        if (pass_.run_up.value > 0) share *= std::sqrt(std::clamp(s / pass_.run_up.value, 0.0, 1.0));
        if (pass_.run_down.value > 0)
            share *= std::sqrt(std::clamp((end_ - s) / pass_.run_down.value, 0.0, 1.0));
        return share > 0 ? 1 / (speed_(s) * share) : 0;
    }

    void add_stroke(double a, double b, Strokes& pieces, Used& used) const {
        const double middle = (a + b) / 2;
        const auto next = std::upper_bound(at_.begin(), at_.end(), middle);
        const std::size_t leg = std::min(static_cast<std::size_t>(next - at_.begin()), at_.size() - 1) - 1;
        const double leg_mm = at_[leg + 1] - at_[leg];
        Stroke s;
        s.dx = (line_.x_mm[leg + 1] - line_.x_mm[leg]) / leg_mm;
        s.dy = (line_.y_mm[leg + 1] - line_.y_mm[leg]) / leg_mm;
        s.x_mm = line_.x_mm[leg] + (a - at_[leg]) * s.dx;
        s.y_mm = line_.y_mm[leg] + (a - at_[leg]) * s.dy;
        s.length_mm = b - a;
        double distance = distance_(middle);
        s.tilt = radians(pass_.tilt);
        s.lean = radians(pass_.lean);
        if (pass_.swing.value > 0) {
            const double reach = pass_.swing.value + distance;
            const double angle = std::atan((middle - end_ / 2) / reach);
            distance = reach / std::cos(angle) - pass_.swing.value;
            s.lean += angle;
        }
        s.scale = distance_scale(gun_, Millimetres{distance});
        const double transfer = transfer_at(gun_, Millimetres{distance}).value;
        const double time = pass_.repeats * seconds(a, b);
        const double flow = gun_.flow.value * kCubicMillimetresPerMillilitre / kSecondsPerMinute;
        const double pace_a = pace(a), pace_b = pace(b);
        const bool stands = pace_a == 0 || pace_b == 0;  // then evenly over the little way it is
        const double lean_a = stands ? 1 : 2 * pace_a / (pace_a + pace_b);
        const double rate_a = flow * time / s.length_mm * lean_a * trigger_.open_at(a);
        const double rate_b = flow * time / s.length_mm * (2 - lean_a) * trigger_.open_at(b);
        const double sprayed_mm3 = (rate_a + rate_b) / 2 * s.length_mm;
        s.w_start = transfer * rate_a;
        s.w_end = transfer * rate_b;
        pieces.strokes.push_back(s);
        used.sprayed = used.sprayed + Millilitres{sprayed_mm3 / kCubicMillimetresPerMillilitre};
        used.landed = used.landed + Millilitres{transfer * sprayed_mm3 / kCubicMillimetresPerMillilitre};
        used.trigger = used.trigger + Seconds{time};
    }

    const Gun& gun_;
    const Pass& pass_;
    Polyline line_;
    std::vector<double> at_;  // way to every corner of the line
    double end_ = 0;
    Trigger trigger_;
    Along speed_, distance_;
};

Polyline line_of(const Pass& pass) {
    if (pass.arc) return arc_line(*pass.arc);
    FW_EXPECTS(!pass.points.empty());
    return pass.smooth ? smooth_line(pass.points) : straight_line(pass.points);
}

Used add_burst(const Gun& gun, const Pass& pass, const Polyline& line, Strokes& pieces) {
    const double seconds = pass.repeats * pass.dwell.value;
    const Millilitres sprayed = Millilitres{gun.flow.value / kSecondsPerMinute * seconds};
    const double distance = pass.distances.empty() ? distance_scale(gun, pass.distance) * gun.distance.value
                                                   : pass.distances.front().value;
    const double transfer = transfer_at(gun, Millimetres{distance}).value;
    const double turn = radians(pass.turn);
    pieces.bursts.push_back({line.x_mm[0], line.y_mm[0], std::cos(turn), std::sin(turn),
                             distance_scale(gun, Millimetres{distance}), radians(pass.tilt),
                             radians(pass.lean), transfer * sprayed.value * kCubicMillimetresPerMillilitre});
    return {sprayed, transfer * sprayed, Seconds{seconds}};
}

}  // namespace

Used add_strokes(const Gun& gun, const Pass& pass, Strokes& pieces) {
    FW_EXPECTS(pass.repeats >= 0);
    Polyline line = line_of(pass);
    if (line.x_mm.size() < 2) return add_burst(gun, pass, line, pieces);
    return Route(gun, pass, std::move(line)).add_to(pieces);
}

}  // namespace fadewright::spray
