// Recipes from the library for a colour.

#include "fadewright/formulation/match.h"

#include "fadewright/app/commands.h"
#include "fadewright/app/requests_schema.h"
#include "fadewright/colour/srgb.h"
#include "fadewright/film/colorimeter.h"
#include "fadewright/film/hiding.h"
#include "fadewright/film/stack.h"
#include "fadewright/formulation/drawdown.h"
#include "fadewright/measured/spectra_file.h"
#include "fadewright/report/match_report.h"
#include "mix_selection.h"
#include "outcome.h"

#include <fmt/core.h>

#include <algorithm>
#include <charconv>
#include <cmath>

namespace fadewright::app {
namespace {

std::string name_hint(const std::string& typed, const std::vector<std::string>& names,
                      std::string_view plural) {
    const std::string_view close = closest_name(typed, names);
    if (!close.empty()) return fmt::format("did you mean '{}'?", close);
    return fmt::format("{}: {}", plural, detail::join_text(names, ", "));
}

// "a,b" "c" -> a b c
std::vector<std::string> split_names(const std::vector<std::string>& lists) {
    std::vector<std::string> names;
    for (const std::string& list : lists)
        for (std::size_t from = 0; from <= list.size();) {
            const std::size_t comma = std::min(list.find(',', from), list.size());
            std::string name = list.substr(from, comma - from);
            name.erase(0, std::min(name.find_first_not_of(' '), name.size()));
            name.erase(name.find_last_not_of(' ') + 1);
            if (!name.empty()) names.push_back(std::move(name));
            from = comma + 1;
        }
    return names;
}

std::optional<colour::Lab> parse_lab(std::string_view text) {
    double numbers[3];
    const char* at = text.data();
    const char* const end = text.data() + text.size();
    for (int i = 0; i < 3; ++i) {
        while (at != end && (*at == ' ' || (i > 0 && *at == ','))) ++at;
        const auto [next, error] = std::from_chars(at, end, numbers[i]);
        if (error != std::errc{}) return std::nullopt;
        at = next;
    }
    if (at != end || !(numbers[0] >= 0 && numbers[0] <= 100) || !(std::abs(numbers[1]) <= 200) ||
        !(std::abs(numbers[2]) <= 200))
        return std::nullopt;
    return colour::Lab{numbers[0], numbers[1], numbers[2]};
}

std::optional<std::array<std::uint8_t, 3>> parse_srgb(std::string_view text) {
    if (text.starts_with('#')) text.remove_prefix(1);
    unsigned code = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), code, 16);
    if (text.size() != 6 || error != std::errc{} || end != text.data() + text.size()) return std::nullopt;
    return std::array{static_cast<std::uint8_t>(code >> 16), static_cast<std::uint8_t>(code >> 8 & 0xff),
                      static_cast<std::uint8_t>(code & 0xff)};
}

// One call, from the request to what is reported.
class MatchCommand {
public:
    MatchCommand(Session& session, const MatchRequest& request, plan::Library library)
        : session_(session), request_(request), library_(std::move(library)) {}

    Attempt<Outcome> run();

private:
    Check read_settings();
    Check read_target();
    Check read_lab();
    Check read_srgb();
    Check read_spectrum();
    Check read_mix();
    Check read_paints();
    const paint::Paint* usable_paint(const std::string& name, bool is_required);

    Session& session_;
    const MatchRequest& request_;
    plan::Library library_;
    report::MatchReport report_;
    std::vector<const paint::Paint*> paints_;
    Diagnostics diagnostics_;
};

Check MatchCommand::read_settings() {
    report_.units = output_options(request_).display_units();
    formulation::MatchSettings& settings = report_.settings;
    settings.max_paints = request_.max_paints;
    settings.batch = request_.batch;
    settings.division = request_.scale;
    const int degrees = request_.observer.value_or(request_.srgb.empty() ? 10 : 2);
    if (degrees != 2 && degrees != 10)
        return usage_failure("observer must be 2 or 10", fmt::format("write 2 or 10, not {}", degrees));
    settings.observer = degrees == 2 ? colour::Observer::two_degree : colour::Observer::ten_degree;
    const std::string light_name = request_.light.empty() ? plan::kDefaultLight : request_.light;
    if (const colour::Illuminant* light = library_.light(light_name, diagnostics_)) {
        settings.light = *light;
    } else if (!diagnostics_.has_errors()) {
        diagnostics_.error("P005", command_line_span(light_name),
                           fmt::format("no light is called '{}'", light_name),
                           name_hint(light_name, library_.names(plan::LibraryKind::lights), "lights"));
    }
    report_.film_condition = "at full hiding";
    if (request_.over.empty() != !request_.film)
        return usage_failure("--over and --film must be given together", "give both, or neither");
    if (request_.over.empty()) return Success{};
    if (const plan::Ground* ground = library_.ground(request_.over, diagnostics_)) {
        settings.film_over_ground = formulation::MatchFilm{*request_.film, ground->inside};
        report_.film_condition =
            fmt::format("{} dry over {}", report_.units.input_text(*request_.film), request_.over);
    } else if (!diagnostics_.has_errors()) {
        diagnostics_.error("P004", command_line_span(request_.over),
                           fmt::format("no ground is called '{}'", request_.over),
                           name_hint(request_.over, library_.names(plan::LibraryKind::grounds), "grounds"));
    }
    return Success{};
}

Check MatchCommand::read_lab() {
    const std::optional<colour::Lab> lab = parse_lab(request_.lab);
    if (!lab)
        return option_failure(fmt::format("'{}' is not a colour L*,a*,b*", request_.lab),
                              "write three numbers, such as --lab \"62,41,38\"; L* is 0 to 100");
    report_.request = "L*, a*, b* as given";
    report_.target.lab = *lab;
    return Success{};
}

Check MatchCommand::read_srgb() {
    const auto bytes = parse_srgb(request_.srgb);
    if (!bytes)
        return option_failure(fmt::format("'{}' is not a screen colour", request_.srgb),
                              "write six hexadecimal digits, such as --srgb \"#d97a4a\"");
    report_.request = fmt::format("sRGB {}", request_.srgb);
    report_.target.lab = colour::lab_of_srgb(*bytes);
    report_.notes.push_back(
        "a screen colour is taken relative to the white of the screen, as if that were the light's white.");
    return Success{};
}

Check MatchCommand::read_spectrum() {
    Result<std::shared_ptr<const Source>> source = read_source(request_.spectrum);
    if (!source) return system_failure(source.error());
    const auto file = measured::read_measured_file(source.value(), diagnostics_);
    if (!file) return data_failure(diagnostics_);
    const measured::MeasuredSample* chosen = &file->samples.front();
    if (!request_.sample.empty()) {
        const auto found = std::find_if(file->samples.begin(), file->samples.end(),
                                        [&](const auto& sample) { return sample.name == request_.sample; });
        if (found == file->samples.end()) {
            std::vector<std::string> names;
            for (const auto& sample : file->samples) names.push_back(sample.name);
            return data_failure(fmt::format("{} has no sample '{}'", request_.spectrum, request_.sample),
                                name_hint(request_.sample, names, "its samples"));
        }
        chosen = &*found;
    }
    if (chosen->measurement != measured::Measurement::reflectance)
        return data_failure(fmt::format("{} contains no reflectance", request_.spectrum),
                            "only a reflectance is the colour of a surface");
    const bool with_gloss = chosen->geometry.find("included") != std::string::npos;
    report_.settings.specular = with_gloss ? film::Specular::included : film::Specular::excluded;
    report_.notes = file->assumptions;
    report_.notes.push_back(with_gloss
                                ? "measured with specular included (SCI); recipes are calculated for that."
                                : "taken as measured with specular excluded (SCE).");
    report_.request =
        chosen->name.empty() ? request_.spectrum : fmt::format("measured sample '{}'", chosen->name);
    report_.target = formulation::match_target(measured::resample_to_bands(*chosen), report_.settings);
    return Success{};
}

Check MatchCommand::read_mix() {
    MixSelection selection;
    selection.plan = request_.plan;
    selection.library = request_.library;
    selection.json = request_.json;
    selection.units = request_.units;
    if (request_.plan.empty()) {
        selection.parts = {request_.mix};  // a paint by itself
    } else {
        selection.mix = request_.mix;
    }
    Attempt<SelectedMix> selected = select_mix(session_, selection);
    if (!selected) {
        Failure failure = selected.error();
        if (failure.exit == Exit::usage_error) failure.exit = Exit::data_error;
        return failure;
    }
    SelectedMix chosen = std::move(selected).value();
    const auto parts = resolve_parts(chosen, chosen.mix, diagnostics_);
    if (!parts) return data_failure(diagnostics_);
    const paint::MixedPaint mix = paint::mix_paints(*parts);
    const formulation::MatchSettings& settings = report_.settings;
    const film::Colorimeter colorimeter(settings.light, settings.observer, settings.specular);
    const colour::Reflectance inside =
        settings.film_over_ground
            ? film::reflectance_over(mix, settings.film_over_ground->film, settings.film_over_ground->ground)
            : film::masstone(mix);
    report_.request = fmt::format("{} '{}'", request_.plan.empty() ? "paint" : "mix", request_.mix);
    report_.target = formulation::match_target(colorimeter.through_surface(inside), settings);
    const film::HidingChart card{formulation::kBlackChart, formulation::kWhiteChart};
    if (!settings.film_over_ground &&
        !film::film_to_hide(mix, film::kFullHiding, card, colorimeter.surface(), colorimeter.luminosity()))
        report_.notes.push_back(
            fmt::format("{} never hides: its colour depends on ground and film, so give --over and --film.",
                        report_.request));
    return Success{};
}

Check MatchCommand::read_target() {
    const std::string* const options[] = {&request_.lab, &request_.srgb, &request_.spectrum, &request_.mix};
    if (std::count_if(std::begin(options), std::end(options),
                      [](const auto* text) { return !text->empty(); }) != 1)
        return option_failure("no colour given", "give one of --lab, --srgb, --spectrum or --mix");
    if (!request_.lab.empty()) return read_lab();
    if (!request_.srgb.empty()) return read_srgb();
    if (!request_.spectrum.empty()) return read_spectrum();
    return read_mix();
}

// The paint if it can be part of a recipe; an error if it is required and cannot.
const paint::Paint* MatchCommand::usable_paint(const std::string& name, bool is_required) {
    const paint::Paint* paint = library_.paint(name, diagnostics_);
    if (!paint) {
        if (!library_.file(plan::LibraryKind::paints, name))
            diagnostics_.error("P001", command_line_span(name), fmt::format("no paint is called '{}'", name),
                               name_hint(name, library_.names(plan::LibraryKind::paints), "paints"));
        return nullptr;
    }
    const bool colours = paint->role == paint::Role::opaque || paint->role == paint::Role::transparent ||
                         paint->role == paint::Role::white;
    const bool extends = paint->role == paint::Role::clear_base && report_.settings.film_over_ground;
    if (paint->solids.value > 0 && (colours || extends)) return paint;
    if (is_required)
        diagnostics_.error("P017", command_line_span(name),
                           fmt::format("'{}' cannot be part of a recipe", name),
                           paint->role == paint::Role::clear_base
                               ? "clear base changes the colour only over a ground: add --over and --film"
                               : "remove it: it has no colour of its own");
    return nullptr;
}

Check MatchCommand::read_paints() {
    const std::vector<std::string> only = split_names(request_.paints);
    const std::vector<std::string> excluded = split_names(request_.exclude);
    std::vector<std::string> names = only.empty() ? library_.names(plan::LibraryKind::paints) : only;
    std::sort(names.begin(), names.end());
    names.erase(std::unique(names.begin(), names.end()), names.end());
    for (const std::string& name : excluded)
        if (!library_.file(plan::LibraryKind::paints, name))
            (void)usable_paint(name, true);  // reports that it is unknown
    for (const std::string& name : names) {
        if (std::find(excluded.begin(), excluded.end(), name) != excluded.end()) continue;
        if (const paint::Paint* paint = usable_paint(name, !only.empty())) paints_.push_back(paint);
    }
    if (diagnostics_.has_errors()) return data_failure(diagnostics_);
    if (paints_.empty()) return data_failure("no paint is left to mix", "exclude fewer paints");
    return Success{};
}

Attempt<Outcome> MatchCommand::run() {
    for (const auto read :
         {&MatchCommand::read_settings, &MatchCommand::read_target, &MatchCommand::read_paints})
        if (const Check done = (this->*read)(); !done) return done.error();
    report_.candidates = paints_.size();
    report_.recipes = formulation::match(report_.target, paints_, report_.settings);
    Outcome outcome;
    outcome.out = request_.json ? report::match_json(report_) : report::match_text(report_);
    outcome.err = to_text(diagnostics_);
    return outcome;
}

}  // namespace

Outcome match(Session& session, const MatchRequest& request) {
    Result<plan::Library> library = session.library();
    if (!library) return failed(system_failure(library.error()), request);
    const Attempt<Outcome> matched = MatchCommand(session, request, std::move(library).value()).run();
    return matched ? matched.value() : failed(matched.error(), request);
}

}  // namespace fadewright::app
