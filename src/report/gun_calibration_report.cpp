#include "fadewright/report/gun_calibration_report.h"

#include "fadewright/report/format.h"
#include "fadewright/report/phrases_calibration.h"

#include <fmt/core.h>

#include <algorithm>
#include <nlohmann/json.hpp>

namespace fadewright::report {
namespace {

using calibration::GunCalibration;

constexpr int kDigits = 4, kErrorDigits = 2;

std::string line(std::string_view name, const std::string& text) {
    return fmt::format("  {:<20} {}\n", name, text);
}

// A fitted value and its standard error.
template <class Q>
std::string figure(std::string_view name, const calibration::FittedValue& v, DisplayUnits units,
                   std::string_view source = "") {
    return line(name, fmt::format("{} (± {:.2g}){}", units.round_to_digits(Q{v.value}, kDigits),
                                  units.value(Q{v.error}), source));
}

std::string plain_figure(std::string_view name, const calibration::FittedValue& v) {
    return line(name, fmt::format("{:.4g} (± {:.2g})", v.value, v.error));
}

std::string size_label(const GunCalibration& calibration, DisplayUnits units) {
    const calibration::GunFit& fit = calibration.fit;
    if (fit.pattern == spray::Pattern::round) return figure<Millimetres>("sigma", fit.sigma_mm, units);
    std::string out = figure<Millimetres>("fan_width", fit.fan_width_mm, units) +
                      plain_figure("beta_across", fit.beta_across);
    if (calibration.thickness_measured)
        return out + figure<Millimetres>("fan_thickness", fit.fan_thickness_mm, units) +
               plain_figure("beta_along", fit.beta_along);
    return out + line("fan_thickness",
                      units.round_to_digits(calibration.gun.fan_thickness, kDigits) + " (not measured)");
}

std::string_view flow_source_label(calibration::FlowSource by) {
    switch (by) {
        case calibration::FlowSource::given:
            return "as given";
        case calibration::FlowSource::weighed:
            return "from weighing the cup";
        case calibration::FlowSource::unknown:
            break;
    }
    return "not measured: deposited / transfer_efficiency";
}

std::string deposit_text(const GunCalibration& calibration, DisplayUnits units) {
    std::string out =
        figure<MillilitresPerMinute>("deposited", calibration.deposit_from_photo, units, ", from the photo");
    if (calibration.deposit_from_scale)
        out += line("deposited",
                    units.round_to_digits(MillilitresPerMinute{*calibration.deposit_from_scale}, kDigits) +
                        ", from weighing: used, since it does not depend on K, S and lighting");
    out += line("flow", fmt::format("{}, {}", units.round_to_digits(calibration.gun.flow, kDigits),
                                    flow_source_label(calibration.flow_source)));
    return out + line("transfer_efficiency",
                      fmt::format("{:.1f} %{}", 100 * calibration.gun.transfer_efficiency.value,
                                  calibration.flow_source == calibration::FlowSource::unknown
                                      ? ", assumed"
                                      : ", deposited / flow"));
}

nlohmann::ordered_json measured(const calibration::FittedValue& v) {
    return {{"value", v.value}, {"standard_error", v.error}, {"measured", true}};
}

nlohmann::ordered_json profile_json(const std::vector<calibration::ProfileSample>& profile) {
    auto list = nlohmann::ordered_json::array();
    for (const calibration::ProfileSample& point : profile) {
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

std::string_view flow_source(calibration::FlowSource by) {
    switch (by) {
        case calibration::FlowSource::given:
            return "given";
        case calibration::FlowSource::weighed:
            return "weighed";
        case calibration::FlowSource::unknown:
            break;
    }
    return "unknown";
}

}  // namespace

std::string gun_calibration_text(const GunCalibration& calibration, DisplayUnits units) {
    const calibration::GunFit& fit = calibration.fit;
    std::string out = fmt::format("{}: {} ({})\n", calibration.gun.title, calibration.gun.source,
                                  provenance_label(calibration.gun.origin));
    for (const std::string& remark : describe_remarks(calibration)) out += remark + "\n";
    out += fmt::format("at {} from the card, ± one standard error:\n",
                       units.round_to_digits(calibration.gun.distance, kDigits));
    out += size_label(calibration, units) + deposit_text(calibration, units);
    out += fmt::format("wet film {} at the centre, RMS error {}; readable up to {}\n",
                       units.round_to_digits(Micrometres{calibration.max_wet_um}, 3),
                       units.round_to_digits(Micrometres{fit.rms_error_um}, kErrorDigits),
                       units.round_to_digits(Micrometres{calibration.readable_up_to_um}, 3));
    if (fit.error_scale > 2)
        out += fmt::format(
            "scatter is {:.1f}× the image noise: check for spatter and an uneven pass, and check pattern\n",
            fit.error_scale);
    return out + fmt::format("photo: {}/pixel, noise {:.2g} levels, colour residual {:.2g} levels\n",
                             units.round_to_digits(Millimetres{calibration.mm_per_px}, kDigits),
                             calibration.noise_levels, calibration.residual_levels);
}

std::string gun_calibration_json(const GunCalibration& calibration) {
    const calibration::GunFit& fit = calibration.fit;
    nlohmann::ordered_json json;
    json["title"] = calibration.gun.title;
    json["origin"] = provenance_label(calibration.gun.origin);
    json["source"] = calibration.gun.source;
    json["remarks"] = describe_remarks(calibration);
    json["distance_mm"] = calibration.gun.distance.value;
    if (fit.pattern == spray::Pattern::round) {
        json["sigma_mm"] = measured(fit.sigma_mm);
    } else {
        json["fan_width_mm"] = measured(fit.fan_width_mm);
        json["beta_across"] = measured(fit.beta_across);
        if (calibration.thickness_measured) {
            json["fan_thickness_mm"] = measured(fit.fan_thickness_mm);
            json["beta_along"] = measured(fit.beta_along);
        } else {
            json["fan_thickness_mm"] = {{"value", calibration.gun.fan_thickness.value}, {"measured", false}};
            json["beta_along"] = {{"value", calibration.gun.beta_along}, {"measured", false}};
        }
    }
    json["deposited_from_photo_mL_per_min"] = measured(calibration.deposit_from_photo);
    if (calibration.deposit_from_scale)
        json["deposited_from_scale_mL_per_min"] = *calibration.deposit_from_scale;
    json["deposit_from"] =
        calibration.deposit_source == calibration::DepositSource::scale ? "scale" : "photo";
    json["flow_mL_per_min"] = calibration.gun.flow.value;
    json["flow_from"] = flow_source(calibration.flow_source);
    json["transfer_efficiency"] = calibration.gun.transfer_efficiency.value;
    json["max_wet_um"] = calibration.max_wet_um;
    json["readable_up_to_wet_um"] = calibration.readable_up_to_um;
    json["too_dark_share"] = calibration.too_dark_share;
    json["rms_error_um"] = fit.rms_error_um;
    json["noise_scaled_by"] = fit.error_scale;
    json["residual_levels"] = calibration.residual_levels;
    json["noise_levels"] = calibration.noise_levels;
    json["mm_per_px"] = calibration.mm_per_px;
    json["across"] = profile_json(calibration.across);
    if (!calibration.along.empty()) json["along"] = profile_json(calibration.along);
    return json.dump(2) + "\n";
}

}  // namespace fadewright::report
