// The picture of a panel: refined against every pixel, closed forms, mirrors, sizes and threads.
#include "fadewright/render/preview.h"

#include "fadewright/base/parallel.h"
#include "fadewright/colour/delta_e.h"
#include "fadewright/colour/srgb.h"
#include "fadewright/film/layer.h"
#include "fadewright/render/panel_shader.h"
#include "preset_library.h"
#include "published_table.h"
#include "random_plan.h"

#include <catch2/catch.hpp>

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <filesystem>
#include <vector>

using namespace fadewright;
using namespace fadewright::render;
using Catch::Matchers::WithinAbs;
using test::job_of;
using test::job_of_file;
using test::random_plan;

namespace {

constexpr const char* kDemo = "presets/plans/dusk-fade.toml";

const colour::OutputProfile& srgb() {
    static const colour::OutputProfile profile = colour::OutputProfile::srgb();
    return profile;
}

PreviewSettings sized(int longest_px, Sampling sampling = Sampling::adaptive) {
    PreviewSettings settings;
    settings.longest_px = longest_px;
    settings.sampling = sampling;
    settings.grain = false;  // noise of dots: dot_graininess_test.cpp; here colours are compared
    return settings;
}

Image<float> devices(const plan::Job& job, const PreviewSettings& settings) {
    return device_picture(job, job.light, srgb(), settings);
}

colour::Lab lab_at(const Image<float>& picture, int x, int y) {
    const float* p = picture.pixel(x, y);
    return srgb().lab_of({p[0], p[1], p[2], false});
}

struct PixelDifferences {
    double max = 0;
    double p99 = 0;  // 99th percentile
};

PixelDifferences compare_pictures(const Image<float>& a, const Image<float>& b) {
    REQUIRE(a.width == b.width);
    REQUIRE(a.height == b.height);
    std::vector<double> dE;
    for (int y = 0; y < a.height; ++y)
        for (int x = 0; x < a.width; ++x) {
            const bool same = std::equal(a.pixel(x, y), a.pixel(x, y) + 3, b.pixel(x, y));
            dE.push_back(same ? 0 : colour::delta_e_2000(lab_at(a, x, y), lab_at(b, x, y)));
        }
    std::sort(dE.begin(), dE.end());
    return {dE.back(), dE[dE.size() * 99 / 100]};
}

// A panel with one even coat of one paint, inside the gamut of any screen, under clear.
std::string covered(double film_um, std::string_view surface) {
    return fmt::format(
        "plan = 1\ntitle = \"even\"\n[panel]\nwidth = \"100 mm\"\nheight = \"80 mm\"\nground = "
        "\"grey-sealer\"\n"
        "[view]\nsurface = \"{}\"\n"
        "[[coats]]\nname = \"colour\"\nmix = \"raw-umber\"\neven_coat.film = \"{} um\"\n"
        "[[coats]]\nname = \"clear\"\nmix = \"gloss-clear\"\neven_coat.film = \"50 um\"\n",
        surface, film_um);
}

}  // namespace

TEST_CASE("the demo refined is within 0.3 of calculating every pixel, 99 % within 0.1", "[render][preview]") {
    const plan::Job job = job_of_file(kDemo);
    for (const int size : {233, 700}) {
        const PixelDifferences found =
            compare_pictures(devices(job, sized(size)), devices(job, sized(size, Sampling::every_pixel)));
        CAPTURE(size, found.max, found.p99);
        CHECK(found.max <= 0.3);
        CHECK(found.p99 <= 0.1);
    }
}

TEST_CASE("every preset plan refined is within 0.3 of calculating every pixel, 99 % within 0.1",
          "[render][preview]") {
    int compared = 0;
    for (const auto& entry : std::filesystem::directory_iterator(test::source_path("presets/plans"))) {
        const std::string name = entry.path().filename().string();
        const plan::Job job = job_of_file("presets/plans/" + name);
        const PixelDifferences found =
            compare_pictures(devices(job, sized(300)), devices(job, sized(300, Sampling::every_pixel)));
        CAPTURE(name, found.max, found.p99);
        CHECK(found.max <= 0.3);
        CHECK(found.p99 <= 0.1);
        ++compared;
    }
    CHECK(compared >= 9);
}

TEST_CASE("random plans refined are within 0.3 of calculating every pixel, 99 % within 0.1",
          "[render][preview]") {
    for (std::uint64_t seed = 1; seed <= 50; ++seed) {
        const plan::Job job = job_of(random_plan(seed));
        const PixelDifferences found =
            compare_pictures(devices(job, sized(220)), devices(job, sized(220, Sampling::every_pixel)));
        CAPTURE(seed, found.max, found.p99);
        CHECK(found.max <= 0.3);
        CHECK(found.p99 <= 0.1);
    }
}

TEST_CASE("the colours of random plans vary", "[render][preview]") {
    for (std::uint64_t seed = 1; seed <= 16; ++seed) {
        const plan::Job job = job_of(random_plan(seed));
        const Image<float> picture = devices(job, sized(96));
        double max_dE = 0;
        const colour::Lab lab_at_centre = lab_at(picture, picture.width / 2, picture.height / 2);
        for (int y = 10; y < picture.height - 10; ++y)
            for (int x = 10; x < picture.width - 10; ++x)
                max_dE = std::max(max_dE, colour::delta_e_2000(lab_at_centre, lab_at(picture, x, y)));
        CAPTURE(seed, max_dE);
        CHECK(max_dE > 3);
    }
}

TEST_CASE("refinement calculates few points and counts them", "[render][preview]") {
    const plan::Job job = job_of_file(kDemo);
    const Preview refined = preview(job, job.light, srgb(), sized(700));
    const Preview plain = preview(job, job.light, srgb(), sized(700, Sampling::every_pixel));
    CHECK(plain.samples >= plain.panel_px);
    CHECK(refined.samples * 20 < plain.samples);
    CHECK(refined.samples > 0);
    CHECK(refined.panel_px == plain.panel_px);
}

TEST_CASE("1, 2 and 7 threads give identical bytes", "[render][preview]") {
    for (const Sampling sampling : {Sampling::adaptive, Sampling::every_pixel}) {
        const plan::Job job = job_of(random_plan(5));
        std::vector<Preview> previews;
        for (const int threads : {1, 2, 7}) {
            const ThreadLimit limit(threads);
            previews.push_back(preview(job, job.light, srgb(), sized(300, sampling)));
        }
        for (const Preview& other : previews) {
            CHECK(other.picture == previews[0].picture);
            CHECK(other.samples == previews[0].samples);
            CHECK(other.panel_px == previews[0].panel_px);
            CHECK(other.out_of_gamut_px == previews[0].out_of_gamut_px);
        }
    }
}

namespace {

// The largest difference, in linear light, between a picture and the one of twice its size averaged down.
double worst_halved(const plan::Job& job, int longest_px) {
    PreviewSettings coarse = sized(longest_px, Sampling::every_pixel);
    coarse.margin = Millimetres{0.0};
    PreviewSettings fine = coarse;
    fine.longest_px = 2 * longest_px;
    const Image<float> half = devices(job, coarse), full = devices(job, fine);
    const double mm_per_px = std::max(job.panel.width.value, job.panel.height.value) / longest_px;
    const auto linear = [](float v) { return colour::linear_from_srgb(static_cast<double>(v)); };
    double worst = 0;
    int compared = 0;
    for (int y = 0; y < std::min(half.height, full.height / 2); ++y)
        for (int x = 0; x < std::min(half.width, full.width / 2); ++x) {
            const double outline = job.panel.signed_distance_mm(
                (x + 0.5) * mm_per_px, job.panel.height.value - (y + 0.5) * mm_per_px);
            if (outline > -2 * mm_per_px) continue;  // the outline is blended in encoded values
            ++compared;
            for (int c = 0; c < 3; ++c) {
                const double sum =
                    linear(full.pixel(2 * x, 2 * y)[c]) + linear(full.pixel(2 * x + 1, 2 * y)[c]) +
                    linear(full.pixel(2 * x, 2 * y + 1)[c]) + linear(full.pixel(2 * x + 1, 2 * y + 1)[c]);
                worst = std::max(worst, std::abs(sum / 4 - linear(half.pixel(x, y)[c])));
            }
        }
    CHECK(compared > longest_px * longest_px / 8);
    return worst;
}

}  // namespace

TEST_CASE("a picture of twice the resolution averaged down is the same picture", "[render][preview]") {
    // Four pixels of the fine picture are in each pixel of the coarse one, whose centre is their mean
    // position. Where a colour is curved, their mean differs from it in the second order of the pixel size,
    // so that twice the resolution leaves about a quarter; with the wide patterns of the demo it is
    // negligible at any size.
    CHECK(worst_halved(job_of_file(kDemo), 300) <= 1e-3);
    for (const std::uint64_t seed : {2u, 9u}) {
        const plan::Job job = job_of(random_plan(seed));
        const double coarse = worst_halved(job, 200), fine = worst_halved(job, 400);
        CAPTURE(seed, coarse, fine);
        CHECK(fine <= 1.5e-3);
        CHECK(fine <= coarse / 2);
    }
}

TEST_CASE("an even coat has its closed-form colour all over", "[render][preview]") {
    plan::Library library = test::preset_library();
    Diagnostics none;
    const paint::Paint& umber = *library.paint("raw-umber", none);
    const paint::Paint& clear = *library.paint("gloss-clear", none);
    const colour::Reflectance ground = library.ground("grey-sealer", none)->inside;
    // Fresnel at normal incidence on index 1.5 and the share of diffuse light reflected internally
    // ([duntley1942]; tests/published/fresnel_diffuse.csv holds it for this index).
    constexpr double kF0 = 0.04, kInside = 0.5963;
    for (const bool gloss : {true, false})
        for (const double film_um : {0.5, 3.0, 20.0}) {
            const plan::Job job = job_of(covered(film_um, gloss ? "gloss" : "matt"));
            const colour::TristimulusWeights weights =
                colour::tristimulus_weights(job.light, colour::Observer::two_degree);
            colour::XYZ xyz;
            for (std::size_t band = 0; band < colour::kBandCount; ++band) {
                double R =
                    film::reflectance_over(film::layer(umber.K[band], umber.S[band], film_um), ground[band]);
                R = film::reflectance_over(film::layer(clear.K[band], clear.S[band], 50), R);
                const double shader = (1 - kF0) * (1 - kInside) * R / (1 - kInside * R) + (gloss ? 0 : kF0);
                xyz.X += shader * weights.w[band][0];
                xyz.Y += shader * weights.w[band][1];
                xyz.Z += shader * weights.w[band][2];
            }
            const colour::Lab expected = colour::to_lab(xyz, weights.white);
            for (const Sampling sampling : {Sampling::adaptive, Sampling::every_pixel}) {
                PreviewSettings settings = sized(64, sampling);
                settings.margin = Millimetres{0.0};
                const Image<float> picture = devices(job, settings);
                double worst = 0;
                for (int y = 1; y < picture.height - 1; ++y)
                    for (int x = 1; x < picture.width - 1; ++x)
                        worst = std::max(worst, colour::delta_e_2000(expected, lab_at(picture, x, y)));
                CAPTURE(gloss, film_um, expected.L, expected.a, expected.b);
                // kInside is known to four decimals, and lab_of passes through float values.
                CHECK(worst < 0.02);
            }
        }
}

TEST_CASE("a mirrored plan gives the mirrored picture", "[render][preview]") {
    const auto worst_mirrored = [](const Image<float>& a, const Image<float>& b) {
        REQUIRE(a.width == b.width);
        double worst = 0;
        for (int y = 0; y < a.height; ++y)
            for (int x = 0; x < a.width; ++x)
                worst = std::max(worst, colour::delta_e_2000(lab_at(a, x, y), lab_at(b, a.width - 1 - x, y)));
        return worst;
    };
    int compared = 0;
    for (std::uint64_t seed = 1; seed <= 8; ++seed) {
        const plan::Job job = job_of(random_plan(seed)), mirror = job_of(random_plan(seed, true));
        // Only a horizontal panel fills its picture from side to side in whole pixels; on the others
        // the mirror image is off by the remaining part of a pixel.
        if (job.panel.height > job.panel.width) continue;
        ++compared;
        CAPTURE(seed);
        CHECK(worst_mirrored(devices(job, sized(193, Sampling::every_pixel)),
                             devices(mirror, sized(193, Sampling::every_pixel))) <= 1e-3);
        // Each refined picture is within 0.3 of its reference.
        CHECK(worst_mirrored(devices(job, sized(193)), devices(mirror, sized(193))) <= 2 * 0.3);
    }
    CHECK(compared >= 4);
}

TEST_CASE("before the first coat the ground is visible, and every coat changes it", "[render][preview]") {
    const plan::Job job = job_of_file(kDemo);
    PreviewSettings settings = sized(64);
    const auto lab_at_centre = [&](std::size_t coats) {
        settings.coats = coats;
        const Image<float> picture = devices(job, settings);
        return lab_at(picture, picture.width / 2, picture.height / 2);
    };
    const film::SaundersonCorrection surface = film::surface_at_normal({});
    const colour::TristimulusWeights weights = colour::tristimulus_weights(job.light, job.observer);
    colour::Reflectance shader;
    for (std::size_t band = 0; band < colour::kBandCount; ++band)
        shader[band] = film::external_reflectance(surface, job.ground[band], film::Specular::excluded);
    const colour::Lab ground = colour::to_lab(colour::to_xyz(shader, weights), weights.white);
    CHECK(colour::delta_e_2000(lab_at_centre(0), ground) < 0.01);
    CHECK(colour::delta_e_2000(lab_at_centre(1), ground) > 20);  // apricot hides the grey
    CHECK(colour::delta_e_2000(lab_at_centre(2), lab_at_centre(1)) > 5);
    CHECK(colour::delta_e_2000(lab_at_centre(1000), lab_at_centre(job.coats.size())) == 0);
}

TEST_CASE("the surround is a neutral grey of a fifth of the white", "[render][preview]") {
    const plan::Job job = job_of_file(kDemo);
    const Image<float> picture = devices(job, sized(200));
    const colour::Lab grey = lab_at(picture, 0, 0);
    CHECK_THAT(colour::to_xyz(grey, colour::d65_white()).Y, WithinAbs(20, 0.01));
    CHECK_THAT(grey.a, WithinAbs(0, 0.01));
    CHECK_THAT(grey.b, WithinAbs(0, 0.01));
}

TEST_CASE("a picture of any size keeps the panel's true size", "[render][preview]") {
    const plan::Job job = job_of_file(kDemo);
    for (const int size : {16, 101, 640, 1601})
        for (const double margin : {0.0, 20.0, 137.0}) {
            PreviewSettings settings = sized(size);
            settings.margin = Millimetres{margin};
            const Preview result = preview(job, job.light, srgb(), settings);
            const double width_mm = job.panel.width.value + 2 * margin;
            const double height_mm = job.panel.height.value + 2 * margin;
            const double px_per_mm = result.pixels_per_metre / 1000;
            CAPTURE(size, margin);
            CHECK(result.picture.width == size);  // the longer side
            CHECK_THAT(result.picture.width / px_per_mm, WithinAbs(width_mm, 1e-9));
            CHECK_THAT(result.picture.height / px_per_mm, WithinAbs(height_mm, 0.5 / px_per_mm + 1e-9));
            // Pixels on the panel make up its area; those on the outline count whole.
            const double area_px = job.panel.area_m2() * result.pixels_per_metre * result.pixels_per_metre;
            const double outline_px = 2 * (job.panel.width.value + job.panel.height.value) * px_per_mm;
            CHECK(static_cast<double>(result.panel_px) >= area_px - outline_px);
            CHECK(static_cast<double>(result.panel_px) <= area_px + outline_px);
        }
}

TEST_CASE("eight-bit values are the dithered values, within one level", "[render][preview]") {
    const plan::Job job = job_of(random_plan(6));
    const Image<float> exact = devices(job, sized(200));
    const Preview result = preview(job, job.light, srgb(), sized(200));
    REQUIRE(result.picture.samples.size() == exact.samples.size());
    double sum = 0;
    for (std::size_t i = 0; i < exact.samples.size(); ++i) {
        const double off = result.picture.samples[i] - 255.0 * static_cast<double>(exact.samples[i]);
        REQUIRE(std::abs(off) < 1);
        sum += off;
    }
    CHECK(std::abs(sum / static_cast<double>(exact.samples.size())) < 0.01);
}
