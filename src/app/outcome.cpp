#include "outcome.h"

#include "embedded.h"
#include "fadewright/app/text_override.h"
#include "fadewright/plan/read_plan.h"
#include "fadewright/plan/resolve.h"
#include "fadewright/text/schema.h"

#include <fmt/core.h>

#include <filesystem>

namespace fadewright::app {

Outcome system_error(const Error& error) {
    return {Exit::system_error, "", "error: " + error.message + "\n"};
}

Outcome cancelled_outcome() { return {Exit::system_error, "", "cancelled\n"}; }

Outcome data_error(const Diagnostics& diagnostics, bool json) {
    if (json) return {Exit::data_error, to_json(diagnostics), ""};
    return {Exit::data_error, "", to_text(diagnostics)};
}

Outcome usage_error(const std::string& message, const std::string& hint) {
    return {Exit::usage_error, "", fmt::format("error: {}\nhint: {}\n", message, hint)};
}

Result<std::shared_ptr<const Source>> read_source(const std::string& path) {
    const std::optional<std::string> override_text = TextOverride::text_of(path);
    Result<std::string> text = override_text ? *override_text : read_file_bytes(path, kTextFileLimit_bytes);
    if (!text) return text.error();
    return std::shared_ptr<const Source>(
        std::make_shared<Source>(path == "-" ? "standard input" : path, std::move(text).value()));
}

namespace {

// The requested light; the outcome is an error if the library has none of that name.
std::optional<colour::Illuminant> find_light(const std::string& name, OpenedJob& opened,
                                             Diagnostics& diagnostics) {
    if (name.empty()) return opened.job->light;
    if (const colour::Illuminant* light = opened.library->light(name, diagnostics)) return *light;
    const std::vector<std::string> names = opened.library->names(plan::LibraryKind::lights);
    opened.outcome = diagnostics.has_errors()
                         ? data_error(diagnostics, false)
                         : usage_error(fmt::format("no light is called '{}'", name),
                                       fmt::format("lights: {}", detail::join_text(names, ", ")));
    opened.job.reset();
    return std::nullopt;
}

}  // namespace

OpenedPlan open_plan(const std::string& plan_path, const std::string& library_folder,
                     const OutputOptions& output) {
    OpenedPlan opened;
    Result<plan::Library> library = plan::Library::open(embedded_presets(), library_folder);
    if (!library) {
        opened.outcome = system_error(library.error());
        return opened;
    }
    opened.library = std::move(library).value();
    Result<std::shared_ptr<const Source>> source = read_source(plan_path);
    if (!source) {
        opened.outcome = system_error(source.error());
        return opened;
    }
    opened.source = source.value();
    const std::optional<UnitSystem> units = output.unit_system();
    opened.plan = plan::read_plan(opened.source, opened.diagnostics, units);
    if (!opened.plan) {  // with the mistakes of all stages
        opened.outcome =
            data_error(plan::resolve(opened.source, *opened.library, units).diagnostics, output.json);
        return opened;
    }
    opened.plan_units = opened.plan->units;
    opened.plan->units = units.value_or(opened.plan_units);
    return opened;
}

OpenedJob open_job(const std::string& plan_path, const std::string& library_folder, const std::string& light,
                   const OutputOptions& output) {
    OpenedPlan loaded = open_plan(plan_path, library_folder, output);
    OpenedJob opened;
    opened.library = std::move(loaded.library);
    opened.source = std::move(loaded.source);
    opened.outcome = std::move(loaded.outcome);
    if (!loaded.plan) return opened;
    plan::ResolvedPlan resolved = plan::resolve(std::move(*loaded.plan), *opened.library);
    opened.job = std::move(resolved.job);
    Diagnostics& diagnostics = resolved.diagnostics;
    if (!opened.job) {
        opened.outcome = data_error(diagnostics, output.json);
        return opened;
    }
    opened.outcome.err = to_text(diagnostics);  // warnings
    opened.light = find_light(light, opened, diagnostics);
    return opened;
}

bool overwrites_plan(const std::string& out, const std::string& plan) {
    std::error_code error;
    return plan != "-" && std::filesystem::equivalent(out, plan, error);
}

Outcome refuse_overwrite(const std::string& plan) {
    return usage_error(fmt::format("this would overwrite the plan {}", plan), "choose another output name");
}

std::optional<Outcome> write_files(const OutputFiles& files, Outcome& outcome, bool json) {
    for (const auto& [path, content] : files) {
        const Result<Success> result = write_file_atomic(path, content);
        if (!result) return system_error(result.error());
        report_written(outcome, path, json);
    }
    return std::nullopt;
}

void report_written(Outcome& outcome, const std::string& path, bool json) {
    if (!json) outcome.out += fmt::format("wrote {}\n", path);
}

SourceSpan command_line_span(const std::string& text) {
    return {std::make_shared<Source>("command line", text), 0, text.size()};
}

}  // namespace fadewright::app
