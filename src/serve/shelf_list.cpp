#include "shelf_list.h"

#include "fadewright/app/requests_schema.h"
#include "fadewright/film/outlook.h"
#include "fadewright/paint/usual_coat.h"
#include "fadewright/plan/plan_schema.h"
#include "fadewright/plan/record_schema.h"
#include "fadewright/report/shown.h"

#include <cmath>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace fadewright::serve {
namespace {

template <class M>
struct Item {
    using Type = M;
    static constexpr bool list = false, named = false;
};
template <class M>
struct Item<std::optional<M>> : Item<M> {};
template <class M>
struct Item<Placed<M>> : Item<M> {};
template <class M>
struct Item<std::vector<M>> {
    using Type = typename Item<M>::Type;
    static constexpr bool list = true, named = false;
};
template <class M>
struct Item<std::vector<Named<M>>> {
    using Type = typename Item<M>::Type;
    static constexpr bool list = true, named = true;
};

// What may be written into a field; one function puts all of them into words.
struct TypeTold {
    std::string_view type;
    std::string_view section{};          // the thing that a section holds
    std::vector<std::string> choices{};  // the words
    std::span<const Unit> units{};       // of a quantity
};

template <class T>
TypeTold type_told() {
    if constexpr (Described<T>) {
        return {.type = "section", .section = Schema<T>::name};
    } else if constexpr (requires { Names<T>::list; }) {
        return {.type = "word", .choices = Codec<T>::names()};
    } else if constexpr (std::is_same_v<T, double>) {
        return {.type = "number"};
    } else if constexpr (std::is_same_v<T, int>) {
        return {.type = "whole"};
    } else if constexpr (std::is_same_v<T, bool>) {
        return {.type = "truth"};
    } else if constexpr (requires(T t) {
                             t.value;
                             units_of<T>();
                         }) {
        return {.type = "quantity", .units = units_of<T>()};
    } else if constexpr (std::is_same_v<T, plan::Point>) {
        return {.type = "place"};
    } else {
        return {.type = "text"};
    }
}

// Limits are inner values; the page speaks in the first unit.
Json limit(double inner, std::span<const Unit> units) {
    if (!std::isfinite(inner)) return nullptr;
    if (units.empty()) return inner;
    return (inner - units.front().offset) * units.front().divisor / units.front().factor;
}

struct FieldTold {
    std::string_view name, about;
    bool required, list, named;
    Limits limits;
    TypeTold type;
};

Json field_json(const FieldTold& told) {
    Json field{{"name", told.name},
               {"about", told.about},
               {"required", told.required},
               {"list", told.list},
               {"named", told.named},
               {"lowest", limit(told.limits.lowest, told.type.units)},
               {"highest", limit(told.limits.highest, told.type.units)},
               {"type", told.type.type}};
    if (!told.type.section.empty()) field["of"] = told.type.section;
    if (!told.type.choices.empty()) field["choices"] = told.type.choices;
    if (!told.type.units.empty()) {
        Json units = Json::array();
        for (const Unit& unit : told.type.units) units.push_back(unit.name);
        field["units"] = units;
    }
    return field;
}

// Whether it was not yet there.
bool begin_thing(Json& things, const std::string& name, std::string_view about) {
    if (things.contains(name)) return false;
    things[name] = {{"about", about}, {"fields", Json::array()}};
    return true;
}

void add_field(Json& things, const std::string& name, const FieldTold& told) {
    things[name]["fields"].push_back(field_json(told));
}

template <Described S>
void add_thing(Json& things) {
    const std::string name(Schema<S>::name);
    if (!begin_thing(things, name, Schema<S>::about)) return;
    const auto one = [&](const auto& f) {
        using M = std::remove_cvref_t<decltype(std::declval<S>().*f.member)>;
        using T = typename Item<M>::Type;
        add_field(things, name,
                  {.name = f.name,
                   .about = f.about,
                   .required = f.presence == Presence::required,
                   .list = Item<M>::list,
                   .named = Item<M>::named,
                   .limits = f.limits,
                   .type = type_told<T>()});
        if constexpr (Described<T>) add_thing<T>(things);
    };
    Schema<S>::fields.each(one);
}

std::string_view kind_of(paint::Role role) {
    switch (role) {
        case paint::Role::white:
            return "white";
        case paint::Role::clear_base:
            return "clear base";
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

Json paints(plan::Shelf& shelf) {
    Json list = Json::array();
    Diagnostics unheard;
    const colour::Light* day = shelf.light("day", unheard);
    const film::Looker looker(day ? *day : colour::standard_light(colour::StandardLight::D65));
    for (const std::string& name : shelf.names(plan::ShelfKind::paints)) {
        const paint::Paint* paint = shelf.paint(name, unheard);
        if (!paint) continue;
        Json json{{"name", name}, {"title", paint->title}, {"kind", kind_of(paint->role)}};
        const paint::Part part{paint, 1};
        const paint::MixedPaint mix = paint::mixed({&part, 1});
        if (paint::dry_per_wet(mix) > 0) {
            const Micrometres coat = paint::usual_coat({&part, 1});
            const film::Outlook look =
                film::outlook(mix, coat, 3, colour::Reflectance::constant(film::kWhiteCard), looker);
            json["over_white"] = report::hex_of(look.coats.back().over_white);
            json["over_black"] = report::hex_of(look.coats.back().over_black);
        } else {
            json["over_white"] = json["over_black"] = nullptr;
        }
        list.push_back(std::move(json));
    }
    return list;
}

}  // namespace

Answer fields() {
    Json things = Json::object();
    add_thing<plan::Plan>(things);
    add_thing<plan::RecordEntry>(things);
    return answer(things);
}

Answer shelf_list(Desk& desk) {
    plan::Shelf shelf = desk.shelf();
    Diagnostics unheard;
    Json guns = Json::array(), grounds = Json::array(), lights = Json::array(), forms = Json::array();
    for (const std::string& name : shelf.names(plan::ShelfKind::guns))
        if (shelf.gun(name, unheard)) guns.push_back({{"name", name}, {"title", name}});
    const colour::Light* day = shelf.light("day", unheard);
    const film::Looker looker(day ? *day : colour::standard_light(colour::StandardLight::D65));
    for (const std::string& name : shelf.names(plan::ShelfKind::grounds))
        if (const plan::Ground* ground = shelf.ground(name, unheard))
            grounds.push_back({{"name", name},
                               {"title", ground->title.empty() ? name : ground->title},
                               {"colour", report::hex_of(looker.lab(ground->inside))}});
    for (const std::string& name : shelf.names(plan::ShelfKind::lights))
        if (const colour::Light* light = shelf.light(name, unheard))
            lights.push_back({{"name", name}, {"title", light->title}});
    for (const auto& [form, name] : Names<render::Form>::list) forms.push_back(name);
    return answer({{"paints", paints(shelf)},
                   {"guns", guns},
                   {"grounds", grounds},
                   {"lights", lights},
                   {"forms", forms}});
}

}  // namespace fadewright::serve
