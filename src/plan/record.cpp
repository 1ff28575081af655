#include "fadewright/plan/record.h"

#include "fadewright/base/files.h"
#include "fadewright/plan/job.h"
#include "fadewright/plan/record_schema.h"
#include "names.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <map>

namespace fadewright::plan {
namespace {

constexpr std::array kRules{
    Rule{"M001", "an entry's date is a day and time of the calendar, in UTC"},
    Rule{"M002", "an entry's plan is kept in the record"},
    Rule{"M003", "a kept plan is the one of its hash"},
    Rule{"M004", "a plan is kept once"},
    Rule{"M005", "an entry says what was done"},
    Rule{"M006", "paints and bottles go with a mix, each once"},
    Rule{"M007", "film and gun go with a coat, a film with the place where it was read"},
    Rule{"M008", "mix and coat are in the plan that was worked by"},
};

constexpr std::string_view kHead =
    "record = 1\n# What was really mixed and sprayed. Entries are only ever added; your own remarks stay.\n";

bool says_something(const RecordEntry& entry) {
    return entry.mix || entry.coat || entry.temperature || entry.humidity || entry.note ||
           !entry.poured.empty() || !entry.bottles.empty() || entry.film || entry.gun;
}

class Checker {
public:
    explicit Checker(Diagnostics& diagnostics) : diagnostics_(diagnostics) {}

    void check(const KeptPlan& kept) {
        const std::string hash = sha256_hex(kept.text);
        if (hash != kept.sha256.value)
            error("M003", kept.sha256.place, "the kept plan has been changed: its hash is " + hash,
                  "put its text back as it was; a plan that was worked by is not edited here");
        if (!known_.insert({kept.sha256.value, std::nullopt}).second)
            error("M004", kept.sha256.place, "this plan is kept already", "take the second one out");
        // A plan that cannot be read any more says nothing about its names.
        Diagnostics unsaid;
        known_[kept.sha256.value] = read_plan(std::make_shared<Source>("kept plan", kept.text), unsaid);
    }

    void check(const RecordEntry& entry) {
        if (!is_date_text(entry.date.value))
            error("M001", entry.date.place, fmt::format("'{}' is no date", entry.date.value),
                  "write it like  \"2026-03-01T14:05:00Z\"");
        if (!says_something(entry))
            error("M005", entry.place, "this entry says nothing",
                  "add a mix, a coat, temperature, humidity or a note");
        check_belongings(entry);
        const auto kept = known_.find(entry.plan.value);
        if (kept == known_.end()) {
            error("M002", entry.plan.place, "no plan of this hash is kept in the record",
                  "give the sha256 of one of its [[plans]]");
        } else if (kept->second) {
            check_names(entry, *kept->second);
        }
    }

private:
    void error(const char* rule, const Place& place, const std::string& message, const std::string& hint) {
        diagnostics_.error(rule, place, message, hint);
    }

    void check_belongings(const RecordEntry& entry) {
        if (!entry.mix && !(entry.poured.empty() && entry.bottles.empty()))
            error("M006", entry.place, "paints are given but no mix", "add  mix = \"...\"");
        if (!entry.coat && (entry.film || entry.gun))
            error("M007", entry.place, "a film or the gun is given but no coat", "add  coat = \"...\"");
        if (entry.film.has_value() != entry.at.has_value())
            error("M007", entry.place,
                  entry.film ? "a film is given but not where it was read" : "a place is given but no film",
                  "give both:  film = \"14 um\"  and  at = [\"450 mm\", \"280 mm\"]");
        if (entry.gun && entry.gun->empty())
            error("M007", entry.place, "the gun is given without a setting",
                  "leave it out, or add what was changed:  air = \"1.2 bar\"");
    }

    void check_names(const RecordEntry& entry, const Plan& plan) {
        std::vector<std::string> mixes, coats;
        for (const Named<Mix>& mix : plan.mixes) mixes.push_back(mix.name);
        for (const Coat& coat : plan.coats) coats.push_back(coat.name);
        if (entry.mix && !has_mix(plan, entry.mix->value))
            report_unknown("M008", "mix of that plan", *entry.mix, mixes, diagnostics_);
        if (entry.coat && !has_coat(plan, entry.coat->value))
            report_unknown("M008", "coat of that plan", *entry.coat, coats, diagnostics_);
    }

    Diagnostics& diagnostics_;
    std::map<std::string, std::optional<Plan>, std::less<>> known_;  // by hash
};

bool can_stand_as_it_is(std::string_view text) {
    if (text.find("'''") != std::string_view::npos || text.ends_with('\'')) return false;
    return std::none_of(text.begin(), text.end(), [](char c) {
        const auto code = static_cast<unsigned char>(c);
        return (code < 32 && c != '\n' && c != '\t') || code == 127;
    });
}

}  // namespace

std::span<const Rule> record_rules() { return kRules; }

std::optional<RecordFile> read_record(std::shared_ptr<const Source> source, Diagnostics& diagnostics) {
    RecordFile record;
    if (source->text().find_first_not_of(" \t\r\n") == std::string::npos) return record;
    const std::optional<ReadTree> tree = read_toml(std::move(source), diagnostics);
    if (!tree || !read_thing(*tree, record, diagnostics)) return std::nullopt;
    const std::size_t before = diagnostics.error_count();
    Checker checker(diagnostics);
    for (const KeptPlan& kept : record.plans) checker.check(kept);
    for (const RecordEntry& entry : record.entries) checker.check(entry);
    if (diagnostics.error_count() != before) return std::nullopt;
    return record;
}

std::string text_block(std::string_view text) {
    // A line end behind the opening quotes is none of the text's.
    if (can_stand_as_it_is(text)) return "'''\n" + std::string(text) + "'''";
    std::string out = "\"\"\"\n";
    for (std::size_t begin = 0; begin < text.size();) {
        const std::size_t end = std::min(text.find('\n', begin), text.size());
        const std::string line = reading::quoted(text.substr(begin, end - begin));
        out += line.substr(1, line.size() - 2);
        if (end < text.size()) out += '\n';
        begin = end + 1;
    }
    return out + "\"\"\"";
}

std::string record_addition(std::string_view there, const RecordFile& record, RecordEntry entry,
                            const std::string& plan_text) {
    entry.plan.value = sha256_hex(plan_text);
    std::string out;
    if (there.find_first_not_of(" \t\r\n") == std::string_view::npos) out = kHead;
    if (!there.empty() && !there.ends_with('\n')) out = "\n" + out;
    if (!kept_plan(record, entry.plan.value))
        out +=
            fmt::format("\n[[plans]]\nsha256 = \"{}\"\ntext = {}\n", entry.plan.value, text_block(plan_text));
    out += "\n[[entries]]\n";
    printing::print_fields(entry, "entries", out);
    return out;
}

const KeptPlan* kept_plan(const RecordFile& record, std::string_view sha256) {
    for (const KeptPlan& kept : record.plans)
        if (kept.sha256.value == sha256) return &kept;
    return nullptr;
}

std::string record_path(const std::string& plan_path) {
    constexpr std::string_view kEnding = ".toml";
    const bool ends = plan_path.ends_with(kEnding);
    return plan_path.substr(0, plan_path.size() - (ends ? kEnding.size() : 0)) + ".record.toml";
}

bool has_mix(const Plan& plan, const std::string& mix) {
    for (const Named<Mix>& one : plan.mixes)
        if (one.name == mix) return true;
    return std::any_of(plan.coats.begin(), plan.coats.end(),
                       [&](const Coat& coat) { return coat.mix.value == mix || coat.fade; });
}

bool has_coat(const Plan& plan, const std::string& coat) {
    return std::any_of(plan.coats.begin(), plan.coats.end(), [&](const Coat& one) {
        return one.name == coat || (one.fade && coat.starts_with(one.name + ": "));
    });
}

}  // namespace fadewright::plan
