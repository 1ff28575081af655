#include "fadewright/report/plan_diff.h"

#include "fadewright/plan/plan_schema.h"

#include <fmt/core.h>

#include <algorithm>

namespace fadewright::report {
namespace {

using plan::Coat;
using plan::Plan;

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

// A value as written, without quotes; a quantity in the units of output.
template <class M>
std::string display_text(const M& value, DisplayUnits units) {
    if constexpr (kIsOptional<M>) {
        return value ? display_text(*value, units) : "none";
    } else if constexpr (kIsQuantity<M>) {
        return units.input_text(value);
    } else {
        std::string text = Codec<M>::inline_text(value);
        text.erase(std::remove(text.begin(), text.end(), '"'), text.end());
        return text.empty() ? "none" : text;
    }
}

class PlanDiff {
public:
    explicit PlanDiff(DisplayUnits units) : units_(units) {}

    std::vector<std::string> lines;

    template <HasSchema S>
    void compare(const std::string& where, const S& before, const S& now) {
        const auto compare_member = [&](const auto& f) {
            compare_field(where, f.name, before.*f.member, now.*f.member);
        };
        Schema<S>::fields.each(compare_member);
    }

private:
    void add_line(const std::string& where, const std::string& text) {
        lines.push_back(where.empty() ? text : where + ": " + text);
    }

    static std::string joined_path(const std::string& where, std::string_view name) {
        return where.empty() ? std::string(name) : fmt::format("{}, {}", where, name);
    }

    template <class M>
    void compare_field(const std::string& where, std::string_view name, const M& before, const M& now) {
        if (before == now) return;
        if constexpr (kIsNamed<M>) {
            compare_named(where, name, before, now);
        } else if constexpr (std::is_same_v<M, std::vector<Coat>>) {
            compare_coats(before, now);
        } else if constexpr (HasSchema<M>) {
            compare(joined_path(where, name), before, now);
        } else if constexpr (kIsOptional<M> && kIsSection<M>) {
            compare_section(where, name, before, now);
        } else if constexpr (kIsSection<M>) {
            const bool fewer_or_more = before.size() != now.size();
            add_line(where, fewer_or_more ? fmt::format("{} {} -> {}", name, before.size(), now.size())
                                          : fmt::format("{} changed", name));
        } else {
            add_line(where, fmt::format("{} {} -> {}", name, display_text(before, units_),
                                        display_text(now, units_)));
        }
    }

    template <class M>
    void compare_section(const std::string& where, std::string_view name, const std::optional<M>& before,
                         const std::optional<M>& now) {
        if (before && now) {
            compare(joined_path(where, name), *before, *now);
        } else {
            add_line(where, fmt::format("{} {}", name, now ? "is new" : "is gone"));
        }
    }

    // By name: mixes, masks, and the parts of a mix.
    template <class M>
    void compare_named(const std::string& where, std::string_view name, const std::vector<Named<M>>& before,
                       const std::vector<Named<M>>& now) {
        const auto find_in = [](const std::vector<Named<M>>& list, const std::string& wanted_name) {
            return std::find_if(list.begin(), list.end(),
                                [&](const Named<M>& item) { return item.name == wanted_name; });
        };
        const auto full_name = [&](const std::string& item) {
            if constexpr (HasSchema<M>) {
                return joined_path(where, fmt::format("{} '{}'", Schema<M>::name, item));
            } else {
                return joined_path(where, item);
            }
        };
        const std::size_t count_before = lines.size();
        for (const Named<M>& previous : before) {
            const auto item = find_in(now, previous.name);
            if (item == now.end()) {
                add_line(full_name(previous.name), "is gone");
            } else if (!(previous.value == item->value)) {
                if constexpr (HasSchema<M>) {
                    compare(full_name(previous.name), previous.value, item->value);
                } else {
                    add_line(full_name(previous.name),
                             fmt::format("{} -> {}", display_text(previous.value, units_),
                                         display_text(item->value, units_)));
                }
            }
        }
        for (const Named<M>& item : now)
            if (find_in(before, item.name) == before.end()) add_line(full_name(item.name), "is new");
        if (lines.size() == count_before) add_line(where, fmt::format("{} in a different order", name));
    }

    void compare_coats(const std::vector<Coat>& before, const std::vector<Coat>& now) {
        const auto find_in = [](const std::vector<Coat>& list, const std::string& wanted_name) {
            return std::find_if(list.begin(), list.end(),
                                [&](const Coat& coat) { return coat.name == wanted_name; });
        };
        std::vector<std::string> old_order, new_order;
        for (const Coat& coat : before) {
            const auto same = find_in(now, coat.name);
            if (same == now.end()) {
                add_line(fmt::format("coat '{}'", coat.name), "is gone");
            } else {
                old_order.push_back(coat.name);
                compare(fmt::format("coat '{}'", coat.name), coat, *same);
            }
        }
        for (const Coat& coat : now) {
            if (find_in(before, coat.name) == before.end()) {
                add_line(fmt::format("coat '{}'", coat.name), "is new");
            } else {
                new_order.push_back(coat.name);
            }
        }
        if (old_order != new_order) add_line("", "the coats are in a different order");
    }

    DisplayUnits units_;
};

}  // namespace

std::vector<std::string> plan_diff(const Plan& before, const Plan& now, DisplayUnits units) {
    PlanDiff comparison(units);
    Plan before_same_units = before;
    before_same_units.units = now.units;
    comparison.compare("", before_same_units, now);
    return comparison.lines;
}

}  // namespace fadewright::report
