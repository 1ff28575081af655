// The fields of the card file, each said once (text/schema.h).
#pragma once

#include "fadewright/plan/library_schema.h"
#include "fadewright/plan/spray_out_card.h"

namespace fadewright {

template <>
struct Names<plan::Specular> {
    static constexpr std::array<std::pair<plan::Specular, std::string_view>, 2> list{
        {{plan::Specular::included, "included"}, {plan::Specular::excluded, "excluded"}}};
};

namespace plan {
inline constexpr Limits kPatchLimits = items(4, 4, range(0, 100'000));
}  // namespace plan

template <>
struct Schema<plan::CardReading> {
    using T = plan::CardReading;
    static constexpr std::string_view name = "reading";
    static constexpr std::string_view about =
        "what was read in one place: values, or file and sample, or patch, or lab, or srgb";
    static constexpr auto fields =
        Fields{Field{"values", &T::values, optional, items(1, 1000, range(0.0, 100.0)),
                     "reflectance at even steps of wavelength, 0 to 1"},
               Field{"from", &T::from, optional, plan::kWavelengthLimits, "first wavelength of the values"},
               Field{"step", &T::step, optional, plan::kStepLimits, "from one value to the next"},
               Field{"file", &T::file, optional, "measurement file, beside the card file"},
               Field{"sample", &T::sample, optional, "name of the sample in that file"},
               Field{"patch", &T::patch, optional, plan::kPatchLimits,
                     "in the scan: left, top, width, height in pixels"},
               Field{"lab", &T::lab, optional, items(3, 3, range(-200.0, 200.0)),
                     "L*, a*, b* in the card's light and observer; a guess at the spectrum"},
               Field{"srgb", &T::srgb, optional, items(3, 3, range(0, 255)),
                     "colour on a screen, 0 to 255; a guess at the spectrum"}};
};

template <>
struct Schema<plan::WeighedFilm> {
    using T = plan::WeighedFilm;
    static constexpr std::string_view name = "weighed film";
    static constexpr std::string_view about =
        "a dried film on the scale; dry_density turns it into micrometres";
    static constexpr auto fields =
        Fields{Field{"dry_weight", &T::dry_weight, required, range(Grams{1e-4}, Grams{1000.0}),
                     "weight without the card's own"},
               Field{"width", &T::width, required, range(5_mm, 2000_mm), "of the area it covers"},
               Field{"height", &T::height, required, range(5_mm, 2000_mm), "of the area it covers"}};
};

template <>
struct Schema<plan::CardFilm> {
    using T = plan::CardFilm;
    static constexpr std::string_view name = "card film";
    static constexpr std::string_view about =
        "one film over both halves; thickness by film, weighed, comb or coats";
    static constexpr auto fields = Fields{
        Field{"film", &T::film, optional, range(Micrometres{0.1}, 2000_um), "dry film as measured"},
        Field{"comb", &T::comb, optional, items(2, 2, range(1_um, 5000_um)),
              "wet film: last tooth that touched, first that did not"},
        Field{"coats", &T::coats, optional, range(0.1, 100.0), "coats of coat_film each; the least sure way"},
        Field{"weighed_film", &T::weighed_film, optional, "weight of the dried film"},
        Field{"black", &T::black, optional, "read over the black half"},
        Field{"white", &T::white, optional, "read over the white half"}};
};

template <>
struct Schema<plan::BareCard> {
    using T = plan::BareCard;
    static constexpr std::string_view name = "bare card";
    static constexpr std::string_view about = "the halves before any paint, read the same way";
    static constexpr auto fields = Fields{Field{"black", &T::black, required, "the black half"},
                                          Field{"white", &T::white, required, "the white half"}};
};

template <>
struct Schema<plan::LetDown> {
    using T = plan::LetDown;
    static constexpr std::string_view name = "let-down";
    static constexpr std::string_view about = "the paint in white, so thick that no ground shows";
    static constexpr auto fields = Fields{
        Field{"parts", &T::parts, required, range(0.01, 10000.0), "of white to one of the paint, by volume"},
        Field{"white", &T::white, optional, "the white: a paint of the shelf"},
        Field{"reading", &T::reading, required, "what was read"}};
};

template <>
struct Schema<plan::ThickFilm> {
    using T = plan::ThickFilm;
    static constexpr std::string_view name = "thick film";
    static constexpr std::string_view about = "the paint alone, so thick that no ground shows";
    static constexpr auto fields =
        Fields{Field{"coats_to_hide", &T::coats_to_hide, optional, range(0.1, 1000.0),
                     "coats of coat_film after which black and white look the same"},
               Field{"reading", &T::reading, required, "what was read"}};
};

template <>
struct Schema<plan::CardScan> {
    using T = plan::CardScan;
    static constexpr std::string_view name = "scan";
    static constexpr std::string_view about =
        "picture of the card, with a grey patch of known lightness in it";
    static constexpr auto fields =
        Fields{Field{"picture", &T::picture, required, "PNG or JPEG, beside the card file"},
               Field{"grey", &T::grey, required, plan::kPatchLimits,
                     "the grey patch: left, top, width, height in pixels"},
               Field{"grey_L", &T::grey_L, optional, range(1.0, 100.0), "its L*, if that is known"},
               Field{"grey_reflectance", &T::grey_reflectance, optional, range(0.001, 1.0),
                     "its reflectance, if that is known"}};
};

template <>
struct Schema<plan::SprayOutCard> {
    using T = plan::SprayOutCard;
    static constexpr std::string_view name = "card";
    static constexpr std::string_view about = "a test card, and the paint that was laid on it";
    static constexpr auto fields = Fields{
        Field{"spray_out_card", &T::version, required, plan::kVersionLimits, "version of the card format"},
        Field{"title", &T::title, required, "what the paint is called"},
        Field{"colour_index", &T::colour_index, optional, "Colour Index generic name of the pigment"},
        Field{"role", &T::role, required, "what the paint is for"},
        Field{"solids", &T::solids, optional, range(1_pct, 100_pct), "dry film left by the paint, by volume"},
        Field{"wet_density", &T::wet_density, optional, plan::kDensityLimits, "as poured"},
        Field{"dry_density", &T::dry_density, optional, plan::kDensityLimits,
              "of the dry film; weighed films go by it"},
        Field{"binder_density", &T::binder_density, optional, plan::kDensityLimits,
              "of the dry binder alone"},
        Field{"coat_film", &T::coat_film, optional, range(Micrometres{0.1}, 500_um),
              "dry film of one ordinary medium coat"},
        Field{"pigment", &T::pigment, optional, range(0_pct, 90_pct), "pigment, % of the dry film by volume"},
        Field{"crowding", &T::crowding, optional, range(0.0, 1.69),
              "how much white loses when its particles crowd"},
        Field{"reduce", &T::reduce, optional, range(0_pct, 300_pct),
              "reducer when the card was laid, as % of paint; for wet films"},
        Field{"specular", &T::specular, required,
              "whether the readings count the surface's own shine; a 45/0 instrument leaves it out"},
        Field{"card_surface", &T::card_surface, optional,
              "of the bare card: gloss (lacquered) or matt (paper)"},
        Field{"light", &T::light, optional, "of lab colours"},
        Field{"observer", &T::observer, optional, "of lab colours"},
        Field{"noise", &T::noise, optional, range(1e-5, 0.1),
              "standard error of one reading, as reflectance; else by the way of reading"},
        Field{"bare_card", &T::bare_card, optional, "the card before any paint"},
        Field{"scan", &T::scan, optional, "picture in which patches lie"},
        Field{"films", &T::films, optional, items(0, 40), "films over black and white"},
        Field{"ladder", &T::ladder, optional, items(0, 40), "let-downs with white"},
        Field{"thick_film", &T::thick_film, optional, "a film that hides everything"}};
};

}  // namespace fadewright
