// Resolves the shapes, reliefs and pictures of a plan.
//
// Files are in the plan's folder (a plain relative path within it) or, drawings only, in the library. Every
// drawing is read once.
#pragma once

#include "fadewright/plan/library.h"
#include "fadewright/plan/plan.h"
#include "fadewright/plan/svg_outline.h"
#include "fadewright/spray/panel.h"
#include "fadewright/spray/relief.h"

#include <map>
#include <optional>
#include <string>
#include <vector>

namespace fadewright::plan {

class ShapeReader {
public:
    // plan_folder: where the plan lies, as in its source.
    ShapeReader(std::string plan_folder, Library& library, Diagnostics& diagnostics)
        : plan_folder_(std::move(plan_folder)), library_(library), diagnostics_(diagnostics) {}

    // Reports an error and returns nothing.
    [[nodiscard]] std::optional<DrawnOutline> read(const Shape& shape);
    [[nodiscard]] std::optional<spray::ReliefPart> read(const Relief& relief, const spray::Panel& panel);

private:
    [[nodiscard]] std::optional<std::string> read_bytes(const std::string& name, const SourceSpan& span);

    std::string plan_folder_;
    Library& library_;
    Diagnostics& diagnostics_;
    std::map<std::string, std::string> bytes_;
    std::map<std::string, DrawnOutline> outlines_;  // by drawing, part and width
};

// Grooves of one size become one groove along all their lines: at crossings they are not deeper.
[[nodiscard]] std::vector<spray::ReliefPart> merge_grooves(const std::vector<spray::ReliefPart>& parts);

}  // namespace fadewright::plan
