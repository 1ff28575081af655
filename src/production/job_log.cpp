#include "fadewright/production/job_log.h"

#include "fadewright/base/files.h"
#include "fadewright/plan/names.h"
#include "fadewright/plan/read_plan.h"
#include "fadewright/production/job_log_schema.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <map>

namespace fadewright::production {
namespace {

constexpr std::array kJobLogRules{
    Rule{"M001", "the date of an entry must be a valid date and time in UTC"},
    Rule{"M002", "the plan of an entry must be in the job log"},
    Rule{"M003", "a plan copy must match its checksum"},
    Rule{"M004", "each plan copy is in the job log only once"},
    Rule{"M005", "an entry needs a mix, a coat, air or a note"},
    Rule{"M006", "grams and batch numbers need a mix, and each paint only once"},
    Rule{"M007", "film and gun need a coat, and a film the point where it was measured"},
    Rule{"M008", "mix and coat must be in the plan used"},
};

constexpr std::string_view kHeader =
    "record = 1\n# What was actually mixed and sprayed. Entries are only added; your own comments stay.\n";

bool has_content(const LogEntry& entry) {
    return entry.mix || entry.coat || entry.temperature || entry.humidity || entry.note ||
           !entry.grams.empty() || !entry.batches.empty() || entry.film || entry.gun;
}

class LogChecker {
public:
    explicit LogChecker(Diagnostics& diagnostics) : diagnostics_(diagnostics) {}

    void check(const PlanSnapshot& snapshot) {
        const std::string hash = sha256_hex(snapshot.text);
        if (hash != snapshot.sha256.value)
            error("M003", snapshot.sha256.span, "the plan copy does not match its checksum: it is " + hash,
                  "restore its text; a plan copy must not be edited");
        if (!snapshots_.insert({snapshot.sha256.value, std::nullopt}).second)
            error("M004", snapshot.sha256.span, "this plan copy is already in the job log",
                  "remove the second one");
        // The names of a plan that cannot be read any more are unknown.
        snapshots_[snapshot.sha256.value] =
            plan::read_plan(std::make_shared<Source>("plan snapshot", snapshot.text)).plan;
    }

    void check(const LogEntry& entry) {
        if (!is_date(entry.date.value))
            error("M001", entry.date.span, fmt::format("'{}' is not a date", entry.date.value),
                  "write it like  \"2026-03-01T14:05:00Z\"");
        if (!has_content(entry))
            error("M005", entry.span, "this entry is empty",
                  "add a mix, a coat, temperature, humidity or a note");
        check_dependencies(entry);
        const auto snapshot = snapshots_.find(entry.plan.value);
        if (snapshot == snapshots_.end()) {
            error("M002", entry.plan.span, "no plan copy in the job log has this checksum",
                  "give the sha256 of one of the [[plans]]");
        } else if (snapshot->second) {
            check_names(entry, *snapshot->second);
        }
    }

private:
    void error(const char* rule, const SourceSpan& span, const std::string& message,
               const std::string& hint) {
        diagnostics_.error(rule, span, message, hint);
    }

    void check_dependencies(const LogEntry& entry) {
        if (!entry.mix && !(entry.grams.empty() && entry.batches.empty()))
            error("M006", entry.span, "paints without a mix", "add  mix = \"...\"");
        if (!entry.coat && (entry.film || entry.gun))
            error("M007", entry.span, "film or gun settings without a coat", "add  coat = \"...\"");
        if (entry.film.has_value() != entry.at.has_value())
            error("M007", entry.span,
                  entry.film ? "a film without the point where it was measured" : "a point without a film",
                  "give both:  film = \"14 um\"  and  at = [\"450 mm\", \"280 mm\"]");
        if (entry.gun && entry.gun->empty())
            error("M007", entry.span, "gun settings are empty",
                  "remove [entries.gun], or add what was changed:  air = \"1.2 bar\"");
    }

    void check_names(const LogEntry& entry, const plan::Plan& plan) {
        std::vector<std::string> mixes, coats;
        for (const Named<plan::Mix>& mix : plan.mixes) mixes.push_back(mix.name);
        for (const plan::Coat& coat : plan.coats) coats.push_back(coat.name);
        if (entry.mix && !mentions_mix(plan, entry.mix->value))
            plan::report_unknown("M008", "mix of that plan", *entry.mix, mixes, diagnostics_);
        if (entry.coat && !mentions_coat(plan, entry.coat->value))
            plan::report_unknown("M008", "coat of that plan", *entry.coat, coats, diagnostics_);
    }

    Diagnostics& diagnostics_;
    std::map<std::string, std::optional<plan::Plan>, std::less<>> snapshots_;  // by checksum
};

bool fits_literal_string(std::string_view text) {
    if (text.find("'''") != std::string_view::npos || text.ends_with('\'')) return false;
    return std::none_of(text.begin(), text.end(), [](char c) {
        const auto code = static_cast<unsigned char>(c);
        return (code < 32 && c != '\n' && c != '\t') || code == 127;
    });
}

}  // namespace

std::span<const Rule> job_log_rules() { return kJobLogRules; }

std::optional<JobLog> read_job_log(std::shared_ptr<const Source> source, Diagnostics& diagnostics) {
    JobLog job_log;
    if (source->text().find_first_not_of(" \t\r\n") == std::string::npos) return job_log;
    const std::optional<ParsedTree> tree = read_toml(std::move(source), diagnostics);
    if (!tree || !read_struct(*tree, job_log, diagnostics)) return std::nullopt;
    const std::size_t before = diagnostics.error_count();
    LogChecker checker(diagnostics);
    for (const PlanSnapshot& snapshot : job_log.plans) checker.check(snapshot);
    for (const LogEntry& entry : job_log.entries) checker.check(entry);
    if (diagnostics.error_count() != before) return std::nullopt;
    return job_log;
}

std::string toml_text_block(std::string_view text) {
    // A line end after the opening quotes is not part of the text.
    if (fits_literal_string(text)) return "'''\n" + std::string(text) + "'''";
    std::string out = "\"\"\"\n";
    for (std::size_t begin = 0; begin < text.size();) {
        const std::size_t end = std::min(text.find('\n', begin), text.size());
        const std::string line = detail::toml_string(text.substr(begin, end - begin));
        out += line.substr(1, line.size() - 2);
        if (end < text.size()) out += '\n';
        begin = end + 1;
    }
    return out + "\"\"\"";
}

std::string log_addition(std::string_view existing, const JobLog& job_log, LogEntry entry,
                         const std::string& plan_text) {
    entry.plan.value = sha256_hex(plan_text);
    std::string out;
    if (existing.find_first_not_of(" \t\r\n") == std::string_view::npos) out = kHeader;
    if (!existing.empty() && !existing.ends_with('\n')) out = "\n" + out;
    if (!find_snapshot(job_log, entry.plan.value))
        out += fmt::format("\n[[plans]]\nsha256 = \"{}\"\ntext = {}\n", entry.plan.value,
                           toml_text_block(plan_text));
    out += "\n[[entries]]\n";
    detail::print_fields(entry, "entries", out);
    return out;
}

const PlanSnapshot* find_snapshot(const JobLog& job_log, std::string_view sha256) {
    for (const PlanSnapshot& snapshot : job_log.plans)
        if (snapshot.sha256.value == sha256) return &snapshot;
    return nullptr;
}

std::string job_log_path(const std::string& plan_path) {
    constexpr std::string_view kEnding = ".toml";
    const bool ends = plan_path.ends_with(kEnding);
    return plan_path.substr(0, plan_path.size() - (ends ? kEnding.size() : 0)) + ".record.toml";
}

bool mentions_mix(const plan::Plan& plan, const std::string& mix) {
    for (const Named<plan::Mix>& candidate : plan.mixes)
        if (candidate.name == mix) return true;
    return std::any_of(plan.coats.begin(), plan.coats.end(),
                       [&](const plan::Coat& coat) { return coat.mix.value == mix || coat.fade; });
}

bool mentions_coat(const plan::Plan& plan, const std::string& coat) {
    return std::any_of(plan.coats.begin(), plan.coats.end(), [&](const plan::Coat& candidate) {
        return candidate.name == coat || (candidate.fade && coat.starts_with(candidate.name + ": "));
    });
}

}  // namespace fadewright::production
