// Mixes as weighed in and films as measured, from the job log.
#include "fadewright/production/actuals.h"

#include "fadewright/paint/mix.h"
#include "fadewright/plan/read_plan.h"
#include "preset_library.h"

#include <catch2/catch.hpp>

using namespace fadewright;
using production::JobLog;
using production::LogEntry;

namespace {

const std::string kPlan = R"(plan = 1
[panel]
width = "300 mm"
height = "200 mm"
[mixes.plum]
parts = { quinacridone-violet = 6, titanium-white = 1 }
reduce = "10 %"
[mixes.middle]
parts = { plum = 1, diarylide-yellow = 1 }
[[coats]]
name = "base"
mix = "plum"
even_coat.film = "20 um"
[[coats]]
name = "middle"
mix = "middle"
even_coat.film = "10 um"
)";

plan::Plan sample_plan() {
    Diagnostics diagnostics;
    return plan::read_plan(std::make_shared<Source>("plan", kPlan), diagnostics).value();
}

LogEntry mix_entry(const std::string& date, const std::string& mix, std::vector<Named<Grams>> grams) {
    LogEntry entry;
    entry.date.value = date;
    entry.mix = Located<std::string>{mix, {}};
    entry.grams = std::move(grams);
    return entry;
}

double part(const production::ActualMix& mix, const std::string& id) {
    double sum = 0;
    for (const paint::Part& first : mix.parts) sum += first.paint->id == id ? first.parts : 0;
    return sum;
}

}  // namespace

TEST_CASE("the last logged mix counts, with weights over densities as volumes", "[plan][record]") {
    plan::Library library = test::preset_library();
    std::vector<production::UnknownPart> unknown;
    Diagnostics none;
    const double density = library.paint("quinacridone-violet", none)->wet_density.value;
    JobLog job_log;
    job_log.entries = {mix_entry("a", "plum", {{"quinacridone-violet", Grams{1}, {}}}),
                       mix_entry("b", "plum", {{"quinacridone-violet", Grams{12}, {}}}),
                       mix_entry("c", "plum", {})};
    const auto mix = production::actual_mix(job_log, sample_plan(), "plum", library, unknown);
    REQUIRE(mix);
    CHECK(mix->date == "b");
    CHECK(part(*mix, "quinacridone-violet") == Approx(12 / density));
    CHECK(unknown.empty());
    CHECK_FALSE(production::actual_mix(job_log, sample_plan(), "middle", library, unknown));
}

TEST_CASE("unweighed reducer is added as planned, weighed reducer is not", "[plan][record]") {
    plan::Library library = test::preset_library();
    std::vector<production::UnknownPart> unknown;
    JobLog job_log;
    job_log.entries = {mix_entry("a", "plum", {{"titanium-white", Grams{50}, {}}})};
    auto mix = production::actual_mix(job_log, sample_plan(), "plum", library, unknown).value();
    CHECK(mix.reducer_as_planned);
    CHECK(part(mix, "reducer-medium") == Approx(0.1 * part(mix, "titanium-white")));
    job_log.entries[0].grams.push_back({"reducer-medium", Grams{1}, {}});
    mix = production::actual_mix(job_log, sample_plan(), "plum", library, unknown).value();
    CHECK_FALSE(mix.reducer_as_planned);
    CHECK(part(mix, "reducer-medium") < 0.1 * part(mix, "titanium-white"));
}

TEST_CASE("a mix within a mix counts as logged, or else as planned", "[plan][record]") {
    plan::Library library = test::preset_library();
    std::vector<production::UnknownPart> unknown;
    JobLog job_log;
    job_log.entries = {
        mix_entry("a", "middle", {{"plum", Grams{10}, {}}, {"diarylide-yellow", Grams{10}, {}}})};
    const auto planned = production::actual_mix(job_log, sample_plan(), "middle", library, unknown).value();
    CHECK(part(planned, "quinacridone-violet") == Approx(6 * part(planned, "titanium-white")));
    job_log.entries.push_back(mix_entry("b", "plum", {{"quinacridone-violet", Grams{5}, {}}}));
    const auto actual = production::actual_mix(job_log, sample_plan(), "middle", library, unknown).value();
    CHECK(part(actual, "titanium-white") == 0);
    // Ten grams of it in both cases.
    double grams = 0;
    for (const paint::Part& first : actual.parts)
        grams += paint::weight_of(*first.paint, Millilitres{first.parts}).value;
    CHECK(grams == Approx(20));
    CHECK(unknown.empty());
}

TEST_CASE("a mix with an unknown paint counts as planned, with a remark", "[plan][record]") {
    plan::Library library = test::preset_library();
    std::vector<production::UnknownPart> unknown;
    JobLog job_log;
    job_log.entries = {mix_entry("a", "plum", {{"moonlight", Grams{10}, {}}})};
    CHECK_FALSE(production::actual_mix(job_log, sample_plan(), "plum", library, unknown));
    REQUIRE(unknown.size() == 1);
    CHECK(unknown[0].part == "moonlight");
    CHECK(unknown[0].mix == "plum");
}

TEST_CASE("measured films are compared with the planned film at the same point, from the same plan",
          "[plan][record]") {
    const plan::Job job = test::job_of(kPlan);
    JobLog job_log;
    for (const double film : {22.0, 26.0, 99.0}) {
        LogEntry entry;
        entry.plan.value = film > 90 ? "another plan" : job.hash;
        entry.coat = Located<std::string>{"base", {}};
        entry.film = Micrometres{film};
        entry.at = plan::Point{Millimetres{100}, Millimetres{100}};
        job_log.entries.push_back(entry);
    }
    const auto read = production::actual_film(job_log, job, job.coats[0]);
    REQUIRE(read);
    CHECK(read->share_of_planned == Approx(1.2));  // 24 of 20
    CHECK(read->readings == 2);
    CHECK_FALSE(production::actual_film(job_log, job, job.coats[1]));
}

TEST_CASE("the last plan used is that of the last mix or coat, not of later notes", "[plan][record]") {
    JobLog job_log;
    job_log.plans = {{{"one", {}}, "1", {}}, {{"two", {}}, "2", {}}};
    CHECK(production::last_used_plan(job_log) == nullptr);
    LogEntry note, work;
    note.plan.value = "two";
    note.note = "delivered";
    work.plan.value = "one";
    work.coat = Located<std::string>{"base", {}};
    job_log.entries = {note};
    CHECK(production::last_used_plan(job_log)->text == "2");
    job_log.entries = {work, note};
    CHECK(production::last_used_plan(job_log)->text == "1");
    job_log.entries = {note, work};
    CHECK(production::last_used_plan(job_log)->text == "1");
}
