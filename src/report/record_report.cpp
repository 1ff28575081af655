#include "fadewright/report/record_report.h"

#include "fadewright/base/files.h"
#include "fadewright/plan/job.h"
#include "fadewright/plan/plan_changes.h"
#include "fadewright/plan/record_schema.h"

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
std::string date_words(const std::string& date) {
    return date.substr(0, 10) + " " + date.substr(11, 5) + " UTC";
}

// As it may be shown on a terminal: what a hand wrote cannot command it.
std::string plain(std::string text) {
    std::replace(text.begin(), text.end(), '\n', ' ');
    std::replace_if(
        text.begin(), text.end(), [](char c) { return static_cast<unsigned char>(c) < 32 || c == 127; }, '?');
    return text;
}

Grams total(const std::vector<Named<Grams>>& poured) {
    Grams sum;
    for (const Named<Grams>& one : poured) sum = sum + one.value;
    return sum;
}

std::string settings_words(const plan::GunSet& gun, ShownUnits units) {
    std::vector<std::string> words;
    const auto one = [&](const auto& f) {
        const auto& value = gun.*f.member;
        if (!value) return;
        using M = std::remove_cvref_t<decltype(*value)>;
        if constexpr (std::is_same_v<M, std::string>) {
            words.push_back(fmt::format("{} '{}'", f.name, *value));
        } else {
            words.push_back(fmt::format("{} {}", f.name, units.as_given(*value)));
        }
    };
    Schema<plan::GunSet>::fields.each(one);
    return reading::joined(words, ", ");
}

std::string mix_words(const plan::RecordEntry& entry, ShownUnits units) {
    std::vector<std::string> poured, bottles;
    for (const Named<Grams>& one : entry.poured)
        poured.push_back(fmt::format("{} {}", one.name, units.as_given(one.value)));
    for (const Named<std::string>& one : entry.bottles)
        bottles.push_back(fmt::format("{} {}", one.name, plain(one.value)));
    std::string out = fmt::format("  mixed '{}'", entry.mix->value);
    if (!poured.empty())
        out += fmt::format(": {}; {:.6g} g in all", reading::joined(poured, ", "), total(entry.poured).value);
    out += "\n";
    if (!bottles.empty()) out += fmt::format("  bottles: {}\n", reading::joined(bottles, ", "));
    return out;
}

std::string coat_words(const plan::RecordEntry& entry, ShownUnits units) {
    std::string out;
    if (!entry.film || entry.gun) {
        out += fmt::format("  laid '{}'", entry.coat->value);
        if (entry.gun) out += fmt::format(" with {}", settings_words(*entry.gun, units));
        out += "\n";
    }
    if (entry.film)
        out += fmt::format("  read {} of '{}' at {}, {}\n", units.as_given(*entry.film), entry.coat->value,
                           units.as_given(entry.at->x), units.as_given(entry.at->y));
    return out;
}

const KeptAgainstNow* against(const RecordTold& told, const std::string& sha256) {
    for (const KeptAgainstNow& plan : told.plans)
        if (plan.sha256 == sha256) return &plan;
    return nullptr;
}

std::string changes_words(const KeptAgainstNow& plan) {
    if (!plan.readable) return "  it cannot be read by this version; its text is kept all the same\n";
    if (plan.changes.empty()) return "  only remarks or layout changed\n";
    std::string out;
    for (const std::string& change : plan.changes) out += "  " + change + "\n";
    return out;
}

template <class T>
void put(Json& json, const char* name, const std::optional<T>& value) {
    if (value) json[name] = value->value;
}

Json gun_json(const plan::GunSet& gun) {
    Json json = Json::object();
    if (gun.gun) json["gun"] = *gun.gun;
    put(json, "flow_mL_min", gun.flow);
    put(json, "speed_mm_s", gun.speed);
    put(json, "distance_mm", gun.distance);
    put(json, "needle", gun.needle);
    put(json, "air_bar", gun.air);
    return json;
}

Json entry_json(const plan::RecordEntry& entry, ShownUnits units) {
    Json json{{"date", entry.date.value}, {"plan", entry.plan.value}};
    json["words"] = date_words(entry.date.value) + "\n" + entry_words(entry, units);
    put(json, "mix", entry.mix);
    for (const Named<Grams>& one : entry.poured) json["poured_g"][one.name] = one.value.value;
    for (const Named<std::string>& one : entry.bottles) json["bottles"][one.name] = one.value;
    put(json, "coat", entry.coat);
    put(json, "film_um", entry.film);
    if (entry.at) json["at_mm"] = {entry.at->x.value, entry.at->y.value};
    put(json, "temperature_degC", entry.temperature);
    put(json, "humidity", entry.humidity);
    if (entry.note) json["note"] = *entry.note;
    if (entry.gun) json["gun"] = gun_json(*entry.gun);
    return json;
}

}  // namespace

RecordTold record_told(std::string file, plan::RecordFile record, const plan::Plan& now,
                       const std::string& text_now) {
    RecordTold told{std::move(file), std::move(record), sha256_hex(text_now), {}, now.units};
    for (const plan::KeptPlan& kept : told.record.plans) {
        KeptAgainstNow one{kept.sha256.value, kept.sha256.value == told.sha256_now, true, {}};
        Diagnostics unsaid;
        const auto before = plan::read_plan(std::make_shared<Source>("kept plan", kept.text), unsaid);
        one.readable = before.has_value();
        if (before) one.changes = plan::plan_changes(*before, now, now.units);
        told.plans.push_back(std::move(one));
    }
    return told;
}

std::string entry_words(const plan::RecordEntry& entry, ShownUnits units) {
    std::string out;
    if (entry.mix) out += mix_words(entry, units);
    if (entry.coat) out += coat_words(entry, units);
    std::vector<std::string> air;
    if (entry.temperature) air.push_back(units.as_given(*entry.temperature));
    if (entry.humidity) air.push_back(to_text(*entry.humidity) + " humidity");
    if (!air.empty()) out += fmt::format("  air at {}\n", reading::joined(air, ", "));
    if (entry.note) out += fmt::format("  note: {}\n", plain(*entry.note));
    return out;
}

std::string record_words(const RecordTold& told) {
    const std::size_t count = told.record.entries.size();
    std::string out = fmt::format("{}: {} {}, by {} {}\n", told.file, count, count == 1 ? "entry" : "entries",
                                  told.plans.size(), told.plans.size() == 1 ? "plan" : "plans");
    for (const plan::RecordEntry& entry : told.record.entries) {
        const KeptAgainstNow* by = against(told, entry.plan.value);
        out += fmt::format("\n{}, plan {}{}\n", date_words(entry.date.value), short_hash(entry.plan.value),
                           by && by->as_now ? "" : ", changed since");
        out += entry_words(entry, told.units);
    }
    for (const KeptAgainstNow& plan : told.plans)
        if (!plan.as_now)
            out += fmt::format("\nfrom plan {} to the plan now:\n", short_hash(plan.sha256)) +
                   changes_words(plan);
    return out;
}

std::string record_json(const RecordTold& told) {
    Json json{{"file", told.file}, {"plan_sha256", told.sha256_now}};
    json["plans"] = Json::array();
    for (const KeptAgainstNow& plan : told.plans)
        json["plans"].push_back({{"sha256", plan.sha256},
                                 {"as_now", plan.as_now},
                                 {"readable", plan.readable},
                                 {"changes", plan.changes}});
    json["entries"] = Json::array();
    for (const plan::RecordEntry& entry : told.record.entries)
        json["entries"].push_back(entry_json(entry, told.units));
    return json.dump(2, ' ', false, nlohmann::json::error_handler_t::replace) + "\n";
}

}  // namespace fadewright::report
