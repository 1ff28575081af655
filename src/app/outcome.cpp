#include "outcome.h"

#include "embedded.h"
#include "fadewright/app/in_hand.h"
#include "fadewright/text/schema.h"

#include <fmt/core.h>

#include <filesystem>

namespace fadewright::app {

Outcome refused(const Refusal& refusal) { return {Exit::refused, "", "error: " + refusal.message + "\n"}; }

Outcome ended_early() { return {Exit::refused, "", "ended before it was done\n"}; }

Outcome wrong_data(const Diagnostics& diagnostics, bool json) {
    if (json) return {Exit::wrong_data, to_json(diagnostics), ""};
    return {Exit::wrong_data, "", to_text(diagnostics)};
}

Outcome wrong_command(const std::string& message, const std::string& hint) {
    return {Exit::wrong_command, "", fmt::format("error: {}\n       = hint: {}\n", message, hint)};
}

Result<std::shared_ptr<const Source>> read_source(const std::string& path) {
    const std::optional<std::string> in_hand = InHand::text_of(path);
    Result<std::string> text = in_hand ? *in_hand : read_whole(path, kTextFileLimit_bytes);
    if (!text) return text.refusal();
    return std::shared_ptr<const Source>(
        std::make_shared<Source>(path == "-" ? "standard input" : path, std::move(text).value()));
}

namespace {

// The light asked for by name; the outcome says so if the shelf has none of that name.
std::optional<colour::Light> light_called(const std::string& name, Opened& opened, Diagnostics& diagnostics) {
    if (name.empty()) return opened.job->light;
    if (const colour::Light* light = opened.shelf->light(name, diagnostics)) return *light;
    const std::vector<std::string> names = opened.shelf->names(plan::ShelfKind::lights);
    opened.outcome = diagnostics.has_errors()
                         ? wrong_data(diagnostics, false)
                         : wrong_command(fmt::format("no light is called '{}'", name),
                                         fmt::format("lights: {}", reading::joined(names, ", ")));
    opened.job.reset();
    return std::nullopt;
}

}  // namespace

OpenedPlan open_plan(const std::string& plan_path, const std::string& shelf_folder, const Answer& answer) {
    OpenedPlan opened;
    Result<plan::Shelf> shelf = plan::Shelf::open(embedded_presets(), shelf_folder);
    if (!shelf) {
        opened.outcome = refused(shelf.refusal());
        return opened;
    }
    opened.shelf = std::move(shelf).value();
    Result<std::shared_ptr<const Source>> source = read_source(plan_path);
    if (!source) {
        opened.outcome = refused(source.refusal());
        return opened;
    }
    opened.source = source.value();
    const std::optional<UnitSystem> units = answer.shown_in();
    opened.plan = plan::read_plan(opened.source, opened.diagnostics, units);
    if (!opened.plan) {
        opened.outcome = wrong_data(opened.diagnostics, answer.json);
        return opened;
    }
    opened.own_units = opened.plan->units;
    opened.plan->units = units.value_or(opened.own_units);
    return opened;
}

Opened open_job(const std::string& plan_path, const std::string& shelf_folder, const std::string& light,
                const Answer& answer) {
    OpenedPlan read = open_plan(plan_path, shelf_folder, answer);
    Opened opened;
    opened.shelf = std::move(read.shelf);
    opened.source = std::move(read.source);
    opened.outcome = std::move(read.outcome);
    if (!read.plan) return opened;
    Diagnostics& diagnostics = read.diagnostics;
    opened.job = plan::ready_job(*read.plan, opened.source->text(), *opened.shelf, diagnostics);
    if (!opened.job) {
        opened.outcome = wrong_data(diagnostics, answer.json);
        return opened;
    }
    opened.outcome.talk = to_text(diagnostics);  // warnings
    opened.light = light_called(light, opened, diagnostics);
    return opened;
}

bool is_the_plan(const std::string& out, const std::string& plan) {
    std::error_code fault;
    return plan != "-" && std::filesystem::equivalent(out, plan, fault);
}

Outcome would_lose_plan(const std::string& plan) {
    return wrong_command(fmt::format("this would write over the plan {}", plan),
                         "give the file to write another name");
}

std::optional<Outcome> write_all(const NewFiles& files, Outcome& outcome, bool json) {
    for (const auto& [path, content] : files) {
        const Result<Done> written = write_whole(path, content);
        if (!written) return refused(written.refusal());
        say_written(outcome, path, json);
    }
    return std::nullopt;
}

void say_written(Outcome& outcome, const std::string& path, bool json) {
    if (!json) outcome.out += fmt::format("wrote {}\n", path);
}

}  // namespace fadewright::app
