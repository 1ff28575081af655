// Resolves the shapes, reliefs and pictures of a plan.
//
// Files are in the plan's folder (a plain relative path within it) or, drawings only, in the library. Every
// drawing is read once.
//
// Checks     tests/plan/shapes_test.cpp
#pragma once

#include "fadewright/plan/library.h"
#include "fadewright/plan/plan.h"
#include "fadewright/plan/svg_outline.h"
#include "fadewright/spray/panel.h"
#include "fadewright/spray/relief.h"
#include "fadewright/text/diagnostic.h"
#include "fadewright/text/unread_fields.h"

#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace fadewright::plan {

class ShapeReader {
public:
    // `source`: of the plan, for its folder; may be null. `units`: of the mistakes. A shape or relief with unread
    // fields gives nothing.
    ShapeReader(const std::shared_ptr<const Source>& source, Library& library,
                UnitSystem units = UnitSystem::metric, UnreadFields unread = {});

    // Nothing if there are mistakes.
    [[nodiscard]] std::optional<DrawnOutline> read(const Shape& shape);
    [[nodiscard]] std::optional<spray::ReliefPart> read(const Relief& relief, const spray::Panel& panel);

    // Of everything read so far: why there was nothing.
    [[nodiscard]] const Diagnostics& mistakes() const noexcept { return mistakes_; }

private:
    [[nodiscard]] std::optional<DrawnOutline> read_corners(const Shape& shape);
    [[nodiscard]] std::optional<DrawnOutline> read_drawing(const Shape& shape);
    [[nodiscard]] std::optional<spray::ReliefPart> read_height_map(const Relief& relief,
                                                                   const spray::Panel& panel);
    [[nodiscard]] std::optional<std::string> read_bytes(const std::string& name, const SourceSpan& span);

    std::string plan_folder_;
    Library& library_;
    UnreadFields unread_;
    Diagnostics mistakes_;
    std::map<std::string, std::string> bytes_;
    std::map<std::string, DrawnOutline> outlines_;  // by drawing, part and width
};

// Grooves of one size become one groove along all their lines: at crossings they are not deeper.
[[nodiscard]] std::vector<spray::ReliefPart> merge_grooves(const std::vector<spray::ReliefPart>& parts);

}  // namespace fadewright::plan
