// How the painter mixes: what is lost besides the spray, and what cup and scale can hold.
//
// Part of the plan (plan.h); mixing_schema.h lists the fields. plan/amounts.h reckons with them. Every number
// here is a starting value without source (10 to 20 % of waste and reserve are common practice) and yields to
// what the painter weighs.
#pragma once

#include "fadewright/plan/workpiece.h"

#include <optional>
#include <string>
#include <vector>

namespace fadewright::plan {

struct ShopSettings {
    Millilitres left_in_gun{15};  // left in cup and line, each time a gun is filled
    int cards = 2;                // test cards of every coat
    Point card_size{Millimetres{100.0}, Millimetres{150.0}};
    Share waste{0.05};                           // strained off, spilt, left on the stick
    Share reserve{0.15};                         // kept for repairs
    Millilitres cup_size{30};                    // mixes are rounded up to so much
    Grams scale{0.1};                            // its division
    Share even_coat_efficiency{0.5};             // of a coat that says only its film
    MillimetresPerSecond air_speed{300.0};       // over the drying panel
    std::optional<Seconds> flash, recoat, tape;  // instead of those reckoned
    std::string batch;                           // written on the labels
    std::vector<std::string> safety_extra;       // instead of the usual cautions

    [[nodiscard]] double card_area_m2() const { return card_size.x.value * card_size.y.value / 1e6; }

    friend bool operator==(const ShopSettings&, const ShopSettings&) = default;
};

}  // namespace fadewright::plan
