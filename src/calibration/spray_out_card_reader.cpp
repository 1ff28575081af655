#include "spray_out_card_reader.h"

#include "fadewright/colour/reflectance_recovery.h"
#include "fadewright/colour/srgb.h"
#include "fadewright/plan/plan_schema.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace fadewright::calibration {
namespace {

constexpr int kOverexposed = 255;             // a level that may be clipped
constexpr double kMaxOverexposed = 0.01;      // share of a patch's pixels
constexpr double kMaxReflectance = 1 - 1e-6;  // upper limit of a reading
constexpr double kDarkestGrey = 0.002;        // linear; a darker grey patch cannot be used

int count_given(const CardReading& r) {
    return int{!r.values.empty()} + int{!r.file.empty()} + int{!r.patch.empty()} + int{!r.lab.empty()} +
           int{!r.srgb.empty()};
}

}  // namespace

CardReader::CardReader(const SprayOutCard& card, const CardFiles& files, Diagnostics& diagnostics)
    : card_(card), files_(files), diagnostics_(diagnostics) {}

std::optional<MeasuredReflectance> CardReader::read(const CardReading& reading, const std::string& noun) {
    if (count_given(reading) != 1) {
        diagnostics_.error("C004", reading.span, fmt::format("{} has no reading, or more than one", noun),
                           "give exactly one of values, file and sample, patch, lab and srgb");
        return std::nullopt;
    }
    std::optional<colour::Reflectance> reflectance;
    ReadingMethod method = ReadingMethod::spectrum;
    if (!reading.values.empty()) {
        reflectance = from_spectrum(reading);
    } else if (!reading.file.empty()) {
        reflectance = files_.read_sample(reading.file, reading.sample, reading.span, diagnostics_);
    } else if (!reading.patch.empty()) {
        method = ReadingMethod::picture;
        reflectance = from_patch(reading, noun);
    } else {
        method = ReadingMethod::colour;
        reflectance = from_colour(reading);
    }
    if (!reflectance) return std::nullopt;
    if (std::any_of(reflectance->values.begin(), reflectance->values.end(), [](double r) { return r > 1; })) {
        diagnostics_.error("C010", reading.span, fmt::format("{} has a reflectance above 1", noun),
                           "write values from 0 to 1, not per cent");
        return std::nullopt;
    }
    lowest_accuracy_ = std::max(lowest_accuracy_, method);
    return MeasuredReflectance{*reflectance, method};
}

colour::Reflectance CardReader::from_spectrum(const CardReading& reading) {
    std::vector<double> wavelengths(reading.values.size());
    for (std::size_t i = 0; i < wavelengths.size(); ++i)
        wavelengths[i] = reading.from.value + reading.step.value * static_cast<double>(i);
    colour::Reflectance reflectance;
    reflectance.values = colour::resample(wavelengths, reading.values);
    return reflectance;
}

colour::Reflectance CardReader::from_colour(const CardReading& reading) {
    colour::RecoveredReflectance found;
    if (!reading.lab.empty()) {
        const auto observer = card_.observer == plan::ObserverAngle::ten ? colour::Observer::ten_degree
                                                                         : colour::Observer::two_degree;
        found = colour::recover_reflectance(
            colour::Lab{reading.lab[0], reading.lab[1], reading.lab[2]},
            colour::tristimulus_weights(colour::standard_illuminant(card_.light), observer));
    } else {
        const auto code = [&](std::size_t i) { return static_cast<std::uint8_t>(reading.srgb[i]); };
        found = colour::recover_reflectance(std::array<std::uint8_t, 3>{code(0), code(1), code(2)});
    }
    clipped_to_gamut_ = clipped_to_gamut_ || !found.exact;
    return found.reflectance;
}

std::optional<colour::Reflectance> CardReader::from_patch(const CardReading& reading,
                                                          const std::string& noun) {
    const std::optional<colour::Rgb> scale = white_balance();
    if (!scale) return std::nullopt;
    const std::optional<colour::Rgb> mean = mean_of(reading.patch, reading.span, "the patch of " + noun);
    if (!mean) return std::nullopt;
    const auto bounded = [](double v) { return std::min(v, kMaxReflectance); };
    return colour::recover_reflectance(colour::Rgb{bounded(scale->r * mean->r), bounded(scale->g * mean->g),
                                                   bounded(scale->b * mean->b)})
        .reflectance;
}

void CardReader::open_scan() {
    if (scan_opened_) return;
    scan_opened_ = true;
    if (!card_.scan) {
        diagnostics_.error("C007", card_.span, "patches without a picture",
                           "add  [scan]  with its picture and grey patch");
        return;
    }
    Result<Picture> picture = files_.read_picture(card_.scan->picture);
    if (picture) {
        picture_ = std::move(picture).value();
    } else {
        diagnostics_.error("C014", card_.scan->span, picture.error().message,
                           "use a PNG or JPEG in the card file's folder");
    }
}

std::optional<colour::Rgb> CardReader::white_balance() {
    if (white_balance_ || scan_opened_) return white_balance_;
    open_scan();
    if (!picture_) return std::nullopt;
    const CardScan& scan = *card_.scan;
    if (scan.grey_L.has_value() == scan.grey_reflectance.has_value()) {
        diagnostics_.error("C008", scan.span, "the lightness of the grey patch is missing or given twice",
                           "give either grey_L or grey_reflectance");
        return std::nullopt;
    }
    const std::optional<colour::Rgb> mean = mean_of(scan.grey, scan.span, "the grey patch");
    if (!mean) return std::nullopt;
    if (std::min({mean->r, mean->g, mean->b}) < kDarkestGrey) {
        diagnostics_.error("C008", scan.span, "the grey patch is nearly black in the picture",
                           "give the patch itself: left, top, width, height in pixels");
        return std::nullopt;
    }
    const colour::XYZ white{100, 100, 100};
    const double known = scan.grey_reflectance
                             ? *scan.grey_reflectance
                             : colour::to_xyz(colour::Lab{*scan.grey_L, 0, 0}, white).Y / 100;
    white_balance_ = colour::Rgb{known / mean->r, known / mean->g, known / mean->b};
    return white_balance_;
}

std::optional<colour::Rgb> CardReader::mean_of(const std::vector<int>& rectangle, const SourceSpan& span,
                                               const std::string& noun) {
    const int left = rectangle[0], top = rectangle[1], width = rectangle[2], height = rectangle[3];
    if (width < 1 || height < 1 || left > picture_->width - width || top > picture_->height - height) {
        diagnostics_.error("C007", span,
                           fmt::format("{} is not inside the picture of {} × {} pixels", noun,
                                       picture_->width, picture_->height),
                           "patch = [left, top, width, height], counted from the top left corner");
        return std::nullopt;
    }
    std::array<double, 3> sum{};
    int burnt_out = 0;
    for (int y = top; y < top + height; ++y)
        for (int x = left; x < left + width; ++x) {
            const std::uint8_t* pixel = picture_->pixel(x, y);
            for (std::size_t c = 0; c < 3; ++c) sum[c] += colour::linear_from_srgb(pixel[c] / 255.0);
            if (std::max({pixel[0], pixel[1], pixel[2]}) == kOverexposed) ++burnt_out;
        }
    const double count = static_cast<double>(width) * height;
    if (burnt_out > kMaxOverexposed * count) {
        diagnostics_.error("C009", span, fmt::format("{} is overexposed in the picture", noun),
                           "scan or photograph it darker, so that the white half stays below full white");
        return std::nullopt;
    }
    return colour::Rgb{sum[0] / count, sum[1] / count, sum[2] / count};
}

}  // namespace fadewright::calibration
