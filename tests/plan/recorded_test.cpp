// Mixes as they were poured and films as they were read.
#include "fadewright/plan/recorded.h"

#include "fadewright/paint/mix.h"
#include "shelf.h"

#include <catch2/catch.hpp>

using namespace fadewright;
using plan::RecordEntry;
using plan::RecordFile;

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
cover.film = "20 um"
[[coats]]
name = "middle"
mix = "middle"
cover.film = "10 um"
)";

plan::Plan the_plan() {
    Diagnostics diagnostics;
    return plan::read_plan(std::make_shared<Source>("plan", kPlan), diagnostics).value();
}

RecordEntry poured(const std::string& date, const std::string& mix, std::vector<Named<Grams>> grams) {
    RecordEntry entry;
    entry.date.value = date;
    entry.mix = Placed<std::string>{mix, {}};
    entry.poured = std::move(grams);
    return entry;
}

double part(const plan::RecordedMix& mix, const std::string& id) {
    double sum = 0;
    for (const paint::Part& one : mix.parts) sum += one.paint->id == id ? one.parts : 0;
    return sum;
}

}  // namespace

TEST_CASE("the last pouring counts, weights over densities being volumes", "[plan][record]") {
    plan::Shelf shelf = test::preset_shelf();
    std::vector<std::string> remarks;
    Diagnostics none;
    const double density = shelf.paint("quinacridone-violet", none)->wet_density.value;
    RecordFile record;
    record.entries = {poured("a", "plum", {{"quinacridone-violet", Grams{1}, {}}}),
                      poured("b", "plum", {{"quinacridone-violet", Grams{12}, {}}}), poured("c", "plum", {})};
    const auto mix = plan::recorded_mix(record, the_plan(), "plum", shelf, remarks);
    REQUIRE(mix);
    CHECK(mix->date == "b");
    CHECK(part(*mix, "quinacridone-violet") == Approx(12 / density));
    CHECK(remarks.empty());
    CHECK_FALSE(plan::recorded_mix(record, the_plan(), "middle", shelf, remarks));
}

TEST_CASE("reducer that was not weighed is added as planned, reducer that was is not", "[plan][record]") {
    plan::Shelf shelf = test::preset_shelf();
    std::vector<std::string> remarks;
    RecordFile record;
    record.entries = {poured("a", "plum", {{"titanium-white", Grams{50}, {}}})};
    auto mix = plan::recorded_mix(record, the_plan(), "plum", shelf, remarks).value();
    CHECK(mix.reducer_as_planned);
    CHECK(part(mix, "reducer-medium") == Approx(0.1 * part(mix, "titanium-white")));
    record.entries[0].poured.push_back({"reducer-medium", Grams{1}, {}});
    mix = plan::recorded_mix(record, the_plan(), "plum", shelf, remarks).value();
    CHECK_FALSE(mix.reducer_as_planned);
    CHECK(part(mix, "reducer-medium") < 0.1 * part(mix, "titanium-white"));
}

TEST_CASE("a mix poured into a mix counts as recorded, else as planned", "[plan][record]") {
    plan::Shelf shelf = test::preset_shelf();
    std::vector<std::string> remarks;
    RecordFile record;
    record.entries = {poured("a", "middle", {{"plum", Grams{10}, {}}, {"diarylide-yellow", Grams{10}, {}}})};
    const auto planned = plan::recorded_mix(record, the_plan(), "middle", shelf, remarks).value();
    CHECK(part(planned, "quinacridone-violet") == Approx(6 * part(planned, "titanium-white")));
    record.entries.push_back(poured("b", "plum", {{"quinacridone-violet", Grams{5}, {}}}));
    const auto recorded = plan::recorded_mix(record, the_plan(), "middle", shelf, remarks).value();
    CHECK(part(recorded, "titanium-white") == 0);
    // Ten grams of it either way.
    double grams = 0;
    for (const paint::Part& one : recorded.parts)
        grams += paint::weight_of(*one.paint, Millilitres{one.parts}).value;
    CHECK(grams == Approx(20));
    CHECK(remarks.empty());
}

TEST_CASE("a mix of something unknown is taken as planned, and that is said", "[plan][record]") {
    plan::Shelf shelf = test::preset_shelf();
    std::vector<std::string> remarks;
    RecordFile record;
    record.entries = {poured("a", "plum", {{"moonlight", Grams{10}, {}}})};
    CHECK_FALSE(plan::recorded_mix(record, the_plan(), "plum", shelf, remarks));
    REQUIRE(remarks.size() == 1);
    CHECK(remarks[0].find("'moonlight'") != std::string::npos);
}

TEST_CASE("films read are compared with the planned film at their place, by the same plan",
          "[plan][record]") {
    const plan::Job job = test::job_of(kPlan);
    RecordFile record;
    for (const double film : {22.0, 26.0, 99.0}) {
        RecordEntry entry;
        entry.plan.value = film > 90 ? "another plan" : job.hash;
        entry.coat = Placed<std::string>{"base", {}};
        entry.film = Micrometres{film};
        entry.at = plan::Point{Millimetres{100}, Millimetres{100}};
        record.entries.push_back(entry);
    }
    const auto read = plan::recorded_film(record, job, job.coats[0]);
    REQUIRE(read);
    CHECK(read->of_planned == Approx(1.2));  // 24 of 20
    CHECK(read->readings == 2);
    CHECK_FALSE(plan::recorded_film(record, job, job.coats[1]));
}

TEST_CASE("the plan last worked by is that of the last mix or coat, whatever was noted later",
          "[plan][record]") {
    RecordFile record;
    record.plans = {{{"one", {}}, "1", {}}, {{"two", {}}, "2", {}}};
    CHECK(plan::last_worked_by(record) == nullptr);
    RecordEntry note, work;
    note.plan.value = "two";
    note.note = "delivered";
    work.plan.value = "one";
    work.coat = Placed<std::string>{"base", {}};
    record.entries = {note};
    CHECK(plan::last_worked_by(record)->text == "2");
    record.entries = {work, note};
    CHECK(plan::last_worked_by(record)->text == "1");
    record.entries = {note, work};
    CHECK(plan::last_worked_by(record)->text == "1");
}
