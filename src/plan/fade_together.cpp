#include "fade_together.h"

#include "fadewright/plan/fade.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

namespace fadewright::plan {
namespace {

constexpr double kWorthAPass = 3;                 // dE over all spots together that a pass must make
constexpr double kPassCosts = 3, kMoveGains = 1;  // cost that one pass more, or elsewhere, must save
constexpr int kRoundsFirst = 12, kRoundsAfter = 2, kMoves = 3, kTries = 5;
constexpr double kSettled = 5e-4;   // change of the cost
constexpr int kLeftOutAtATime = 8;  // before colours are looked at again

class Together {
public:
    Together(std::span<const CoatLines> coats, const FadeFit& fit)
        : coats_(coats), fit_(fit), lines_(fit.lines()) {
        const std::size_t count = lines_.size();
        at_ = {std::vector<double>(count), std::vector<double>(count), std::vector<bool>(count)};
    }

    std::vector<Pace> paces() && {
        at_.amounts = lowest(fit_.film_bowl(), at_);
        settle(kRoundsFirst);
        set_flows();
        leave_out();
        settle(kRoundsAfter);
        for (int i = 0; i < kMoves && move_about(); ++i) settle(kRoundsAfter);
        round();
        return std::move(paces_);
    }

private:
    struct State {
        std::vector<double> amounts, low;
        std::vector<bool> held;
    };

    static std::vector<double> lowest(const Bowl& bowl, const State& state) {
        return lowest_place(bowl, state.low, state.held, state.amounts);
    }

    // Gauss and Newton, damped: the further from the bowl's own floor, the less trust in the next.
    void settle(int rounds) {
        double damping = 1e-3, cost = fit_.cost(at_.amounts);
        for (int round = 0; round < rounds; ++round) {
            const Bowl bowl = fit_.bowl(at_.amounts);
            const double before = cost;
            for (int tries = 0; tries < kTries && cost == before; ++tries) {
                Bowl damped = bowl;
                for (std::size_t j = 0; j < lines_.size(); ++j) {
                    const double more = damping * bowl.at(j, j);
                    damped.at(j, j) += more;
                    damped.right[j] += more * at_.amounts[j];
                }
                std::vector<double> next = lowest(damped, at_);
                const double now = fit_.cost(next);
                damping = now < cost ? damping / 5 : damping * 8;
                if (now >= cost) continue;
                cost = now;
                at_.amounts = std::move(next);
            }
            if (before - cost < kSettled * before) return;
        }
    }

    // As little as the coat's thinnest pass that is worth laying asks for.
    void set_flows() {
        const Bowl bowl = fit_.bowl(at_.amounts);
        for (std::size_t c = 0; c < coats_.size(); ++c) {
            double least = 1;
            for (std::size_t j = 0; j < lines_.size(); ++j)
                if (lines_[j].coat == c && at_.amounts[j] * std::sqrt(bowl.at(j, j)) > kWorthAPass)
                    least = std::min(least, at_.amounts[j]);
            const PaceLimits& limits = coats_[c].limits;
            paces_.push_back({limits.full, std::vector<std::optional<Stroke>>(coats_[c].films_um.size())});
            if (!limits.given) paces_.back().flow = flow_for(kFastest.value * least, limits.full);
        }
    }

    [[nodiscard]] double part(std::size_t coat) const { return paces_[coat].flow / coats_[coat].limits.full; }
    [[nodiscard]] double least(std::size_t line) const { return part(lines_[line].coat) / kFastest.value; }

    [[nodiscard]] State without(std::size_t line) const {
        State state = at_;
        state.held[line] = true;
        state.amounts[line] = state.low[line] = 0;
        return state;
    }
    void put(State& state, std::size_t line, double amount) const {
        state.held[line] = false;
        state.low[line] = least(line);
        state.amounts[line] = std::max(amount, least(line));
    }

    // What a hand cannot lay so thinly, the thinnest first, and the others make up for it.
    void leave_out() {
        Bowl bowl = fit_.bowl(at_.amounts);
        for (int done = 0;; ++done) {
            std::size_t thinnest = lines_.size();
            double share = 1;
            for (std::size_t j = 0; j < lines_.size(); ++j)
                if (!at_.held[j] && at_.low[j] == 0 && at_.amounts[j] < share * least(j)) {
                    share = at_.amounts[j] / least(j);
                    thinnest = j;
                }
            if (thinnest == lines_.size()) break;
            State gone = without(thinnest);
            if (share > 0) {
                State kept = at_;
                put(kept, thinnest, 0);
                gone.amounts = lowest(bowl, gone);
                kept.amounts = lowest(bowl, kept);
                if (bowl.height(gone.amounts) > bowl.height(kept.amounts) + kPassCosts)
                    gone = std::move(kept);
                if (done % kLeftOutAtATime == kLeftOutAtATime - 1) bowl = fit_.bowl(gone.amounts);
            }
            at_ = std::move(gone);
        }
        for (std::size_t j = 0; j < lines_.size(); ++j)
            if (!at_.held[j]) at_.low[j] = least(j);
    }

    // Takes the state if it is lower by more than `gain`.
    bool take(State state, const Bowl& bowl, double gain, double& height) {
        state.amounts = lowest(bowl, state);
        const double now = bowl.height(state.amounts);
        if (now >= height - gain) return false;
        height = now;
        at_ = std::move(state);
        return true;
    }

    // Passes added, left out, or moved to the next line, one at a time.
    bool move_about() {
        const Bowl bowl = fit_.bowl(at_.amounts);
        double height = bowl.height(at_.amounts);
        bool moved = false;
        for (std::size_t j = 0; j < lines_.size(); ++j) {
            if (at_.held[j]) {
                if (bowl.pull(at_.amounts, j) <= 0) continue;
                State more = at_;
                put(more, j, 0);
                moved |= take(std::move(more), bowl, kPassCosts, height);
                continue;
            }
            bool changed = take(without(j), bowl, -kPassCosts, height);
            for (const std::size_t to : {j - 1, j + 1}) {
                if (changed || to >= lines_.size() || lines_[to].coat != lines_[j].coat || !at_.held[to])
                    continue;
                State there = without(j);
                put(there, to, at_.amounts[j]);
                changed = take(std::move(there), bowl, kMoveGains, height);
            }
            moved |= changed;
        }
        return moved;
    }

    [[nodiscard]] Stroke rounded(std::size_t line) const {
        const std::size_t c = lines_[line].coat;
        return stroke_for(at_.amounts[line] / part(c), slowest(coats_[c].limits));
    }
    [[nodiscard]] double amount(std::size_t line, const Stroke& stroke) const {
        return part(lines_[line].coat) * stroke.repeats / stroke.speed.value;
    }

    void round() {
        const Bowl bowl = fit_.bowl(at_.amounts);
        for (;;) {
            std::size_t worst = lines_.size();
            double most = -1;
            for (std::size_t j = 0; j < lines_.size(); ++j) {
                if (at_.held[j]) continue;
                const double off = amount(j, rounded(j)) - at_.amounts[j], costs = bowl.at(j, j) * off * off;
                if (costs > most) most = costs, worst = j;
            }
            if (worst == lines_.size()) return;
            const Stroke stroke = rounded(worst);
            at_.amounts[worst] = amount(worst, stroke);
            at_.held[worst] = true;
            paces_[lines_[worst].coat].strokes[lines_[worst].own] = stroke;
            at_.amounts = lowest(bowl, at_);
        }
    }

    std::span<const CoatLines> coats_;
    const FadeFit& fit_;
    const std::vector<FadeFit::Line>& lines_;
    State at_;
    std::vector<Pace> paces_;
};

}  // namespace

std::vector<Pace> paced_together(std::span<const CoatLines> coats, const film::StackColour& colours,
                                 const std::vector<WishedPlace>& wished, const SpotsAcross& spots) {
    const FadeFit fit(coats, colours, wished, spots);
    return Together(coats, fit).paces();
}

}  // namespace fadewright::plan
