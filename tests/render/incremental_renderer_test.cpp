// An incrementally rendered picture equals one rendered from scratch: byte for byte, after any edits.
#include "fadewright/render/incremental_renderer.h"

#include "fadewright/base/parallel.h"
#include "fadewright/base/random.h"
#include "fadewright/plan/read_plan.h"
#include "fadewright/planner/resolve.h"
#include "preset_library.h"
#include "published_table.h"
#include "random_plan.h"

#include <catch2/catch.hpp>

#include <atomic>
#include <functional>
#include <string>
#include <vector>

using namespace fadewright;
using namespace fadewright::render;

namespace {

colour::OutputProfile srgb() { return colour::OutputProfile::srgb(); }

PreviewSettings sized(int longest_px) {
    PreviewSettings settings;
    settings.longest_px = longest_px;
    return settings;
}

// A plan that is edited, and its picture.
class EditedJob {
public:
    explicit EditedJob(std::string text) : text_(std::move(text)), library_(test::preset_library()) {
        plan = plan::read_plan(std::make_shared<Source>("plan", text_)).plan.value();
    }
    static EditedJob of_file(const std::string& below) {
        return EditedJob(read_file_bytes(test::source_path(below), kTextFileLimit_bytes).value());
    }

    [[nodiscard]] plan::Job job() {
        planner::ResolvedPlan resolved = planner::resolve(plan, library_);
        INFO(to_text(resolved.diagnostics));
        REQUIRE(resolved.job);
        return *std::move(resolved.job);
    }

    // Renders it and compares.
    void check_picture() {
        const plan::Job now = job();
        const Preview fresh = preview(now, light.value_or(now.light), srgb(), settings);
        const Preview* updated = renderer.update(now, light.value_or(now.light), settings);
        REQUIRE(updated);
        CHECK(updated->picture == fresh.picture);
        CHECK(updated->panel_px == fresh.panel_px);
        CHECK(updated->out_of_gamut_px == fresh.out_of_gamut_px);
        CHECK(updated->pixels_per_metre == fresh.pixels_per_metre);
    }

    plan::Plan plan;
    PreviewSettings settings = sized(220);
    std::optional<colour::Illuminant> light;
    IncrementalRenderer renderer{srgb()};

private:
    std::string text_;
    plan::Library library_;
};

// A random edit, as a painter makes it.
std::string edit(EditedJob& edited, std::uint64_t seed, std::uint64_t& next) {
    const auto unit = [&] { return uniform01(seed, 7, next++); };
    auto& coats = edited.plan.coats;
    const auto index = static_cast<std::size_t>(unit() * static_cast<double>(coats.size()));
    plan::Coat& coat = coats[index];
    switch (static_cast<int>(unit() * 9)) {
        case 0:
            edited.plan.mixes.front().value.extend = 3 * unit();
            return "extended";
        case 1:
            coat.even_coat = plan::EvenCoat{Micrometres{40 * unit()}};
            return "an even film";
        case 2:
            if (coat.passes.empty()) return "nothing";
            coat.passes.front().speed = MillimetresPerSecond{100 + 300 * unit()};
            return "another speed";
        case 3:
            if (coat.passes.size() < 2) return "nothing";
            coat.passes.pop_back();
            return "a pass less";
        case 4:
            if (coats.size() < 3) return "nothing";
            coats.erase(coats.begin() + static_cast<std::ptrdiff_t>(index));
            return "a coat less";
        case 5:
            std::swap(coats.front(), coats[index]);
            return "another order";
        case 6:
            coat.laydown = coat.laydown == plan::Laydown::wet ? plan::Laydown::dots : plan::Laydown::wet;
            if (coat.gun.value.empty()) coat.laydown = plan::Laydown::wet;
            return "another laydown";
        case 7:
            edited.settings.coats = 1 + static_cast<std::size_t>(unit() * 5);
            return "another number of coats";
        default:
            edited.plan.view.angle = Degrees{15 + 95 * unit()};
            return "another angle";
    }
}

}  // namespace

TEST_CASE("after any edit the updated picture equals one from scratch, byte for byte", "[render][redraw]") {
    for (std::uint64_t seed = 1; seed <= 6; ++seed) {
        EditedJob edited(test::random_plan(seed));
        edited.check_picture();
        std::uint64_t next = 0;
        std::string done;
        for (int i = 0; i < 10; ++i) {
            done += edit(edited, seed, next) + ", ";
            CAPTURE(seed, done);
            edited.check_picture();
        }
    }
}

TEST_CASE("masks, flakes, reliefs and fades are cached correctly", "[render][redraw]") {
    for (const char* file : {"presets/plans/guitar-burst.toml", "presets/plans/dusk-pearl.toml",
                             "presets/plans/carved-sign.toml", "presets/plans/dusk-fade-short.toml"}) {
        EditedJob edited = EditedJob::of_file(file);
        edited.settings = sized(160);
        edited.check_picture();
        for (std::size_t c = 0; c < edited.plan.coats.size(); c += 2) {
            CAPTURE(file, c);
            plan::Coat& coat = edited.plan.coats[c];
            if (coat.even_coat) coat.even_coat->film = 1.3 * coat.even_coat->film;
            if (!coat.masks.empty()) coat.masks.pop_back();
            if (coat.fade) coat.fade->overlap = Share{0.7};
            for (plan::Pass& pass : coat.passes) pass.repeats += 1;
            edited.check_picture();
        }
    }
}

TEST_CASE("another light, size and seed give the same picture as from scratch", "[render][redraw]") {
    EditedJob edited = EditedJob::of_file("presets/plans/dusk-fade.toml");
    edited.check_picture();
    edited.light = colour::standard_illuminant(colour::StandardIlluminant::A);
    edited.check_picture();
    edited.settings.longest_px = 200;
    edited.check_picture();
    edited.settings.seed = 5;
    edited.check_picture();
    edited.settings.exposure = 0.8;
    edited.check_picture();
    edited.settings.viewing = goniometer_viewing(Degrees{15});
    edited.check_picture();
    edited.settings.sampling = Sampling::every_pixel;
    edited.settings.longest_px = 64;
    edited.check_picture();
}

TEST_CASE("an edit that changes no colour renders nothing, one at one end leaves the other",
          "[render][redraw]") {
    EditedJob edited(
        "plan = 1\ntitle = \"a long board\"\n[panel]\nwidth = \"2 m\"\nheight = \"300 mm\"\nground = "
        "\"white-primer\"\n[[coats]]\nname = \"spots\"\nmix = \"carbon-black\"\ngun = \"detail-gun-round\"\n"
        "[[coats.passes]]\npath = [[\"100 mm\", \"0 mm\"], [\"100 mm\", \"300 mm\"]]\n"
        "[[coats.passes]]\npath = [[\"1900 mm\", \"0 mm\"], [\"1900 mm\", \"300 mm\"]]\n"
        "[[coats]]\nname = \"clear\"\nmix = \"gloss-clear\"\neven_coat.film = \"40 um\"\n");
    edited.settings = sized(1000);
    edited.check_picture();
    CHECK(edited.renderer.stats().rendered == edited.renderer.stats().blocks);
    edited.plan.title = "another name";
    edited.check_picture();
    CHECK(edited.renderer.stats().rendered == 0);
    edited.plan.coats[0].passes[1].repeats = 3;
    edited.check_picture();
    CHECK(edited.renderer.stats().rendered > 0);
    CHECK(edited.renderer.stats().rendered < edited.renderer.stats().blocks / 4);
}

TEST_CASE("after a cancelled update the next picture is correct", "[render][redraw]") {
    EditedJob edited(test::random_plan(3));
    edited.check_picture();
    for (const int blocks : {0, 1, 5, 20}) {
        edited.plan.mixes.front().value.extend = 0.5 + blocks;
        const plan::Job job = edited.job();
        std::atomic<int> calls{0};
        CHECK_FALSE(edited.renderer.update(job, job.light, edited.settings,
                                           {.is_cancelled = [&] { return ++calls > blocks; }}));
        if (blocks % 2 == 0) std::swap(edited.plan.coats[0], edited.plan.coats[1]);
        edited.check_picture();
    }
}

TEST_CASE("an updated picture does not depend on the number of threads", "[render][redraw]") {
    std::vector<Picture> pictures;
    for (const int threads : {1, 2, 7}) {
        const ThreadLimit limit(threads);
        EditedJob edited(test::random_plan(4));
        edited.check_picture();
        edited.plan.coats[0].passes.front().repeats = 4;
        edited.check_picture();
        pictures.push_back(
            edited.renderer.update(edited.job(), edited.job().light, edited.settings)->picture);
    }
    CHECK(pictures[1] == pictures[0]);
    CHECK(pictures[2] == pictures[0]);
}
