// Shapes, reliefs and pictures that a plan names, made ready.
//
// Files lie beside the plan (a plain relative path that does not leave its folder) or, drawings only, on the
// shelf. Every drawing is read once.
#pragma once

#include "fadewright/plan/plan.h"
#include "fadewright/plan/shelf.h"
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
    ShapeReader(std::string plan_name, Shelf& shelf, Diagnostics& diagnostics)
        : plan_name_(std::move(plan_name)), shelf_(shelf), diagnostics_(diagnostics) {}

    // What is wrong is reported, and nothing returned.
    [[nodiscard]] std::optional<DrawnOutline> read(const Shape& shape);
    [[nodiscard]] std::optional<spray::ReliefPart> read(const Relief& relief, const spray::Panel& panel);

private:
    [[nodiscard]] std::optional<std::string> bytes_of(const std::string& name, const Place& place);

    std::string plan_name_;
    Shelf& shelf_;
    Diagnostics& diagnostics_;
    std::map<std::string, std::string> bytes_;
    std::map<std::string, DrawnOutline> drawn_;  // by drawing, part and width
};

// Grooves of one size are one groove along all their lines: where they meet they are no deeper than each.
[[nodiscard]] std::vector<spray::ReliefPart> joined_grooves(const std::vector<spray::ReliefPart>& parts);

}  // namespace fadewright::plan
