#include "fadewright/calibration/gun_calibration.h"

#include "fadewright/calibration/spray_pattern_card_schema.h"
#include "spray_pattern_card_reader.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace fadewright::calibration {
namespace {

constexpr std::array kSprayPatternCardRules{
    Rule{"G001", "give exactly one of paint and [mix]"},
    Rule{"G002", "the paint on a spray-pattern card must show on the card"},
    Rule{"G003", "a pass needs a speed, a spot a dwell"},
    Rule{"G004", "the picture of a spray-pattern card must be readable"},
    Rule{"G005", "both ends of the scale must be in the picture, and apart"},
    Rule{"G006", "the region must be in the picture and large enough"},
    Rule{"G007", "the bare card must be white and not overexposed"},
    Rule{"G008", "give at most one of ground, card_reflectance and [reference]"},
    Rule{"G009", "the reference needs exactly one of L and reflectance, and cannot be black or overexposed"},
    Rule{"G010", "the spray must be inside the region, with bare card around it"},
    Rule{"G011", "the film on the card is too dark to read"},
    Rule{"G012", "no plausible spray pattern found"},
    Rule{"G013", "give only one of flow, [weighed_flow] and transfer_efficiency"},
    Rule{"G014", "the weighed cup must lose weight"},
    Rule{"G015", "on a weighed card a pass needs a length, a spot has none"},
    Rule{"G016", "a pass must be horizontal or vertical in the picture"},
    Rule{"G017", "transfer efficiency must be from 1 % to 100 %"},
};

constexpr double kMinContrast_levels = 40;  // from bare card to masstone; below it the paint hardly shows
constexpr double kModelNoise_levels = 0.3;  // of light and paint, beyond a smooth fit
constexpr double kModelError = 0.01;        // of the highest film: no real spray is closer to a formula
constexpr double kMaxTooDark = 0.05;        // of a cell's pixels
constexpr double kMaxLeftOut = 0.4;         // of the sprayed cells
constexpr double kSprayedShare = 0.1;       // of the highest film: from here on a cell counts as sprayed
constexpr double kMaxAtEdge = 0.03;         // of the highest film, at the edges of the region
constexpr double kMinPeak_levels = 8;       // of the highest film, from bare card
constexpr double kMaxResidual_levels = 8;   // mean difference from the paint's colours
constexpr double kMaxDisagreement = 0.15;   // between photo and scale
constexpr double kMinEfficiency = 0.01;

// Positions and films for the fit.
struct Readings {
    std::vector<FilmCell> cells;
    std::vector<calibration::FilmReading> used;
    std::vector<double> errors_um;  // wet, of every cell
    double max_dry_um = 0;          // dry
    double too_dark_share = 0;      // of the sprayed cells
    double residual_levels = 0;     // of the sprayed cells
};

class GunFitter {
public:
    GunFitter(const SprayPatternCard& card, PreparedPatternCard prepared, Diagnostics& diagnostics)
        : card_(card),
          prepared_(std::move(prepared)),
          diagnostics_(diagnostics),
          scale_(prepared_.mix, prepared_.ground, prepared_.saunderson),
          dry_per_wet_(paint::dry_per_wet(prepared_.mix)) {}

    std::optional<GunCalibration> calibrate() {
        if (!has_contrast() || !fit_pattern() || !is_plausible()) return std::nullopt;
        fill_gun();
        if (!fill_deposit()) return std::nullopt;
        fill_profiles();
        add_remarks();
        return std::move(calibration_);
    }

private:
    // Reports an error and returns false.
    bool fail(std::string rule, const SourceSpan& sample, std::string message, std::string hint) {
        diagnostics_.error(std::move(rule), sample, std::move(message), std::move(hint));
        return false;
    }

    bool has_contrast() {
        if (scale_.range_codes() >= kMinContrast_levels) return true;
        return fail("G002", card_.paint ? card_.paint->span : card_.mix->span,
                    "this paint hardly shows on this card",
                    "use a paint and a card that differ more in colour");
    }

    // Light, film and footprint in turn, since each depends on the others.
    bool fit_pattern() {
        FilmAt film_at = [](double, double) { return 0.0; };
        for (int iteration = 0; iteration < kMaxRounds; ++iteration) {
            const auto light =
                fit_illumination(prepared_.picture, prepared_.frame, scale_, film_at,
                                 iteration == 0 ? IlluminationShape::plane : IlluminationShape::curved);
            if (!light)
                return fail("G010", card_.region.span, light.error().message,
                            "use a larger region: there must be bare card along its edges");
            illumination_ = light.value();
            readings_ = read_cells(iteration == 0 ? nullptr : &film_at);
            if (readings_.too_dark_share > kMaxLeftOut) {
                return fail(
                    "G011", card_.region.span,
                    fmt::format("{:.0f} % of the spray is too dark to read", 100 * readings_.too_dark_share),
                    "spray faster or shorter, or let the paint down, and take a new picture");
            }
            const auto found = calibration::fit_gun(readings_.used, card_.pattern, card_.kind);
            if (!found || readings_.max_dry_um < kMinPeak_levels * scale_.um_per_code(0)) {
                return fail("G012", card_.region.span, "no spray found on the bare card",
                            "check that the region is on the spray");
            }
            const bool settled = iteration > 1 && has_converged(calibration_.fit, *found);
            calibration_.fit = *found;
            if (settled) return true;
            film_at = [this, footprint = calibration::footprint_of(*found)](double across, double along) {
                return dry_per_wet_ * calibration::wet_um(calibration_.fit, footprint, across, along);
            };
        }
        return fail("G010", card_.region.span, "the spray is too close to the edges of the region",
                    "use a larger region: there must be bare card along its edges");
    }

    static bool has_converged(const calibration::GunFit& before, const calibration::GunFit& now) {
        const auto still = [](const calibration::FittedValue& a, const calibration::FittedValue& b) {
            return std::abs(a.value - b.value) <= kConvergedRound * b.value;
        };
        return still(before.amount, now.amount) && still(before.sigma_mm, now.sigma_mm) &&
               still(before.fan_width_mm, now.fan_width_mm) &&
               still(before.fan_thickness_mm, now.fan_thickness_mm);
    }

    // The films in the picture; their errors follow from the films of the last round.
    Readings read_cells(const FilmAt* last) {
        Readings all;
        all.cells = film_cells(prepared_.picture, prepared_.frame, illumination_, scale_);
        double& highest = all.max_dry_um;
        for (const FilmCell& cell : all.cells) highest = std::max(highest, cell.film_um);
        int sprayed = 0, dark = 0;
        for (const FilmCell& cell : all.cells) {
            const double film = last ? (*last)(cell.across_mm, cell.along_mm) : cell.film_um;
            const double codes =
                std::hypot(illumination_.noise_levels / std::sqrt(cell.pixels), kModelNoise_levels);
            const double by_picture =
                codes * scale_.um_per_code(std::min(film, scale_.saturation_limit().value));
            const double error = std::hypot(by_picture, kModelError * highest) / dry_per_wet_;
            all.errors_um.push_back(error);
            const bool too_dark = cell.too_dark_share > kMaxTooDark;
            if (cell.film_um > kSprayedShare * highest) {
                ++sprayed;
                dark += too_dark ? 1 : 0;
                all.residual_levels += cell.residual_levels;
            }
            if (!too_dark)
                all.used.push_back({cell.across_mm, cell.along_mm, cell.film_um / dry_per_wet_, error});
        }
        if (sprayed > 0) {
            all.too_dark_share = static_cast<double>(dark) / sprayed;
            all.residual_levels /= sprayed;
        }
        return all;
    }

    bool is_plausible() {
        const auto footprint = calibration::footprint_of(calibration_.fit);
        const double x = calibration_.fit.across_mm.value, y = calibration_.fit.along_mm.value;
        calibration_.max_wet_um = calibration::wet_um(calibration_.fit, footprint, x, y);
        const double half_x = prepared_.frame.half_across_mm(), half_y = prepared_.frame.half_along_mm();
        double at_edge = std::max(calibration::wet_um(calibration_.fit, footprint, half_x, y),
                                  calibration::wet_um(calibration_.fit, footprint, -half_x, y));
        if (card_.kind == calibration::ShotKind::spot)
            at_edge = std::max({at_edge, calibration::wet_um(calibration_.fit, footprint, x, half_y),
                                calibration::wet_um(calibration_.fit, footprint, x, -half_y)});
        if (std::abs(x) >= half_x || at_edge > kMaxAtEdge * calibration_.max_wet_um) {
            return fail("G010", card_.region.span, "the spray reaches the edge of the region",
                        "use a larger region: there must be bare card along its edges");
        }
        const auto likely = [](const calibration::FittedValue& v, double min, double max) {
            return v.value == 0 || (v.value >= min && v.value <= max);
        };
        if (likely(calibration_.fit.sigma_mm, 0.2, 500) && likely(calibration_.fit.fan_width_mm, 1, 1000) &&
            likely(calibration_.fit.fan_thickness_mm, 1, 1000))
            return true;
        return fail("G012", card_.region.span, "no plausible spray pattern found",
                    "check region, scale and pattern");
    }

    void fill_gun() {
        calibration_.gun.title = card_.title;
        calibration_.gun.origin = paint::Provenance::fitted;
        calibration_.gun.pattern = card_.pattern;
        calibration_.gun.distance = card_.distance;
        calibration_.gun.droplet = card_.droplet;
        calibration_.gun.nozzle = card_.nozzle;
        calibration_.gun.air = card_.air;
        if (card_.speed) calibration_.gun.speed = *card_.speed;
        const calibration::GunFit& fit = calibration_.fit;
        if (card_.pattern == spray::Pattern::round) {
            calibration_.gun.sigma = Millimetres{fit.sigma_mm.value};
        } else {
            calibration_.thickness_measured = card_.kind == calibration::ShotKind::spot;
            calibration_.gun.fan_width = Millimetres{fit.fan_width_mm.value};
            calibration_.gun.beta_across = fit.beta_across.value;
            calibration_.gun.fan_thickness =
                Millimetres{calibration_.thickness_measured
                                ? fit.fan_thickness_mm.value
                                : std::max(1.0, card_.thickness_share.value * fit.fan_width_mm.value)};
            if (calibration_.thickness_measured) calibration_.gun.beta_along = fit.beta_along.value;
        }
        calibration_.readable_up_to_um = scale_.saturation_limit().value / dry_per_wet_;
        calibration_.too_dark_share = readings_.too_dark_share;
        calibration_.residual_levels = readings_.residual_levels;
        calibration_.noise_levels = illumination_.noise_levels;
        calibration_.mm_per_px = prepared_.frame.mm_per_px;
    }

    bool fill_deposit() {
        calibration_.deposit_from_photo = {calibration_.fit.amount.value * prepared_.deposit_per_minute,
                                           calibration_.fit.amount.error * prepared_.deposit_per_minute};
        calibration_.deposit_from_scale = prepared_.deposit_from_scale;
        calibration_.deposit_source =
            prepared_.deposit_from_scale ? DepositSource::scale : DepositSource::photo;
        calibration_.flow_source = prepared_.flow_source;
        const double landed = prepared_.deposit_from_scale.value_or(calibration_.deposit_from_photo.value);
        if (prepared_.flow) {
            const double transfer = landed / *prepared_.flow;
            if (transfer > 1 || transfer < kMinEfficiency) {
                const DisplayUnits units = diagnostics_.units();
                return fail("G017", card_.flow ? card_.flow->span : card_.weighed_flow->span,
                            fmt::format("a deposit of {} does not match a flow of {}",
                                        units.round_to_digits(MillilitresPerMinute{landed}, 3),
                                        units.round_to_digits(MillilitresPerMinute{*prepared_.flow}, 3)),
                            "check flow, speed or dwell, and whether the paint is the one that was sprayed");
            }
            calibration_.gun.flow = MillilitresPerMinute{*prepared_.flow};
            calibration_.gun.transfer_efficiency = Share{transfer};
        } else {
            calibration_.gun.transfer_efficiency =
                card_.transfer_efficiency.value_or(kDefaultTransferEfficiency);
            calibration_.gun.flow = MillilitresPerMinute{landed / calibration_.gun.transfer_efficiency.value};
        }
        calibration_.gun.source =
            fmt::format("fitted to the photo of a {} on white card; {}", name_of(card_.kind),
                        calibration_.deposit_source == DepositSource::scale
                            ? "deposited paint weighed"
                            : "deposited paint estimated from its colour");
        return true;
    }

    void fill_profiles() {
        const auto footprint = calibration::footprint_of(calibration_.fit);
        const double x = calibration_.fit.across_mm.value, y = calibration_.fit.along_mm.value;
        const bool spot = card_.kind == calibration::ShotKind::spot;
        const double near = cell_mm();
        for (std::size_t i = 0; i < readings_.cells.size(); ++i) {
            const FilmCell& cell = readings_.cells[i];
            ProfileSample sample{cell.across_mm, cell.film_um / dry_per_wet_, readings_.errors_um[i], 0,
                                 cell.too_dark_share > kMaxTooDark};
            sample.fitted_um =
                calibration::wet_um(calibration_.fit, footprint, cell.across_mm, cell.along_mm);
            if (!spot || std::abs(cell.along_mm - y) <= near) calibration_.across.push_back(sample);
            sample.at_mm = cell.along_mm;
            if (spot && std::abs(cell.across_mm - x) <= near) calibration_.along.push_back(sample);
        }
        for (auto* profile : {&calibration_.across, &calibration_.along})
            std::stable_sort(
                profile->begin(), profile->end(),
                [](const ProfileSample& a, const ProfileSample& b) { return a.at_mm < b.at_mm; });
    }

    // About half the side of one square of a spot.
    [[nodiscard]] double cell_mm() const {
        const Rectangle& r = prepared_.frame.region;
        const double area =
            static_cast<double>(r.width) * r.height * calibration_.mm_per_px * calibration_.mm_per_px;
        return 0.51 * std::sqrt(area / static_cast<double>(readings_.cells.size()));
    }

    void add_remarks() {
        const auto remark_if = [&](bool holds, GunRemark remark) {
            if (holds) calibration_.remarks.push_back(remark);
        };
        calibration_.thickness_share = card_.thickness_share;
        remark_if(card_.pattern == spray::Pattern::fan && !calibration_.thickness_measured,
                  GunRemark::fan_thickness_assumed);
        remark_if(calibration_.too_dark_share > 0, GunRemark::too_dark);
        remark_if(calibration_.residual_levels > kMaxResidual_levels, GunRemark::colours_differ);
        remark_if(calibration_.deposit_source == DepositSource::photo &&
                      prepared_.mix.origin == paint::Provenance::estimated,
                  GunRemark::estimated_paint);
        calibration_.photo_over_scale =
            calibration_.deposit_from_photo.value /
            prepared_.deposit_from_scale.value_or(calibration_.deposit_from_photo.value);
        remark_if(std::abs(calibration_.photo_over_scale - 1) > kMaxDisagreement,
                  GunRemark::photo_and_scale_disagree);
        remark_if(calibration_.flow_source == FlowSource::unknown, GunRemark::flow_unknown);
        remark_if(calibration_.fit.taper_at_limit, GunRemark::taper_at_limit);
    }

    const SprayPatternCard& card_;
    PreparedPatternCard prepared_;
    Diagnostics& diagnostics_;
    calibration::ThicknessScale scale_;
    double dry_per_wet_;
    IlluminationField illumination_;
    Readings readings_;
    GunCalibration calibration_;
};

template <class Tag>
Quantity<Tag> round_digits(Quantity<Tag> v) {
    if (v.value == 0 || !std::isfinite(v.value)) return v;
    return Quantity<Tag>{std::stod(fmt::format("{:.4g}", v.value))};
}

// Sizes of 0 and empty lists belong to another pattern or are unknown: they are left out of the gun file.
std::string without_unknown(const std::string& text, const plan::GunFile& file) {
    const std::array<std::pair<std::string_view, double>, 5> sizes{
        {{"sigma = ", file.sigma.value},
         {"fan_width = ", file.fan_width.value},
         {"fan_thickness = ", file.fan_thickness.value},
         {"nozzle = ", file.nozzle.value},
         {"air = ", file.air.value}}};
    std::string known_lines;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = text.find('\n', at) + 1;
        const std::string_view line = std::string_view(text).substr(at, end - at);
        const bool unknown = std::any_of(sizes.begin(), sizes.end(), [&](const auto& size) {
            return size.second == 0 && line.starts_with(size.first);
        });
        if (!unknown && !line.ends_with(" = []\n")) known_lines += line;
        at = end;
    }
    return known_lines;
}

}  // namespace

std::span<const Rule> spray_pattern_card_rules() { return kSprayPatternCardRules; }

std::optional<SprayPatternCard> read_spray_pattern_card(std::shared_ptr<const Source> source,
                                                        Diagnostics& diagnostics) {
    const std::optional<ParsedTree> tree = read_toml(std::move(source), diagnostics);
    SprayPatternCard card;
    if (!tree || !read_struct(*tree, card, diagnostics)) return std::nullopt;
    return card;
}

std::optional<GunCalibration> fit_gun(const SprayPatternCard& card, plan::Library& library,
                                      const CardFiles& files, Diagnostics& diagnostics) {
    std::optional<PreparedPatternCard> prepared = prepare_pattern_card(card, library, files, diagnostics);
    if (!prepared) return std::nullopt;
    return GunFitter(card, std::move(*prepared), diagnostics).calibrate();
}

std::string gun_text(const GunCalibration& calibration) {
    plan::GunFile file = calibration.gun;
    file.sigma = round_digits(file.sigma);
    file.fan_width = round_digits(file.fan_width);
    file.fan_thickness = round_digits(file.fan_thickness);
    file.flow = round_digits(file.flow);
    file.transfer_efficiency = round_digits(file.transfer_efficiency);
    const auto taper = [](double v) { return std::stod(fmt::format("{:.3g}", v)); };
    file.beta_across = taper(file.beta_across);
    file.beta_along = taper(file.beta_along);
    return without_unknown(canonical_text(file), file);
}

}  // namespace fadewright::calibration
