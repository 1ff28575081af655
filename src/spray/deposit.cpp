#include "fadewright/spray/deposit.h"

#include "fadewright/base/contract.h"

#include <algorithm>

namespace fadewright::spray {
namespace {

bool holds(const Box& box, double x, double y) noexcept {
    return x >= box.x0 && x <= box.x1 && y >= box.y0 && y <= box.y1;
}

template <class F, class Piece>
double sum_at(const F& f, const std::vector<Piece>& pieces, const std::vector<Box>& boxes, double x,
              double y) noexcept {
    double film = 0;
    for (std::size_t i = 0; i < pieces.size(); ++i)
        if (holds(boxes[i], x, y)) film += wet_um(f, pieces[i], x, y);
    return film;
}

// Adds one piece to a row whose places x all lie in its reach.
template <class F>
void add_row(const F& f, const Stroke& s, std::span<const double> x, double y, std::span<double> out) {
    if (s.dy == 0 && !x.empty()) {  // a level stroke crosses the whole row at one distance
        const Cut cut = f.cut(alongside(s, x[0], y).across);
        for (std::size_t k = 0; k < x.size(); ++k) out[k] += wet_um(f, s, cut, alongside(s, x[k], y).along);
        return;
    }
    for (std::size_t k = 0; k < x.size(); ++k) out[k] += wet_um(f, s, x[k], y);
}

template <class F>
void add_row(const F& f, const Burst& b, std::span<const double> x, double y, std::span<double> out) {
    for (std::size_t k = 0; k < x.size(); ++k) out[k] += wet_um(f, b, x[k], y);
}

// A row seen from one footprint; adds every piece that reaches it.
struct Row {
    const Footprint& footprint;
    std::span<const double> x;
    double y;
    std::span<double> out;

    template <class Piece>
    void add(const std::vector<Piece>& pieces, const std::vector<Box>& boxes) const {
        for (std::size_t i = 0; i < pieces.size(); ++i) {
            const Box& box = boxes[i];
            if (y < box.y0 || y > box.y1 || x.back() < box.x0 || x.front() > box.x1) continue;
            const Interval reached = row_reach(footprint, pieces[i], y);
            const auto first = std::lower_bound(x.begin(), x.end(), reached.from);
            const auto last = std::upper_bound(first, x.end(), reached.to);
            const auto from = static_cast<std::size_t>(first - x.begin());
            const auto count = static_cast<std::size_t>(last - first);
            std::visit(
                [&](const auto& f) {
                    add_row(f, pieces[i], x.subspan(from, count), y, out.subspan(from, count));
                },
                footprint);
        }
    }
};

}  // namespace

Deposit::Deposit(const Gun& gun, std::span<const Pass> passes)
    : footprint_(footprint_of(gun)), transfer_(gun.transfer) {
    for (const Pass& pass : passes) {
        const Used used = add_strokes(gun, pass, pieces_);
        used_ = {used_.sprayed + used.sprayed, used_.trigger + used.trigger};
        passes_ += pass.repeats;
    }
    for (const Stroke& s : pieces_.strokes) stroke_boxes_.push_back(reach(footprint_, s));
    for (const Burst& b : pieces_.bursts) burst_boxes_.push_back(reach(footprint_, b));
}

double Deposit::wet_um(double x_mm, double y_mm) const noexcept {
    return std::visit(
        [&](const auto& f) {
            return sum_at(f, pieces_.strokes, stroke_boxes_, x_mm, y_mm) +
                   sum_at(f, pieces_.bursts, burst_boxes_, x_mm, y_mm);
        },
        footprint_);
}

void Deposit::add_wet_um(std::span<const double> x_mm, double y_mm, std::span<double> out) const {
    FW_EXPECTS(x_mm.size() == out.size());
    FW_EXPECTS(std::is_sorted(x_mm.begin(), x_mm.end()));
    if (x_mm.empty()) return;
    const Row row{footprint_, x_mm, y_mm, out};
    row.add(pieces_.strokes, stroke_boxes_);
    row.add(pieces_.bursts, burst_boxes_);
}

}  // namespace fadewright::spray
