#include "fadewright/calibration/paint_calibration.h"

#include "fadewright/calibration/spray_out_card_schema.h"
#include "fadewright/film/stack.h"
#include "fadewright/paint/mix.h"
#include "fadewright/plan/names.h"
#include "spray_out_card_reader.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace fadewright::calibration {
namespace {

constexpr std::array kSprayOutCardRules{
    Rule{"C001", "give exactly one of film, [weighed_film], comb and coats"},
    Rule{"C002", "a film needs a reading over black, over white or both"},
    Rule{"C003", "on a wet-film comb the wet tooth is shorter than the dry one"},
    Rule{"C004", "give exactly one of values, file, patch, lab and srgb"},
    Rule{"C005", "films need readings of the bare card"},
    Rule{"C006", "a card needs films, let-downs, or a thick film and its coats to hide"},
    Rule{"C007", "a patch must be inside the card's picture"},
    Rule{"C008", "the grey patch needs exactly one of grey_L and grey_reflectance, and cannot be black"},
    Rule{"C009", "a patch must not be overexposed"},
    Rule{"C010", "a reading must be from 0 to 1"},
    Rule{"C011", "the bare white half must be lighter than the black half"},
    Rule{"C012", "a let-down needs a white from the library"},
    Rule{"C013", "a white cannot be let down with white"},
    Rule{"C014", "a file of the card must be readable"},
    Rule{"C015", "a reducer has no colour"},
};

// Uncertainty of films, as a share (common practice, no source): a gauge or a scale, and counted coats. A
// comb's comes from its two teeth.
constexpr double kGaugeUncertainty = 0.05, kWeighingUncertainty = 0.05, kCoatsUncertainty = 0.25;

// A typical lacquered hiding chart, below the surface (common practice, no source).
constexpr film::HidingChart kDefaultHidingCard{0.01, 0.94};

struct FilmThickness {
    Micrometres film;
    double uncertainty = 0;
    bool by_coats = false;  // counted in coats
};

double reading_noise(const SprayOutCard& card, ReadingMethod method) {
    if (card.noise) return *card.noise;
    switch (method) {
        case ReadingMethod::spectrum:
            return kSpectrumNoise;
        case ReadingMethod::picture:
            return kPictureNoise;
        case ReadingMethod::colour:
            break;
    }
    return kColourNoise;
}

double mean(const colour::Reflectance& R) {
    double sum = 0;
    for (const double r : R.values) sum += r;
    return sum / static_cast<double>(colour::kBandCount);
}

// Error of a reading converted to below the surface: inverse of (1 - k1)(1 - k2) / (1 - k2 R)^2.
double internal_per_external(double inside, film::SaundersonCorrection saunderson) {
    const double trapped = 1 - saunderson.k2 * inside;
    return trapped * trapped / ((1 - saunderson.k1) * (1 - saunderson.k2));
}

std::optional<FilmThickness> film_thickness(const SprayOutCard& card, const CardFilm& film,
                                            Diagnostics& diagnostics) {
    const int given_count = int{film.film.has_value()} + int{film.weighed_film.has_value()} +
                            int{!film.comb.empty()} + int{film.coats.has_value()};
    if (given_count != 1) {
        diagnostics.error("C001", film.span, "the film thickness is missing or given more than once",
                          "give exactly one of film = \"12 um\", [films.weighed_film], comb and coats");
        return std::nullopt;
    }
    if (film.film) return FilmThickness{*film.film, kGaugeUncertainty};
    if (film.coats) return FilmThickness{*film.coats * card.coat_film, kCoatsUncertainty, true};
    if (film.weighed_film) {
        const double area_mm2 = film.weighed_film->width.value * film.weighed_film->height.value;
        const double volume_mm3 = 1000 * film.weighed_film->dry_weight.value / card.dry_density.value;
        return FilmThickness{Micrometres{1000 * volume_mm3 / area_mm2}, kWeighingUncertainty};
    }
    const Micrometres wet = film.comb[0], dry = film.comb[1];
    if (!(wet < dry)) {
        const DisplayUnits units = diagnostics.units();
        diagnostics.error(
            "C003", film.span,
            fmt::format("the teeth of the comb are {} and {}", units.input_text(wet), units.input_text(dry)),
            "give the last wet tooth first, then the first dry tooth");
        return std::nullopt;
    }
    const Micrometres wet_comb = 0.5 * (wet + dry);
    const double dry_per_wet = card.solids.value / (1 + card.reduce.value);
    return FilmThickness{dry_per_wet * wet_comb, 0.5 * ((dry - wet) / wet_comb)};
}

// State of prepare_card.
class CardPreparer {
public:
    CardPreparer(const SprayOutCard& card, plan::Library& library, const CardFiles& files,
                 Diagnostics& diagnostics)
        : card_(card), library_(library), diagnostics_(diagnostics), reader_(card, files, diagnostics) {
        prepared_.paint = card;
        prepared_.paint.K = {};
        prepared_.paint.S = {};
        prepared_.saunderson = film::surface_at_normal({});
        prepared_.specular =
            card.specular == Specular::included ? film::Specular::included : film::Specular::excluded;
    }

    std::optional<PreparedCard> prepare() {
        const std::size_t before = diagnostics_.error_count();
        if (card_.role == paint::Role::reducer)
            diagnostics_.error("C015", card_.span, "a reducer has no colour",
                               "use a paint that leaves a film");
        read_bare_card();
        for (std::size_t i = 0; i < card_.films.size(); ++i) add_film(card_.films[i], i + 1);
        for (const LetDown& step : card_.ladder) add_let_down(step);
        if (card_.thick_film) add_thick_film(*card_.thick_film);
        if (diagnostics_.error_count() != before) return std::nullopt;
        if (prepared_.readings.empty() || (only_thick_ && !prepared_.guess)) {
            diagnostics_.error("C006", card_.span, "nothing to fit: no films or let-downs",
                               card_.thick_film
                                   ? "give the number of coats to hiding:  coats_to_hide = 4"
                                   : "add [[films]], [[ladder]], or [thick_film] with coats_to_hide");
            return std::nullopt;
        }
        if (!only_thick_) prepared_.guess.reset();
        describe_source();
        return prepared_;
    }

private:
    void read_bare_card() {
        if (!card_.bare_card) {
            if (!card_.films.empty())
                diagnostics_.error("C005", card_.span, "the readings of the bare card are missing",
                                   "add [bare_card.black] and [bare_card.white], read like the films");
            return;
        }
        const auto black = reader_.read(card_.bare_card->black, "the bare black half");
        const auto white = reader_.read(card_.bare_card->white, "the bare white half");
        if (!black || !white) return;
        const film::SaundersonCorrection saunderson =
            card_.card_surface == plan::Surface::gloss ? prepared_.saunderson : film::kNoSurface;
        black_ = film::below_surface(black->reflectance, saunderson, prepared_.specular);
        white_ = film::below_surface(white->reflectance, saunderson, prepared_.specular);
        const double mean_black = mean(black_), mean_white = mean(white_);
        black_noise_ = reading_noise(card_, black->method) * internal_per_external(mean_black, saunderson);
        white_noise_ = reading_noise(card_, white->method) * internal_per_external(mean_white, saunderson);
        if (!(mean_white > mean_black))
            diagnostics_.error("C011", card_.span, "the bare white half is not lighter than the black half",
                               "check whether the two were swapped");
    }

    void add_film(const CardFilm& film, std::size_t number) {
        if (!film.black && !film.white)
            diagnostics_.error("C002", film.span, "this film has no reading",
                               "add [films.black] and [films.white]");
        const std::optional<FilmThickness> known = film_thickness(card_, film, diagnostics_);
        const auto half = [&](const std::optional<CardReading>& reading, std::string_view over,
                              const colour::Reflectance& ground, double ground_noise) {
            if (!reading) return;
            const std::string name = fmt::format("film {} over {}", number, over);
            const auto measured = reader_.read(*reading, name);
            if (measured && known) add_reading(name, *measured, known->film, ground, ground_noise);
        };
        half(film.black, "black", black_, black_noise_);
        half(film.white, "white", white_, white_noise_);
        if (!known) return;
        only_thick_ = false;
        prepared_.film_uncertainty = std::max(prepared_.film_uncertainty, known->uncertainty);
        counted_coats_ = counted_coats_ || known->by_coats;
    }

    void add_let_down(const LetDown& step) {
        if (card_.role == paint::Role::white) {
            diagnostics_.error("C013", step.span, "a white cannot be let down with white",
                               "use films over black and white instead");
            return;
        }
        const paint::Paint* white = plan::find_paint("C012", "paint", step.white, library_, diagnostics_);
        if (!white) return;
        if (white->role != paint::Role::white) {
            diagnostics_.error("C012", step.white.span, fmt::format("'{}' is not a white", step.white.value),
                               "use a paint from the library with  role = \"white\"");
            return;
        }
        const std::string name = fmt::format("1 : {} with white", number_text(step.parts));
        const auto measured = reader_.read(step.reading, name);
        if (!measured) return;
        // The white's share of K and S, with crowding; the paint itself is not yet included.
        const std::array<paint::Part, 2> parts{paint::Part{&prepared_.paint, 1},
                                               paint::Part{white, step.parts}};
        const paint::MixedPaint rest = paint::mix_paints(parts);
        add_reading(name, *measured, kThick, colour::Reflectance::constant(0.5), 0);
        const double own = card_.solids.value;
        prepared_.readings.back().share = Share{own / (own + step.parts * white->solids.value)};
        prepared_.readings.back().known_K = rest.K;
        prepared_.readings.back().known_S = rest.S;
        only_thick_ = false;
        estimated_white_ = estimated_white_ || white->origin == paint::Provenance::estimated;
    }

    void add_thick_film(const ThickFilm& film) {
        const auto measured = reader_.read(film.reading, "the thick film");
        if (!measured) return;
        add_reading("thick film", *measured, kThick, colour::Reflectance::constant(0.5), 0);
        if (!film.coats_to_hide) return;
        const auto inside =
            film::below_surface(measured->reflectance, prepared_.saunderson, prepared_.specular);
        prepared_.guess =
            PreparedCard::MasstoneGuess{inside, *film.coats_to_hide * card_.coat_film, kDefaultHidingCard};
    }

    void add_reading(const std::string& name, const MeasuredReflectance& measured, Micrometres film,
                     const colour::Reflectance& ground, double ground_noise) {
        calibration::DrawdownReading reading;
        reading.film = film;
        reading.ground = ground;
        reading.measured = measured.reflectance;
        reading.noise = reading_noise(card_, measured.method);
        reading.ground_noise = ground_noise;
        prepared_.readings.push_back(reading);
        prepared_.reading_names.push_back(name);
    }

    // Origin, source and remarks of the paint.
    void describe_source() {
        static constexpr std::array<std::string_view, 3> kBy{"spectra", "patches of a picture",
                                                             "single colours"};
        const ReadingMethod method = reader_.lowest_accuracy();
        const bool is_reliable =
            method == ReadingMethod::spectrum && !counted_coats_ && !estimated_white_ && !only_thick_;
        prepared_.paint.origin = is_reliable ? paint::Provenance::fitted : paint::Provenance::estimated;
        std::vector<std::string> parts;
        const auto count = [&](std::size_t n, std::string_view singular, std::string_view many) {
            if (n > 0) parts.push_back(fmt::format("{} {}", n, n == 1 ? singular : many));
        };
        count(card_.films.size(), "film over black and white", "films over black and white");
        count(card_.ladder.size(), "let-down", "let-downs");
        if (card_.thick_film) parts.emplace_back("a thick film");
        prepared_.paint.source =
            fmt::format("{} a spray-out card: {}, read as {}, specular {}{}",
                        only_thick_ ? "estimated from" : "fitted to", detail::join_text(parts, ", "),
                        kBy[static_cast<std::size_t>(method)], name_of(card_.specular),
                        counted_coats_ ? ", films counted in coats" : "");
        const auto remark_if = [&](bool holds, PaintRemarkKind kind) {
            if (holds) prepared_.remarks.push_back({kind, ""});
        };
        remark_if(method != ReadingMethod::spectrum, PaintRemarkKind::estimated_spectrum);
        remark_if(reader_.clipped_to_gamut(), PaintRemarkKind::clipped_to_gamut);
        remark_if(counted_coats_, PaintRemarkKind::counted_coats);
        remark_if(estimated_white_, PaintRemarkKind::estimated_white);
        remark_if(only_thick_, PaintRemarkKind::thick_film_only);
        warn_dark_readings();
    }

    // With specular included, a reading cannot be darker than the reflection of the surface.
    void warn_dark_readings() {
        if (prepared_.specular == film::Specular::excluded) return;
        for (std::size_t i = 0; i < prepared_.readings.size(); ++i) {
            const auto& measured = prepared_.readings[i].measured.values;
            if (*std::min_element(measured.begin(), measured.end()) <
                prepared_.saunderson.k1 - 2 * prepared_.readings[i].noise)
                prepared_.remarks.push_back(
                    {PaintRemarkKind::darker_than_specular, prepared_.reading_names[i]});
        }
    }

    static constexpr Micrometres kThick{std::numeric_limits<double>::infinity()};

    const SprayOutCard& card_;
    plan::Library& library_;
    Diagnostics& diagnostics_;
    CardReader reader_;
    PreparedCard prepared_;
    colour::Reflectance black_, white_;
    double black_noise_ = 0, white_noise_ = 0;  // below the surface
    bool only_thick_ = true;
    bool counted_coats_ = false, estimated_white_ = false;
};

double round_digits(double v) {
    if (v == 0 || !std::isfinite(v)) return v;
    return std::stod(fmt::format("{:.{}g}", v, kFileDigits));
}

}  // namespace

std::span<const Rule> spray_out_card_rules() { return kSprayOutCardRules; }

std::optional<SprayOutCard> read_spray_out_card(std::shared_ptr<const Source> source,
                                                Diagnostics& diagnostics) {
    const std::optional<ParsedTree> tree = read_toml(std::move(source), diagnostics);
    SprayOutCard card;
    if (!tree || !read_struct(*tree, card, diagnostics)) return std::nullopt;
    return card;
}

std::optional<PreparedCard> prepare_card(const SprayOutCard& card, plan::Library& library,
                                         const CardFiles& files, Diagnostics& diagnostics) {
    return CardPreparer(card, library, files, diagnostics).prepare();
}

std::optional<PaintCalibration> fit_paint(const PreparedCard& card, const SourceSpan& span,
                                          Diagnostics& diagnostics) {
    PaintCalibration out{card.paint, std::nullopt, card.reading_names, card.film_uncertainty, card.remarks};
    if (!card.guess) {
        out.fit = calibration::fit_ks(card.readings, card.saunderson, card.specular);
        out.paint.K = out.fit->K;
        out.paint.S = out.fit->S;
        return out;
    }
    const colour::TristimulusWeights weights = colour::tristimulus_weights(
        colour::standard_illuminant(colour::StandardIlluminant::D65), colour::Observer::two_degree);
    colour::Spd luminosity;
    for (std::size_t band = 0; band < colour::kBandCount; ++band) luminosity[band] = weights.w[band][1];
    const auto curves = calibration::ks_from_masstone(card.guess->internal, card.guess->hiding_film,
                                                      card.guess->card, card.saunderson, luminosity);
    if (!curves) {
        diagnostics.error("C006", span, "a paint of this colour never hides",
                          "use films over black and white");
        return std::nullopt;
    }
    out.paint.K = curves->K;
    out.paint.S = curves->S;
    return out;
}

std::string paint_text(const paint::Paint& paint) {
    plan::PaintFile file;
    static_cast<paint::Paint&>(file) = paint;
    plan::PaintSpectrum spectrum;
    for (std::size_t band = 0; band < colour::kBandCount; ++band) {
        spectrum.absorption.push_back(round_digits(paint.K[band]));
        spectrum.scattering.push_back(round_digits(paint.S[band]));
    }
    file.spectrum = spectrum;
    return canonical_text(file);
}

}  // namespace fadewright::calibration
