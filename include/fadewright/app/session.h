// What front ends and commands share: the plan as a front end holds it, the session, and outcomes.
//
// A front end opens a Session with the user's library folder and calls commands on it (commands.h, views.h).
// Commands take texts and return artefacts: they write nothing, except the job log of `record`. The front
// end writes the artefacts (write_artefacts()) or sends them.
//
// Exit codes: 0 success, 1 error in the plan or the data, 2 error in the command line, 3 error of the system
// (a file cannot be read or written), 70 internal error.
//
// Checks     tests/app/session_test.cpp
#pragma once

#include "fadewright/base/result.h"
#include "fadewright/text/diagnostic.h"

#include <cstddef>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace fadewright::plan {
class Library;
}

namespace fadewright::app {

// A plan as a front end has it. Without a text the file `name` is read; "-" is standard input.
struct PlanInput {
    std::string name;    // as shown in messages; of a file, its path
    std::string folder;  // where the plan lies: drawings it names and its job log are found there
    std::optional<std::string> text;  // beats the file

    [[nodiscard]] bool empty() const { return name.empty(); }
};

// The plan in a file, which lies in the folder of that path.
[[nodiscard]] PlanInput plan_file(const std::string& path);

enum class Exit { ok = 0, data_error = 1, usage_error = 2, system_error = 3, internal_error = 70 };

// Why a command has no result.
struct Failure {
    Exit exit = Exit::data_error;
    std::string message;      // lower case, no full stop
    std::string hint;         // may be empty
    std::string option_hint;  // instead of `hint`, if what to do is an option of the command line
    Diagnostics diagnostics;  // of the user's texts; then message and hint are those of the first error
    bool cancelled = false;
};

// A file that a command made.
struct Artefact {
    std::string name;  // as requested, usually a path
    std::string mime_type;
    std::string bytes;
};

struct Outcome {
    Exit exit = Exit::ok;
    std::string out;  // the result: text, or JSON if requested
    std::string err;  // notes, warnings and errors, for the error stream
    std::vector<Artefact> artefacts;
    std::string written;             // what to add to `out` once the artefacts are written
    std::optional<Failure> failure;  // as data, if there is no result; out and err have it as text
};

// Writes the artefacts, each completely or not at all, and adds `written` to the output. Stops at the first
// that cannot be written: then the outcome is that failure.
[[nodiscard]] Outcome write_artefacts(Outcome outcome);

// A file that ships with the program, by its path below presets/: "plans/dusk-fade.toml".
[[nodiscard]] std::optional<std::string> preset_text(std::string_view path);

struct PreparedPlan;  // a resolved plan, for the commands (src/app/prepared_plan.h)
class PageRenderers;  // pictures of plans that are being edited (src/app/page_renderers.h)

// The library, opened once, and the plans resolved last. Any thread may use it. Sessions share nothing.
class Session {
public:
    // library_folder: of the user's own paints, guns and so on; empty: only what ships with the program. It
    // is read when it is first needed.
    explicit Session(std::string library_folder = {});
    ~Session();
    Session(const Session&) = delete;
    Session& operator=(const Session&) = delete;

    // A copy in which no item has been read yet, so that every mistake in its files is reported again. Error
    // if the folder cannot be read.
    [[nodiscard]] Result<plan::Library> library() const;

    // Whether the library can be read.
    [[nodiscard]] Result<Success> check_library() const;

    // The plan read and resolved, from the cache if it is one of the newest six; its errors are in its
    // diagnostics. Quantities in messages and output are in `units`, default the plan's. Error if the plan or
    // the library cannot be read.
    [[nodiscard]] Result<std::shared_ptr<const PreparedPlan>> resolve(const PlanInput& input,
                                                                      std::optional<UnitSystem> units);
    // Plans resolved so far; one from the cache does not count.
    [[nodiscard]] std::size_t resolved_count() const;

    // The renderers of the pages that show its plans.
    [[nodiscard]] PageRenderers& page_renderers();

private:
    struct State;
    std::unique_ptr<State> state_;
};

}  // namespace fadewright::app
