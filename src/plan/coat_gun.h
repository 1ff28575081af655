// A gun from the library with the settings of one coat.
#pragma once

#include "fadewright/plan/plan.h"
#include "fadewright/spray/gun.h"

namespace fadewright::plan {

[[nodiscard]] inline spray::Gun gun_as_set(const Coat& coat, spray::Gun gun) {
    if (coat.flow) gun.flow = *coat.flow;
    if (coat.needle_opening || coat.air) gun = spray::with_settings(gun, {coat.needle_opening, coat.air});
    return gun;
}

}  // namespace fadewright::plan
