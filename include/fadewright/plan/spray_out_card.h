// The card file: what a painter writes down of a test card, field by field (card_schema.h), unresolved.
//
// A card is sprayed or drawn down half over black and half over white, in one or more films. Each half of
// each film is read once, and each bare half. Besides films there may be a ladder of let-downs with a white
// of the shelf, and a film so thick that no ground shows. plan/card.h turns it into readings for film/fit.h.
#pragma once

#include "fadewright/base/quantity.h"
#include "fadewright/colour/illuminant.h"
#include "fadewright/paint/paint.h"
#include "fadewright/plan/plan.h"

#include <optional>
#include <string>
#include <vector>

namespace fadewright::plan {

// What was read in one place, in one of five ways.
struct CardReading {
    Nanometres from{380.0};
    Nanometres step{10.0};
    std::vector<double> values;  // 1. a spectrum
    std::string file, sample;    // 2. a sample of a measurement file
    std::vector<int> patch;      // 3. a patch of the picture: left, top, width, height in pixels
    std::vector<double> lab;     // 4. a colour, in the card's light and observer
    std::vector<int> srgb;       // 5. a colour on a screen
    SourceSpan span;
};

// A dried film on the scale: its own weight, without the card's.
struct WeighedFilm {
    Grams dry_weight;
    Millimetres width, height;  // of the area it covers
    SourceSpan span;
};

// One film over both halves; its thickness in one of four ways.
struct CardFilm {
    std::optional<Micrometres> film;          // dry
    std::optional<WeighedFilm> weighed_film;  // by the paint's dry density
    std::vector<Micrometres> comb;            // wet: last tooth that touched, first that did not
    std::optional<double> coats;              // of the paint's coat_film
    std::optional<CardReading> black, white;
    SourceSpan span;
};

struct BareCard {
    CardReading black, white;
};

// The paint let down with a white of the shelf, by volume of paint, so thick that no ground shows.
struct LetDown {
    double parts = 0;  // of white to one of the paint
    Located<std::string> white{"titanium-white", {}};
    CardReading reading;
    SourceSpan span;
};

struct ThickFilm {
    CardReading reading;
    std::optional<double> coats_to_hide;  // coats after which black and white can no longer be told apart
    SourceSpan span;
};

// A scan or photograph of the card, with something in it whose lightness is known.
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
    Surface card_surface = Surface::gloss;
    colour::StandardIlluminant light = colour::StandardIlluminant::D65;
    ObserverAngle observer = ObserverAngle::ten;
    std::optional<double> noise;
    Share reduce;  // of paint, when the card was sprayed; for combs
    std::optional<BareCard> bare_card;
    std::optional<CardScan> scan;
    std::vector<CardFilm> films;
    std::vector<LetDown> ladder;
    std::optional<ThickFilm> thick_film;
    SourceSpan span;
};

}  // namespace fadewright::plan
