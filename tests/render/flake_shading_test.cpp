// Coats with flakes in a whole job: angles, lights, threads, sparkle, defects.
#include "fadewright/assess/defects.h"
#include "fadewright/base/parallel.h"
#include "fadewright/colour/delta_e.h"
#include "fadewright/colour/lab.h"
#include "fadewright/render/display_shape.h"
#include "fadewright/render/panel_shader.h"
#include "fadewright/render/preview.h"
#include "preset_library.h"

#include <catch2/catch.hpp>

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

using namespace fadewright;

namespace {

std::string coat(const std::string& mix, double film_um) {
    return fmt::format("[[coats]]\nname = \"{0}\"\nmix = \"{0}\"\neven_coat.film = \"{1} um\"\n", mix,
                       film_um);
}

plan::Job job_with(const std::string& coats, const std::string& ground = "black-sealer",
                   const std::string& view = "") {
    return test::job_of(fmt::format(
        "plan = 1\n[panel]\nwidth = \"120 mm\"\nheight = \"80 mm\"\nground = \"{}\"\n[view]\n{}\n{}", ground,
        view, coats));
}

colour::Lab lab_at_angle(const plan::Job& job, double aspecular) {
    const render::PanelShader shader(job, job.light, job.coats.size(),
                                     render::goniometer_viewing(Degrees{aspecular}));
    const double x = 60, y = 40;
    colour::XYZ xyz;
    shader.xyz({&x, 1}, {&y, 1}, {&xyz, 1});
    return colour::to_lab(xyz, shader.white());
}

double chroma(const colour::Lab& lab) { return std::hypot(lab.a, lab.b); }

}  // namespace

TEST_CASE("solid colours look the same from every angle, and a coat of clear base alone does not change that",
          "[render][flakes]") {
    const plan::Job job = job_with(coat("pyrrole-red", 30));
    for (const double angle : {-15.0, 15.0, 110.0})
        CHECK(colour::delta_e_2000(lab_at_angle(job, angle), lab_at_angle(job, 45)) == 0);
}

// Without flakes there is no flake reflection: the computation with flakes must approach the one without.
TEST_CASE("a paint with hardly any flakes looks like the paint without", "[render][flakes]") {
    plan::Job with_flakes = job_with(coat("pyrrole-red", 30) + coat("pearl-white", 8));
    plan::Job without_flakes = with_flakes;
    without_flakes.coats.back().mix.flakes.clear();
    for (paint::EffectPigment& flakes : with_flakes.coats.back().mix.flakes)
        flakes.platelet_hits_per_um = 1e-9;
    for (const double angle : {15.0, 45.0, 110.0})
        CHECK(colour::delta_e_2000(lab_at_angle(with_flakes, angle), lab_at_angle(without_flakes, angle)) <
              1e-3);
}

// Common practice, no source: interference reflects over black, and over white its complement shows at flop
// angles.
TEST_CASE("interference gold is gold near-specular over black and bluish at flop angles over white",
          "[render][flakes]") {
    const plan::Job black = job_with(coat("interference-gold", 24));
    const plan::Job white = job_with(coat("interference-gold", 24), "white-primer");
    const plan::Job uncoated = job_with("", "white-primer");
    CHECK(lab_at_angle(black, 15).b > 30);
    CHECK(chroma(lab_at_angle(black, 15)) > 1.5 * chroma(lab_at_angle(white, 15)));
    CHECK(lab_at_angle(white, 110).b < lab_at_angle(uncoated, 110).b - 3);
    CHECK(lab_at_angle(black, 110).L < 25);
}

// Common practice, no source.
TEST_CASE("candy over silver: darker with every coat, chroma rises and then levels", "[render][flakes]") {
    double last_L = 1000;
    std::vector<double> chromas;
    for (int coats = 1; coats <= 8; ++coats) {
        const plan::Job job = job_with(coat("metallic-silver-medium", 16) + coat("candy-red", 18.0 * coats));
        const colour::Lab lab = lab_at_angle(job, 25);
        CHECK(lab.L < last_L);
        last_L = lab.L;
        chromas.push_back(chroma(lab));
    }
    CHECK(chromas[1] > chromas[0]);
    CHECK(chromas[2] > chromas[1]);
    CHECK(std::abs(chromas[7] - chromas[6]) < 0.25 * (chromas[1] - chromas[0]));
}

TEST_CASE("a metallic is bright near-specular and dark at flop angles; matt clear reduces that",
          "[render][flakes]") {
    const std::string silver = coat("metallic-silver-medium", 16);
    const plan::Job gloss = job_with(silver + coat("gloss-clear", 50));
    const plan::Job matt = job_with(silver + coat("matt-clear", 50));
    const auto flop = [](const plan::Job& job) {
        return colour::flop_index(lab_at_angle(job, 15).L, lab_at_angle(job, 45).L, lab_at_angle(job, 110).L);
    };
    CHECK(flop(gloss) > 10);  // strong metallics: 15 to 17 (reference term lists, from memory)
    CHECK(flop(gloss) < 20);
    CHECK(flop(matt) < 0.75 * flop(gloss));
}

TEST_CASE("gloss clear deepens a colour: darker and more chroma than the dry matt coat below it",
          "[render][flakes]") {
    const std::string red = coat("naphthol-red", 30);
    const colour::Lab dry = lab_at_angle(job_with(red, "black-sealer", "surface = \"matt\""), 45);
    const colour::Lab cleared = lab_at_angle(job_with(red + coat("gloss-clear", 50)), 45);
    CHECK(cleared.L < dry.L - 3);
    CHECK(chroma(cleared) > chroma(dry) + 5);
}

TEST_CASE("pictures of flakes do not depend on threads, and refined ones keep their error bound",
          "[render][flakes]") {
    const plan::Job job = render::with_shape(
        job_with(coat("carbon-black", 20) + coat("interference-blue", 16) + coat("gloss-clear", 40)),
        render::DisplayShape::speed_shape);
    const colour::OutputProfile profile = colour::OutputProfile::srgb();
    render::PreviewSettings settings;
    settings.longest_px = 240;
    settings.viewing = render::shape_viewing();
    settings.exposure = render::max_exposure_without_clipping(job, job.light, settings);
    const Picture all_threads = render::preview(job, job.light, profile, settings).picture;
    {
        const ThreadLimit limit(1);
        CHECK(render::preview(job, job.light, profile, settings).picture == all_threads);
    }
    settings.grain = false;
    const Image<float> fast = render::device_picture(job, job.light, profile, settings);
    settings.sampling = render::Sampling::every_pixel;
    const Image<float> exact = render::device_picture(job, job.light, profile, settings);
    double worst = 0;
    for (int y = 0; y < fast.height; ++y)
        for (int x = 0; x < fast.width; ++x) {
            const float *a = fast.pixel(x, y), *b = exact.pixel(x, y);
            worst = std::max(worst, colour::delta_e_2000(profile.lab_of({a[0], a[1], a[2], false}),
                                                         profile.lab_of({b[0], b[1], b[2], false})));
        }
    CHECK(worst <= 0.3);
}

// Colours masked by graininess are refined less; the visible difference keeps the bound of plain colours.
TEST_CASE(
    "plans with effects refined, graininess included, are within 0.3 of calculating every pixel, 99 % within 0.1",
    "[render][flakes]") {
    const colour::OutputProfile profile = colour::OutputProfile::srgb();
    for (const char* plan : {"presets/plans/dusk-pearl.toml", "presets/plans/candy-drop.toml"}) {
        const plan::Job job = test::job_of_file(plan);
        render::PreviewSettings settings;
        settings.longest_px = 400;
        const Image<float> fast = render::device_picture(job, job.light, profile, settings);
        settings.sampling = render::Sampling::every_pixel;
        const Image<float> exact = render::device_picture(job, job.light, profile, settings);
        std::vector<double> dE;
        for (int y = 0; y < fast.height; ++y)
            for (int x = 0; x < fast.width; ++x) {
                const float *a = fast.pixel(x, y), *b = exact.pixel(x, y);
                dE.push_back(colour::delta_e_2000(profile.lab_of({a[0], a[1], a[2], false}),
                                                  profile.lab_of({b[0], b[1], b[2], false})));
            }
        std::sort(dE.begin(), dE.end());
        CAPTURE(plan, dE.back());
        CHECK(dE.back() <= 0.3);
        CHECK(dE[dE.size() * 99 / 100] <= 0.1);
    }
}

TEST_CASE("nothing on the panel is brighter than white at the exposure without clipping",
          "[render][flakes]") {
    const plan::Job job = job_with(coat("metallic-silver-coarse", 20));
    render::PreviewSettings settings;
    settings.viewing = render::goniometer_viewing(Degrees{15});
    const double exposure = render::max_exposure_without_clipping(job, job.light, settings);
    const render::PanelShader shader(job, job.light, 1, *settings.viewing);
    const double x = 60, y = 40;
    colour::XYZ xyz;
    shader.xyz({&x, 1}, {&y, 1}, {&xyz, 1});
    CHECK(exposure < 0.9);
    CHECK(exposure * xyz.Y == Approx(shader.white().Y));
    CHECK(render::max_exposure_without_clipping(job_with(coat("titanium-white", 60)), job.light, settings) ==
          1);
}

TEST_CASE("larger flakes sparkle more, a wide lamp reduces it, and paint over them hides it",
          "[render][flakes]") {
    const auto power = [](const plan::Job& job, const render::Viewing& viewing) {
        const render::PanelShader shader(job, job.light, job.coats.size(), viewing);
        const double x = 60, y = 40;
        double out = 0;
        shader.sparkle_power_mm2({&x, 1}, {&y, 1}, {&out, 1});
        return out;
    };
    const render::Viewing beam = render::goniometer_viewing(Degrees{25});
    const double coarse = power(job_with(coat("metallic-silver-coarse", 16)), beam);
    const double fine = power(job_with(coat("metallic-silver-fine", 16)), beam);
    CHECK(coarse > 4 * fine);
    CHECK(fine > 0);
    render::Viewing wide = beam;
    wide.lamp_spread = Degrees{10};
    // Four times the solid angle of the room's light: four times as many flakes sparkle, (1 - cos 10) / (1 -
    // cos 5).
    CHECK(power(job_with(coat("metallic-silver-coarse", 16)), wide) < coarse / 3.99);
    CHECK(power(job_with(coat("metallic-silver-coarse", 16) + coat("carbon-black", 30)), beam) <
          1e-6 * coarse);
    CHECK(power(job_with(coat("carbon-black", 30)), beam) == 0);
}

TEST_CASE("too few flakes look patchy, far too many milky, enough are ok", "[render][flakes]") {
    const auto defect = [](const std::string& mix, double film_um) {
        for (const assess::Defect& f : assess::list_defects(job_with(coat(mix, film_um))))
            if (f.kind == assess::DefectKind::flakes) return f;
        return assess::Defect{};
    };
    const assess::Defect thin = defect("pearl-white", 2), enough = defect("pearl-white", 24),
                         thick = defect("interference-gold", 150);
    CHECK(thin.severity != assess::Severity::ok);
    CHECK(std::get<assess::FlakeFigures>(thin.figures).defect == assess::FlakeDefect::patchy);
    CHECK(enough.severity == assess::Severity::ok);
    CHECK(thick.severity != assess::Severity::ok);
    CHECK(std::get<assess::FlakeFigures>(thick.figures).defect == assess::FlakeDefect::milky);
    CHECK(std::holds_alternative<std::monostate>(defect("carbon-black", 20).figures));
}
