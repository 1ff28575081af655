// The job log: what was actually done, added to a file beside the plan, listed, and used for repairs.

#include "fadewright/base/files.h"
#include "fadewright/planner/resolve.h"
#include "fadewright/production/job_log.h"
#include "fadewright/report/record_report.h"
#include "record_entry.h"
#include "repair.h"

#include <fmt/core.h>

#include <chrono>
#include <filesystem>
#include <nlohmann/json.hpp>

namespace fadewright::app {
namespace {

// Where the job log is, and its name in messages.
struct LogFile {
    std::string name, path;
};

LogFile log_file(const RecordRequest& request) {
    if (!request.file.empty()) return {request.file, request.file};
    return {production::job_log_path(request.plan.name), job_log_path(request.plan)};
}

// The job log; empty without a file.
Attempt<production::JobLog> read_log(const LogFile& file) {
    std::error_code error;
    if (!std::filesystem::exists(file.path, error)) return production::JobLog{};
    Result<std::string> text = read_file_bytes(file.path, kTextFileLimit_bytes);
    if (!text) return system_failure(text.error());
    Diagnostics diagnostics;
    auto log =
        production::read_job_log(std::make_shared<Source>(file.name, std::move(text).value()), diagnostics);
    if (!log) return data_failure(diagnostics);
    return std::move(*log);
}

// The given date, default now; nothing if it is not a date.
std::optional<std::string> entry_date(const RecordRequest& request) {
    if (!request.date.empty()) return production::date_text(request.date);
    const auto now = std::chrono::system_clock::now().time_since_epoch();
    return production::date_text(std::chrono::duration_cast<std::chrono::seconds>(now).count());
}

// The text to append to the log. The result is read back before anything is written, so that an entry that
// could not be read later is never added.
Result<std::string> text_to_append(const std::string& name, const std::string& existing,
                                   const production::LogEntry& entry, const std::string& plan_text,
                                   Diagnostics& diagnostics) {
    const auto record = production::read_job_log(std::make_shared<Source>(name, existing), diagnostics);
    if (!record) return Error{""};
    const std::string addition = production::log_addition(existing, *record, entry, plan_text);
    const auto both =
        production::read_job_log(std::make_shared<Source>(name, existing + addition), diagnostics);
    if (!both) return Error{""};
    const bool reads_back = both->entries.size() == record->entries.size() + 1 &&
                            production::find_snapshot(*both, sha256_hex(plan_text));
    if (!reads_back) return Error{"cannot add to " + name + ": the entry could not be read back"};
    return addition;
}

Attempt<Outcome> add_entry(Session& session, const RecordRequest& request, const LogFile& file) {
    const auto opened = open_job(session, request.plan, output_options(request));
    if (!opened) return opened.error();
    const std::optional<std::string> date = entry_date(request);
    if (!date)
        return option_failure(fmt::format("'{}' is not a date", request.date),
                              "write it in UTC, such as  --date \"2026-03-01 14:05\"");
    Attempt<production::LogEntry> parsed = parse_entry(request, *opened.value());
    if (!parsed) return parsed.error();
    production::LogEntry entry = std::move(parsed).value();
    entry.date.value = *date;
    const std::string& text = opened.value()->source->text();
    Diagnostics diagnostics;
    const Result<Success> added =
        atomic_append(file.path, kTextFileLimit_bytes, [&](const std::string& existing) {
            return text_to_append(file.name, existing, entry, text, diagnostics);
        });
    if (diagnostics.has_errors()) return data_failure(diagnostics);
    if (!added) return system_failure(added.error());
    Outcome outcome;
    if (request.json)
        outcome.out = json_text({{"file", file.name}, {"plan_sha256", sha256_hex(text)}, {"date", *date}});
    else
        outcome.out = fmt::format("added to {}:\n{}", file.name,
                                  report::record_entry_text(entry, opened.value()->plan->units));
    return outcome;
}

Attempt<Outcome> show_plan(const RecordRequest& request, const production::JobLog& record) {
    std::vector<std::string> hashes;
    const production::PlanSnapshot* found = nullptr;
    int fitting = 0;
    for (const production::PlanSnapshot& snapshot : record.plans) {
        hashes.push_back(snapshot.sha256.value.substr(0, 8));
        if (!snapshot.sha256.value.starts_with(request.show_plan)) continue;
        found = &snapshot;
        ++fitting;
    }
    if (fitting == 1) {
        Outcome outcome;
        outcome.out = found->text;
        return outcome;
    }
    return usage_failure(fmt::format("{} plan copy has a checksum that starts with '{}'",
                                     fitting == 0 ? "no" : "more than one", request.show_plan),
                         hashes.empty() ? "the log has no entries yet"
                                        : fmt::format("checksums: {}", detail::join_text(hashes, ", ")));
}

Check check_request(const RecordRequest& request) {
    const int actions = int{request.list} + int{!request.show_plan.empty()} +
                        int{request.repair.has_value()} + int{has_entry(request)};
    if (actions == 0)
        return option_failure(
            "nothing to record",
            "give what was done: --mix, --coat, --temperature, --note; or  --list  or  --repair");
    if (actions > 1)
        return option_failure("these options cannot be combined",
                              "add an entry, or give one of --list, --show-plan and --repair");
    if (request.plan.name == "-" && request.file.empty())
        return option_failure("a plan from standard input has no job log beside it", "add  --file LOG");
    return check_overwrite(log_file(request).path, request.plan);
}

Attempt<Outcome> run(Session& session, const RecordRequest& request) {
    if (const Check done = check_request(request); !done) return done.error();
    const LogFile file = log_file(request);
    if (has_entry(request)) return add_entry(session, request, file);
    const Attempt<OpenedPlan> opened = open_plan(session, request.plan, output_options(request));
    if (!opened) return opened.error();
    const Attempt<production::JobLog> log = read_log(file);
    if (!log) return log.error();
    if (request.repair) return repair(session, request, opened.value(), log.value());
    if (!request.show_plan.empty()) return show_plan(request, log.value());
    const report::RecordReport report = report::make_record_report(
        file.name, log.value(), opened.value().plan, opened.value().source->text());
    Outcome outcome;
    outcome.out = request.json ? report::record_json(report) : report::record_text(report);
    return outcome;
}

}  // namespace

std::string job_log_path(const PlanInput& plan) {
    return path_in_folder(plan, production::job_log_path(plan.name));
}

Outcome record(Session& session, const RecordRequest& request) {
    const Attempt<Outcome> done = run(session, request);
    return done ? done.value() : failed(done.error(), request);
}

}  // namespace fadewright::app
