#include "fadewright/app/requests_schema.h"
#include "fadewright/formulation/drawdown.h"
#include "fadewright/paint/mix.h"
#include "fadewright/plan/plan_schema.h"
#include "fadewright/production/job_log_schema.h"
#include "fadewright/report/format.h"
#include "page_model.h"

#include <cmath>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace fadewright::app {
namespace {

template <class M>
struct FieldItem {
    using Type = M;
    static constexpr bool list = false, named = false;
};
template <class M>
struct FieldItem<std::optional<M>> : FieldItem<M> {};
template <class M>
struct FieldItem<Located<M>> : FieldItem<M> {};
template <class M>
struct FieldItem<std::vector<M>> {
    using Type = typename FieldItem<M>::Type;
    static constexpr bool list = true, named = false;
};
template <class M>
struct FieldItem<std::vector<Named<M>>> {
    using Type = typename FieldItem<M>::Type;
    static constexpr bool list = true, named = true;
};

// The type of a field as the page names it.
struct TypeInfo {
    std::string_view type;
    std::string_view section{};          // of a section: its schema name
    std::vector<std::string> choices{};  // of a choice
    std::span<const Unit> units{};       // of a quantity
};

template <class T>
TypeInfo type_info() {
    if constexpr (HasSchema<T>) {
        return {.type = "section", .section = Schema<T>::name};
    } else if constexpr (requires { Names<T>::list; }) {
        return {.type = "choice", .choices = Codec<T>::names()};
    } else if constexpr (std::is_same_v<T, double>) {
        return {.type = "number"};
    } else if constexpr (std::is_same_v<T, int>) {
        return {.type = "integer"};
    } else if constexpr (std::is_same_v<T, bool>) {
        return {.type = "boolean"};
    } else if constexpr (requires(T t) {
                             t.value;
                             units_of<T>();
                         }) {
        return {.type = "quantity", .units = units_of<T>()};
    } else if constexpr (std::is_same_v<T, plan::Point>) {
        return {.type = "point"};
    } else {
        return {.type = "text"};
    }
}

// Limits are stored in base units; the page gets them in the first unit of the list.
Json limit_json(double base_value, std::span<const Unit> units) {
    if (!std::isfinite(base_value)) return nullptr;
    if (units.empty()) return base_value;
    return (base_value - units.front().offset) * units.front().divisor / units.front().factor;
}

struct FieldInfo {
    std::string_view name, about;
    bool required, list, named;
    Limits limits;
    TypeInfo type;
};

Json field_json(const FieldInfo& info) {
    Json field{{"name", info.name},
               {"about", info.about},
               {"required", info.required},
               {"list", info.list},
               {"named", info.named},
               {"min", limit_json(info.limits.min, info.type.units)},
               {"max", limit_json(info.limits.max, info.type.units)},
               {"type", info.type.type}};
    if (!info.type.section.empty()) field["section"] = info.type.section;
    if (!info.type.choices.empty()) field["choices"] = info.type.choices;
    if (!info.type.units.empty()) {
        Json units = Json::array();
        for (const Unit& unit : info.type.units) units.push_back(unit.name);
        field["units"] = units;
    }
    return field;
}

// False if the section is in the list already.
bool begin_section(Json& schemas, const std::string& name, std::string_view about) {
    if (schemas.contains(name)) return false;
    schemas[name] = {{"about", about}, {"fields", Json::array()}};
    return true;
}

void add_field(Json& schemas, const std::string& name, const FieldInfo& info) {
    schemas[name]["fields"].push_back(field_json(info));
}

template <HasSchema S>
void add_schema(Json& schemas) {
    const std::string name(Schema<S>::name);
    if (!begin_section(schemas, name, Schema<S>::about)) return;
    const auto add = [&](const auto& f) {
        using M = std::remove_cvref_t<decltype(std::declval<S>().*f.member)>;
        using T = typename FieldItem<M>::Type;
        add_field(schemas, name,
                  {.name = f.name,
                   .about = f.about,
                   .required = f.presence == Presence::required,
                   .list = FieldItem<M>::list,
                   .named = FieldItem<M>::named,
                   .limits = f.limits,
                   .type = type_info<T>()});
        if constexpr (HasSchema<T>) add_schema<T>(schemas);
    };
    Schema<S>::fields.each(add);
}

std::string_view paint_kind(paint::Role role) {
    switch (role) {
        case paint::Role::white:
            return "white";
        case paint::Role::clear_base:
            return "clear-base";
        case paint::Role::clear:
            return "clear";
        case paint::Role::reducer:
            return "reducer";
        case paint::Role::pearl:
        case paint::Role::interference:
        case paint::Role::flake:
            return "flake";
        case paint::Role::opaque:
        case paint::Role::transparent:
            break;
    }
    return "colour";
}

film::Colorimeter daylight_colorimeter(plan::Library& library, Diagnostics& diagnostics) {
    const colour::Illuminant* day = library.light(plan::kDefaultLight, diagnostics);
    return film::Colorimeter(day ? *day : colour::standard_illuminant(colour::StandardIlluminant::D65));
}

Json paints(plan::Library& library, const film::Colorimeter& colorimeter, Diagnostics& diagnostics) {
    Json list = Json::array();
    for (const std::string& name : library.names(plan::LibraryKind::paints)) {
        const paint::Paint* paint = library.paint(name, diagnostics);
        if (!paint) continue;
        Json json{{"name", name}, {"title", paint->title}, {"kind", paint_kind(paint->role)}};
        const paint::Part part{paint, 1};
        const paint::MixedPaint mix = paint::mix_paints({&part, 1});
        if (paint::dry_per_wet(mix) > 0) {
            const Micrometres coat = paint::nominal_film_build({&part, 1});
            const formulation::DrawdownPrediction drawdown = formulation::predict_drawdown(
                mix, coat, 3, colour::Reflectance::constant(formulation::kWhiteChart), colorimeter);
            json["over_white"] = report::hex_colour(drawdown.coats.back().over_white);
            json["over_black"] = report::hex_colour(drawdown.coats.back().over_black);
        } else {
            json["over_white"] = json["over_black"] = nullptr;
        }
        list.push_back(std::move(json));
    }
    return list;
}

}  // namespace

Outcome plan_schema() {
    Json schemas = Json::object();
    add_schema<plan::Plan>(schemas);
    add_schema<production::LogEntry>(schemas);
    return json_outcome(schemas);
}

Outcome library_list(Session& session) {
    Result<plan::Library> opened = session.library();
    if (!opened) return failed(system_failure(opened.error()), true);
    plan::Library library = std::move(opened).value();
    Diagnostics diagnostics;  // an item with errors is left out; `check` reports them
    Json guns = Json::array(), grounds = Json::array(), lights = Json::array(), shapes = Json::array();
    for (const std::string& name : library.names(plan::LibraryKind::guns))
        if (library.gun(name, diagnostics)) guns.push_back({{"name", name}, {"title", name}});
    const film::Colorimeter colorimeter = daylight_colorimeter(library, diagnostics);
    for (const std::string& name : library.names(plan::LibraryKind::grounds))
        if (const plan::Ground* ground = library.ground(name, diagnostics))
            grounds.push_back({{"name", name},
                               {"title", ground->title.empty() ? name : ground->title},
                               {"colour", report::hex_colour(colorimeter.lab(ground->inside))}});
    for (const std::string& name : library.names(plan::LibraryKind::lights))
        if (const colour::Illuminant* light = library.light(name, diagnostics))
            lights.push_back({{"name", name}, {"title", light->title}});
    for (const auto& [shape, name] : Names<render::DisplayShape>::list) shapes.push_back(name);
    return json_outcome({{"paints", paints(library, colorimeter, diagnostics)},
                         {"guns", guns},
                         {"grounds", grounds},
                         {"lights", lights},
                         {"shapes", shapes}});
}

}  // namespace fadewright::app
