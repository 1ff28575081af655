#include "card_reading.h"

#include "fadewright/colour/reconstruct.h"
#include "fadewright/colour/srgb.h"
#include "fadewright/plan/plan_schema.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace fadewright::plan {
namespace {

constexpr int kBurntOut = 255;          // a code that may stand for any brighter value
constexpr double kMostBurntOut = 0.01;  // share of a patch's pixels
constexpr double kMostSeen = 1 - 1e-6;  // no reading is taken as brighter
constexpr double kDarkestGrey = 0.002;  // linear; a grey patch below this balances nothing

int ways_given(const CardReading& r) {
    return int{!r.values.empty()} + int{!r.file.empty()} + int{!r.patch.empty()} + int{!r.lab.empty()} +
           int{!r.srgb.empty()};
}

}  // namespace

CardReader::CardReader(const CardFile& card, const CardFiles& files, Diagnostics& diagnostics)
    : card_(card), files_(files), diagnostics_(diagnostics) {}

std::optional<SeenReading> CardReader::read(const CardReading& reading, const std::string& what) {
    if (ways_given(reading) != 1) {
        diagnostics_.error("C004", reading.place, fmt::format("{} is not read in one way", what),
                           "give values, or file and sample, or patch, or lab, or srgb");
        return std::nullopt;
    }
    std::optional<colour::Reflectance> seen;
    Means by = Means::spectrum;
    if (!reading.values.empty()) {
        seen = spectrum(reading);
    } else if (!reading.file.empty()) {
        seen = files_.measured(reading.file, reading.sample, reading.place, diagnostics_);
    } else if (!reading.patch.empty()) {
        by = Means::picture;
        seen = patch(reading, what);
    } else {
        by = Means::colour;
        seen = three_numbers(reading);
    }
    if (!seen) return std::nullopt;
    if (std::any_of(seen->at.begin(), seen->at.end(), [](double r) { return r > 1; })) {
        diagnostics_.error("C010", reading.place, fmt::format("{} has a reflectance above 1", what),
                           "write shares from 0 to 1, not per cent");
        return std::nullopt;
    }
    least_sure_ = std::max(least_sure_, by);
    return SeenReading{*seen, by};
}

colour::Reflectance CardReader::spectrum(const CardReading& reading) {
    std::vector<double> wavelengths(reading.values.size());
    for (std::size_t i = 0; i < wavelengths.size(); ++i)
        wavelengths[i] = reading.from.value + reading.step.value * static_cast<double>(i);
    colour::Reflectance seen;
    seen.at = colour::resampled(wavelengths, reading.values);
    return seen;
}

colour::Reflectance CardReader::three_numbers(const CardReading& reading) {
    colour::Smoothest found;
    if (!reading.lab.empty()) {
        const auto observer = card_.observer == ObserverAngle::ten ? colour::Observer::ten_degree
                                                                   : colour::Observer::two_degree;
        found = colour::smoothest(colour::Lab{reading.lab[0], reading.lab[1], reading.lab[2]},
                                  colour::weights(colour::standard_light(card_.light), observer));
    } else {
        const auto code = [&](std::size_t i) { return static_cast<std::uint8_t>(reading.srgb[i]); };
        found = colour::smoothest(std::array<std::uint8_t, 3>{code(0), code(1), code(2)});
    }
    led_to_grey_ = led_to_grey_ || !found.reached;
    return found.reflectance;
}

std::optional<colour::Reflectance> CardReader::patch(const CardReading& reading, const std::string& what) {
    const std::optional<colour::Rgb> scale = balance();
    if (!scale) return std::nullopt;
    const std::optional<colour::Rgb> mean = mean_of(reading.patch, reading.place, "the patch of " + what);
    if (!mean) return std::nullopt;
    const auto bounded = [](double v) { return std::min(v, kMostSeen); };
    return colour::smoothest(colour::Rgb{bounded(scale->r * mean->r), bounded(scale->g * mean->g),
                                         bounded(scale->b * mean->b)})
        .reflectance;
}

void CardReader::open_scan() {
    if (scan_opened_) return;
    scan_opened_ = true;
    if (!card_.scan) {
        diagnostics_.error("C007", card_.place, "patches are given but no picture",
                           "add  [scan]  with its picture and grey patch");
        return;
    }
    Result<Picture> picture = files_.picture(card_.scan->picture);
    if (picture) {
        picture_ = std::move(picture).value();
    } else {
        diagnostics_.error("C014", card_.scan->place, picture.refusal().message,
                           "name a PNG or JPEG beside the card file");
    }
}

std::optional<colour::Rgb> CardReader::balance() {
    if (balance_ || scan_opened_) return balance_;
    open_scan();
    if (!picture_) return std::nullopt;
    const CardScan& scan = *card_.scan;
    if (scan.grey_L.has_value() == scan.grey_reflectance.has_value()) {
        diagnostics_.error("C008", scan.place, "the grey patch's lightness is not given in one way",
                           "give grey_L, or grey_reflectance");
        return std::nullopt;
    }
    const std::optional<colour::Rgb> mean = mean_of(scan.grey, scan.place, "the grey patch");
    if (!mean) return std::nullopt;
    if (std::min({mean->r, mean->g, mean->b}) < kDarkestGrey) {
        diagnostics_.error("C008", scan.place, "the grey patch is nearly black in the picture",
                           "point at the patch itself: left, top, width, height in pixels");
        return std::nullopt;
    }
    const colour::XYZ white{100, 100, 100};
    const double known = scan.grey_reflectance
                             ? *scan.grey_reflectance
                             : colour::to_xyz(colour::Lab{*scan.grey_L, 0, 0}, white).Y / 100;
    balance_ = colour::Rgb{known / mean->r, known / mean->g, known / mean->b};
    return balance_;
}

std::optional<colour::Rgb> CardReader::mean_of(const std::vector<int>& rectangle, const Place& place,
                                               const std::string& what) {
    const int left = rectangle[0], top = rectangle[1], width = rectangle[2], height = rectangle[3];
    if (width < 1 || height < 1 || left > picture_->width - width || top > picture_->height - height) {
        diagnostics_.error("C007", place,
                           fmt::format("{} does not lie in the picture of {} x {} pixels", what,
                                       picture_->width, picture_->height),
                           "patch = [left, top, width, height], counted from the upper left corner");
        return std::nullopt;
    }
    std::array<double, 3> sum{};
    int burnt_out = 0;
    for (int y = top; y < top + height; ++y)
        for (int x = left; x < left + width; ++x) {
            const std::uint8_t* pixel = picture_->pixel(x, y);
            for (std::size_t c = 0; c < 3; ++c) sum[c] += colour::srgb_decoded(pixel[c] / 255.0);
            if (std::max({pixel[0], pixel[1], pixel[2]}) == kBurntOut) ++burnt_out;
        }
    const double count = static_cast<double>(width) * height;
    if (burnt_out > kMostBurntOut * count) {
        diagnostics_.error("C009", place, fmt::format("{} is burnt out in the picture", what),
                           "scan or photograph it darker, so that the white half stays below full white");
        return std::nullopt;
    }
    return colour::Rgb{sum[0] / count, sum[1] / count, sum[2] / count};
}

}  // namespace fadewright::plan
