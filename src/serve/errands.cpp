#include "errands.h"

namespace fadewright::serve {
namespace {

constexpr std::chrono::milliseconds kTellEvery{150};
constexpr std::size_t kLongestName = 64;

}  // namespace

void Errand::tell(double share) {
    if (name_.empty()) return;
    {
        const std::lock_guard lock(telling_);
        const auto now = std::chrono::steady_clock::now();
        if (now - told_ < kTellEvery) return;
        told_ = now;
    }
    events_.tell("progress", {{"errand", name_}, {"share", share}});
}

Answer Errands::run(const Asked& asked, const std::function<Answer(Errand&)>& work) {
    const std::string name = asked.text("errand").substr(0, kLongestName);
    Errand errand(name, asked.left, events_);
    struct Entered {  // leaves whatever happens
        Errands& errands;
        std::multimap<std::string, Errand*>::iterator place;
        ~Entered() {
            const std::lock_guard lock(errands.lock_);
            errands.under_way_.erase(place);
        }
    };
    std::unique_lock lock(lock_);
    const Entered entered{*this, under_way_.emplace(name, &errand)};
    lock.unlock();
    return work(errand);
}

Answer Errands::stop(const Asked& asked) {
    const std::string name = asked.text("errand");
    if (name.empty()) return refuse(400, "an errand has no name");
    const std::lock_guard lock(lock_);
    const auto [first, last] = under_way_.equal_range(name);
    for (auto one = first; one != last; ++one) one->second->stop();
    return answer({{"stopped", std::distance(first, last)}});
}

Answer was_stopped() {
    return answer({{"superseded", true}, {"refused", "it was stopped before it was done"}}, 409);
}

}  // namespace fadewright::serve
