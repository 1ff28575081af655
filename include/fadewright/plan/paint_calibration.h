// From a card file to a paint: readings made ready, K and S fitted, and what the card could not say.
//
//     read_card      the text, field by field
//     ready_card     its cross-field rules, films in micrometres, every reading as a reflectance
//     learned        the paint, with the fit it came from
//
// The way a reading was come by decides how far it is trusted: kSpectrumNoise for spectra, kPictureNoise for
// patches of a picture, kColourNoise for a colour of three numbers (both of which are spread over the
// spectrum by colour/reconstruct.h and so are guesses in each band). A paint is `fitted` when all its
// readings are spectra and all its films were measured, else `estimated`.
#pragma once

#include "fadewright/base/image.h"
#include "fadewright/base/result.h"
#include "fadewright/film/ks_fit.h"
#include "fadewright/plan/library.h"
#include "fadewright/plan/spray_out_card.h"

#include <functional>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace fadewright::plan {

// Standard error of one reading; bench experience, no source. The card file may state its own.
inline constexpr double kSpectrumNoise = 0.002;
inline constexpr double kPictureNoise = 0.01;
inline constexpr double kColourNoise = 0.01;

// How the card gets at files, so that reading a card needs no file system.
struct CardFiles {
    std::function<Result<Picture>(const std::string& name)> read_picture;
    // Nothing if there is no such sample; that has been reported then.
    std::function<std::optional<colour::Reflectance>(const std::string& name, const std::string& sample,
                                                     const SourceSpan& span, Diagnostics& diagnostics)>
        read_sample;
};

struct PreparedCard {
    paint::Paint paint;  // all but K and S
    std::vector<film::DrawdownReading> readings;
    std::vector<std::string> reading_names;  // "film 1 over black"
    film::SaundersonCorrection saunderson;
    film::Specular specular = film::Specular::excluded;
    double film_uncertainty = 0;  // the worst of the films, as a share: K and S are off by as much
    std::vector<std::string> remarks;

    // Where there is nothing but a thick film's colour and the coats that hide.
    struct MasstoneGuess {
        colour::Reflectance internal;
        Micrometres hiding_film;
        film::HidingChart card;
    };
    std::optional<MasstoneGuess> guess;
};

struct PaintCalibration {
    paint::Paint paint;
    std::optional<film::PaintFit> fit;  // none: a guess
    std::vector<std::string> reading_names;
    double film_uncertainty = 0;
    std::vector<std::string> remarks;
};

[[nodiscard]] std::optional<SprayOutCard> read_spray_out_card(std::shared_ptr<const Source> source,
                                                              Diagnostics& diagnostics);
[[nodiscard]] std::optional<PreparedCard> prepare_card(const SprayOutCard& card, Library& library,
                                                       const CardFiles& files, Diagnostics& diagnostics);
[[nodiscard]] std::optional<PaintCalibration> fit_paint(const PreparedCard& card, const SourceSpan& span,
                                                        Diagnostics& diagnostics);

// The paint as a file of the shelf; K and S rounded to kKeptDigits.
inline constexpr int kFileDigits = 6;
[[nodiscard]] std::string paint_text(const paint::Paint& paint);

[[nodiscard]] std::span<const Rule> spray_out_card_rules();

}  // namespace fadewright::plan
