#include "fadewright/plan/fade_edits.h"

#include "fadewright/base/contract.h"
#include "fadewright/plan/plan_schema.h"

#include <fmt/core.h>

namespace fadewright::plan {
namespace {

template <class M>
std::string written(const M& value) {
    if constexpr (requires { value.has_value(); }) {
        return written(*value);
    } else {
        return Codec<M>::inline_text(value);
    }
}

template <class S>
class Edits {
public:
    Edits(std::string at, const S& before, const S& after, std::vector<TextEdit>& out)
        : at_(std::move(at)), before_(before), after_(after), out_(out) {}

    void field(const auto& f) {
        using M = std::remove_cvref_t<decltype(before_.*f.member)>;
        const M& now = after_.*f.member;
        if constexpr (kIsSection<M>) {
            FW_EXPECTS(before_.*f.member == now);
        } else {
            if (before_.*f.member == now) return;
            const bool usual = f.presence == Presence::optional && now == S{}.*f.member;
            out_.push_back({fmt::format("{}.{}", at_, f.name),
                            usual ? std::nullopt : std::optional<std::string>(written(now))});
        }
    }

private:
    std::string at_;
    const S& before_;
    const S& after_;
    std::vector<TextEdit>& out_;
};

}  // namespace

std::vector<TextEdit> fade_edits(const Plan& before, const Plan& after, std::size_t coat) {
    const Coat &was = before.coats[coat], &is = after.coats[coat];
    FW_EXPECTS(was.fade && is.fade);
    const std::string at = fmt::format("coats.{}", coat);
    std::vector<TextEdit> out;
    Edits fades(at + ".fade", *was.fade, *is.fade, out);
    Schema<Fade>::fields.each([&](const auto& f) { fades.field(f); });
    if (was.distance != is.distance)
        out.push_back({at + ".distance",
                       is.distance ? std::optional<std::string>(written(is.distance)) : std::nullopt});
    return out;
}

}  // namespace fadewright::plan
