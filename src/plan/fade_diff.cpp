#include "fadewright/plan/fade_diff.h"

#include "fadewright/base/contract.h"
#include "fadewright/plan/plan_schema.h"

#include <fmt/core.h>

namespace fadewright::plan {
namespace {

template <class M>
std::string toml_text(const M& value) {
    if constexpr (requires { value.has_value(); }) {
        return toml_text(*value);
    } else {
        return Codec<M>::inline_text(value);
    }
}

template <class S>
class FadeDiff {
public:
    FadeDiff(std::string at, const S& before, const S& after, std::vector<TextEdit>& out)
        : at_(std::move(at)), before_(before), after_(after), out_(out) {}

    void compare_field(const auto& f) {
        using M = std::remove_cvref_t<decltype(before_.*f.member)>;
        const M& now = after_.*f.member;
        if constexpr (kIsSection<M>) {
            FW_EXPECTS(before_.*f.member == now);
        } else {
            if (before_.*f.member == now) return;
            const bool is_default = f.presence == Presence::optional && now == S{}.*f.member;
            out_.push_back({fmt::format("{}.{}", at_, f.name),
                            is_default ? std::nullopt : std::optional<std::string>(toml_text(now))});
        }
    }

private:
    std::string at_;
    const S& before_;
    const S& after_;
    std::vector<TextEdit>& out_;
};

}  // namespace

std::vector<TextEdit> fade_diff(const Plan& before, const Plan& after, std::size_t coat) {
    const Coat &coat_before = before.coats[coat], &coat_after = after.coats[coat];
    FW_EXPECTS(coat_before.fade && coat_after.fade);
    const std::string at = fmt::format("coats.{}", coat);
    std::vector<TextEdit> out;
    FadeDiff fades(at + ".fade", *coat_before.fade, *coat_after.fade, out);
    Schema<Fade>::fields.each([&](const auto& f) { fades.compare_field(f); });
    if (coat_before.distance != coat_after.distance)
        out.push_back({at + ".distance", coat_after.distance
                                             ? std::optional<std::string>(toml_text(coat_after.distance))
                                             : std::nullopt});
    return out;
}

}  // namespace fadewright::plan
