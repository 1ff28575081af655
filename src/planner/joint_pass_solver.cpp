#include "joint_pass_solver.h"

#include "fadewright/planner/fade.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

namespace fadewright::planner {
namespace {

constexpr double kMinPassGain_dE = 3;              // dE over all samples that a pass must contribute
constexpr double kPassCost = 3, kMinMoveGain = 1;  // cost that an additional or moved pass must save
constexpr int kFirstRounds = 12, kLaterRounds = 2, kMaxMoves = 3, kMaxTries = 5;
constexpr double kConverged = 5e-4;    // change of the cost
constexpr int kDroppedPerRefresh = 8;  // before the colours are calculated again

class JointPassSolver {
public:
    JointPassSolver(std::span<const CoatLines> coats, const FadeFit& fit)
        : coats_(coats), fit_(fit), lines_(fit.lines()) {
        const std::size_t count = lines_.size();
        state_ = {std::vector<double>(count), std::vector<double>(count), std::vector<bool>(count)};
    }

    std::vector<PassSpeeds> solve() && {
        state_.amounts = minimise_amounts(fit_.film_quadratic(), state_);
        converge(kFirstRounds);
        set_flows();
        drop_thin_lines();
        converge(kLaterRounds);
        for (int i = 0; i < kMaxMoves && improve_lines(); ++i) converge(kLaterRounds);
        round_speeds();
        return std::move(speeds_);
    }

private:
    struct State {
        std::vector<double> amounts, lower;
        std::vector<bool> fixed;
    };

    static std::vector<double> minimise_amounts(const BoundedQuadratic& quadratic, const State& state) {
        return minimise(quadratic, state.lower, state.fixed, state.amounts);
    }

    // Damped Gauss-Newton: the further from the minimum of the quadratic, the smaller the trust region.
    void converge(int max_iterations) {
        double damping = 1e-3, cost = fit_.cost(state_.amounts);
        for (int iteration = 0; iteration < max_iterations; ++iteration) {
            const BoundedQuadratic quadratic = fit_.quadratic_model(state_.amounts);
            const double before = cost;
            for (int attempt = 0; attempt < kMaxTries && cost == before; ++attempt) {
                BoundedQuadratic damped = quadratic;
                const Eigen::VectorXd more = damping * quadratic.matrix.diagonal();
                damped.matrix.diagonal() += more;
                damped.rhs += more.cwiseProduct(as_vector(state_.amounts));
                std::vector<double> next = minimise_amounts(damped, state_);
                const double now = fit_.cost(next);
                damping = now < cost ? damping / 5 : damping * 8;
                if (now >= cost) continue;
                cost = now;
                state_.amounts = std::move(next);
            }
            if (before - cost < kConverged * before) return;
        }
    }

    // As low as the coat's thinnest useful pass requires.
    void set_flows() {
        const BoundedQuadratic quadratic = fit_.quadratic_model(state_.amounts);
        for (std::size_t c = 0; c < coats_.size(); ++c) {
            double smallest = 1;
            for (std::size_t j = 0; j < lines_.size(); ++j)
                if (lines_[j].coat == c &&
                    state_.amounts[j] * std::sqrt(quadratic.curvature(j)) > kMinPassGain_dE)
                    smallest = std::min(smallest, state_.amounts[j]);
            const PassSpeedLimits& limits = coats_[c].limits;
            speeds_.push_back(
                {limits.full_flow, std::vector<std::optional<SpeedAndRepeats>>(coats_[c].films_um.size())});
            if (!limits.flow_given)
                speeds_.back().flow = flow_at_share(kMaxSpeed.value * smallest, limits.full_flow);
        }
    }

    [[nodiscard]] double flow_share(std::size_t coat) const {
        return speeds_[coat].flow / coats_[coat].limits.full_flow;
    }
    [[nodiscard]] double min_amount(std::size_t line) const {
        return flow_share(lines_[line].coat) / kMaxSpeed.value;
    }

    [[nodiscard]] State with_line_off(std::size_t line) const {
        State state = state_;
        state.fixed[line] = true;
        state.amounts[line] = state.lower[line] = 0;
        return state;
    }
    void turn_on_line(State& state, std::size_t line, double amount) const {
        state.fixed[line] = false;
        state.lower[line] = min_amount(line);
        state.amounts[line] = std::max(amount, min_amount(line));
    }

    // Passes too thin for a hand, the thinnest first; the others are fitted again.
    void drop_thin_lines() {
        BoundedQuadratic quadratic = fit_.quadratic_model(state_.amounts);
        for (int done = 0;; ++done) {
            std::size_t thinnest = lines_.size();
            double share = 1;
            for (std::size_t j = 0; j < lines_.size(); ++j)
                if (!state_.fixed[j] && state_.lower[j] == 0 && state_.amounts[j] < share * min_amount(j)) {
                    share = state_.amounts[j] / min_amount(j);
                    thinnest = j;
                }
            if (thinnest == lines_.size()) break;
            State dropped = with_line_off(thinnest);
            if (share > 0) {
                State retained = state_;
                turn_on_line(retained, thinnest, 0);
                dropped.amounts = minimise_amounts(quadratic, dropped);
                retained.amounts = minimise_amounts(quadratic, retained);
                if (quadratic.value(dropped.amounts) > quadratic.value(retained.amounts) + kPassCost)
                    dropped = std::move(retained);
                if (done % kDroppedPerRefresh == kDroppedPerRefresh - 1)
                    quadratic = fit_.quadratic_model(dropped.amounts);
            }
            state_ = std::move(dropped);
        }
        for (std::size_t j = 0; j < lines_.size(); ++j)
            if (!state_.fixed[j]) state_.lower[j] = min_amount(j);
    }

    // Accepts the state if its cost is lower by more than `gain`.
    bool accept_if_better(State state, const BoundedQuadratic& quadratic, double gain, double& cost) {
        state.amounts = minimise_amounts(quadratic, state);
        const double now = quadratic.value(state.amounts);
        if (now >= cost - gain) return false;
        cost = now;
        state_ = std::move(state);
        return true;
    }

    // Passes added, left out, or moved to the next line, one at a time.
    bool improve_lines() {
        const BoundedQuadratic quadratic = fit_.quadratic_model(state_.amounts);
        double cost = quadratic.value(state_.amounts);
        bool moved = false;
        for (std::size_t j = 0; j < lines_.size(); ++j) {
            if (state_.fixed[j]) {
                if (quadratic.residual(state_.amounts, j) <= 0) continue;
                State more = state_;
                turn_on_line(more, j, 0);
                moved |= accept_if_better(std::move(more), quadratic, kPassCost, cost);
                continue;
            }
            bool changed = accept_if_better(with_line_off(j), quadratic, -kPassCost, cost);
            for (const std::size_t to : {j - 1, j + 1}) {
                if (changed || to >= lines_.size() || lines_[to].coat != lines_[j].coat || !state_.fixed[to])
                    continue;
                State moved_state = with_line_off(j);
                turn_on_line(moved_state, to, state_.amounts[j]);
                changed = accept_if_better(std::move(moved_state), quadratic, kMinMoveGain, cost);
            }
            moved |= changed;
        }
        return moved;
    }

    [[nodiscard]] SpeedAndRepeats rounded_speed(std::size_t line) const {
        const std::size_t c = lines_[line].coat;
        return speed_and_repeats(state_.amounts[line] / flow_share(c), min_speed(coats_[c].limits));
    }
    [[nodiscard]] double sprayed_amount(std::size_t line, const SpeedAndRepeats& setting) const {
        return flow_share(lines_[line].coat) * setting.repeats / setting.speed.value;
    }

    void round_speeds() {
        const BoundedQuadratic quadratic = fit_.quadratic_model(state_.amounts);
        for (;;) {
            std::size_t worst = lines_.size();
            double max_cost = -1;
            for (std::size_t j = 0; j < lines_.size(); ++j) {
                if (state_.fixed[j]) continue;
                const double deviation = sprayed_amount(j, rounded_speed(j)) - state_.amounts[j],
                             costs = quadratic.curvature(j) * deviation * deviation;
                if (costs > max_cost) max_cost = costs, worst = j;
            }
            if (worst == lines_.size()) return;
            const SpeedAndRepeats setting = rounded_speed(worst);
            state_.amounts[worst] = sprayed_amount(worst, setting);
            state_.fixed[worst] = true;
            speeds_[lines_[worst].coat].passes[lines_[worst].index_in_coat] = setting;
            state_.amounts = minimise_amounts(quadratic, state_);
        }
    }

    std::span<const CoatLines> coats_;
    const FadeFit& fit_;
    const std::vector<FadeFit::Line>& lines_;
    State state_;
    std::vector<PassSpeeds> speeds_;
};

}  // namespace

std::vector<PassSpeeds> solve_joint_passes(std::span<const CoatLines> coats, const film::StackColour& colours,
                                           const std::vector<TargetSample>& targets,
                                           const SampleLine& sample_line) {
    const FadeFit fit(coats, colours, targets, sample_line);
    return JointPassSolver(coats, fit).solve();
}

}  // namespace fadewright::planner
