#include "fadewright/render/dot_graininess.h"
#include "fadewright/film/dots.h"
#include "fadewright/film/graininess.h"
#include "fadewright/render/panel_shader.h"
#include "fadewright/render/preview.h"
#include "preset_library.h"

#include <catch2/catch.hpp>

using namespace fadewright;

namespace {

std::string dots_plan(const std::string& laydown, const std::string& film = "") {
    return "plan = 1\n[panel]\nwidth = \"60 mm\"\nheight = \"40 mm\"\nground = \"white-primer\"\n"
           "[view]\ndistance = \"500 mm\"\n"
           "[[coats]]\nname = \"fog\"\nmix = \"carbon-black\"\ngun = \"detail-gun-round\"\nlaydown = \"" +
           laydown + "\"\neven_coat.film = \"0.4 um\"\n" +
           (film.empty() ? ""
                         : "[[coats]]\nname = \"over\"\nmix = \"titanium-white\"\neven_coat.film = \"" +
                               film + "\"\n");
}

double root_of(const plan::Job& job) {
    const render::DotGraininess grain(job, 100);
    const double x = 30, y = 20;
    double root = 0;
    const render::PanelShader::Samples samples =
        render::PanelShader(job, job.light, job.coats.size()).sample({&x, 1}, {&y, 1});
    grain.graininess_mm(samples.films, samples.grounds, {&root, 1});
    return root;
}

struct Grey {
    double mean, deviation;
};

// Linear luminance of the centre of the panel, from sRGB. Source: [iec61966].
Grey grey_of(const plan::Job& job, int size, bool grain) {
    render::PreviewSettings settings;
    settings.longest_px = size;
    settings.margin = Millimetres{0};
    settings.grain = grain;
    const auto picture = render::device_picture(job, job.light, colour::OutputProfile::srgb(), settings);
    double sum = 0, squares = 0;
    int count = 0;
    for (int y = picture.height / 5; y < picture.height * 4 / 5; ++y)
        for (int x = picture.width / 5; x < picture.width * 4 / 5; ++x) {
            const float* p = picture.pixel(x, y);
            double Y = 0;
            const double weight[3] = {0.2126, 0.7152, 0.0722};
            for (int k = 0; k < 3; ++k)
                Y += weight[k] * std::pow((static_cast<double>(p[k]) + 0.055) / 1.055, 2.4);
            sum += Y;
            squares += Y * Y;
            ++count;
        }
    const double mean = sum / count;
    return {mean, std::sqrt(std::max(0.0, squares / count - mean * mean)) / mean};
}

}  // namespace

TEST_CASE("graininess leaves the mean luminance unchanged and has the power of its dots", "[render][grain]") {
    const auto job = test::job_of(dots_plan("dots"));
    const double root = root_of(job);
    CHECK(root > 0.005);
    for (const int size : {120, 400}) {
        const Grey rough = grey_of(job, size, true), smooth = grey_of(job, size, false);
        const double pixel_mm = 60.0 / size;
        CAPTURE(size, root, rough.deviation);
        CHECK(smooth.deviation < 1e-3);
        // Tens of thousands of pixels: the mean to within four standard errors.
        CHECK(rough.mean == Approx(smooth.mean).epsilon(4 * root / 30));
        CHECK(rough.deviation == Approx(root / pixel_mm).epsilon(size == 120 ? 0.05 : 0.03));
    }
}

TEST_CASE("the same seed gives the same noise, another seed different noise", "[render][grain]") {
    const auto job = test::job_of(dots_plan("dots"));
    render::PreviewSettings settings;
    settings.longest_px = 90;
    const auto profile = colour::OutputProfile::srgb();
    const auto once = render::preview(job, job.light, profile, settings).picture;
    CHECK(render::preview(job, job.light, profile, settings).picture == once);
    settings.sampling = render::Sampling::every_pixel;
    CHECK(render::preview(job, job.light, profile, settings).picture == once);
    settings.seed = 2;
    CHECK_FALSE(render::preview(job, job.light, profile, settings).picture == once);
}

TEST_CASE("a coat over the dots hides their graininess, and coalescing dots have less", "[render][grain]") {
    const double bare = root_of(test::job_of(dots_plan("dots")));
    CHECK(root_of(test::job_of(dots_plan("dots", "60 um"))) < 0.05 * bare);
    CHECK(root_of(test::job_of(dots_plan("auto"))) < bare);
    CHECK(root_of(test::job_of(dots_plan("wet"))) == 0);
}
