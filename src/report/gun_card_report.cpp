#include "fadewright/report/gun_card_report.h"

#include "fadewright/report/shown.h"

#include <fmt/core.h>

#include <algorithm>
#include <nlohmann/json.hpp>

namespace fadewright::report {
namespace {

using plan::LearnedGun;

constexpr int kDigits = 4, kErrorDigits = 2;

std::string line(std::string_view name, const std::string& words) {
    return fmt::format("  {:<12} {}\n", name, words);
}

// A measured one of that kind of quantity, and how sure it is.
template <class Q>
std::string figure(std::string_view name, const spray::Fitted& v, ShownUnits units,
                   std::string_view how = "") {
    return line(name, fmt::format("{} (+- {:.2g}){}", units.rounded(Q{v.value}, kDigits),
                                  units.number(Q{v.error}), how));
}

std::string plain_figure(std::string_view name, const spray::Fitted& v) {
    return line(name, fmt::format("{:.4g} (+- {:.2g})", v.value, v.error));
}

std::string size_words(const LearnedGun& learned, ShownUnits units) {
    const spray::GunFit& fit = learned.fit;
    if (fit.pattern == spray::Pattern::round) return figure<Millimetres>("sigma", fit.sigma_mm, units);
    std::string out = figure<Millimetres>("fan_width", fit.fan_width_mm, units) +
                      plain_figure("beta_across", fit.beta_across);
    if (learned.depth_measured)
        return out + figure<Millimetres>("fan_depth", fit.fan_depth_mm, units) +
               plain_figure("beta_along", fit.beta_along);
    return out + line("fan_depth", units.rounded(learned.gun.fan_depth, kDigits) + " (not measured)");
}

std::string_view flow_words(plan::FlowBy by) {
    switch (by) {
        case plan::FlowBy::stated:
            return "as stated";
        case plan::FlowBy::cup:
            return "by the cup";
        case plan::FlowBy::unknown:
            break;
    }
    return "not measured: landed / transfer";
}

std::string paint_words(const LearnedGun& learned, ShownUnits units) {
    std::string out =
        figure<MillilitresPerMinute>("landed", learned.landed_by_picture, units, ", by the picture");
    if (learned.landed_by_scale)
        out +=
            line("landed", units.rounded(MillilitresPerMinute{*learned.landed_by_scale}, kDigits) +
                               ", by the scale: taken, since a scale knows nothing of K and S or of lamps");
    out += line("flow",
                fmt::format("{}, {}", units.rounded(learned.gun.flow, kDigits), flow_words(learned.flow_by)));
    return out + line("transfer",
                      fmt::format("{:.1f} %{}", 100 * learned.gun.transfer.value,
                                  learned.flow_by == plan::FlowBy::unknown ? ", taken" : ", landed / flow"));
}

nlohmann::ordered_json measured(const spray::Fitted& v) {
    return {{"value", v.value}, {"standard_error", v.error}, {"measured", true}};
}

nlohmann::ordered_json profile_json(const std::vector<plan::ProfilePlace>& profile) {
    auto list = nlohmann::ordered_json::array();
    for (const plan::ProfilePlace& place : profile) {
        nlohmann::ordered_json row{{"at_mm", place.at_mm}};
        if (place.too_dark)
            row["measured_um"] = nullptr;
        else
            row["measured_um"] = place.measured_um;
        row["error_um"] = place.error_um;
        row["fitted_um"] = place.fitted_um;
        list.push_back(row);
    }
    return list;
}

std::string_view flow_word(plan::FlowBy by) {
    switch (by) {
        case plan::FlowBy::stated:
            return "stated";
        case plan::FlowBy::cup:
            return "cup";
        case plan::FlowBy::unknown:
            break;
    }
    return "unknown";
}

}  // namespace

std::string gun_card_words(const LearnedGun& learned, ShownUnits units) {
    const spray::GunFit& fit = learned.fit;
    std::string out =
        fmt::format("{}: {} ({})\n", learned.gun.title, learned.gun.source, origin_words(learned.gun.origin));
    for (const std::string& remark : learned.remarks) out += remark + "\n";
    out += fmt::format("at {} from the card, one standard error:\n",
                       units.rounded(learned.gun.distance, kDigits));
    out += size_words(learned, units) + paint_words(learned, units);
    out += fmt::format("wet film {} in the middle, missed by {} on average; films up to {} can be told\n",
                       units.rounded(Micrometres{learned.highest_um}, 3),
                       units.rounded(Micrometres{fit.root_mean_square_um}, kErrorDigits),
                       units.rounded(Micrometres{learned.darkest_um}, 3));
    if (fit.scale > 2)
        out += fmt::format(
            "the film wanders {:.1f} times more than the picture's noise: look at spatter, at "
            "an uneven pass and at pattern\n",
            fit.scale);
    return out + fmt::format("picture: {} to a pixel, noise of {:.2g} codes, colours off by {:.2g}\n",
                             units.rounded(Millimetres{learned.mm_per_px}, kDigits), learned.noise_codes,
                             learned.off_codes);
}

std::string gun_card_json(const LearnedGun& learned) {
    const spray::GunFit& fit = learned.fit;
    nlohmann::ordered_json json;
    json["title"] = learned.gun.title;
    json["origin"] = origin_words(learned.gun.origin);
    json["source"] = learned.gun.source;
    json["remarks"] = learned.remarks;
    json["distance_mm"] = learned.gun.distance.value;
    if (fit.pattern == spray::Pattern::round) {
        json["sigma_mm"] = measured(fit.sigma_mm);
    } else {
        json["fan_width_mm"] = measured(fit.fan_width_mm);
        json["beta_across"] = measured(fit.beta_across);
        if (learned.depth_measured) {
            json["fan_depth_mm"] = measured(fit.fan_depth_mm);
            json["beta_along"] = measured(fit.beta_along);
        } else {
            json["fan_depth_mm"] = {{"value", learned.gun.fan_depth.value}, {"measured", false}};
            json["beta_along"] = {{"value", learned.gun.beta_along}, {"measured", false}};
        }
    }
    json["landed_by_picture_mL_per_min"] = measured(learned.landed_by_picture);
    if (learned.landed_by_scale) json["landed_by_scale_mL_per_min"] = *learned.landed_by_scale;
    json["landed_by"] = learned.landed_by == plan::LandedBy::scale ? "scale" : "picture";
    json["flow_mL_per_min"] = learned.gun.flow.value;
    json["flow_by"] = flow_word(learned.flow_by);
    json["transfer"] = learned.gun.transfer.value;
    json["highest_wet_um"] = learned.highest_um;
    json["darkest_wet_um"] = learned.darkest_um;
    json["too_dark_share"] = learned.left_out;
    json["root_mean_square_um"] = fit.root_mean_square_um;
    json["noise_raised_by"] = fit.scale;
    json["off_codes"] = learned.off_codes;
    json["noise_codes"] = learned.noise_codes;
    json["mm_per_px"] = learned.mm_per_px;
    json["across"] = profile_json(learned.across);
    if (!learned.along.empty()) json["along"] = profile_json(learned.along);
    return json.dump(2) + "\n";
}

}  // namespace fadewright::report
