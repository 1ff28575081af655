// fadewright on the command line: argv in, an app command, its outcome out.

#include "fadewright/app/commands.h"
#include "fadewright/app/requests_schema.h"
#include "options.h"

#include <csignal>
#include <cstdio>
#include <exception>
#include <string>

namespace {

using namespace fadewright;

void add_commands(CLI::App& program, app::Outcome& outcome) {
    cli::add_command<app::CheckRequest>(program, app::check, outcome);
    cli::add_command<app::PreviewRequest>(program, app::preview, outcome);
    cli::add_command<app::SectionRequest>(program, app::section, outcome);
    cli::add_command<app::PresetsRequest>(program, app::presets, outcome);
    cli::add_command<app::HelpRequest>(program, app::help, outcome);
}

// A name close to an unknown command, for the message.
std::string suggestion(const CLI::App& program, const std::string& typed) {
    std::vector<std::string> names;
    for (const CLI::App* command : program.get_subcommands({})) names.push_back(command->get_name());
    const std::string_view close = closest_name(typed, names);
    return close.empty() ? "" : "       = hint: did you mean '" + std::string(close) + "'?\n";
}

int run(int argc, char** argv) {
    CLI::App program("Shows a custom painter the fade before any paint is mixed.", "fadewright");
    program.set_version_flag("--version", "fadewright " FW_VERSION);
    program.require_subcommand(1);
    program.footer(
        "fadewright COMMAND --help explains a command; fadewright help plan explains the plan file.");
    app::Outcome outcome;
    add_commands(program, outcome);
    try {
        program.parse(argc, argv);
    } catch (const CLI::CallForHelp& request) {
        return program.exit(request);
    } catch (const CLI::CallForVersion& request) {
        return program.exit(request);
    } catch (const CLI::ParseError& error) {
        std::string hint;
        if (argc > 1 && argv[1][0] != '-') hint = suggestion(program, argv[1]);
        std::fprintf(stderr, "error: %s\n%s", error.what(), hint.c_str());
        std::fprintf(stderr, "       = hint: fadewright --help lists the commands and their options\n");
        return static_cast<int>(app::Exit::wrong_command);
    }
    std::fwrite(outcome.out.data(), 1, outcome.out.size(), stdout);
    std::fwrite(outcome.talk.data(), 1, outcome.talk.size(), stderr);
    if (std::fflush(stdout) != 0 && outcome.exit == app::Exit::fine)
        return static_cast<int>(app::Exit::refused);
    return static_cast<int>(outcome.exit);
}

}  // namespace

int main(int argc, char** argv) {
    std::signal(SIGPIPE, SIG_DFL);  // a closed pipe ends us quietly
    try {
        return run(argc, argv);
    } catch (const std::bad_alloc&) {
        std::fprintf(stderr, "error: the machine has not enough memory for this\n");
        return static_cast<int>(app::Exit::refused);
    } catch (const std::exception& fault) {
        std::fprintf(stderr, "fadewright: our bug: %s; please report it with the plan\n", fault.what());
        return static_cast<int>(app::Exit::bug);
    }
}
