#include "fadewright/render/tune.h"

#include "fadewright/base/contract.h"
#include "fadewright/base/parallel.h"
#include "tune_search.h"

#include <algorithm>
#include <mutex>
#include <numeric>

namespace fadewright::render {
namespace {

constexpr int kHandTries = 60;

class Tuning {
public:
    Tuning(const plan::Plan& plan, const TuneWish& wish, const plan::Shelf& shelf, const plan::Job& job)
        : plan_(plan), wish_(wish), shelf_(shelf), goal_(plan, job, wish), clock_(wish) {
        for (const plan::ReadyCoat& coat : job.coats)
            if (coat.gun) usual_mm_ = coat.gun->distance.value;
    }

    // The best way found; points beyond hope if none was looked at.
    Found best() {
        const plan::Coat& coat = plan_.coats[*faded_coat(plan_)];
        std::vector<Setting> bases;
        for (plan::Fade& fade : bases_of(*coat.fade, wish_))
            bases.push_back({std::move(fade), coat.distance});
        to_do_ = bases.size() + std::min(bases.size(), kSearched) * static_cast<std::size_t>(wish_.looks);
        std::vector<Found> found =
            over_all(bases, [&](TuneSearch& search, const Setting& base) { return search.first_look(base); });
        std::vector<std::size_t> order(bases.size());
        std::iota(order.begin(), order.end(), std::size_t{0});
        std::stable_sort(order.begin(), order.end(),
                         [&](std::size_t a, std::size_t b) { return found[a].points < found[b].points; });
        order.resize(std::min(order.size(), kSearched));
        std::vector<Setting> promising;
        for (const std::size_t i : order) promising.push_back(bases[i]);
        for (Found& searched : over_all(promising, [&](TuneSearch&search, const Setting&base) {
                 return search.best(base, wish_.looks);
             }))
            found.push_back(std::move(searched));
        return *std::min_element(found.begin(), found.end(),
                                 [](const Found& a, const Found& b) { return a.points < b.points; });
    }

    [[nodiscard]] double points(const Setting& setting) {
        clock_.looked();
        return goal_.of(setting.in(plan_, *faded_coat(plan_)), shelf_).sum;
    }

    [[nodiscard]] const TuneGoal& goal() const { return goal_; }
    [[nodiscard]] const TuneClock& clock() const { return clock_; }

private:
    template <class Search>
    std::vector<Found> over_all(const std::vector<Setting>& bases, const Search& search_from) {
        std::vector<Found> found(bases.size());
        for_each_index(bases.size(), [&](std::size_t i) {
            if (clock_.over()) return;
            TuneSearch search(plan_, goal_, wish_, shelf_, usual_mm_, clock_);
            found[i] = search_from(search, bases[i]);
            const std::lock_guard<std::mutex> lock(telling_);
            const double done = std::min(1.0, clock_.looks() / static_cast<double>(to_do_));
            if (wish_.progress) wish_.progress(done);
        });
        return found;
    }

    const plan::Plan& plan_;
    const TuneWish& wish_;
    plan::Shelf shelf_;
    TuneGoal goal_;
    TuneClock clock_;
    double usual_mm_ = 150;
    std::size_t to_do_ = 1;
    std::mutex telling_;
};

}  // namespace

std::optional<Tuned> tuned(const plan::Plan& plan, const TuneWish& wish, const plan::Shelf& shelf,
                           Diagnostics& diagnostics) {
    FW_EXPECTS(faded_coat(plan));
    const std::size_t c = *faded_coat(plan);
    plan::Shelf own_shelf = shelf;
    const std::optional<plan::Job> job = plan::ready_job(plan, "", own_shelf, diagnostics);
    if (!job) return std::nullopt;
    Tuning tuning(plan, wish, shelf, *job);
    const Setting before{*plan.coats[c].fade, plan.coats[c].distance};
    const Found best = tuning.best();

    Tuned out;
    out.goal_before = tuning.points(before);
    const bool better = best.points < out.goal_before;
    const Setting after = better ? best.setting : before;
    out.goal_after = better ? best.points : out.goal_before;
    out.stopped = tuning.clock().stopped();
    const JudgedLine& line = tuning.goal().line();
    std::optional<FadeWay> was = judged_way("as planned", plan, line, own_shelf, diagnostics);
    std::optional<FadeWay> is = judged_way("tuned", after.in(plan, c), line, own_shelf, diagnostics);
    if (!was || !is) return std::nullopt;
    for (Undone& u : undone(before, after, plan.units))
        out.changes.push_back({std::move(u.what), std::move(u.before), std::move(u.after),
                               tuning.points(u.setting) - out.goal_after});
    out.hand = hand_band(is->job, line, wish.seed, kHandTries);
    out.before = std::move(*was);
    out.after = std::move(*is);
    out.looks = tuning.clock().looks();
    return out;
}

}  // namespace fadewright::render
