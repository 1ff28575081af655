// Flow cups: the viscosity of paint ready to spray, from the seconds that a cup takes to empty.
//
//     DIN 4     nu = 4.57 t - 452 / t           spray/sag_levelling.h
//     Ford 4    nu = 3.846 t - 17.3             spray/sag_levelling.h
//     Zahn 2    nu = 3.5 (t - 14)
//
// The time range of DIN 4 gives the viscosities that are accepted; that of Ford 4 is the same viscosities in
// whole seconds. A Zahn 2 cup also reads thinner paint, as far as its own range of use.
//
// Symbols    nu kinematic viscosity, mm2/s; t time to empty, s
// Source: [din53211], [astmD1200] (Ford 4), [astmD4212] (Zahn 2), all from memory
// Holds for  Newtonian paint at the temperature of the booth
// Accuracy   a few per cent for DIN 4 and Ford 4; about 10 % for a dipped Zahn cup; Ford 4 less below 20 s
// Checks     tests/plan/flow_cup_test.cpp
#pragma once

#include "fadewright/base/quantity.h"

#include <array>
#include <string>
#include <string_view>

namespace fadewright::plan {

enum class FlowCup { din_4, ford_4, zahn_2 };

// A reading of a flow cup.
struct FlowCupTime {
    FlowCup cup = FlowCup::din_4;
    Seconds time;

    friend bool operator==(const FlowCupTime&, const FlowCupTime&) = default;
};

struct FlowCupRange {
    FlowCup cup;
    std::string_view name;  // "Ford 4"
    Seconds min_time, max_time;
};
inline constexpr std::array<FlowCupRange, 3> kFlowCups{
    {{FlowCup::din_4, "DIN 4", Seconds{14.0}, Seconds{60.0}},
     {FlowCup::ford_4, "Ford 4", Seconds{13.0}, Seconds{73.0}},
     {FlowCup::zahn_2, "Zahn 2", Seconds{20.0}, Seconds{80.0}}}};

// Kinematic viscosity, mm2/s; the time within the cup's range (contract).
[[nodiscard]] double kinematic_viscosity_mm2_per_s(const FlowCupTime& reading);

[[nodiscard]] std::string flow_cup_text(const FlowCupTime& reading);  // "Ford 4 20 s"
[[nodiscard]] std::string flow_cup_ranges();                          // of every cup, for people

}  // namespace fadewright::plan
