#include "fadewright/plan/card.h"

#include "card_reading.h"
#include "fadewright/film/stack.h"
#include "fadewright/paint/mix.h"
#include "fadewright/plan/card_schema.h"
#include "names.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace fadewright::plan {
namespace {

constexpr std::array kRules{
    Rule{"C001", "a film's thickness is given in one way"},
    Rule{"C002", "a film is read over black, over white or both"},
    Rule{"C003", "a comb's wet tooth is shorter than its dry one"},
    Rule{"C004", "a reading is given in one way"},
    Rule{"C005", "films need the bare card"},
    Rule{"C006", "a card teaches something: films, let-downs, or a thick film and the coats that hide"},
    Rule{"C007", "a patch lies inside the card's picture"},
    Rule{"C008", "the grey patch has one known lightness and is not black"},
    Rule{"C009", "a patch is not burnt out"},
    Rule{"C010", "a reading is a share from 0 to 1"},
    Rule{"C011", "the bare white half is lighter than the black one"},
    Rule{"C012", "a let-down is made with a white of the shelf"},
    Rule{"C013", "white is not let down with white"},
    Rule{"C014", "a file named by the card can be read"},
    Rule{"C015", "reducer has no colour to learn"},
};

// Uncertainty of films, as a share (common practice, no source): a gauge or a scale, and counted coats. A
// comb's comes from its two teeth.
constexpr double kGaugeUncertainty = 0.05, kWeighingUncertainty = 0.05, kCoatsUncertainty = 0.25;

// A lacquered hiding card as it is usually printed, inside the binder (common practice, no source).
constexpr film::Card kUsualCard{0.01, 0.94};

struct KnownFilm {
    Micrometres film;
    double uncertainty = 0;
    bool counted = false;  // by coats
};

double noise_of(const CardFile& card, Means by) {
    if (card.noise) return *card.noise;
    switch (by) {
        case Means::spectrum:
            return kSpectrumNoise;
        case Means::picture:
            return kPictureNoise;
        case Means::colour:
            break;
    }
    return kColourNoise;
}

double mean(const colour::Reflectance& R) {
    double sum = 0;
    for (const double r : R.at) sum += r;
    return sum / static_cast<double>(colour::kBandCount);
}

// What a small error of a reading becomes inside the skin. (1 - k1)(1 - k2) / (1 - k2 R)^2 upside down.
double inside_per_seen(double inside, film::Skin skin) {
    const double trapped = 1 - skin.k2 * inside;
    return trapped * trapped / ((1 - skin.k1) * (1 - skin.k2));
}

std::optional<KnownFilm> known_film(const CardFile& card, const CardFilm& film, Diagnostics& diagnostics) {
    const int ways = int{film.film.has_value()} + int{film.weighed.has_value()} + int{!film.comb.empty()} +
                     int{film.coats.has_value()};
    if (ways != 1) {
        diagnostics.error("C001", film.place, "the film's thickness is not given in one way",
                          "give film = \"12 um\", or [films.weighed], or comb, or coats");
        return std::nullopt;
    }
    if (film.film) return KnownFilm{*film.film, kGaugeUncertainty};
    if (film.coats) return KnownFilm{*film.coats * card.coat_film, kCoatsUncertainty, true};
    if (film.weighed) {
        const double area_mm2 = film.weighed->width.value * film.weighed->height.value;
        const double volume_mm3 = 1000 * film.weighed->dried.value / card.dry_density.value;
        return KnownFilm{Micrometres{1000 * volume_mm3 / area_mm2}, kWeighingUncertainty};
    }
    const Micrometres wet = film.comb[0], dry = film.comb[1];
    if (!(wet < dry)) {
        const ShownUnits units = diagnostics.units();
        diagnostics.error(
            "C003", film.place,
            fmt::format("the comb's teeth are {} and {}", units.as_given(wet), units.as_given(dry)),
            "write first the last tooth that touched, then the first that did not");
        return std::nullopt;
    }
    const Micrometres middle = 0.5 * (wet + dry);
    const double dry_per_wet = card.solids.value / (1 + card.reduce.value);
    return KnownFilm{dry_per_wet * middle, 0.5 * ((dry - wet) / middle)};
}

// Everything that ready_card collects on its way.
class Readier {
public:
    Readier(const CardFile& card, Shelf& shelf, const CardFiles& files, Diagnostics& diagnostics)
        : card_(card), shelf_(shelf), diagnostics_(diagnostics), reader_(card, files, diagnostics) {
        ready_.paint = card;
        ready_.paint.K = {};
        ready_.paint.S = {};
        ready_.skin = film::skin_at_normal({});
        ready_.specular = card.shine == Shine::included ? film::Specular::included : film::Specular::excluded;
    }

    std::optional<ReadyCard> ready() {
        const std::size_t before = diagnostics_.error_count();
        if (card_.role == paint::Role::reducer)
            diagnostics_.error("C015", card_.place, "a reducer leaves no film",
                               "learn a paint that leaves one");
        bare();
        for (std::size_t i = 0; i < card_.films.size(); ++i) film(card_.films[i], i + 1);
        for (const LetDown& step : card_.ladder) let_down(step);
        if (card_.thick) thick(*card_.thick);
        if (diagnostics_.error_count() != before) return std::nullopt;
        if (ready_.readings.empty() || (only_thick_ && !ready_.guess)) {
            diagnostics_.error("C006", card_.place, "this card teaches nothing",
                               card_.thick ? "say after how many coats it hides:  hides_in = 4"
                                           : "add [[films]], [[ladder]], or [thick] with hides_in");
            return std::nullopt;
        }
        if (!only_thick_) ready_.guess.reset();
        say_how();
        return ready_;
    }

private:
    void bare() {
        if (!card_.bare) {
            if (!card_.films.empty())
                diagnostics_.error("C005", card_.place, "the bare card was not read",
                                   "add [bare.black] and [bare.white], read like the films");
            return;
        }
        const auto black = reader_.read(card_.bare->black, "the bare black half");
        const auto white = reader_.read(card_.bare->white, "the bare white half");
        if (!black || !white) return;
        const film::Skin skin = card_.card_surface == Surface::gloss ? ready_.skin : film::kNoSkin;
        black_ = film::inside(black->seen, skin, ready_.specular);
        white_ = film::inside(white->seen, skin, ready_.specular);
        const double mean_black = mean(black_), mean_white = mean(white_);
        black_noise_ = noise_of(card_, black->by) * inside_per_seen(mean_black, skin);
        white_noise_ = noise_of(card_, white->by) * inside_per_seen(mean_white, skin);
        if (!(mean_white > mean_black))
            diagnostics_.error("C011", card_.place, "the bare white half is not lighter than the black one",
                               "look whether the two were exchanged");
    }

    void film(const CardFilm& film, std::size_t number) {
        if (!film.black && !film.white)
            diagnostics_.error("C002", film.place, "this film was not read",
                               "add [films.black] and [films.white]");
        const std::optional<KnownFilm> known = known_film(card_, film, diagnostics_);
        const auto half = [&](const std::optional<CardReading>& written, std::string_view over,
                              const colour::Reflectance& ground, double ground_noise) {
            if (!written) return;
            const std::string name = fmt::format("film {} over {}", number, over);
            const auto seen = reader_.read(*written, name);
            if (seen && known) add(name, *seen, known->film, ground, ground_noise);
        };
        half(film.black, "black", black_, black_noise_);
        half(film.white, "white", white_, white_noise_);
        if (!known) return;
        only_thick_ = false;
        ready_.film_uncertainty = std::max(ready_.film_uncertainty, known->uncertainty);
        counted_coats_ = counted_coats_ || known->counted;
    }

    void let_down(const LetDown& step) {
        if (card_.role == paint::Role::white) {
            diagnostics_.error("C013", step.place, "a white cannot be let down with white",
                               "lay films over black and white instead");
            return;
        }
        const paint::Paint* white = shelf_.paint(step.white.value, diagnostics_);
        if (!white || white->role != paint::Role::white) {
            if (white)
                diagnostics_.error("C012", step.white.place,
                                   fmt::format("'{}' is no white", step.white.value),
                                   "name a paint of the shelf with  role = \"white\"");
            else
                report_unknown("C012", "paint", step.white, shelf_.names(ShelfKind::paints), diagnostics_);
            return;
        }
        const std::string name = fmt::format("1 : {} with white", number_text(step.parts));
        const auto seen = reader_.read(step.seen, name);
        if (!seen) return;
        // The white's own share of the optics, crowding and all: the paint itself adds nothing yet.
        const std::array<paint::Part, 2> parts{paint::Part{&ready_.paint, 1}, paint::Part{white, step.parts}};
        const paint::MixedPaint rest = paint::mixed(parts);
        add(name, *seen, kThick, colour::Reflectance::constant(0.5), 0);
        const double own = card_.solids.value;
        ready_.readings.back().share = Share{own / (own + step.parts * white->solids.value)};
        ready_.readings.back().known_K = rest.K;
        ready_.readings.back().known_S = rest.S;
        only_thick_ = false;
        estimated_white_ = estimated_white_ || white->origin == paint::Origin::estimated;
    }

    void thick(const ThickFilm& film) {
        const auto seen = reader_.read(film.seen, "the thick film");
        if (!seen) return;
        add("thick film", *seen, kThick, colour::Reflectance::constant(0.5), 0);
        if (!film.hides_in) return;
        const auto inside = film::inside(seen->seen, ready_.skin, ready_.specular);
        ready_.guess = ReadyCard::Guess{inside, *film.hides_in * card_.coat_film, kUsualCard};
    }

    void add(const std::string& name, const SeenReading& seen, Micrometres film,
             const colour::Reflectance& ground, double ground_noise) {
        film::Reading reading;
        reading.film = film;
        reading.ground = ground;
        reading.seen = seen.seen;
        reading.noise = noise_of(card_, seen.by);
        reading.ground_noise = ground_noise;
        ready_.readings.push_back(reading);
        ready_.reading_names.push_back(name);
    }

    // Origin and source of the paint, and what a reader of the result should know.
    void say_how() {
        static constexpr std::array<std::string_view, 3> kBy{"spectra", "patches of a picture",
                                                             "colours of three numbers"};
        const Means by = reader_.least_sure();
        const bool sure = by == Means::spectrum && !counted_coats_ && !estimated_white_ && !only_thick_;
        ready_.paint.origin = sure ? paint::Origin::fitted : paint::Origin::estimated;
        std::vector<std::string> parts;
        const auto count = [&](std::size_t n, std::string_view one, std::string_view many) {
            if (n > 0) parts.push_back(fmt::format("{} {}", n, n == 1 ? one : many));
        };
        count(card_.films.size(), "film over black and white", "films over black and white");
        count(card_.ladder.size(), "let-down", "let-downs");
        if (card_.thick) parts.emplace_back("a thick film");
        ready_.paint.source = fmt::format(
            "{} a test card: {}, read as {}, shine {}{}", only_thick_ ? "guessed from" : "fitted to",
            reading::joined(parts, ", "), kBy[static_cast<std::size_t>(by)], name_of(card_.shine),
            counted_coats_ ? ", films counted in coats" : "");
        if (by != Means::spectrum)
            ready_.remarks.emplace_back(
                "low trust: three numbers do not determine a spectrum; each band is a smooth guess");
        if (reader_.led_to_grey())
            ready_.remarks.emplace_back("a colour given is one no paint can have; a greyer one was taken");
        if (counted_coats_)
            ready_.remarks.emplace_back("films counted in coats: K and S hold for coats as you lay them");
        if (estimated_white_) ready_.remarks.emplace_back("the white of the ladder is itself estimated");
        if (only_thick_)
            ready_.remarks.emplace_back(
                "a guess: only the thick film's colour is known, and S from the coats that hide");
        say_skin();
    }

    // A reading darker than the skin alone mirrors cannot be right when shine is counted.
    void say_skin() {
        if (ready_.specular == film::Specular::excluded) return;
        for (std::size_t i = 0; i < ready_.readings.size(); ++i) {
            const auto& seen = ready_.readings[i].seen.at;
            if (*std::min_element(seen.begin(), seen.end()) < ready_.skin.k1 - 2 * ready_.readings[i].noise)
                ready_.remarks.push_back(fmt::format(
                    "{} is darker than the shine alone; was shine really counted?", ready_.reading_names[i]));
        }
    }

    static constexpr Micrometres kThick{std::numeric_limits<double>::infinity()};

    const CardFile& card_;
    Shelf& shelf_;
    Diagnostics& diagnostics_;
    CardReader reader_;
    ReadyCard ready_;
    colour::Reflectance black_, white_;
    double black_noise_ = 0, white_noise_ = 0;  // inside
    bool only_thick_ = true;
    bool counted_coats_ = false, estimated_white_ = false;
};

double rounded(double v) {
    if (v == 0 || !std::isfinite(v)) return v;
    return std::stod(fmt::format("{:.{}g}", v, kKeptDigits));
}

}  // namespace

std::span<const Rule> card_rules() { return kRules; }

std::optional<CardFile> read_card(std::shared_ptr<const Source> source, Diagnostics& diagnostics) {
    const std::optional<ReadTree> tree = read_toml(std::move(source), diagnostics);
    CardFile card;
    if (!tree || !read_thing(*tree, card, diagnostics)) return std::nullopt;
    return card;
}

std::optional<ReadyCard> ready_card(const CardFile& card, Shelf& shelf, const CardFiles& files,
                                    Diagnostics& diagnostics) {
    return Readier(card, shelf, files, diagnostics).ready();
}

std::optional<LearnedPaint> learned(const ReadyCard& card, const Place& place, Diagnostics& diagnostics) {
    LearnedPaint out{card.paint, std::nullopt, card.reading_names, card.film_uncertainty, card.remarks};
    if (!card.guess) {
        out.fit = film::fitted(card.readings, card.skin, card.specular);
        out.paint.K = out.fit->K;
        out.paint.S = out.fit->S;
        return out;
    }
    const colour::Weights weights =
        colour::weights(colour::standard_light(colour::StandardLight::D65), colour::Observer::two_degree);
    colour::Power luminosity;
    for (std::size_t band = 0; band < colour::kBandCount; ++band) luminosity[band] = weights.w[band][1];
    const auto curves =
        film::from_masstone(card.guess->inside, card.guess->hides, card.guess->card, card.skin, luminosity);
    if (!curves) {
        diagnostics.error("C006", place, "a paint of this colour never hides",
                          "lay films over black and white");
        return std::nullopt;
    }
    out.paint.K = curves->K;
    out.paint.S = curves->S;
    return out;
}

std::string paint_text(const paint::Paint& paint) {
    PaintFile file;
    static_cast<paint::Paint&>(file) = paint;
    PaintSpectrum spectrum;
    for (std::size_t band = 0; band < colour::kBandCount; ++band) {
        spectrum.absorption.push_back(rounded(paint.K[band]));
        spectrum.scattering.push_back(rounded(paint.S[band]));
    }
    file.spectrum = spectrum;
    return canonical_text(file);
}

}  // namespace fadewright::plan
