#include "fadewright/report/gun_calibration_report.h"

#include "fadewright/report/format.h"

#include <fmt/core.h>

#include <algorithm>
#include <nlohmann/json.hpp>

namespace fadewright::report {
namespace {

using plan::GunCalibration;

constexpr int kDigits = 4, kErrorDigits = 2;

std::string line(std::string_view name, const std::string& text) {
    return fmt::format("  {:<12} {}\n", name, text);
}

// A measured one of that kind of quantity, and how sure it is.
template <class Q>
std::string figure(std::string_view name, const spray::FittedValue& v, DisplayUnits units,
                   std::string_view how = "") {
    return line(name, fmt::format("{} (+- {:.2g}){}", units.round_to_digits(Q{v.value}, kDigits),
                                  units.value(Q{v.error}), how));
}

std::string plain_figure(std::string_view name, const spray::FittedValue& v) {
    return line(name, fmt::format("{:.4g} (+- {:.2g})", v.value, v.error));
}

std::string size_label(const GunCalibration& calibration, DisplayUnits units) {
    const spray::GunFit& fit = calibration.fit;
    if (fit.pattern == spray::Pattern::round) return figure<Millimetres>("sigma", fit.sigma_mm, units);
    std::string out = figure<Millimetres>("fan_width", fit.fan_width_mm, units) +
                      plain_figure("beta_across", fit.beta_across);
    if (calibration.thickness_measured)
        return out + figure<Millimetres>("fan_depth", fit.fan_thickness_mm, units) +
               plain_figure("beta_along", fit.beta_along);
    return out + line("fan_depth",
                      units.round_to_digits(calibration.gun.fan_thickness, kDigits) + " (not measured)");
}

std::string_view flow_source_label(plan::FlowSource by) {
    switch (by) {
        case plan::FlowSource::given:
            return "as stated";
        case plan::FlowSource::weighed:
            return "by the cup";
        case plan::FlowSource::unknown:
            break;
    }
    return "not measured: landed / transfer";
}

std::string deposit_text(const GunCalibration& calibration, DisplayUnits units) {
    std::string out =
        figure<MillilitresPerMinute>("landed", calibration.deposit_from_photo, units, ", by the picture");
    if (calibration.deposit_from_scale)
        out += line("landed",
                    units.round_to_digits(MillilitresPerMinute{*calibration.deposit_from_scale}, kDigits) +
                        ", by the scale: taken, since a scale knows nothing of K and S or of lamps");
    out += line("flow", fmt::format("{}, {}", units.round_to_digits(calibration.gun.flow, kDigits),
                                    flow_source_label(calibration.flow_source)));
    return out + line("transfer",
                      fmt::format("{:.1f} %{}", 100 * calibration.gun.transfer_efficiency.value,
                                  calibration.flow_source == plan::FlowSource::unknown ? ", taken"
                                                                                       : ", landed / flow"));
}

nlohmann::ordered_json measured(const spray::FittedValue& v) {
    return {{"value", v.value}, {"standard_error", v.error}, {"measured", true}};
}

nlohmann::ordered_json profile_json(const std::vector<plan::ProfileSample>& profile) {
    auto list = nlohmann::ordered_json::array();
    for (const plan::ProfileSample& point : profile) {
        nlohmann::ordered_json row{{"at_mm", point.at_mm}};
        if (point.too_dark)
            row["measured_um"] = nullptr;
        else
            row["measured_um"] = point.measured_um;
        row["error_um"] = point.error_um;
        row["fitted_um"] = point.fitted_um;
        list.push_back(row);
    }
    return list;
}

std::string_view flow_source(plan::FlowSource by) {
    switch (by) {
        case plan::FlowSource::given:
            return "stated";
        case plan::FlowSource::weighed:
            return "cup";
        case plan::FlowSource::unknown:
            break;
    }
    return "unknown";
}

}  // namespace

std::string gun_calibration_text(const GunCalibration& calibration, DisplayUnits units) {
    const spray::GunFit& fit = calibration.fit;
    std::string out = fmt::format("{}: {} ({})\n", calibration.gun.title, calibration.gun.source,
                                  provenance_label(calibration.gun.origin));
    for (const std::string& remark : calibration.remarks) out += remark + "\n";
    out += fmt::format("at {} from the card, one standard error:\n",
                       units.round_to_digits(calibration.gun.distance, kDigits));
    out += size_label(calibration, units) + deposit_text(calibration, units);
    out += fmt::format("wet film {} in the middle, missed by {} on average; films up to {} can be told\n",
                       units.round_to_digits(Micrometres{calibration.max_wet_um}, 3),
                       units.round_to_digits(Micrometres{fit.rms_error_um}, kErrorDigits),
                       units.round_to_digits(Micrometres{calibration.readable_up_to_um}, 3));
    if (fit.error_scale > 2)
        out += fmt::format(
            "the film wanders {:.1f} times more than the picture's noise: look at spatter, at "
            "an uneven pass and at pattern\n",
            fit.error_scale);
    return out + fmt::format("picture: {} to a pixel, noise of {:.2g} codes, colours off by {:.2g}\n",
                             units.round_to_digits(Millimetres{calibration.mm_per_px}, kDigits),
                             calibration.noise_levels, calibration.residual_levels);
}

std::string gun_calibration_json(const GunCalibration& calibration) {
    const spray::GunFit& fit = calibration.fit;
    nlohmann::ordered_json json;
    json["title"] = calibration.gun.title;
    json["origin"] = provenance_label(calibration.gun.origin);
    json["source"] = calibration.gun.source;
    json["remarks"] = calibration.remarks;
    json["distance_mm"] = calibration.gun.distance.value;
    if (fit.pattern == spray::Pattern::round) {
        json["sigma_mm"] = measured(fit.sigma_mm);
    } else {
        json["fan_width_mm"] = measured(fit.fan_width_mm);
        json["beta_across"] = measured(fit.beta_across);
        if (calibration.thickness_measured) {
            json["fan_depth_mm"] = measured(fit.fan_thickness_mm);
            json["beta_along"] = measured(fit.beta_along);
        } else {
            json["fan_depth_mm"] = {{"value", calibration.gun.fan_thickness.value}, {"measured", false}};
            json["beta_along"] = {{"value", calibration.gun.beta_along}, {"measured", false}};
        }
    }
    json["landed_by_picture_mL_per_min"] = measured(calibration.deposit_from_photo);
    if (calibration.deposit_from_scale) json["landed_by_scale_mL_per_min"] = *calibration.deposit_from_scale;
    json["landed_by"] = calibration.deposit_source == plan::DepositSource::scale ? "scale" : "picture";
    json["flow_mL_per_min"] = calibration.gun.flow.value;
    json["flow_by"] = flow_source(calibration.flow_source);
    json["transfer"] = calibration.gun.transfer_efficiency.value;
    json["highest_wet_um"] = calibration.max_wet_um;
    json["darkest_wet_um"] = calibration.readable_up_to_um;
    json["too_dark_share"] = calibration.too_dark_share;
    json["root_mean_square_um"] = fit.rms_error_um;
    json["noise_raised_by"] = fit.error_scale;
    json["off_codes"] = calibration.residual_levels;
    json["noise_codes"] = calibration.noise_levels;
    json["mm_per_px"] = calibration.mm_per_px;
    json["across"] = profile_json(calibration.across);
    if (!calibration.along.empty()) json["along"] = profile_json(calibration.along);
    return json.dump(2) + "\n";
}

}  // namespace fadewright::report
