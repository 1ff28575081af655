#include "grain_cells.h"

#include "fadewright/base/contract.h"
#include "fadewright/render/grain_field.h"

namespace fadewright::render {

CellLevel level_for_patch(double patch_mm) {
    FW_EXPECTS(patch_mm > kFinestGrain_mm * (1 - 1e-6));
    CellLevel level{0, kGrainRoot_mm, 1 / kGrainRoot_mm};
    while (level.side_mm > patch_mm * (1 + 1e-9))
        level = {level.number + 1, level.side_mm / 2, level.per_side * 2};
    return level;
}

}  // namespace fadewright::render
