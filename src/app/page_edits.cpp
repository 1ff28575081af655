// Edits of a plan's text as a page requests them, applied one after the other; and what a new coat, pass or
// mix starts with.

#include "fadewright/app/page.h"
#include "fadewright/plan/plan_schema.h"
#include "fadewright/plan/rename_mix.h"
#include "fadewright/text/edit.h"
#include "outcome.h"

#include <fmt/core.h>

namespace fadewright::app {
namespace {

template <class T>
std::string line_of(std::string_view key, const T& value) {
    return fmt::format("{} = {}\n", key, Codec<T>::inline_text(value));
}

// One even coat of clear.
std::string new_coat_lines(const std::string& name) {
    plan::Coat coat;
    coat.name = name;
    coat.mix.value = "gloss-clear";
    const plan::EvenCoat even{20_um};
    return line_of("name", coat.name) + line_of("mix", coat.mix.value) + line_of("even_coat.film", even.film);
}

// One pass near the lower left corner of the panel.
std::string new_pass_lines() {
    plan::Pass pass;
    pass.path = {{0_mm, 100_mm}, {300_mm, 100_mm}};
    return line_of("path", pass.path);
}

// White, reduced as a starting point.
std::string new_mix_lines() {
    plan::Mix mix;
    mix.parts = {{mix.white.value, 1.0, {}}};
    mix.reduce = 10_pct;
    return line_of("parts", mix.parts) + line_of("reduce", mix.reduce);
}

// The first unused name with this stem: "coat 4".
std::string unused_name(const std::string& text, std::string_view stem) {
    for (int i = 2;; ++i) {
        std::string name = fmt::format("{} {}", stem, i);
        if (text.find('"' + name + '"') == std::string::npos) return name;
    }
}

// Coat names must differ, so a copy gets a new one.
Result<std::string> add_coat(const std::string& text, const std::string& copy_of) {
    const std::string name = unused_name(text, "coat");
    if (copy_of.empty()) return append_item(text, "coats", new_coat_lines(name));
    if (!copy_of.starts_with("coats.")) return Error{fmt::format("'{}' is not a coat", copy_of)};
    Result<std::string> with_copy = copy_section(text, copy_of);
    if (!with_copy) return with_copy;
    const std::size_t dot = copy_of.rfind('.');
    const std::string next = fmt::format("coats.{}", std::stoi(copy_of.substr(dot + 1)) + 1);
    return set_value(with_copy.value(), next + ".name", detail::toml_string(name));
}

Result<std::string> add_item(const std::string& text, const std::string& item, const std::string& copy_of) {
    if (item == "coats") return add_coat(text, copy_of);
    if (item.ends_with(".passes")) {
        if (!copy_of.empty()) return copy_section(text, copy_of);
        return append_item(text, item, new_pass_lines());
    }
    const std::size_t dot = item.find('.');
    const std::string name = dot == std::string::npos ? "" : item.substr(dot + 1);
    if (name.empty()) return Error{fmt::format("cannot add '{}'", item)};
    if (!copy_of.empty()) return copy_section(text, copy_of, name);
    return add_section(text, item, new_mix_lines());
}

Result<std::string> apply_edit(const std::string& text, const PlanEdit& edit) {
    switch (edit.kind) {
        case PlanEdit::Kind::set:
            return set_value(text, edit.path, edit.value);
        case PlanEdit::Kind::erase:
            return erase_entry(text, edit.path);
        case PlanEdit::Kind::move:
            return move_item(text, edit.path, edit.value);
        case PlanEdit::Kind::add:
            return add_item(text, edit.path, edit.value);
        case PlanEdit::Kind::rename:
            break;
    }
    return plan::rename_mix(text, edit.path, edit.value);
}

}  // namespace

Attempt<std::string> edit_plan(const std::string& text, std::span<const PlanEdit> edits) {
    std::string edited = text;
    for (const PlanEdit& edit : edits) {
        Result<std::string> next = apply_edit(edited, edit);
        if (!next) return data_failure(next.error().message, "");
        edited = std::move(next).value();
    }
    return edited;
}

}  // namespace fadewright::app
