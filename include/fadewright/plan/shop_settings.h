// Shop settings: losses besides overspray, cup size, scale, and drying times (the plan's mixing table).
//
// Part of the plan (plan.h); shop_settings_schema.h lists the fields, production/amounts.h uses them. Every number
// here is a starting value without a source (10 to 20 % of waste and reserve are common practice), to be
// replaced by measured values.
#pragma once

#include "fadewright/plan/workpiece.h"

#include <optional>
#include <string>
#include <vector>

namespace fadewright::plan {

struct ShopSettings {
    Millilitres left_in_gun{15};  // left in cup and line, each time a gun is filled
    int cards = 2;                // spray-out cards per coat
    Point card_size{Millimetres{100.0}, Millimetres{150.0}};
    Share waste{0.05};                           // strained off, spilt, left on the stick
    Share reserve{0.15};                         // kept for repairs
    Millilitres cup_size{30};                    // mixes are rounded up to full cups
    Grams scale{0.1};                            // its division
    Share even_coat_efficiency{0.5};             // of an even coat
    MillimetresPerSecond air_speed{300.0};       // over the drying panel
    std::optional<Seconds> flash, recoat, tape;  // instead of the estimated times
    std::string batch;                           // written on the labels
    std::vector<std::string> safety_extra;       // after the fixed cautions (report/cautions.h)

    [[nodiscard]] double card_area_m2() const { return card_size.x.value * card_size.y.value / 1e6; }

    friend bool operator==(const ShopSettings&, const ShopSettings&) = default;
};

}  // namespace fadewright::plan
