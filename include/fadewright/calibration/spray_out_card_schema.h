// The fields of a spray-out card file, each listed once (text/schema.h).
#pragma once

#include "fadewright/calibration/spray_out_card.h"
#include "fadewright/plan/library_schema.h"

namespace fadewright {

template <>
struct Names<calibration::Specular> {
    static constexpr std::array<std::pair<calibration::Specular, std::string_view>, 2> list{
        {{calibration::Specular::included, "included"}, {calibration::Specular::excluded, "excluded"}}};
};

namespace calibration {
inline constexpr Limits kPatchLimits = items(4, 4, range(0, 100'000));
}  // namespace calibration

template <>
struct Schema<calibration::CardReading> {
    using T = calibration::CardReading;
    static constexpr std::string_view name = "reading";
    static constexpr std::string_view about =
        "one reading, given as values, file and sample, patch, lab or srgb";
    static constexpr auto fields =
        Fields{Field{"values", &T::values, optional, items(1, 1000, range(0.0, 100.0)),
                     "reflectance at even steps of wavelength, 0 to 1"},
               Field{"from", &T::from, optional, plan::kWavelengthLimits, "first wavelength of the values"},
               Field{"step", &T::step, optional, plan::kStepLimits, "from one value to the next"},
               Field{"file", &T::file, optional, "measurement file, in the card file's folder"},
               Field{"sample", &T::sample, optional, "name of the sample in that file"},
               Field{"patch", &T::patch, optional, calibration::kPatchLimits,
                     "in the scan: left, top, width, height in pixels"},
               Field{"lab", &T::lab, optional, items(3, 3, range(-200.0, 200.0)),
                     "L*, a*, b* in the card's light and observer; the spectrum is estimated"},
               Field{"srgb", &T::srgb, optional, items(3, 3, range(0, 255)),
                     "sRGB, 0 to 255; the spectrum is estimated"}};
};

template <>
struct Schema<calibration::WeighedFilm> {
    using T = calibration::WeighedFilm;
    static constexpr std::string_view name = "weighed film";
    static constexpr std::string_view about =
        "weight of a dried film; its thickness follows from dry_density";
    static constexpr auto fields =
        Fields{Field{"dry_weight", &T::dry_weight, required, range(Grams{1e-4}, Grams{1000.0}),
                     "weight of the dried paint, without the card"},
               Field{"width", &T::width, required, range(5_mm, 2000_mm), "of the painted area"},
               Field{"height", &T::height, required, range(5_mm, 2000_mm), "of the painted area"}};
};

template <>
struct Schema<calibration::CardFilm> {
    using T = calibration::CardFilm;
    static constexpr std::string_view name = "card film";
    static constexpr std::string_view about =
        "one film over both halves; thickness given as film, weighed_film, comb or coats";
    static constexpr auto fields =
        Fields{Field{"film", &T::film, optional, range(Micrometres{0.1}, 2000_um), "measured dry film"},
               Field{"comb", &T::comb, optional, items(2, 2, range(1_um, 5000_um)),
                     "wet-film comb: last wet tooth, first dry tooth"},
               Field{"coats", &T::coats, optional, range(0.1, 100.0),
                     "number of coats of coat_film each; least reliable"},
               Field{"weighed_film", &T::weighed_film, optional, "weight of the dried film"},
               Field{"black", &T::black, optional, "reading over the black half"},
               Field{"white", &T::white, optional, "reading over the white half"}};
};

template <>
struct Schema<calibration::BareCard> {
    using T = calibration::BareCard;
    static constexpr std::string_view name = "bare card";
    static constexpr std::string_view about = "readings of both halves before painting";
    static constexpr auto fields = Fields{Field{"black", &T::black, required, "the black half"},
                                          Field{"white", &T::white, required, "the white half"}};
};

template <>
struct Schema<calibration::LetDown> {
    using T = calibration::LetDown;
    static constexpr std::string_view name = "let-down";
    static constexpr std::string_view about = "the paint mixed with white, at full hiding";
    static constexpr auto fields =
        Fields{Field{"parts", &T::parts, required, range(0.01, 10000.0),
                     "parts of white per part of paint, by volume"},
               Field{"white", &T::white, optional, "which white: a paint from the library"},
               Field{"reading", &T::reading, required, "the reading"}};
};

template <>
struct Schema<calibration::ThickFilm> {
    using T = calibration::ThickFilm;
    static constexpr std::string_view name = "thick film";
    static constexpr std::string_view about = "the paint alone, at full hiding";
    static constexpr auto fields =
        Fields{Field{"coats_to_hide", &T::coats_to_hide, optional, range(0.1, 1000.0),
                     "number of coats, of coat_film each, until black and white look the same"},
               Field{"reading", &T::reading, required, "the reading"}};
};

template <>
struct Schema<calibration::CardScan> {
    using T = calibration::CardScan;
    static constexpr std::string_view name = "scan";
    static constexpr std::string_view about = "picture of the card with a grey patch of known lightness";
    static constexpr auto fields =
        Fields{Field{"picture", &T::picture, required, "PNG or JPEG, in the card file's folder"},
               Field{"grey", &T::grey, required, calibration::kPatchLimits,
                     "the grey patch: left, top, width, height in pixels"},
               Field{"grey_L", &T::grey_L, optional, range(1.0, 100.0), "L* of the grey patch, if known"},
               Field{"grey_reflectance", &T::grey_reflectance, optional, range(0.001, 1.0),
                     "reflectance of the grey patch, if known"}};
};

template <>
struct Schema<calibration::SprayOutCard> {
    using T = calibration::SprayOutCard;
    static constexpr std::string_view name = "spray-out card";
    static constexpr std::string_view about = "a spray-out card and the paint on it";
    static constexpr auto fields = Fields{
        Field{"spray_out_card", &T::version, required, plan::kVersionLimits,
              "version of the spray-out card format"},
        Field{"title", &T::title, required, "name of the paint"},
        Field{"colour_index", &T::colour_index, optional, "Colour Index generic name of the pigment"},
        Field{"role", &T::role, required, "what the paint is for"},
        Field{"solids", &T::solids, optional, range(1_pct, 100_pct),
              "volume solids: dry film left by the paint"},
        Field{"wet_density", &T::wet_density, optional, plan::kDensityLimits, "density of the liquid paint"},
        Field{"dry_density", &T::dry_density, optional, plan::kDensityLimits,
              "density of the dry film; needed for weighed films"},
        Field{"binder_density", &T::binder_density, optional, plan::kDensityLimits,
              "density of the dry binder alone"},
        Field{"coat_film", &T::coat_film, optional, range(Micrometres{0.1}, 500_um),
              "dry film of one medium coat"},
        Field{"pigment", &T::pigment, optional, range(0_pct, 90_pct),
              "pigment volume concentration (PVC) of the dry film"},
        Field{"crowding", &T::crowding, optional, range(0.0, 1.69),
              "pigment crowding: how much scattering a white loses"},
        Field{"reduce", &T::reduce, optional, range(0_pct, 300_pct),
              "reducer in the paint on the card, % of paint; for wet films"},
        Field{"specular", &T::specular, required,
              "specular included (SCI) or excluded (SCE); a 45/0 instrument excludes it"},
        Field{"card_surface", &T::card_surface, optional,
              "surface of the bare card: gloss (lacquered) or matt (paper)"},
        Field{"light", &T::light, optional, "light of the lab readings"},
        Field{"observer", &T::observer, optional, "2° or 10° standard observer of the lab readings"},
        Field{"noise", &T::noise, optional, range(1e-5, 0.1),
              "standard error of one reading, as reflectance; default: from the instrument type"},
        Field{"bare_card", &T::bare_card, optional, "the card before painting"},
        Field{"scan", &T::scan, optional, "picture with the patches"},
        Field{"films", &T::films, optional, items(0, 40), "films over black and white"},
        Field{"ladder", &T::ladder, optional, items(0, 40), "let-downs with white"},
        Field{"thick_film", &T::thick_film, optional, "one film at full hiding"}};
};

}  // namespace fadewright
