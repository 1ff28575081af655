#include "fadewright/plan/plan_changes.h"

#include "fadewright/plan/plan_schema.h"

#include <fmt/core.h>

#include <algorithm>

namespace fadewright::plan {
namespace {

template <class M>
inline constexpr bool kIsOptional = false;
template <class M>
inline constexpr bool kIsOptional<std::optional<M>> = true;
template <class M>
inline constexpr bool kIsNamed = false;
template <class M>
inline constexpr bool kIsNamed<std::vector<Named<M>>> = true;

template <class M>
inline constexpr bool kIsQuantity = false;
template <class Tag>
inline constexpr bool kIsQuantity<Quantity<Tag>> = true;

// A value as it is written, without the quotes; a quantity in the units to be shown.
template <class M>
std::string shown(const M& value, ShownUnits units) {
    if constexpr (kIsOptional<M>) {
        return value ? shown(*value, units) : "none";
    } else if constexpr (kIsQuantity<M>) {
        return units.as_given(value);
    } else {
        std::string text = Codec<M>::inline_text(value);
        text.erase(std::remove(text.begin(), text.end(), '"'), text.end());
        return text.empty() ? "none" : text;
    }
}

class Comparison {
public:
    explicit Comparison(ShownUnits units) : units_(units) {}

    std::vector<std::string> found;

    template <Described S>
    void compare(const std::string& where, const S& before, const S& now) {
        const auto one = [&](const auto& f) { field(where, f.name, before.*f.member, now.*f.member); };
        Schema<S>::fields.each(one);
    }

private:
    void say(const std::string& where, const std::string& words) {
        found.push_back(where.empty() ? words : where + ": " + words);
    }

    static std::string joined(const std::string& where, std::string_view name) {
        return where.empty() ? std::string(name) : fmt::format("{}, {}", where, name);
    }

    template <class M>
    void field(const std::string& where, std::string_view name, const M& before, const M& now) {
        if (before == now) return;
        if constexpr (kIsNamed<M>) {
            named(where, name, before, now);
        } else if constexpr (std::is_same_v<M, std::vector<Coat>>) {
            coats(before, now);
        } else if constexpr (Described<M>) {
            compare(joined(where, name), before, now);
        } else if constexpr (kIsOptional<M> && kIsSection<M>) {
            optional_section(where, name, before, now);
        } else if constexpr (kIsSection<M>) {
            const bool fewer_or_more = before.size() != now.size();
            say(where, fewer_or_more ? fmt::format("{} {} -> {}", name, before.size(), now.size())
                                     : fmt::format("{} changed", name));
        } else {
            say(where, fmt::format("{} {} -> {}", name, shown(before, units_), shown(now, units_)));
        }
    }

    template <class M>
    void optional_section(const std::string& where, std::string_view name, const std::optional<M>& before,
                          const std::optional<M>& now) {
        if (before && now) {
            compare(joined(where, name), *before, *now);
        } else {
            say(where, fmt::format("{} {}", name, now ? "is new" : "is gone"));
        }
    }

    // By name: mixes, masks, and the parts of a mix.
    template <class M>
    void named(const std::string& where, std::string_view name, const std::vector<Named<M>>& before,
               const std::vector<Named<M>>& now) {
        const auto in = [](const std::vector<Named<M>>& list, const std::string& wanted) {
            return std::find_if(list.begin(), list.end(),
                                [&](const Named<M>& item) { return item.name == wanted; });
        };
        const auto full_name = [&](const std::string& item) {
            if constexpr (Described<M>) {
                return joined(where, fmt::format("{} '{}'", Schema<M>::name, item));
            } else {
                return joined(where, item);
            }
        };
        const std::size_t said = found.size();
        for (const Named<M>& old : before) {
            const auto item = in(now, old.name);
            if (item == now.end()) {
                say(full_name(old.name), "is gone");
            } else if (!(old.value == item->value)) {
                if constexpr (Described<M>) {
                    compare(full_name(old.name), old.value, item->value);
                } else {
                    say(full_name(old.name),
                        fmt::format("{} -> {}", shown(old.value, units_), shown(item->value, units_)));
                }
            }
        }
        for (const Named<M>& item : now)
            if (in(before, item.name) == before.end()) say(full_name(item.name), "is new");
        if (found.size() == said) say(where, fmt::format("{} stand in another order", name));
    }

    void coats(const std::vector<Coat>& before, const std::vector<Coat>& now) {
        const auto in = [](const std::vector<Coat>& list, const std::string& wanted) {
            return std::find_if(list.begin(), list.end(),
                                [&](const Coat& coat) { return coat.name == wanted; });
        };
        std::vector<std::string> old_order, new_order;
        for (const Coat& coat : before) {
            const auto same = in(now, coat.name);
            if (same == now.end()) {
                say(fmt::format("coat '{}'", coat.name), "is gone");
            } else {
                old_order.push_back(coat.name);
                compare(fmt::format("coat '{}'", coat.name), coat, *same);
            }
        }
        for (const Coat& coat : now) {
            if (in(before, coat.name) == before.end()) {
                say(fmt::format("coat '{}'", coat.name), "is new");
            } else {
                new_order.push_back(coat.name);
            }
        }
        if (old_order != new_order) say("", "the coats are laid in another order");
    }

    ShownUnits units_;
};

}  // namespace

std::vector<std::string> plan_changes(const Plan& before, const Plan& now, ShownUnits units) {
    Comparison comparison(units);
    Plan shown_alike = before;
    shown_alike.units = now.units;
    comparison.compare("", shown_alike, now);
    return comparison.found;
}

}  // namespace fadewright::plan
