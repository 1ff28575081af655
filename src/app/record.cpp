// The job log: what was actually done, added to a file beside the plan, listed, and used for repairs.

#include "fadewright/base/files.h"
#include "fadewright/plan/fade.h"
#include "fadewright/plan/job_log.h"
#include "fadewright/report/record_report.h"
#include "record_entry.h"
#include "repair.h"

#include <fmt/core.h>

#include <chrono>
#include <filesystem>

namespace fadewright::app {
namespace {

// The job log, empty without a file; or the outcome of a failure to read it.
std::variant<plan::JobLog, Outcome> read_record_file(const std::string& path, bool json) {
    std::error_code error;
    if (!std::filesystem::exists(path, error)) return plan::JobLog{};
    const Result<std::shared_ptr<const Source>> source = read_source(path);
    if (!source) return system_error(source.error());
    Diagnostics diagnostics;
    auto record = plan::read_job_log(source.value(), diagnostics);
    if (!record) return data_error(diagnostics, json);
    return std::move(*record);
}

// The given date, default now; nothing if it is not a date.
std::optional<std::string> entry_date(const RecordRequest& request) {
    if (!request.date.empty()) return plan::date_text(request.date);
    const auto now = std::chrono::system_clock::now().time_since_epoch();
    return plan::date_text(std::chrono::duration_cast<std::chrono::seconds>(now).count());
}

// The text to append to the log. The result is read back before anything is written, so that an entry that
// could not be read later is never added.
Result<std::string> text_to_append(const std::string& path, const std::string& existing,
                                   const plan::LogEntry& entry, const std::string& plan_text,
                                   Diagnostics& diagnostics) {
    const auto record = plan::read_job_log(std::make_shared<Source>(path, existing), diagnostics);
    if (!record) return Error{""};
    const std::string addition = plan::log_addition(existing, *record, entry, plan_text);
    const auto both = plan::read_job_log(std::make_shared<Source>(path, existing + addition), diagnostics);
    if (!both) return Error{""};
    const bool reads_back = both->entries.size() == record->entries.size() + 1 &&
                            plan::find_snapshot(*both, sha256_hex(plan_text));
    if (!reads_back) return Error{"cannot add to " + path + ": the entry could not be read back"};
    return addition;
}

Outcome add_entry(const RecordRequest& request, OpenedPlan opened, const std::string& path) {
    const std::optional<std::string> date = entry_date(request);
    if (!date)
        return usage_error(fmt::format("'{}' is not a date", request.date),
                           "write it in UTC, such as  --date \"2026-03-01 14:05\"");
    Diagnostics diagnostics;
    const auto expanded = plan::expand_fades(*opened.plan, *opened.library, diagnostics);
    if (!expanded) return data_error(diagnostics, request.json);
    std::variant<plan::LogEntry, Outcome> parsed = parse_entry(request, *expanded, *opened.library);
    if (const Outcome* failure = std::get_if<Outcome>(&parsed)) return *failure;
    plan::LogEntry entry = std::get<plan::LogEntry>(std::move(parsed));
    entry.date.value = *date;
    const std::string& text = opened.source->text();
    const Result<Success> added = atomic_append(path, kTextFileLimit_bytes, [&](const std::string& existing) {
        return text_to_append(path, existing, entry, text, diagnostics);
    });
    if (diagnostics.has_errors()) return data_error(diagnostics, request.json);
    if (!added) return system_error(added.error());
    Outcome outcome;
    if (request.json) {
        outcome.out = fmt::format("{{\n  \"file\": {},\n  \"plan_sha256\": \"{}\",\n  \"date\": \"{}\"\n}}\n",
                                  detail::toml_string(path), sha256_hex(text), *date);
    } else {
        outcome.out =
            fmt::format("added to {}:\n{}", path, report::record_entry_text(entry, opened.plan->units));
    }
    return outcome;
}

Outcome show_plan(const RecordRequest& request, const plan::JobLog& record) {
    std::vector<std::string> hashes;
    const plan::PlanSnapshot* found = nullptr;
    int fitting = 0;
    for (const plan::PlanSnapshot& snapshot : record.plans) {
        hashes.push_back(snapshot.sha256.value.substr(0, 8));
        if (!snapshot.sha256.value.starts_with(request.show_plan)) continue;
        found = &snapshot;
        ++fitting;
    }
    if (fitting == 1) return {Exit::ok, found->text, ""};
    return usage_error(fmt::format("{} plan copy has a checksum that starts with '{}'",
                                   fitting == 0 ? "no" : "more than one", request.show_plan),
                       hashes.empty() ? "the log has no entries yet"
                                      : fmt::format("checksums: {}", detail::join_text(hashes, ", ")));
}

std::optional<Outcome> check_request(const RecordRequest& request) {
    const int actions = int{request.list} + int{!request.show_plan.empty()} +
                        int{request.repair.has_value()} + int{has_entry(request)};
    if (actions == 0)
        return usage_error(
            "nothing to record",
            "give what was done: --mix, --coat, --temperature, --note; or  --list  or  --repair");
    if (actions > 1)
        return usage_error("these options cannot be combined",
                           "add an entry, or give one of --list, --show-plan and --repair");
    if (request.plan == "-" && request.file.empty())
        return usage_error("a plan from standard input has no job log beside it", "add  --file LOG");
    return std::nullopt;
}

}  // namespace

Outcome record(const RecordRequest& request) {
    if (const std::optional<Outcome> failure = check_request(request)) return *failure;
    const std::string path = request.file.empty() ? plan::job_log_path(request.plan) : request.file;
    if (overwrites_plan(path, request.plan)) return refuse_overwrite(request.plan);
    OpenedPlan opened = open_plan(request.plan, request.library, output_options(request));
    if (!opened.ready()) return opened.outcome;
    if (has_entry(request)) return add_entry(request, std::move(opened), path);
    std::variant<plan::JobLog, Outcome> loaded = read_record_file(path, request.json);
    if (const Outcome* failure = std::get_if<Outcome>(&loaded)) return *failure;
    const plan::JobLog& existing = std::get<plan::JobLog>(loaded);
    if (request.repair) return repair(request, std::move(opened), existing);
    if (!request.show_plan.empty()) return show_plan(request, existing);
    const report::RecordReport report =
        report::make_record_report(path, existing, *opened.plan, opened.source->text());
    return {Exit::ok, request.json ? report::record_json(report) : report::record_text(report), ""};
}

}  // namespace fadewright::app
