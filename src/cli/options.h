// The command line, generated from the field lists of the schemas.
//
// add_command() turns every field of Request into an option: after_coat becomes --after-coat, a bool
// becomes a flag, `out` is also -o. The typed values become a small tree for the reader of text/schema.h,
// so that ranges and suggestions are the same as in a plan file.
#pragma once

#include "fadewright/app/commands.h"
#include "fadewright/text/reference.h"
#include "fadewright/text/schema.h"

#include <CLI/CLI.hpp>
#include <functional>
#include <map>
#include <memory>
#include <string>
#include <vector>

namespace fadewright::cli {

// Options as typed for one command: texts by field name, and flags.
struct TypedOptions {
    std::map<std::string, std::vector<std::string>> texts;
    std::map<std::string, bool> flags;
};

[[nodiscard]] ParsedTree options_tree(const TypedOptions& options,
                                      const std::vector<std::string>& list_fields);
[[nodiscard]] app::Outcome command_error(const Diagnostics& diagnostics);

// One option of a command.
struct OptionSpec {
    std::string name, about, allowed, default_value;
    bool positional, list, required;
};
void add_flag(CLI::App& command, TypedOptions& options, const std::string& name, std::string_view about);
void add_option(CLI::App& command, TypedOptions& options, const OptionSpec& spec);

template <class M>
inline constexpr bool kIsList = false;
template <class M>
inline constexpr bool kIsList<std::vector<M>> = true;

template <class M>
std::string default_text(const M& value) {
    if constexpr (requires { value.has_value(); } || kIsList<M> || std::is_same_v<M, app::PlanInput>) {
        return "";
    } else if constexpr (std::is_same_v<M, std::string>) {
        return value;
    } else {
        return detail::default_text(value);
    }
}

template <class Request>
void add_command(CLI::App& program, std::function<app::Outcome(const Request&)> run, app::Outcome& outcome) {
    using S = Schema<Request>;
    CLI::App* command = program.add_subcommand(std::string(S::name), std::string(S::about));
    const auto options = std::make_shared<TypedOptions>();
    std::vector<std::string> list_fields;
    const Request initial{};
    const auto add = [&](const auto& field) {
        using M = std::remove_cvref_t<decltype(initial.*field.member)>;
        if constexpr (std::is_same_v<M, bool>) {
            add_flag(*command, *options, std::string(field.name), field.about);
        } else {
            const bool positional =
                std::find(S::positional.begin(), S::positional.end(), field.name) != S::positional.end();
            add_option(*command, *options,
                       {.name = std::string(field.name),
                        .about = std::string(field.about),
                        .allowed = Codec<M>::allowed_text(field.limits),
                        .default_value = default_text(initial.*field.member),
                        .positional = positional,
                        .list = kIsList<M>,
                        .required = field.presence == Presence::required});
            if (kIsList<M>) list_fields.emplace_back(field.name);
        }
    };
    S::fields.each(add);
    std::string examples = "Examples:";
    for (const std::string_view example : S::examples) examples += "\n  " + std::string(example);
    command->footer(examples);
    command->callback([options, run, list_fields, &outcome] {
        Diagnostics diagnostics;
        Request request{};
        if (read_struct(options_tree(*options, list_fields), request, diagnostics)) {
            outcome = run(request);
        } else {
            outcome = command_error(diagnostics);
        }
    });
}

}  // namespace fadewright::cli
