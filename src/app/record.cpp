// The memory of a job: what was really done, added to a file beside the plan, listed, and used for repairs.

#include "fadewright/plan/record.h"
#include "fadewright/base/growing_file.h"
#include "fadewright/plan/fade.h"
#include "fadewright/report/record_report.h"
#include "record_entry.h"
#include "repair.h"

#include <fmt/core.h>

#include <chrono>
#include <filesystem>

namespace fadewright::app {
namespace {

// The record as it is, an empty one if there is none; or the outcome that says why it cannot be read.
std::variant<plan::RecordFile, Outcome> record_in(const std::string& path, bool json) {
    std::error_code fault;
    if (!std::filesystem::exists(path, fault)) return plan::RecordFile{};
    const Result<std::shared_ptr<const Source>> source = read_source(path);
    if (!source) return refused(source.refusal());
    Diagnostics diagnostics;
    auto record = plan::read_record(source.value(), diagnostics);
    if (!record) return wrong_data(diagnostics, json);
    return std::move(*record);
}

// The date asked for, else now; nothing if it is no date.
std::optional<std::string> date_of(const RecordRequest& request) {
    if (!request.date.empty()) return plan::date_text(request.date);
    const auto now = std::chrono::system_clock::now().time_since_epoch();
    return plan::date_text(std::chrono::duration_cast<std::chrono::seconds>(now).count());
}

// What to put behind the record; the file is read again with it before anything is written, so that an entry
// that could not be read later is never kept.
Result<std::string> addition(const std::string& path, const std::string& there,
                             const plan::RecordEntry& entry, const std::string& plan_text,
                             Diagnostics& diagnostics) {
    const auto record = plan::read_record(std::make_shared<Source>(path, there), diagnostics);
    if (!record) return Refusal{""};
    const std::string more = plan::record_addition(there, *record, entry, plan_text);
    const auto both = plan::read_record(std::make_shared<Source>(path, there + more), diagnostics);
    if (!both) return Refusal{""};
    const bool kept =
        both->entries.size() == record->entries.size() + 1 && plan::kept_plan(*both, sha256_hex(plan_text));
    if (!kept) return Refusal{"cannot add to " + path + ": the entry would not read back"};
    return more;
}

Outcome add(const RecordRequest& request, OpenedPlan opened, const std::string& path) {
    const std::optional<std::string> date = date_of(request);
    if (!date)
        return wrong_command(fmt::format("'{}' is no date", request.date),
                             "write it in UTC like  --date \"2026-03-01 14:05\"");
    Diagnostics diagnostics;
    const auto laid = plan::expanded_plan(*opened.plan, *opened.shelf, diagnostics);
    if (!laid) return wrong_data(diagnostics, request.json);
    std::variant<plan::RecordEntry, Outcome> typed = entry_of(request, *laid, *opened.shelf);
    if (const Outcome* wrong = std::get_if<Outcome>(&typed)) return *wrong;
    plan::RecordEntry entry = std::get<plan::RecordEntry>(std::move(typed));
    entry.date.value = *date;
    const std::string& text = opened.source->text();
    const Result<Done> added = grow_file(path, kTextFileLimit_bytes, [&](const std::string& there) {
        return addition(path, there, entry, text, diagnostics);
    });
    if (diagnostics.has_errors()) return wrong_data(diagnostics, request.json);
    if (!added) return refused(added.refusal());
    Outcome outcome;
    if (request.json) {
        outcome.out = fmt::format("{{\n  \"file\": {},\n  \"plan_sha256\": \"{}\",\n  \"date\": \"{}\"\n}}\n",
                                  reading::quoted(path), sha256_hex(text), *date);
    } else {
        outcome.out = fmt::format("added to {}:\n{}", path, report::entry_words(entry, opened.plan->units));
    }
    return outcome;
}

Outcome kept(const RecordRequest& request, const plan::RecordFile& record) {
    std::vector<std::string> hashes;
    const plan::KeptPlan* found = nullptr;
    int fitting = 0;
    for (const plan::KeptPlan& one : record.plans) {
        hashes.push_back(one.sha256.value.substr(0, 8));
        if (!one.sha256.value.starts_with(request.kept)) continue;
        found = &one;
        ++fitting;
    }
    if (fitting == 1) return {Exit::fine, found->text, ""};
    return wrong_command(fmt::format("{} kept plan's hash begins with '{}'",
                                     fitting == 0 ? "no" : "more than one", request.kept),
                         hashes.empty() ? "nothing is recorded yet"
                                        : fmt::format("there are: {}", reading::joined(hashes, ", ")));
}

std::optional<Outcome> wrong_request(const RecordRequest& request) {
    const int asked = int{request.list} + int{!request.kept.empty()} + int{request.repair.has_value()} +
                      int{says_what_was_done(request)};
    if (asked == 0)
        return wrong_command(
            "there is nothing to keep",
            "say what was done: --mix, --coat, --temperature, --note; or  --list  or  --repair");
    if (asked > 1)
        return wrong_command("these options do not go together",
                             "add an entry, or --list, or --kept, or --repair: one at a time");
    if (request.plan == "-" && request.file.empty())
        return wrong_command("a plan from standard input has no record beside it", "add  --file RECORD");
    return std::nullopt;
}

}  // namespace

Outcome record(const RecordRequest& request) {
    if (const std::optional<Outcome> wrong = wrong_request(request)) return *wrong;
    const std::string path = request.file.empty() ? plan::record_path(request.plan) : request.file;
    if (is_the_plan(path, request.plan)) return would_lose_plan(request.plan);
    OpenedPlan opened = open_plan(request.plan, request.shelf, answer_of(request));
    if (!opened.ready()) return opened.outcome;
    if (says_what_was_done(request)) return add(request, std::move(opened), path);
    std::variant<plan::RecordFile, Outcome> read = record_in(path, request.json);
    if (const Outcome* wrong = std::get_if<Outcome>(&read)) return *wrong;
    const plan::RecordFile& there = std::get<plan::RecordFile>(read);
    if (request.repair) return repair(request, std::move(opened), there);
    if (!request.kept.empty()) return kept(request, there);
    const report::RecordTold told = report::record_told(path, there, *opened.plan, opened.source->text());
    return {Exit::fine, request.json ? report::record_json(told) : report::record_words(told), ""};
}

}  // namespace fadewright::app
