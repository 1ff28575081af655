// A recipe from the shelf for a colour.

#include "fadewright/film/match.h"

#include "embedded.h"
#include "fadewright/app/commands.h"
#include "fadewright/app/requests_schema.h"
#include "fadewright/colour/spectra_file.h"
#include "fadewright/colour/srgb.h"
#include "fadewright/film/hiding.h"
#include "fadewright/film/looker.h"
#include "fadewright/film/outlook.h"
#include "fadewright/film/stack.h"
#include "fadewright/report/match_report.h"
#include "mix_choice.h"
#include "outcome.h"

#include <fmt/core.h>

#include <algorithm>
#include <charconv>
#include <cmath>

namespace fadewright::app {
namespace {

Place typed_place(const std::string& text) {
    return {std::make_shared<Source>("command line", text), 0, text.size()};
}

std::string closest_hint(const std::string& written, const std::vector<std::string>& names,
                         std::string_view plural) {
    const std::string_view close = closest_name(written, names);
    if (!close.empty()) return fmt::format("did you mean '{}'?", close);
    return fmt::format("{}: {}", plural, reading::joined(names, ", "));
}

// "a,b" "c" -> a b c
std::vector<std::string> names_in(const std::vector<std::string>& lists) {
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

std::optional<colour::Lab> lab_of(std::string_view text) {
    double numbers[3];
    const char* at = text.data();
    const char* const end = text.data() + text.size();
    for (int i = 0; i < 3; ++i) {
        while (at != end && (*at == ' ' || (i > 0 && *at == ','))) ++at;
        const auto [next, fault] = std::from_chars(at, end, numbers[i]);
        if (fault != std::errc{}) return std::nullopt;
        at = next;
    }
    if (at != end || !(numbers[0] >= 0 && numbers[0] <= 100) || !(std::abs(numbers[1]) <= 200) ||
        !(std::abs(numbers[2]) <= 200))
        return std::nullopt;
    return colour::Lab{numbers[0], numbers[1], numbers[2]};
}

std::optional<std::array<std::uint8_t, 3>> srgb_of(std::string_view text) {
    if (text.starts_with('#')) text.remove_prefix(1);
    unsigned code = 0;
    const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), code, 16);
    if (text.size() != 6 || fault != std::errc{} || end != text.data() + text.size()) return std::nullopt;
    return std::array{static_cast<std::uint8_t>(code >> 16), static_cast<std::uint8_t>(code >> 8 & 0xff),
                      static_cast<std::uint8_t>(code & 0xff)};
}

// One call, from the request to what is reported.
class Matching {
public:
    Matching(const MatchRequest& request, plan::Shelf shelf) : request_(request), shelf_(std::move(shelf)) {}

    Outcome outcome();

private:
    bool take_settings();
    bool take_target();
    bool take_lab();
    bool take_srgb();
    bool take_spectrum();
    bool take_mix();
    bool take_paints();
    const paint::Paint* usable(const std::string& name, bool asked_for);
    bool fail(Outcome wrong) {
        wrong_ = std::move(wrong);
        return false;
    }

    const MatchRequest& request_;
    plan::Shelf shelf_;
    report::MatchReport report_;
    std::vector<const paint::Paint*> paints_;
    Diagnostics diagnostics_;
    Outcome wrong_;
};

bool Matching::take_settings() {
    report_.units = answer_of(request_).shown();
    film::MatchSettings& settings = report_.settings;
    settings.most_paints = request_.paints_at_most;
    settings.batch = request_.batch;
    settings.division = request_.scale;
    const int degrees = request_.observer.value_or(request_.srgb.empty() ? 10 : 2);
    if (degrees != 2 && degrees != 10)
        return fail(wrong_command(fmt::format("no observer sees {} degrees", degrees), "write 2 or 10"));
    settings.observer = degrees == 2 ? colour::Observer::two_degree : colour::Observer::ten_degree;
    const std::string light_name = request_.light.empty() ? "day" : request_.light;
    if (const colour::Light* light = shelf_.light(light_name, diagnostics_)) {
        settings.light = *light;
    } else if (!diagnostics_.has_errors()) {
        diagnostics_.error("P005", typed_place(light_name),
                           fmt::format("no light is called '{}'", light_name),
                           closest_hint(light_name, shelf_.names(plan::ShelfKind::lights), "lights"));
    }
    report_.laid = "laid until it hides";
    if (request_.over.empty() != !request_.film)
        return fail(wrong_command("a film needs a ground, and a ground a film",
                                  "give both --over GROUND and --film, or neither"));
    if (request_.over.empty()) return true;
    if (const plan::Ground* ground = shelf_.ground(request_.over, diagnostics_)) {
        settings.over = film::MatchFilm{*request_.film, ground->inside};
        report_.laid = fmt::format("{} dry over {}", report_.units.as_given(*request_.film), request_.over);
    } else if (!diagnostics_.has_errors()) {
        diagnostics_.error("P004", typed_place(request_.over),
                           fmt::format("no ground is called '{}'", request_.over),
                           closest_hint(request_.over, shelf_.names(plan::ShelfKind::grounds), "grounds"));
    }
    return true;
}

bool Matching::take_lab() {
    const std::optional<colour::Lab> lab = lab_of(request_.lab);
    if (!lab)
        return fail(wrong_command(fmt::format("'{}' is not a colour L,a,b", request_.lab),
                                  "write three numbers, as --lab \"62,41,38\"; L is 0 to 100"));
    report_.asked = "Lab as given";
    report_.target.lab = *lab;
    return true;
}

bool Matching::take_srgb() {
    const auto bytes = srgb_of(request_.srgb);
    if (!bytes)
        return fail(wrong_command(fmt::format("'{}' is not a colour of a screen", request_.srgb),
                                  "write six hexadecimal digits, as --srgb \"#d97a4a\""));
    report_.asked = fmt::format("the screen's {}", request_.srgb);
    report_.target.lab = colour::lab_of_srgb(*bytes);
    report_.notes.push_back(
        "a screen's colour is read against the screen's white, as if that were the light's.");
    return true;
}

bool Matching::take_spectrum() {
    Result<std::shared_ptr<const Source>> source = read_source(request_.spectrum);
    if (!source) return fail(refused(source.refusal()));
    const auto file = colour::read_measured(source.value(), diagnostics_);
    if (!file) return fail(wrong_data(diagnostics_, request_.json));
    const colour::MeasuredSample* chosen = &file->samples.front();
    if (!request_.sample.empty()) {
        const auto found = std::find_if(file->samples.begin(), file->samples.end(),
                                        [&](const auto& sample) { return sample.name == request_.sample; });
        if (found == file->samples.end()) {
            std::vector<std::string> names;
            for (const auto& sample : file->samples) names.push_back(sample.name);
            return fail({Exit::wrong_data, "",
                         fmt::format("error: {} has no sample '{}'\n       = hint: {}\n", request_.spectrum,
                                     request_.sample, closest_hint(request_.sample, names, "its samples"))});
        }
        chosen = &*found;
    }
    if (chosen->measurement != colour::Measurement::reflectance)
        return fail(
            {Exit::wrong_data, "",
             fmt::format("error: {} does not hold a reflectance\n       = hint: only a reflectance has "
                         "the colour of a surface\n",
                         request_.spectrum)});
    const bool with_gloss = chosen->geometry.find("included") != std::string::npos;
    report_.settings.specular = with_gloss ? film::Specular::included : film::Specular::excluded;
    report_.notes = file->decisions;
    report_.notes.push_back(with_gloss ? "the measurement counts the gloss of the surface; recipes do too."
                                       : "taken as measured without the gloss of the surface.");
    report_.asked = chosen->name.empty() ? request_.spectrum : fmt::format("the measured '{}'", chosen->name);
    report_.target = film::target_of(colour::on_bands(*chosen), report_.settings);
    return true;
}

bool Matching::take_mix() {
    MixChoice choice;
    choice.plan = request_.plan;
    choice.shelf = request_.shelf;
    choice.json = request_.json;
    choice.units = request_.units;
    if (request_.plan.empty()) {
        choice.parts = {request_.mix};  // a paint by itself
    } else {
        choice.mix = request_.mix;
    }
    Outcome outcome;
    std::optional<ChosenMix> chosen = chosen_mix(choice, outcome);
    if (!chosen) {
        if (outcome.exit == Exit::wrong_command) outcome.exit = Exit::wrong_data;
        return fail(std::move(outcome));
    }
    const auto parts = resolved(*chosen, chosen->mix, diagnostics_);
    if (!parts) return fail(wrong_data(diagnostics_, request_.json));
    const paint::MixedPaint mix = paint::mixed(*parts);
    const film::MatchSettings& settings = report_.settings;
    const film::Looker looker(settings.light, settings.observer, settings.specular);
    const colour::Reflectance inside =
        settings.over ? film::over(mix, settings.over->film, settings.over->ground) : film::masstone(mix);
    report_.asked = fmt::format("the {} '{}'", request_.plan.empty() ? "paint" : "mix", request_.mix);
    report_.target = film::target_of(looker.seen(inside), settings);
    const film::Card card{film::kBlackCard, film::kWhiteCard};
    if (!settings.over &&
        !film::film_to_hide(mix, film::kFullHiding, card, looker.skin(), looker.luminosity()))
        report_.notes.push_back(fmt::format(
            "{} never hides: a film of it over a ground looks different, so give --over and --film.",
            report_.asked));
    return true;
}

bool Matching::take_target() {
    const std::string* const given[] = {&request_.lab, &request_.srgb, &request_.spectrum, &request_.mix};
    if (std::count_if(std::begin(given), std::end(given), [](const auto* text) { return !text->empty(); }) !=
        1)
        return fail(wrong_command("which colour?", "give one of --lab, --srgb, --spectrum or --mix"));
    if (!request_.lab.empty()) return take_lab();
    if (!request_.srgb.empty()) return take_srgb();
    if (!request_.spectrum.empty()) return take_spectrum();
    return take_mix();
}

// The paint if it can be part of a recipe; reported if it was asked for and cannot.
const paint::Paint* Matching::usable(const std::string& name, bool asked_for) {
    const paint::Paint* paint = shelf_.paint(name, diagnostics_);
    if (!paint) {
        if (!shelf_.file(plan::ShelfKind::paints, name))
            diagnostics_.error("P001", typed_place(name), fmt::format("no paint is called '{}'", name),
                               closest_hint(name, shelf_.names(plan::ShelfKind::paints), "paints"));
        return nullptr;
    }
    const bool colours = paint->role == paint::Role::opaque || paint->role == paint::Role::transparent ||
                         paint->role == paint::Role::white;
    const bool extends = paint->role == paint::Role::clear_base && report_.settings.over;
    if (paint->solids.value > 0 && (colours || extends)) return paint;
    if (asked_for)
        diagnostics_.error(
            "P017", typed_place(name), fmt::format("'{}' cannot be part of a recipe", name),
            paint->role == paint::Role::clear_base
                ? "clear base changes the colour of a film over a ground only: add --over and --film"
                : "leave it out: it does not colour a mix by itself");
    return nullptr;
}

bool Matching::take_paints() {
    const std::vector<std::string> only = names_in(request_.paints);
    const std::vector<std::string> without = names_in(request_.without);
    std::vector<std::string> names = only.empty() ? shelf_.names(plan::ShelfKind::paints) : only;
    std::sort(names.begin(), names.end());
    names.erase(std::unique(names.begin(), names.end()), names.end());
    for (const std::string& name : without)
        if (!shelf_.file(plan::ShelfKind::paints, name)) (void)usable(name, true);  // says that it is unknown
    for (const std::string& name : names) {
        if (std::find(without.begin(), without.end(), name) != without.end()) continue;
        if (const paint::Paint* paint = usable(name, !only.empty())) paints_.push_back(paint);
    }
    if (diagnostics_.has_errors()) return fail(wrong_data(diagnostics_, request_.json));
    if (paints_.empty())
        return fail(
            {Exit::wrong_data, "", "error: no paint is left to mix\n       = hint: leave fewer out\n"});
    return true;
}

Outcome Matching::outcome() {
    if (!take_settings() || !take_target() || !take_paints()) return wrong_;
    report_.candidates = paints_.size();
    report_.recipes = film::match(report_.target, paints_, report_.settings);
    return {Exit::fine, request_.json ? report::match_json(report_) : report::match_text(report_),
            to_text(diagnostics_)};
}

}  // namespace

Outcome match(const MatchRequest& request) {
    Result<plan::Shelf> shelf = plan::Shelf::open(embedded_presets(), request.shelf);
    if (!shelf) return refused(shelf.refusal());
    return Matching(request, std::move(shelf).value()).outcome();
}

}  // namespace fadewright::app
