// The pages for the client: each plan is an option, drawn in the requested lights, as PDF, HTML or PNG.

#include "fadewright/report/proof.h"

#include "fadewright/app/commands.h"
#include "fadewright/base/parallel.h"
#include "fadewright/render/frame.h"
#include "fadewright/render/incremental_renderer.h"
#include "fadewright/render/panel_shader.h"
#include "fadewright/render/png.h"
#include "fadewright/report/downscale.h"
#include "fadewright/report/phrases_flakes.h"
#include "fadewright/text/schema.h"
#include "outcome.h"
#include "preview_views.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <nlohmann/json.hpp>

namespace fadewright::app {
namespace {

constexpr std::array<const char*, 3> kDefaultLights{plan::kDefaultLight, "incandescent", "fluorescent"};
constexpr std::array<const char*, 3> kDefaultNotIncluded{"bodywork", "other parts", "wear and tear"};
// On paper 230, 120 and 270 pixels per inch; on a screen at least as many as are shown.
constexpr int kLarge_px = 1200, kOverview_px = 900, kSmall_px = 360;
constexpr Millimetres kMargin{15.0};

Check check_overwrites(const ProofRequest& request, const std::string& path) {
    for (const PlanInput& plan : request.plans)
        if (Check done = check_overwrite(path, plan); !done) return done;
    return Success{};
}

Check check_request(const ProofRequest& request) {
    if (request.plans.size() > report::kMaxOptions)
        return usage_failure(fmt::format("{} options are too many", request.plans.size()),
                             fmt::format("give at most {} plans", report::kMaxOptions));
    if (request.lights.size() > report::kMaxLights)
        return usage_failure(fmt::format("{} lights do not fit on a page", request.lights.size()),
                             fmt::format("give at most {}", report::kMaxLights));
    for (const std::string& path : request.out) {
        if (!path.ends_with(".pdf") && !path.ends_with(".html") && !path.ends_with(".png"))
            return usage_failure(fmt::format("unknown file type: {}", path),
                                 "give a name that ends in .pdf, .html or .png");
        if (Check done = check_overwrites(request, path); !done) return done;
    }
    return Success{};
}

// A resolved plan, and the lights it is shown in beside its own.
struct ProofPlan {
    std::shared_ptr<const PreparedPlan> prepared;
    std::vector<colour::Illuminant> lights;
    [[nodiscard]] const plan::Job& job() const { return *prepared->job; }
    [[nodiscard]] const colour::Illuminant& own_light() const { return prepared->job->light; }
};

Attempt<ProofPlan> open_option(Session& session, const ProofRequest& request, const PlanInput& plan) {
    const auto opened = open_job(session, plan, output_options(request));
    if (!opened) return opened.error();
    ProofPlan option{opened.value(), {}};
    std::vector<std::string> names = request.lights;
    if (names.empty()) names.assign(kDefaultLights.begin(), kDefaultLights.end());
    for (const std::string& name : names) {
        const Attempt<colour::Illuminant> light = find_light(option.prepared->library, name);
        if (!light) return light.error();
        option.lights.push_back(light.value());
    }
    return option;
}

bool has_flakes(const plan::Job& job) {
    return std::any_of(job.coats.begin(), job.coats.end(),
                       [](const plan::ResolvedCoat& coat) { return film::has_flakes(coat.mix); });
}

render::PreviewSettings settings_for(int longest_px, double exposure) {
    render::PreviewSettings settings;
    settings.longest_px = longest_px;
    settings.margin = kMargin;
    settings.exposure = exposure;
    return settings;
}

render::PreviewSettings settings_at_angle(int longest_px, double exposure, Degrees aspecular) {
    render::PreviewSettings settings = settings_for(longest_px, exposure);
    settings.viewing = render::goniometer_viewing(aspecular);
    return settings;
}

// One exposure for all options: in the view of the plan, and at the other angles.
struct Exposures {
    double plan_view = 1, angles = 1;
};

Exposures exposures_of(const std::vector<ProofPlan>& options) {
    Exposures common;
    for (const ProofPlan& option : options) {
        const plan::Job& job = option.job();
        common.plan_view = std::min(
            common.plan_view,
            render::max_exposure_without_clipping(job, option.own_light(), settings_for(kSmall_px, 1)));
        if (!has_flakes(job)) continue;
        std::vector<render::Viewing> sides;
        for (const Degrees angle : report::kShownAngles) sides.push_back(render::goniometer_viewing(angle));
        common.angles =
            std::min(common.angles, render::max_exposure_without_clipping(job, option.own_light(),
                                                                          settings_for(kSmall_px, 1), sides));
    }
    return common;
}

// Where that coat is thickest; of several such points the one nearest to the centre.
plan::Point thickest_point(const plan::Job& job, const plan::ResolvedCoat& coat) {
    constexpr int kPointsAcross = 41;
    constexpr double kAsThick = 0.98;
    const auto [x, y] = render::panel_points(job.panel, kPointsAcross);
    std::vector<double> film(x.size());
    coat.add_film_um(x, y, film);
    plan::Point best{0.5 * job.panel.width, 0.5 * job.panel.height};
    if (film.empty()) return best;
    const plan::Point centre = best;
    const double maximum = *std::max_element(film.begin(), film.end());
    double nearest = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < film.size(); ++i) {
        const double distance = std::hypot(x[i] - centre.x.value, y[i] - centre.y.value);
        if (film[i] < kAsThick * maximum || distance >= nearest) continue;
        nearest = distance;
        best = {Millimetres{x[i]}, Millimetres{y[i]}};
    }
    return best;
}

colour::Lab colour_at(const ProofPlan& option, std::size_t coats, plan::Point point, double exposure) {
    const render::PanelShader shader(option.job(), option.own_light(), coats);
    const double x[] = {point.x.value}, y[] = {point.y.value};
    colour::XYZ xyz[1];
    shader.xyz(x, y, xyz);
    return colour::to_lab({exposure * xyz[0].X, exposure * xyz[0].Y, exposure * xyz[0].Z}, shader.white());
}

std::vector<report::ProofColour> colours_of(const ProofPlan& option, double exposure) {
    const plan::Job& job = option.job();
    std::vector<report::ProofColour> colours;
    std::vector<std::size_t> last;  // coat of each
    for (std::size_t i = 0; i < job.coats.size(); ++i) {
        const plan::ResolvedCoat& coat = job.coats[i];
        const auto known = std::find_if(colours.begin(), colours.end(),
                                        [&](const report::ProofColour& c) { return c.mix == coat.mix_name; });
        if (known == colours.end()) {
            colours.push_back({coat.mix_name, coat.name, std::nullopt});
            last.push_back(i);
        } else {
            known->coats += ", " + coat.name;
            last[static_cast<std::size_t>(known - colours.begin())] = i;
        }
    }
    for (std::size_t c = 0; c < colours.size(); ++c) {
        const plan::ResolvedCoat& coat = job.coats[last[c]];
        if (!coat.clear) colours[c].lab = colour_at(option, last[c] + 1, thickest_point(job, coat), exposure);
    }
    return colours;
}

// Draws the pictures of one option; films of the coats are cached for the next picture of the same size.
class OptionRenderer {
public:
    OptionRenderer(const ProofPlan& ready, const ProofRequest& request, Progress progress)
        : job_(ready.job()), request_(request), progress_(std::move(progress)) {}

    // Nothing if cancelled. `share`: estimated share of the option's work.
    std::optional<Picture> picture(const colour::Illuminant& light, const render::PreviewSettings& settings,
                                   double share) {
        render::IncrementalRenderer& redraw = settings.longest_px == kLarge_px ? large_ : small_;
        const render::Preview* preview =
            redraw.update(job_, light, settings, progress_.subrange(fraction_done_, fraction_done_ + share));
        fraction_done_ += share;
        return preview ? std::optional(preview->picture) : std::nullopt;
    }

    [[nodiscard]] Picture with_watermark(const Picture& picture) const {
        return request_.no_watermark ? picture : report::add_watermark(picture);
    }

private:
    const plan::Job& job_;
    const ProofRequest& request_;
    Progress progress_;
    double fraction_done_ = 0;
    render::IncrementalRenderer large_{colour::OutputProfile::srgb()}, small_{colour::OutputProfile::srgb()};
};

constexpr double kLargeShare = 0.7;  // of the work on one option, about

// Adds the small pictures; false if cancelled.
bool add_small_pictures(report::ProofOption& option, const ProofPlan& ready, const Picture& large,
                        const Exposures& exposures, OptionRenderer& painting) {
    const bool flakes = has_flakes(ready.job());
    const std::size_t count = ready.lights.size() + (flakes ? report::kShownAngles.size() : 0);
    const double share = (1 - kLargeShare) / static_cast<double>(count);
    const colour::Illuminant& own = ready.own_light();
    for (const colour::Illuminant& light : ready.lights) {
        // Already drawn in the plan's own light.
        const std::optional<Picture> small =
            light.id == own.id ? report::downscale(large, kSmall_px)
                               : painting.picture(light, settings_for(kSmall_px, exposures.plan_view), share);
        if (!small) return false;
        option.lights.push_back({painting.with_watermark(*small), light.title});
    }
    if (!flakes) return true;
    for (const Degrees angle : report::kShownAngles) {
        const auto small =
            painting.picture(own, settings_at_angle(kSmall_px, exposures.angles, angle), share);
        if (!small) return false;
        option.angles.push_back({painting.with_watermark(*small), angle_label(angle)});
    }
    return true;
}

// Nothing if cancelled.
std::optional<report::ProofOption> render_option(const ProofPlan& ready, const ProofRequest& request,
                                                 const Exposures& exposures, const Progress& progress) {
    const plan::Job& job = ready.job();
    report::ProofOption option;
    option.title = job.title;
    option.width = job.panel.width;
    option.height = job.panel.height;
    option.exposure = exposures.plan_view;
    option.angles_exposure = exposures.angles;
    option.estimated = job.origin == paint::Provenance::estimated;
    const colour::Illuminant& own = ready.own_light();
    OptionRenderer painting(ready, request, progress);
    const std::optional<Picture> large =
        painting.picture(own, settings_for(kLarge_px, exposures.plan_view), kLargeShare);
    if (!large) return std::nullopt;
    option.large = {painting.with_watermark(*large), "in " + own.title};
    option.overview = painting.with_watermark(report::downscale(*large, kOverview_px));
    if (!add_small_pictures(option, ready, *large, exposures, painting)) return std::nullopt;
    option.colours = colours_of(ready, exposures.plan_view);
    return option;
}

// All options; nothing if cancelled.
std::optional<std::vector<report::ProofOption>> render_options(const std::vector<ProofPlan>& options,
                                                               const ProofRequest& request) {
    const Exposures exposures = exposures_of(options);
    std::vector<report::ProofOption> out;
    const double share = 1 / static_cast<double>(options.size());
    for (const ProofPlan& option : options) {
        const double start = static_cast<double>(out.size()) * share;
        auto rendered =
            render_option(option, request, exposures, request.progress.subrange(start, start + share));
        if (!rendered) return std::nullopt;
        out.push_back(std::move(*rendered));
    }
    return out;
}

std::vector<Artefact> proof_files(const ProofRequest& request, const report::Proof& proof) {
    std::vector<Artefact> files;
    for (const std::string& path : request.out) {
        if (path.ends_with(".pdf")) files.push_back(artefact(path, report::proof_pdf(proof, request.paper)));
        if (path.ends_with(".html")) files.push_back(artefact(path, report::proof_html(proof)));
        if (!path.ends_with(".png")) continue;
        const std::string stem = path.substr(0, path.size() - 4);
        for (std::size_t i = 0; i < proof.options.size(); ++i) {
            render::PngMetadata notes;
            notes.icc = colour::OutputProfile::srgb().icc_bytes();
            notes.icc_name = "sRGB";
            notes.texts = {{"Title", proof.options[i].title}, {"Comment", "Preview, not a colour approval."}};
            const char letter = static_cast<char>('a' + static_cast<int>(i));
            files.push_back(artefact(fmt::format("{}-{}.png", stem, letter),
                                     render::png_bytes(report::proof_picture(proof, i), notes)));
        }
    }
    return files;
}

}  // namespace

Outcome proof(Session& session, const ProofRequest& request) {
    if (const Check done = check_request(request); !done) return failed(done.error(), request);
    const ThreadLimit threads(request.threads);
    Outcome outcome;
    std::vector<ProofPlan> options;
    for (const PlanInput& plan : request.plans) {
        Attempt<ProofPlan> option = open_option(session, request, plan);
        if (!option) return failed(option.error(), request);
        outcome.err += to_text(option.value().prepared->diagnostics);
        options.push_back(std::move(option).value());
    }
    auto all = render_options(options, request);
    if (!all) return failed(cancelled_failure(), request);
    report::Proof proof;
    proof.options = std::move(*all);
    proof.units = options.front().job().units;
    proof.not_included = request.not_included;
    if (proof.not_included.empty())
        proof.not_included.assign(kDefaultNotIncluded.begin(), kDefaultNotIncluded.end());
    std::vector<Artefact> files = proof_files(request, proof);
    nlohmann::ordered_json result = nlohmann::ordered_json::array();
    for (const Artefact& file : files) {
        if (const Check done = check_overwrites(request, file.name); !done)
            return failed(done.error(), request);
        result.push_back(file.name);
    }
    add_artefacts(outcome, std::move(files), request.json);
    if (request.json) outcome.out = json_text({{"options", options.size()}, {"written", result}});
    return outcome;
}

}  // namespace fadewright::app
