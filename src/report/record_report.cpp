#include "fadewright/report/record_report.h"

#include "fadewright/base/files.h"
#include "fadewright/base/strings.h"
#include "fadewright/plan/read_plan.h"
#include "fadewright/production/job_log_schema.h"
#include "fadewright/report/plan_diff.h"

#include <fmt/core.h>

#include <algorithm>
#include <memory>
#include <nlohmann/json.hpp>

namespace fadewright::report {
namespace {

using Json = nlohmann::ordered_json;

constexpr std::size_t kShortHash = 8;

std::string short_hash(const std::string& sha256) { return sha256.substr(0, kShortHash); }

// "2026-03-01T14:05:00Z" -> "2026-03-01 14:05 UTC"
std::string date_label(const std::string& date) {
    return date.substr(0, 10) + " " + date.substr(11, 5) + " UTC";
}

// Typed text on one line of a terminal.
std::string sanitise_line(std::string text) {
    std::replace(text.begin(), text.end(), '\n', ' ');
    return sanitise_for_terminal(text);
}

Grams total(const std::vector<Named<Grams>>& items) {
    Grams sum;
    for (const Named<Grams>& item : items) sum = sum + item.value;
    return sum;
}

std::string gun_settings_text(const production::GunSettings& gun, DisplayUnits units) {
    std::vector<std::string> parts;
    const auto item = [&](const auto& f) {
        const auto& value = gun.*f.member;
        if (!value) return;
        using M = std::remove_cvref_t<decltype(*value)>;
        if constexpr (std::is_same_v<M, std::string>) {
            parts.push_back(fmt::format("{} '{}'", f.name, *value));
        } else {
            parts.push_back(fmt::format("{} {}", f.name, units.input_text(*value)));
        }
    };
    Schema<production::GunSettings>::fields.each(item);
    return detail::join_text(parts, ", ");
}

std::string mixed_paint_text(const production::LogEntry& entry, DisplayUnits units) {
    std::vector<std::string> weights, batches;
    for (const Named<Grams>& item : entry.grams)
        weights.push_back(fmt::format("{} {}", item.name, units.input_text(item.value)));
    for (const Named<std::string>& item : entry.batches)
        batches.push_back(fmt::format("{} {}", item.name, sanitise_line(item.value)));
    std::string out = fmt::format("  mixed '{}'", entry.mix->value);
    if (!weights.empty())
        out +=
            fmt::format(": {}; total {:.6g} g", detail::join_text(weights, ", "), total(entry.grams).value);
    out += "\n";
    if (!batches.empty()) out += fmt::format("  batch nos.: {}\n", detail::join_text(batches, ", "));
    return out;
}

std::string sprayed_coat_text(const production::LogEntry& entry, DisplayUnits units) {
    std::string out;
    if (!entry.film || entry.gun) {
        out += fmt::format("  sprayed '{}'", entry.coat->value);
        if (entry.gun) out += fmt::format(" with {}", gun_settings_text(*entry.gun, units));
        out += "\n";
    }
    if (entry.film)
        out += fmt::format("  measured dry film of '{}': {} at {}, {}\n", entry.coat->value,
                           units.input_text(*entry.film), units.input_text(entry.at->x),
                           units.input_text(entry.at->y));
    return out;
}

const SnapshotDiff* find_snapshot(const RecordReport& report, const std::string& sha256) {
    for (const SnapshotDiff& plan : report.snapshots)
        if (plan.sha256 == sha256) return &plan;
    return nullptr;
}

std::string changes_text(const SnapshotDiff& plan) {
    if (!plan.readable) return "  cannot be read by this version; its text is kept\n";
    if (plan.changes.empty()) return "  only comments or layout\n";
    std::string out;
    for (const std::string& change : plan.changes) out += "  " + change + "\n";
    return out;
}

template <class T>
void add_optional_json(Json& json, const char* name, const std::optional<T>& value) {
    if (value) json[name] = value->value;
}

Json gun_json(const production::GunSettings& gun) {
    Json json = Json::object();
    if (gun.gun) json["gun"] = *gun.gun;
    add_optional_json(json, "flow_mL_min", gun.flow);
    add_optional_json(json, "speed_mm_s", gun.speed);
    add_optional_json(json, "distance_mm", gun.distance);
    add_optional_json(json, "needle_opening", gun.needle_opening);
    add_optional_json(json, "air_bar", gun.air);
    return json;
}

Json entry_json(const production::LogEntry& entry, DisplayUnits units) {
    Json json{{"date", entry.date.value}, {"plan", entry.plan.value}};
    json["text"] = date_label(entry.date.value) + "\n" + record_entry_text(entry, units);
    add_optional_json(json, "mix", entry.mix);
    for (const Named<Grams>& item : entry.grams) json["weights"][item.name] = item.value.value;
    for (const Named<std::string>& item : entry.batches) json["batch_numbers"][item.name] = item.value;
    add_optional_json(json, "coat", entry.coat);
    add_optional_json(json, "film_um", entry.film);
    if (entry.at) json["at_mm"] = {entry.at->x.value, entry.at->y.value};
    add_optional_json(json, "temperature_degC", entry.temperature);
    add_optional_json(json, "humidity", entry.humidity);
    if (entry.note) json["note"] = *entry.note;
    if (entry.gun) json["gun"] = gun_json(*entry.gun);
    return json;
}

}  // namespace

RecordReport make_record_report(std::string file, production::JobLog record, const plan::Plan& now,
                                const std::string& text_now) {
    RecordReport report{std::move(file), std::move(record), sha256_hex(text_now), {}, now.units};
    for (const production::PlanSnapshot& snapshot : report.record.plans) {
        SnapshotDiff item{snapshot.sha256.value, snapshot.sha256.value == report.current_sha256, true, {}};
        const std::optional<plan::Plan> previous =
            plan::read_plan(std::make_shared<Source>("plan snapshot", snapshot.text)).plan;
        item.readable = previous.has_value();
        if (previous) item.changes = plan_diff(*previous, now, now.units);
        report.snapshots.push_back(std::move(item));
    }
    return report;
}

std::string record_entry_text(const production::LogEntry& entry, DisplayUnits units) {
    std::string out;
    if (entry.mix) out += mixed_paint_text(entry, units);
    if (entry.coat) out += sprayed_coat_text(entry, units);
    std::vector<std::string> booth;
    if (entry.temperature) booth.push_back(units.input_text(*entry.temperature));
    if (entry.humidity) booth.push_back(to_text(*entry.humidity) + " RH");
    if (!booth.empty()) out += fmt::format("  booth {}\n", detail::join_text(booth, ", "));
    if (entry.note) out += fmt::format("  note: {}\n", sanitise_line(*entry.note));
    return out;
}

std::string record_text(const RecordReport& report) {
    const std::size_t count = report.record.entries.size();
    std::string out = fmt::format("{}: {} {}\n", report.file, count, count == 1 ? "entry" : "entries");
    for (const production::LogEntry& entry : report.record.entries) {
        const SnapshotDiff* snapshot = find_snapshot(report, entry.plan.value);
        out += fmt::format("\n{}, plan {}{}\n", date_label(entry.date.value), short_hash(entry.plan.value),
                           snapshot && snapshot->unchanged ? "" : ", changed since");
        out += record_entry_text(entry, report.units);
    }
    for (const SnapshotDiff& plan : report.snapshots)
        if (!plan.unchanged)
            out += fmt::format("\nchanges since plan {}:\n", short_hash(plan.sha256)) + changes_text(plan);
    return out;
}

std::string record_json(const RecordReport& report) {
    Json json{{"file", report.file}, {"plan_sha256", report.current_sha256}};
    json["plans"] = Json::array();
    for (const SnapshotDiff& plan : report.snapshots)
        json["plans"].push_back({{"sha256", plan.sha256},
                                 {"current", plan.unchanged},
                                 {"readable", plan.readable},
                                 {"changes", plan.changes}});
    json["entries"] = Json::array();
    for (const production::LogEntry& entry : report.record.entries)
        json["entries"].push_back(entry_json(entry, report.units));
    return json.dump(2, ' ', false, nlohmann::json::error_handler_t::replace) + "\n";
}

}  // namespace fadewright::report
