#include "fadewright/plan/rules.h"

#include <array>

namespace fadewright::plan {
namespace {

constexpr std::array kPlanRules{
    Rule{"P001", "a part of a mix must be a paint from the library or another mix"},
    Rule{"P002", "a mix cannot contain itself"},
    Rule{"P003", "the gun must be in the library"},
    Rule{"P004", "the ground must be in the library"},
    Rule{"P005", "the light must be in the library"},
    Rule{"P006", "a coat needs passes, sweeps, outline passes or an even coat"},
    Rule{"P007", "passes, sweeps, outline passes and dots need a gun"},
    Rule{"P008", "a pass needs two different points, or one point and a dwell"},
    Rule{"P009", "the mix of a coat must contain solids"},
    Rule{"P010", "a mix needs a part above zero"},
    Rule{"P011", "a mix cannot have a paint's name"},
    Rule{"P012", "the rectangle of a sweep needs a width and a height"},
    Rule{"P013", "the corner radius must fit the panel"},
    Rule{"P014", "too many passes in one plan"},
    Rule{"P016", "coat names must differ"},
    Rule{"P017", "white, clear base and reducer must have that role"},
    Rule{"P018", "a panel needs either a width and a height or an outline"},
    Rule{"P019", "drawings and pictures must be in the plan's folder and readable"},
    Rule{"P020", "a shape needs either a drawing or at least three corners"},
    Rule{"P021", "a curve, bevel or groove needs its dimensions"},
    Rule{"P022", "the mask must be in the plan"},
    Rule{"P023", "give one speed or distance per point of the path"},
    Rule{"P024", "a pass needs either a path or an arc"},
    Rule{"P025", "an outline pass needs a line to follow"},
    Rule{"P026", "a coat needs either a mix or a fade"},
    Rule{"P027", "give exactly one of start and end, path, or inward"},
    Rule{"P028", "a fade cannot be narrower than its gun can spray"},
    Rule{"P029", "a fade needs one gun, or one per graded coat"},
    Rule{"P030", "too many passes or coats in a fade, or no paint on the panel"},
    Rule{"P031", "a field of the fade has no effect with this method"},
    Rule{"P032", "the line of a shape cannot cross itself"},
    Rule{"S001", "a paint needs either absorption and scattering or a spectrum"},
    Rule{"S002", "the lists of a spectrum must have the same length"},
    Rule{"S003", "a ground needs either parts or a reflectance"},
    Rule{"S004", "a reflectance must be from 0 to 1"},
    Rule{"S005", "a light needs either a table or a power spectrum"},
    Rule{"S006", "a round gun needs sigma, a fan gun its width and thickness, a measured gun a profile"},
    Rule{"S007", "only a reducer has no solids"},
    Rule{"S008", "file type missing (plan = 1, paint = 1, ...)"},
    Rule{"S009", "give only one of loading and teaspoons"},
};

}  // namespace

std::span<const Rule> plan_rules() { return kPlanRules; }

}  // namespace fadewright::plan
