// fadewright on the command line: argv in, an app command, its outcome out.

#include "fadewright/app/commands.h"
#include "fadewright/app/requests_schema.h"
#include "fadewright/base/strings.h"
#include "fadewright/serve/serve.h"
#include "options.h"

#include <algorithm>
#include <csignal>
#include <cstdio>
#include <cstring>
#include <exception>
#include <functional>
#include <optional>
#include <string>

#include <unistd.h>

namespace {

using namespace fadewright;

volatile std::sig_atomic_t interrupted = 0;

template <class Request>
using Command = app::Outcome (*)(app::Session&, const Request&);

// A command whose session has the library folder of the request, and whose artefacts become files.
template <class Request>
std::function<app::Outcome(const Request&)> run_and_write(Command<Request> command) {
    return [command](const Request& request) {
        std::string library_folder;
        if constexpr (requires { request.library; }) library_folder = request.library;
        app::Session session(library_folder);
        return app::write_artefacts(command(session, request));
    };
}

// Shows progress on a terminal; the first interrupt ends the search with the best result so far.
app::Outcome tune_with_progress(app::Session& session, const app::TuneRequest& typed) {
    app::TuneRequest request = typed;
    std::signal(SIGINT, [](int) {
        interrupted = 1;
        std::signal(SIGINT, SIG_DFL);  // a second interrupt ends the program
    });
    request.progress.is_cancelled = [] { return interrupted != 0; };
    if (isatty(STDERR_FILENO) != 0)
        request.progress.report = [](double share) {
            std::fprintf(stderr, share < 1 ? "\r%3.0f %% " : "\r      \r", 100 * share);
        };
    return app::tune(session, request);
}

// The address is printed while the server runs; an interrupt stops it.
app::Outcome serve_until_interrupted(serve::ServeRequest request) {
    std::signal(SIGINT, [](int) { interrupted = 1; });
    std::signal(SIGTERM, [](int) { interrupted = 1; });
    std::signal(SIGPIPE, SIG_IGN);
    request.is_cancelled = [] { return interrupted != 0; };
    request.on_address = [](const std::string& text) {
        std::fputs(text.c_str(), stdout);
        std::fflush(stdout);
    };
    return serve::serve(request);
}

void add_commands(CLI::App& program, app::Outcome& outcome) {
    cli::add_command<app::CheckRequest>(program, run_and_write<app::CheckRequest>(app::check), outcome);
    cli::add_command<app::PreviewRequest>(program, run_and_write<app::PreviewRequest>(app::preview), outcome);
    cli::add_command<app::SectionRequest>(program, run_and_write<app::SectionRequest>(app::section), outcome);
    cli::add_command<app::MixRequest>(program, run_and_write<app::MixRequest>(app::mix), outcome);
    cli::add_command<app::LadderRequest>(program, run_and_write<app::LadderRequest>(app::ladder), outcome);
    cli::add_command<app::MatchRequest>(program, run_and_write<app::MatchRequest>(app::match), outcome);
    cli::add_command<app::SpectraRequest>(program, run_and_write<app::SpectraRequest>(app::spectra), outcome);
    cli::add_command<app::LibraryRequest>(program, run_and_write<app::LibraryRequest>(app::library), outcome);
    cli::add_command<app::FitPaintRequest>(program, run_and_write<app::FitPaintRequest>(app::fit_paint),
                                           outcome);
    cli::add_command<app::FitGunRequest>(program, run_and_write<app::FitGunRequest>(app::fit_gun), outcome);
    cli::add_command<app::FadeRequest>(program, run_and_write<app::FadeRequest>(app::fade), outcome);
    cli::add_command<app::TuneRequest>(program, run_and_write<app::TuneRequest>(tune_with_progress), outcome);
    cli::add_command<app::SheetRequest>(program, run_and_write<app::SheetRequest>(app::sheet), outcome);
    cli::add_command<app::RecordRequest>(program, run_and_write<app::RecordRequest>(app::record), outcome);
    cli::add_command<app::ProofRequest>(program, run_and_write<app::ProofRequest>(app::proof), outcome);
    cli::add_command<app::TemplateRequest>(
        program, run_and_write<app::TemplateRequest>(app::outline_template), outcome);
    cli::add_command<serve::ServeRequest>(program, serve_until_interrupted, outcome);
    cli::add_command<app::HelpRequest>(program, run_and_write<app::HelpRequest>(app::help), outcome);
}

struct UsageError {
    std::string message, hint;
};

// The error for a misspelt name.
UsageError unknown_name(const std::string& kind, const std::string& word,
                        const std::vector<std::string>& known, const std::string& default_hint) {
    const std::string_view close = closest_name(word, known);
    return {"unknown " + kind + ": '" + word + "'",
            close.empty() ? default_hint : "did you mean '" + std::string(close) + "'?"};
}

// An unknown option of the command, if one was typed.
std::optional<UsageError> unknown_option(const CLI::App& command, int argc, char** argv) {
    std::vector<std::string> known;
    for (const CLI::Option* option : command.get_options())
        for (const std::string& name : option->get_lnames()) known.push_back("--" + name);
    for (int i = 2; i < argc && std::string_view(argv[i]) != "--"; ++i) {
        const std::string word(argv[i], std::strcspn(argv[i], "="));
        if (!word.starts_with("--") || std::find(known.begin(), known.end(), word) != known.end()) continue;
        return unknown_name("option of " + command.get_name(), word, known,
                            "fadewright " + command.get_name() + " --help lists the options");
    }
    return std::nullopt;
}

// The error of the command line, in the order of its words.
UsageError find_usage_error(const CLI::App& program, const CLI::ParseError& error, int argc, char** argv) {
    const std::string commands_hint = "fadewright --help lists the commands";
    if (argc < 2) return {"no command given", commands_hint};
    const std::string word = argv[1];
    std::vector<std::string> names;
    for (const CLI::App* command : program.get_subcommands({})) {
        names.push_back(command->get_name());
        if (command->get_name() != word) continue;
        if (auto error_found = unknown_option(*command, argc, argv)) return *error_found;
        return {error.what(), "fadewright " + word + " --help lists its options"};
    }
    if (word.starts_with('-')) return {error.what(), commands_hint};
    return unknown_name("command", word, names, commands_hint);
}

// Files and pipes get every byte. A terminal gets no characters that it would obey: plans and arguments can
// contain any.
void print(const std::string& text, std::FILE* stream) {
    const bool on_terminal = isatty(fileno(stream)) != 0;
    const std::string shown = on_terminal ? sanitise_for_terminal(text, "\n\t") : text;
    std::fwrite(shown.data(), 1, shown.size(), stream);
}

int run(int argc, char** argv) {
    CLI::App program("Plans colour fades and effects for spray painters, before any paint is mixed.",
                     "fadewright");
    program.set_version_flag("--version", "fadewright " FW_VERSION);
    program.require_subcommand(1);
    program.footer(
        "fadewright COMMAND --help explains a command; fadewright help lists the guides and the reference.");
    app::Outcome outcome;
    add_commands(program, outcome);
    try {
        program.parse(argc, argv);
    } catch (const CLI::CallForHelp& request) {
        return program.exit(request);
    } catch (const CLI::CallForVersion& request) {
        return program.exit(request);
    } catch (const CLI::ParseError& error) {
        const UsageError error_found = find_usage_error(program, error, argc, argv);
        print("error: " + error_found.message + "\nhint: " + error_found.hint + "\n", stderr);
        return static_cast<int>(app::Exit::usage_error);
    }
    print(outcome.out, stdout);
    print(outcome.err, stderr);
    if (std::fflush(stdout) != 0 && outcome.exit == app::Exit::ok)
        return static_cast<int>(app::Exit::system_error);
    return static_cast<int>(outcome.exit);
}

}  // namespace

int main(int argc, char** argv) {
    std::signal(SIGPIPE, SIG_DFL);  // end without a message when the pipe is closed
    try {
        return run(argc, argv);
    } catch (const std::bad_alloc&) {
        std::fprintf(stderr, "error: not enough memory\n");
        return static_cast<int>(app::Exit::system_error);
    } catch (const std::exception& exception) {
        std::fprintf(stderr, "fadewright: internal error (please report it): %s\n", exception.what());
        return static_cast<int>(app::Exit::internal_error);
    }
}
