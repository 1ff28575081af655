#include "fadewright/plan/rules.h"

#include <array>

namespace fadewright::plan {
namespace {

constexpr std::array kRules{
    Rule{"P001", "a mix's part must be a paint of the shelf or another mix"},
    Rule{"P002", "mixes may not be made of themselves"},
    Rule{"P003", "a gun must be on the shelf"},
    Rule{"P004", "a ground must be on the shelf"},
    Rule{"P005", "a light must be on the shelf"},
    Rule{"P006", "a coat needs passes, sweeps or a cover"},
    Rule{"P007", "passes, sweeps and fog need a gun"},
    Rule{"P008", "a pass needs two different places, or one place and a dwell"},
    Rule{"P009", "a coat's mix must leave dry film"},
    Rule{"P010", "a mix needs a part above zero"},
    Rule{"P011", "a mix may not bear a paint's name"},
    Rule{"P012", "a sweep's rectangle must have a size"},
    Rule{"P013", "the corner radius must fit the panel"},
    Rule{"P014", "a plan has a sensible number of passes"},
    Rule{"P016", "every coat has a name of its own"},
    Rule{"P017", "white, clear base and reducer must be what they are used as"},
    Rule{"P018", "a panel has a width and a height, or an outline"},
    Rule{"P019", "drawings and pictures lie beside the plan and can be read"},
    Rule{"P020", "a shape is a drawing or corners that enclose something"},
    Rule{"P021", "a form of the relief has its measures"},
    Rule{"P022", "a mask must be in the plan"},
    Rule{"P023", "speeds and distances go with the places of the path"},
    Rule{"P024", "a pass has a path or an arc"},
    Rule{"P025", "a followed line must exist"},
    Rule{"P026", "a coat has a mix and what lays it, or a fade"},
    Rule{"P027", "a fade says in one way where it runs"},
    Rule{"P028", "a fade is no narrower than its gun can make it"},
    Rule{"P029", "a fade has one gun, or one for each graded coat"},
    Rule{"P030", "a fade takes a sensible number of passes and coats, on the panel"},
    Rule{"P031", "a fade's measures go with its method"},
    Rule{"S001", "a paint needs absorption and scattering, or a spectrum, and not both"},
    Rule{"S002", "a spectrum's lists must be equally long"},
    Rule{"S003", "a ground is either parts or a seen reflectance"},
    Rule{"S004", "a reflectance lies between 0 and 1"},
    Rule{"S005", "a light is either a table or a power"},
    Rule{"S006", "a round gun needs sigma, a fan gun needs its width and depth"},
    Rule{"S007", "reducer leaves no solids, everything else does"},
    Rule{"S008", "a file must say what it is"},
    Rule{"S009", "how many flakes a paint has is said once"},
};

}  // namespace

std::span<const Rule> plan_rules() { return kRules; }

}  // namespace fadewright::plan
