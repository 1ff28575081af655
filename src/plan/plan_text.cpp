#include "fadewright/plan/plan_text.h"

#include "fadewright/plan/plan_schema.h"

namespace fadewright::plan {
namespace {

template <HasSchema S>
void write_fields(const S& object, const std::string& path, std::string& out);

template <class M>
void write_section(std::string_view name, const M& value, const std::string& path, std::string& out) {
    const std::string section = path.empty() ? std::string(name) : path + "." + std::string(name);
    if constexpr (HasSchema<M>) {
        out += "\n[" + section + "]\n";
        write_fields(value, section, out);
    } else if constexpr (requires { value.has_value(); }) {
        if (value) write_section(name, *value, path, out);
    } else if constexpr (requires {
                             value.front().name;
                             value.front().value;
                         }) {
        for (const auto& item : value) write_section(detail::toml_key(item.name), item.value, section, out);
    } else {
        for (const auto& item : value) {
            out += "\n[[" + section + "]]\n";
            write_fields(item, section, out);
        }
    }
}

template <class M>
void write_line(std::string_view name, const M& value, std::string& out) {
    if constexpr (requires { value.has_value(); }) {
        if (value) write_line(name, *value, out);
    } else {
        out += std::string(name) + " = " + Codec<M>::inline_text(value) + "\n";
    }
}

template <HasSchema S>
void write_fields(const S& object, const std::string& path, std::string& out) {
    const S defaults{};
    const auto write_field = [&](const auto& f, bool sections) {
        using M = std::remove_cvref_t<decltype(object.*f.member)>;
        if (kIsSection<M> != sections) return;
        if (f.presence == Presence::optional && object.*f.member == defaults.*f.member) return;
        if constexpr (kIsSection<M>) {
            write_section(f.name, object.*f.member, path, out);
        } else {
            write_line(f.name, object.*f.member, out);
        }
    };
    Schema<S>::fields.each([&](const auto& f) { write_field(f, false); });
    Schema<S>::fields.each([&](const auto& f) { write_field(f, true); });
}

}  // namespace

std::string plan_text(const Plan& plan) {
    std::string out;
    write_fields(plan, "", out);
    return out;
}

}  // namespace fadewright::plan
