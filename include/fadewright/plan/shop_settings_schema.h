// The fields of the plan's mixing table (text/schema.h).
#pragma once

#include "fadewright/plan/shop_settings.h"
#include "fadewright/plan/workpiece_schema.h"
#include "fadewright/text/schema.h"

namespace fadewright {

template <>
struct Schema<plan::ShopSettings> {
    using T = plan::ShopSettings;
    static constexpr std::string_view name = "mixing";
    static constexpr std::string_view about =
        "used for the booth sheet; every number is a starting value until you have weighed your own";
    static constexpr auto fields =
        Fields{Field{"left_in_gun", &T::left_in_gun, optional, range(Millilitres{0.0}, Millilitres{2000.0}),
                     "left in cup and line each time a gun is filled"},
               Field{"cards", &T::cards, optional, range(0, 50), "spray-out cards per coat"},
               Field{"card_size", &T::card_size, optional, range(10_mm, 2000_mm),
                     "width and height of a spray-out card"},
               Field{"waste", &T::waste, optional, range(0_pct, 100_pct),
                     "spilt and strained off, % of the paint needed"},
               Field{"reserve", &T::reserve, optional, range(0_pct, 300_pct),
                     "kept for repairs, % of the paint needed"},
               Field{"cup_size", &T::cup_size, optional, range(Millilitres{0.1}, Millilitres{20000.0}),
                     "cup size: a mix is rounded up to full cups"},
               Field{"scale", &T::scale, optional, range(Grams{0.001}, Grams{100.0}), "scale division"},
               Field{"even_coat_efficiency", &T::even_coat_efficiency, optional, range(1_pct, 100_pct),
                     "transfer efficiency of coats given as an even film"},
               Field{"air_speed", &T::air_speed, optional,
                     range(MillimetresPerSecond{0.0}, MillimetresPerSecond{5000.0}),
                     "air speed over the drying panel"},
               Field{"flash", &T::flash, optional, range(Seconds{0.0}, Seconds{604800.0}),
                     "flash-off time before more of the same mix; default: estimated from film and air"},
               Field{"recoat", &T::recoat, optional, range(Seconds{0.0}, Seconds{604800.0}),
                     "time before another coat; default: estimated"},
               Field{"tape", &T::tape, optional, range(Seconds{0.0}, Seconds{604800.0}),
                     "time until it can be taped; default: estimated"},
               Field{"batch", &T::batch, optional, "batch number on the labels"},
               Field{"safety_extra", &T::safety_extra, optional, items(0, 20),
                     "your own lines of caution, after the fixed ones on every sheet"}};
};

}  // namespace fadewright
