#include "outcome.h"

#include "fadewright/base/files.h"
#include "fadewright/plan/read_plan.h"
#include "fadewright/text/schema.h"

#include <fmt/core.h>

#include <array>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <utility>

namespace fadewright::app {
namespace {

namespace fs = std::filesystem;

constexpr std::array<std::pair<std::string_view, std::string_view>, 6> kMimeTypes{
    {{".pdf", "application/pdf"},
     {".html", "text/html; charset=utf-8"},
     {".csv", "text/csv; charset=utf-8"},
     {".json", "application/json"},
     {".png", "image/png"},
     {".toml", "application/toml"}}};

std::string mime_type_of(const std::string& name) {
    for (const auto& [ending, type] : kMimeTypes)
        if (name.ends_with(ending)) return std::string(type);
    return "text/plain; charset=utf-8";
}

}  // namespace

Failure system_failure(const Error& error) { return {Exit::system_error, error.message, "", "", {}, false}; }

Failure cancelled_failure() { return {Exit::system_error, "cancelled", "", "", {}, true}; }

Failure data_failure(const Diagnostics& diagnostics) {
    Failure failure{Exit::data_error, "", "", "", diagnostics, false};
    for (const Diagnostic& diagnostic : diagnostics.sorted_list())
        if (diagnostic.severity == DiagnosticSeverity::error) {
            failure.message = diagnostic.message;
            failure.hint = diagnostic.hint;
            break;
        }
    return failure;
}

Failure data_failure(const std::string& message, const std::string& hint) {
    return {Exit::data_error, message, hint, "", {}, false};
}

Failure usage_failure(const std::string& message, const std::string& hint) {
    return {Exit::usage_error, message, hint, "", {}, false};
}

Failure option_failure(const std::string& message, const std::string& option_hint) {
    return {Exit::usage_error, message, "", option_hint, {}, false};
}

Outcome failed(const Failure& failure, bool json) {
    Outcome outcome;
    outcome.exit = failure.exit;
    outcome.failure = failure;
    if (!failure.diagnostics.empty()) {
        (json ? outcome.out : outcome.err) =
            json ? to_json(failure.diagnostics) : to_text(failure.diagnostics);
        return outcome;
    }
    const std::string& hint = failure.hint.empty() ? failure.option_hint : failure.hint;
    outcome.err = failure.cancelled ? "cancelled\n" : fmt::format("error: {}\n", failure.message);
    if (!hint.empty()) outcome.err += fmt::format("hint: {}\n", hint);
    return outcome;
}

Result<std::shared_ptr<const Source>> read_source(const std::string& path) {
    return source_of(plan_file(path));
}

Attempt<OpenedPlan> open_plan(Session& session, const PlanInput& plan, const OutputOptions& output) {
    const Result<std::shared_ptr<const Source>> source = source_of(plan);
    if (!source) return system_failure(source.error());
    OpenedPlan opened{{plan.name, plan.folder, source.value()->text()}, source.value(), {}, {}};
    const std::optional<UnitSystem> units = output.unit_system();
    std::optional<plan::Plan> read = plan::read_plan(source.value(), units).plan;
    if (!read) {
        const auto prepared = session.resolve(opened.input, units);
        return prepared ? data_failure(prepared.value()->diagnostics) : system_failure(prepared.error());
    }
    opened.plan = std::move(*read);
    opened.written_units = opened.plan.units;
    opened.plan.units = units.value_or(opened.written_units);
    return opened;
}

Attempt<std::shared_ptr<const PreparedPlan>> open_job(Session& session, const PlanInput& plan,
                                                      const OutputOptions& output) {
    Result<std::shared_ptr<const PreparedPlan>> prepared = session.resolve(plan, output.unit_system());
    if (!prepared) return system_failure(prepared.error());
    if (!prepared.value()->job) return data_failure(prepared.value()->diagnostics);
    return prepared.value();
}

Attempt<std::shared_ptr<const PreparedPlan>> open_job_in_light(Session& session, const PlanInput& plan,
                                                               const std::string& light,
                                                               const OutputOptions& output) {
    if (light.empty()) return open_job(session, plan, output);
    const Attempt<OpenedPlan> opened = open_plan(session, plan, output);
    if (!opened) return opened.error();
    Result<plan::Library> library = session.library();
    if (!library) return system_failure(library.error());
    plan::Plan other = opened.value().plan;
    other.view.light.value = light;
    auto prepared = std::make_shared<PreparedPlan>();
    prepared->library = std::move(library).value();
    static_cast<planner::ResolvedPlan&>(*prepared) = planner::resolve(std::move(other), prepared->library);
    prepared->written_units = opened.value().written_units;
    if (!prepared->job) return data_failure(prepared->diagnostics);
    return std::shared_ptr<const PreparedPlan>(std::move(prepared));
}

Attempt<colour::Illuminant> find_light(plan::Library library, const std::string& name) {
    Diagnostics diagnostics;
    if (const colour::Illuminant* light = library.light(name, diagnostics)) return *light;
    if (diagnostics.has_errors()) return data_failure(diagnostics);
    return usage_failure(
        fmt::format("no light is called '{}'", name),
        fmt::format("lights: {}", detail::join_text(library.names(plan::LibraryKind::lights), ", ")));
}

Attempt<colour::Illuminant> find_light(const PreparedPlan& prepared, const std::string& name) {
    if (name.empty()) return prepared.job->light;
    return find_light(prepared.library, name);
}

std::string path_in_folder(const PlanInput& plan, const std::string& name) {
    const fs::path shown(name);
    return shown.parent_path() == fs::path(plan.folder) ? name
                                                        : (fs::path(plan.folder) / shown.filename()).string();
}

Check check_overwrite(const std::string& out, const PlanInput& plan) {
    std::error_code error;
    if (out.empty() || plan.name == "-" || !fs::equivalent(out, path_in_folder(plan, plan.name), error))
        return Success{};
    return usage_failure(fmt::format("this would overwrite the plan {}", plan.name),
                         "choose another output name");
}

std::string json_text(const nlohmann::ordered_json& json) {
    return json.dump(2, ' ', false, nlohmann::ordered_json::error_handler_t::replace) + "\n";
}

Artefact artefact(const std::string& name, std::string bytes) {
    return {name, mime_type_of(name), std::move(bytes)};
}

void add_artefacts(Outcome& outcome, std::vector<Artefact> artefacts, bool json) {
    for (Artefact& added : artefacts) {
        if (!json) outcome.written += fmt::format("wrote {}\n", added.name);
        outcome.artefacts.push_back(std::move(added));
    }
}

void add_artefact(Outcome& outcome, const std::string& name, std::string bytes, bool json) {
    add_artefacts(outcome, {artefact(name, std::move(bytes))}, json);
}

Outcome write_artefacts(Outcome outcome) {
    for (const Artefact& written : outcome.artefacts) {
        const Result<Success> done = write_file_atomic(written.name, written.bytes);
        if (!done) return failed(system_failure(done.error()), false);
    }
    outcome.out += outcome.written;
    outcome.written.clear();
    return outcome;
}

SourceSpan command_line_span(const std::string& text) {
    return {std::make_shared<Source>("command line", text), 0, text.size()};
}

}  // namespace fadewright::app
