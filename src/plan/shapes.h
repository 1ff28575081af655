// Shapes, reliefs and pictures that a plan names, made ready.
//
// Files lie beside the plan (a plain relative path that does not leave its folder) or, drawings only, on the
// shelf. Every drawing is read once.
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
    // plan_name: where the plan was read from, as its source calls it.
    ShapeReader(std::string plan_name, Library& library, Diagnostics& diagnostics)
        : plan_name_(std::move(plan_name)), library_(library), diagnostics_(diagnostics) {}

    // What is wrong is reported, and nothing returned.
    [[nodiscard]] std::optional<DrawnOutline> read(const Shape& shape);
    [[nodiscard]] std::optional<spray::ReliefPart> read(const Relief& relief, const spray::Panel& panel);

private:
    [[nodiscard]] std::optional<std::string> read_bytes(const std::string& name, const SourceSpan& span);

    std::string plan_name_;
    Library& library_;
    Diagnostics& diagnostics_;
    std::map<std::string, std::string> bytes_;
    std::map<std::string, DrawnOutline> outlines_;  // by drawing, part and width
};

// Grooves of one size are one groove along all their lines: where they meet they are no deeper than each.
[[nodiscard]] std::vector<spray::ReliefPart> merge_grooves(const std::vector<spray::ReliefPart>& parts);

}  // namespace fadewright::plan
