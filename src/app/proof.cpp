// The pages for the client: each plan is an option, painted in the lights asked for, written as PDF, HTML or PNG.

#include "fadewright/report/proof.h"

#include "fadewright/app/commands.h"
#include "fadewright/base/parallel.h"
#include "fadewright/render/panel_places.h"
#include "fadewright/render/png.h"
#include "fadewright/render/redraw.h"
#include "fadewright/render/spectra.h"
#include "fadewright/report/flake_look.h"
#include "fadewright/report/shrunk.h"
#include "fadewright/text/schema.h"
#include "outcome.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <nlohmann/json.hpp>

namespace fadewright::app {
namespace {

constexpr std::array<const char*, 3> kUsualLights{"day", "warm-lamp", "shop-tube"};
constexpr std::array<const char*, 3> kUsuallyNotIncluded{"body work", "other parts", "wear"};
// On paper 230, 120 and 270 pixels to the inch, on a screen no fewer than are shown.
constexpr int kLarge_px = 1200, kOverview_px = 900, kSmall_px = 360;
constexpr Millimetres kAround{15.0};

std::optional<Outcome> wrong_request(const ProofRequest& request) {
    if (request.plans.size() > report::kMostOptions)
        return wrong_command(fmt::format("{} options are too many to choose from", request.plans.size()),
                             fmt::format("give at most {} plans", report::kMostOptions));
    if (request.lights.size() > report::kMostLights)
        return wrong_command(fmt::format("{} lights do not fit on a page", request.lights.size()),
                             fmt::format("give at most {}", report::kMostLights));
    for (const std::string& path : request.out) {
        if (!path.ends_with(".pdf") && !path.ends_with(".html") && !path.ends_with(".png"))
            return wrong_command(fmt::format("cannot tell what to write to '{}'", path),
                                 "give a name that ends in .pdf, .html or .png");
        for (const std::string& plan : request.plans)
            if (is_the_plan(path, plan)) return would_lose_plan(plan);
    }
    return std::nullopt;
}

// A plan that is ready, and the lights it is shown in besides its own.
struct ReadyOption {
    Opened opened;
    std::vector<colour::Light> lights;
    [[nodiscard]] const plan::Job& job() const { return *opened.job; }
};

std::optional<Outcome> add_lights(const ProofRequest& request, ReadyOption& option) {
    std::vector<std::string> names = request.lights;
    if (names.empty()) names.assign(kUsualLights.begin(), kUsualLights.end());
    for (const std::string& name : names) {
        Diagnostics diagnostics;
        const colour::Light* light = option.opened.shelf->light(name, diagnostics);
        if (diagnostics.has_errors()) return wrong_data(diagnostics, request.json);
        if (!light)
            return wrong_command(
                fmt::format("no light is called '{}'", name),
                fmt::format("lights: {}",
                            reading::joined(option.opened.shelf->names(plan::ShelfKind::lights), ", ")));
        option.lights.push_back(*light);
    }
    return std::nullopt;
}

bool holds_flakes(const plan::Job& job) {
    return std::any_of(job.coats.begin(), job.coats.end(),
                       [](const plan::ReadyCoat& coat) { return film::has_flakes(coat.mix); });
}

render::PreviewSettings settings_for(int longest_px, double exposure) {
    render::PreviewSettings settings;
    settings.longest_px = longest_px;
    settings.margin = kAround;
    settings.exposure = exposure;
    return settings;
}

render::PreviewSettings turned(int longest_px, double exposure, Degrees aspecular) {
    render::PreviewSettings settings = settings_for(longest_px, exposure);
    settings.viewing = render::instrument(aspecular);
    return settings;
}

// All options are shown equally bright: in the usual view, and from the side.
struct Exposures {
    double usual = 1, angles = 1;
};

Exposures exposures_of(const std::vector<ReadyOption>& options) {
    Exposures common;
    for (const ReadyOption& option : options) {
        const plan::Job& job = option.job();
        common.usual = std::min(common.usual, render::exposure_without_glare(job, *option.opened.light,
                                                                             settings_for(kSmall_px, 1)));
        if (!holds_flakes(job)) continue;
        std::vector<render::Viewing> sides;
        for (const Degrees angle : report::kShownAngles) sides.push_back(render::instrument(angle));
        common.angles = std::min(
            common.angles,
            render::exposure_without_glare(job, *option.opened.light, settings_for(kSmall_px, 1), sides));
    }
    return common;
}

// Where that coat is thickest; of several such places the one nearest to the middle.
plan::Point thickest(const plan::Job& job, const plan::ReadyCoat& coat) {
    constexpr int kPlaces = 41;
    constexpr double kAsThick = 0.98;
    const auto [x, y] = render::places_over(job.panel, kPlaces);
    std::vector<double> film(x.size());
    coat.add_film_um(x, y, film);
    plan::Point best{0.5 * job.panel.width, 0.5 * job.panel.height};
    if (film.empty()) return best;
    const plan::Point middle = best;
    const double most = *std::max_element(film.begin(), film.end());
    double nearest = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < film.size(); ++i) {
        const double far = std::hypot(x[i] - middle.x.value, y[i] - middle.y.value);
        if (film[i] < kAsThick * most || far >= nearest) continue;
        nearest = far;
        best = {Millimetres{x[i]}, Millimetres{y[i]}};
    }
    return best;
}

colour::Lab look_at(const ReadyOption& option, std::size_t coats, plan::Point place, double exposure) {
    const render::SeenJob seen(option.job(), *option.opened.light, coats);
    const double x[] = {place.x.value}, y[] = {place.y.value};
    colour::XYZ xyz[1];
    seen.xyz(x, y, xyz);
    return colour::to_lab({exposure * xyz[0].X, exposure * xyz[0].Y, exposure * xyz[0].Z}, seen.white());
}

std::vector<report::ProofColour> colours_of(const ReadyOption& option, double exposure) {
    const plan::Job& job = option.job();
    std::vector<report::ProofColour> colours;
    std::vector<std::size_t> last;  // coat of each
    for (std::size_t i = 0; i < job.coats.size(); ++i) {
        const plan::ReadyCoat& coat = job.coats[i];
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
        const plan::ReadyCoat& coat = job.coats[last[c]];
        if (!coat.clear) colours[c].lab = look_at(option, last[c] + 1, thickest(job, coat), exposure);
    }
    return colours;
}

// Paints the pictures of one option; coats that a picture shows keep their films for the next of its size.
class Painting {
public:
    Painting(const ReadyOption& ready, const ProofRequest& request, render::Watched watched)
        : job_(ready.job()), request_(request), watched_(std::move(watched)) {}

    // Nothing if it was stopped. `share` of the option's work, as far as is known before.
    std::optional<Picture> picture(const colour::Light& light, const render::PreviewSettings& settings,
                                   double share) {
        render::Redraw& redraw = settings.longest_px == kLarge_px ? large_ : small_;
        const render::Preview* shown =
            redraw.show(job_, light, settings, watched_.piece(done_, done_ + share));
        done_ += share;
        return shown ? std::optional(shown->picture) : std::nullopt;
    }

    [[nodiscard]] Picture marked(const Picture& picture) const {
        return request_.no_watermark ? picture : report::stamped(picture);
    }

private:
    const plan::Job& job_;
    const ProofRequest& request_;
    render::Watched watched_;
    double done_ = 0;
    render::Redraw large_{colour::OutputProfile::srgb()}, small_{colour::OutputProfile::srgb()};
};

constexpr double kLargeShare = 0.7;  // of the work on one option, about

// Adds the small pictures; false if it was stopped.
bool add_small(report::ProofOption& option, const ReadyOption& ready, const Picture& large,
               const Exposures& exposures, Painting& painting) {
    const bool flakes = holds_flakes(ready.job());
    const std::size_t count = ready.lights.size() + (flakes ? report::kShownAngles.size() : 0);
    const double share = (1 - kLargeShare) / static_cast<double>(count);
    const colour::Light& own = *ready.opened.light;
    for (const colour::Light& light : ready.lights) {
        // In the plan's own light it is painted already.
        const std::optional<Picture> small =
            light.id == own.id ? report::shrunk(large, kSmall_px)
                               : painting.picture(light, settings_for(kSmall_px, exposures.usual), share);
        if (!small) return false;
        option.lights.push_back({painting.marked(*small), light.title});
    }
    if (!flakes) return true;
    for (const Degrees angle : report::kShownAngles) {
        const auto small = painting.picture(own, turned(kSmall_px, exposures.angles, angle), share);
        if (!small) return false;
        option.angles.push_back(
            {painting.marked(*small), fmt::format("{:.0f}° from the shine", angle.value)});
    }
    return true;
}

// Nothing if it was stopped.
std::optional<report::ProofOption> painted(const ReadyOption& ready, const ProofRequest& request,
                                           const Exposures& exposures, const render::Watched& watched) {
    const plan::Job& job = ready.job();
    report::ProofOption option;
    option.title = job.title;
    option.width = job.panel.width;
    option.height = job.panel.height;
    option.exposure = exposures.usual;
    option.angles_exposure = exposures.angles;
    option.estimated = job.origin == paint::Origin::estimated;
    const colour::Light& own = *ready.opened.light;
    Painting painting(ready, request, watched);
    const std::optional<Picture> large =
        painting.picture(own, settings_for(kLarge_px, exposures.usual), kLargeShare);
    if (!large) return std::nullopt;
    option.large = {painting.marked(*large), "seen in " + own.title};
    option.overview = painting.marked(report::shrunk(*large, kOverview_px));
    if (!add_small(option, ready, *large, exposures, painting)) return std::nullopt;
    option.colours = colours_of(ready, exposures.usual);
    return option;
}

// All options; nothing if it was stopped.
std::optional<std::vector<report::ProofOption>> all_painted(const std::vector<ReadyOption>& options,
                                                            const ProofRequest& request) {
    const render::Watched watched{request.told, request.stopped};
    const Exposures exposures = exposures_of(options);
    std::vector<report::ProofOption> out;
    const double share = 1 / static_cast<double>(options.size());
    for (const ReadyOption& option : options) {
        const double begun = static_cast<double>(out.size()) * share;
        auto one = painted(option, request, exposures, watched.piece(begun, begun + share));
        if (!one) return std::nullopt;
        out.push_back(std::move(*one));
    }
    return out;
}

NewFiles files_of(const ProofRequest& request, const report::Proof& proof) {
    NewFiles files;
    for (const std::string& path : request.out) {
        if (path.ends_with(".pdf")) files.emplace_back(path, report::proof_pdf(proof, request.paper));
        if (path.ends_with(".html")) files.emplace_back(path, report::proof_html(proof));
        if (!path.ends_with(".png")) continue;
        const std::string stem = path.substr(0, path.size() - 4);
        for (std::size_t i = 0; i < proof.options.size(); ++i) {
            render::PngNotes notes;
            notes.icc = colour::OutputProfile::srgb().icc_bytes();
            notes.icc_name = "sRGB";
            notes.texts = {{"Title", proof.options[i].title}, {"Comment", "Preview, not a colour approval."}};
            const char letter = static_cast<char>('a' + static_cast<int>(i));
            files.emplace_back(fmt::format("{}-{}.png", stem, letter),
                               render::png_bytes(report::proof_picture(proof, i), notes));
        }
    }
    return files;
}

}  // namespace

Outcome proof(const ProofRequest& request) {
    if (const std::optional<Outcome> wrong = wrong_request(request)) return *wrong;
    const ThreadLimit threads(request.threads);
    Outcome outcome;
    std::vector<ReadyOption> options;
    for (const std::string& plan : request.plans) {
        ReadyOption option{open_job(plan, request.shelf, "", answer_of(request)), {}};
        if (!option.opened.ready()) return option.opened.outcome;
        if (const std::optional<Outcome> wrong = add_lights(request, option)) return *wrong;
        outcome.talk += option.opened.outcome.talk;
        options.push_back(std::move(option));
    }
    auto all = all_painted(options, request);
    if (!all) return ended_early();
    report::Proof proof;
    proof.options = std::move(*all);
    proof.units = options.front().job().units;
    proof.not_included = request.not_included;
    if (proof.not_included.empty())
        proof.not_included.assign(kUsuallyNotIncluded.begin(), kUsuallyNotIncluded.end());
    const auto files = files_of(request, proof);
    for (const auto& [path, bytes] : files)
        for (const std::string& plan : request.plans)
            if (is_the_plan(path, plan)) return would_lose_plan(plan);
    nlohmann::ordered_json written = nlohmann::ordered_json::array();
    if (const std::optional<Outcome> wrong = write_all(files, outcome, request.json)) return *wrong;
    for (const auto& [path, bytes] : files) written.push_back(path);
    if (request.json)
        outcome.out =
            nlohmann::ordered_json{{"options", options.size()}, {"written", written}}.dump(2) + "\n";
    return outcome;
}

}  // namespace fadewright::app
