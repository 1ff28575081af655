// The spray-out card file: what a painter notes about a card, field by field (spray_out_card_schema.h),
// unresolved.
//
// A card is sprayed or drawn down half over black and half over white, with one or more films. Each half of
// each film is read once, and each bare half. Besides films there may be a ladder of let-downs with a white
// from the library, and a film at full hiding. calibration/paint_calibration.h turns it into readings for
// calibration/ks_fit.h.
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/colour/illuminant.h"
#include "fadewright/paint/paint.h"
#include "fadewright/plan/plan.h"

#include <optional>
#include <string>
#include <vector>

namespace fadewright::calibration {

// One reading, given in one of five ways.
struct CardReading {
    Nanometres from{380.0};
    Nanometres step{10.0};
    std::vector<double> values;  // 1. a spectrum
    std::string file, sample;    // 2. a sample of a measurement file
    std::vector<int> patch;      // 3. a patch of the picture: left, top, width, height in pixels
    std::vector<double> lab;     // 4. a colour, in the card's light and observer
    std::vector<int> srgb;       // 5. an sRGB colour
    SourceSpan span;
};

// Weight of a dried film, without the card.
struct WeighedFilm {
    Grams dry_weight;
    Millimetres width, height;  // of the painted area
    SourceSpan span;
};

// One film over both halves; its thickness is given in one of four ways.
struct CardFilm {
    std::optional<Micrometres> film;          // dry
    std::optional<WeighedFilm> weighed_film;  // with the paint's dry density
    std::vector<Micrometres> comb;            // wet film: last wet tooth, first dry tooth
    std::optional<double> coats;              // of the paint's coat_film
    std::optional<CardReading> black, white;
    SourceSpan span;
};

struct BareCard {
    CardReading black, white;
};

// The paint let down with a white from the library, by volume, at full hiding.
struct LetDown {
    double parts = 0;  // of white per part of paint
    Located<std::string> white{plan::kDefaultWhite, {}};
    CardReading reading;
    SourceSpan span;
};

struct ThickFilm {
    CardReading reading;
    std::optional<double> coats_to_hide;  // until black and white look the same
    SourceSpan span;
};

// A scan or photo of the card, with a patch of known lightness.
struct CardScan {
    std::string picture;
    std::vector<int> grey;  // patch: left, top, width, height
    std::optional<double> grey_L;
    std::optional<double> grey_reflectance;
    SourceSpan span;
};

enum class Specular { included, excluded };

struct SprayOutCard : paint::Paint {
    int version = 1;
    Specular specular = Specular::excluded;
    plan::Surface card_surface = plan::Surface::gloss;
    colour::StandardIlluminant light = colour::StandardIlluminant::D65;
    plan::ObserverAngle observer = plan::ObserverAngle::ten;
    std::optional<double> noise;
    Share reduce;  // reducer in the paint on the card, % of paint; for wet films
    std::optional<BareCard> bare_card;
    std::optional<CardScan> scan;
    std::vector<CardFilm> films;
    std::vector<LetDown> ladder;
    std::optional<ThickFilm> thick_film;
    SourceSpan span;
};

}  // namespace fadewright::calibration
