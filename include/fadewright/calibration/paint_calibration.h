// Paint calibration from a spray-out card: readings prepared, K and S fitted, gaps filled with estimates.
//
//     read_spray_out_card   the text, field by field
//     prepare_card          its cross-field rules, films in micrometres, every reading as a reflectance
//     fit_paint             the paint, with its fit
//
// The instrument type decides how far a reading is trusted: kSpectrumNoise for spectra, kPictureNoise for
// patches of a picture, kColourNoise for single colours (for both the spectrum is recovered by
// colour/reflectance_recovery.h, so that each band is an estimate). A paint is `fitted` if all its readings
// are spectra and all its films were measured, otherwise `estimated`.
#pragma once

#include "fadewright/base/image.h"
#include "fadewright/base/result.h"
#include "fadewright/calibration/ks_fit.h"
#include "fadewright/calibration/spray_out_card.h"
#include "fadewright/plan/library.h"

#include <functional>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace fadewright::calibration {

// Standard error of one reading; bench experience, no source. The card file may state its own.
inline constexpr double kSpectrumNoise = 0.002;
inline constexpr double kPictureNoise = 0.01;
inline constexpr double kColourNoise = 0.01;

// Access to files, so that reading a card needs no file system.
struct CardFiles {
    std::function<Result<Picture>(const std::string& name)> read_picture;
    // Reports and returns nothing if there is no such sample.
    std::function<std::optional<colour::Reflectance>(const std::string& name, const std::string& sample,
                                                     const SourceSpan& span, Diagnostics& diagnostics)>
        read_sample;
};

// What to know about a fitted paint.
enum class PaintRemarkKind {
    estimated_spectrum,   // from three numbers
    clipped_to_gamut,     // a colour outside what a paint can have was replaced by a greyer one
    counted_coats,        // films are counted in coats
    estimated_white,      // the white of the let-downs is itself estimated
    thick_film_only,      // S from the coats to hiding
    darker_than_specular  // a reading below the specular reflection alone
};
struct PaintRemark {
    PaintRemarkKind kind;
    std::string reading;  // of darker_than_specular
};

struct PreparedCard {
    paint::Paint paint;  // all except K and S
    std::vector<calibration::DrawdownReading> readings;
    std::vector<std::string> reading_names;  // "film 1 over black"
    film::SaundersonCorrection saunderson;
    film::Specular specular = film::Specular::excluded;
    double film_uncertainty = 0;  // of the worst film, as a share: K and S are off by the same share
    std::vector<PaintRemark> remarks;

    // Set if there is only the colour of a thick film and its coats to hiding.
    struct MasstoneGuess {
        colour::Reflectance internal;
        Micrometres hiding_film;
        film::HidingChart card;
    };
    std::optional<MasstoneGuess> guess;
};

struct PaintCalibration {
    paint::Paint paint;
    std::optional<calibration::PaintFit> fit;  // nothing: a rough estimate
    std::vector<std::string> reading_names;
    double film_uncertainty = 0;
    std::vector<PaintRemark> remarks;
};

[[nodiscard]] std::optional<SprayOutCard> read_spray_out_card(std::shared_ptr<const Source> source,
                                                              Diagnostics& diagnostics);
[[nodiscard]] std::optional<PreparedCard> prepare_card(const SprayOutCard& card, plan::Library& library,
                                                       const CardFiles& files, Diagnostics& diagnostics);
[[nodiscard]] std::optional<PaintCalibration> fit_paint(const PreparedCard& card, const SourceSpan& span,
                                                        Diagnostics& diagnostics);

// The paint as a library file; K and S rounded to kFileDigits.
inline constexpr int kFileDigits = 6;
[[nodiscard]] std::string paint_text(const paint::Paint& paint);

[[nodiscard]] std::span<const Rule> spray_out_card_rules();

}  // namespace fadewright::calibration
