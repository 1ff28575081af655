// The shelf's gun as one coat sets it.
#pragma once

#include "fadewright/plan/plan.h"
#include "fadewright/spray/settings.h"

namespace fadewright::plan {

[[nodiscard]] inline spray::Gun gun_for(const Coat& coat, spray::Gun gun) {
    if (coat.flow) gun.flow = *coat.flow;
    if (coat.needle || coat.air) gun = spray::set(gun, {coat.needle, coat.air});
    return gun;
}

}  // namespace fadewright::plan
