// A picture that is worked on is held to the one made anew: byte for byte, whatever was edited before.
#include "fadewright/render/redraw.h"

#include "fadewright/base/parallel.h"
#include "fadewright/base/random.h"
#include "published.h"
#include "shelf.h"
#include "some_plans.h"

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

// A plan being edited, and its picture.
class Edited {
public:
    explicit Edited(std::string text) : text_(std::move(text)), shelf_(test::preset_shelf()) {
        Diagnostics diagnostics;
        plan = plan::read_plan(std::make_shared<Source>("plan", text_), diagnostics).value();
    }
    static Edited of_file(const std::string& below) {
        return Edited(read_whole(test::source_path(below), kTextFileLimit_bytes).value());
    }

    [[nodiscard]] plan::Job job() {
        Diagnostics diagnostics;
        std::optional<plan::Job> ready = plan::ready_job(plan, text_, shelf_, diagnostics);
        INFO(to_text(diagnostics));
        REQUIRE(ready);
        return *std::move(ready);
    }

    // Shows it and compares.
    void show() {
        const plan::Job now = job();
        const Preview anew = preview(now, light.value_or(now.light), srgb(), settings);
        const Preview* kept = redraw.show(now, light.value_or(now.light), settings);
        REQUIRE(kept);
        CHECK(kept->picture == anew.picture);
        CHECK(kept->panel_px == anew.panel_px);
        CHECK(kept->outside_px == anew.outside_px);
        CHECK(kept->pixels_per_metre == anew.pixels_per_metre);
    }

    plan::Plan plan;
    PreviewSettings settings = sized(220);
    std::optional<colour::Light> light;
    Redraw redraw{srgb()};

private:
    std::string text_;
    plan::Shelf shelf_;
};

// One of the edits that a painter makes, drawn at random.
std::string edit(Edited& edited, std::uint64_t seed, std::uint64_t& next) {
    const auto unit = [&] { return random_unit(seed, 7, next++); };
    auto& coats = edited.plan.coats;
    const auto which = static_cast<std::size_t>(unit() * static_cast<double>(coats.size()));
    plan::Coat& coat = coats[which];
    switch (static_cast<int>(unit() * 9)) {
        case 0:
            edited.plan.mixes.front().value.extend = 3 * unit();
            return "extended";
        case 1:
            coat.cover = plan::Cover{Micrometres{40 * unit()}};
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
            coats.erase(coats.begin() + static_cast<std::ptrdiff_t>(which));
            return "a coat less";
        case 5:
            std::swap(coats.front(), coats[which]);
            return "another order";
        case 6:
            coat.laydown = coat.laydown == plan::Laydown::wet ? plan::Laydown::fog : plan::Laydown::wet;
            if (coat.gun.value.empty()) coat.laydown = plan::Laydown::wet;
            return "another way to lay";
        case 7:
            edited.settings.coats = 1 + static_cast<std::size_t>(unit() * 5);
            return "another number of coats";
        default:
            edited.plan.view.angle = Degrees{15 + 95 * unit()};
            return "another angle";
    }
}

}  // namespace

TEST_CASE("after any edit a kept picture is the one made anew, byte for byte", "[render][redraw]") {
    for (std::uint64_t seed = 1; seed <= 6; ++seed) {
        Edited edited(test::random_plan(seed));
        edited.show();
        std::uint64_t next = 0;
        std::string done;
        for (int i = 0; i < 10; ++i) {
            done += edit(edited, seed, next) + ", ";
            CAPTURE(seed, done);
            edited.show();
        }
    }
}

TEST_CASE("masks, flakes, reliefs and fades are kept as truly", "[render][redraw]") {
    for (const char* file : {"presets/plans/guitar-burst.toml", "presets/plans/dusk-pearl.toml",
                             "presets/plans/carved-sign.toml", "presets/plans/dusk-fade-short.toml"}) {
        Edited edited = Edited::of_file(file);
        edited.settings = sized(160);
        edited.show();
        for (std::size_t c = 0; c < edited.plan.coats.size(); c += 2) {
            CAPTURE(file, c);
            plan::Coat& coat = edited.plan.coats[c];
            if (coat.cover) coat.cover->film = 1.3 * coat.cover->film;
            if (!coat.masks.empty()) coat.masks.pop_back();
            if (coat.fade) coat.fade->overlap = Share{0.7};
            for (plan::Pass& pass : coat.passes) pass.repeats += 1;
            edited.show();
        }
    }
}

TEST_CASE("another light, size and seed are shown as if made anew", "[render][redraw]") {
    Edited edited = Edited::of_file("presets/plans/dusk-fade.toml");
    edited.show();
    edited.light = colour::standard_light(colour::StandardLight::A);
    edited.show();
    edited.settings.longest_px = 200;
    edited.show();
    edited.settings.seed = 5;
    edited.show();
    edited.settings.exposure = 0.8;
    edited.show();
    edited.settings.viewing = instrument(Degrees{15});
    edited.show();
    edited.settings.work = Work::every_pixel;
    edited.settings.longest_px = 64;
    edited.show();
}

TEST_CASE("an edit that changes no colour paints nothing, one at one end leaves the other",
          "[render][redraw]") {
    Edited edited(
        "plan = 1\ntitle = \"a long board\"\n[panel]\nwidth = \"2 m\"\nheight = \"300 mm\"\nground = "
        "\"white-primer\"\n[[coats]]\nname = \"spots\"\nmix = \"carbon-black\"\ngun = \"detail-gun-round\"\n"
        "[[coats.passes]]\npath = [[\"100 mm\", \"0 mm\"], [\"100 mm\", \"300 mm\"]]\n"
        "[[coats.passes]]\npath = [[\"1900 mm\", \"0 mm\"], [\"1900 mm\", \"300 mm\"]]\n"
        "[[coats]]\nname = \"clear\"\nmix = \"gloss-clear\"\ncover.film = \"40 um\"\n");
    edited.settings = sized(1000);
    edited.show();
    CHECK(edited.redraw.effort().painted == edited.redraw.effort().blocks);
    edited.plan.title = "another name";
    edited.show();
    CHECK(edited.redraw.effort().painted == 0);
    edited.plan.coats[0].passes[1].repeats = 3;
    edited.show();
    CHECK(edited.redraw.effort().painted > 0);
    CHECK(edited.redraw.effort().painted < edited.redraw.effort().blocks / 4);
}

TEST_CASE("a picture that was stopped is right the next time", "[render][redraw]") {
    Edited edited(test::random_plan(3));
    edited.show();
    for (const int blocks : {0, 1, 5, 20}) {
        edited.plan.mixes.front().value.extend = 0.5 + blocks;
        const plan::Job job = edited.job();
        std::atomic<int> asked{0};
        CHECK_FALSE(edited.redraw.show(job, job.light, edited.settings, [&] { return ++asked > blocks; }));
        if (blocks % 2 == 0) std::swap(edited.plan.coats[0], edited.plan.coats[1]);
        edited.show();
    }
}

TEST_CASE("a kept picture does not depend on the number of threads", "[render][redraw]") {
    std::vector<Picture> pictures;
    for (const int threads : {1, 2, 7}) {
        const ThreadLimit limit(threads);
        Edited edited(test::random_plan(4));
        edited.show();
        edited.plan.coats[0].passes.front().repeats = 4;
        edited.show();
        pictures.push_back(edited.redraw.show(edited.job(), edited.job().light, edited.settings)->picture);
    }
    CHECK(pictures[1] == pictures[0]);
    CHECK(pictures[2] == pictures[0]);
}
