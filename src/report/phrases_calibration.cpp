#include "fadewright/report/phrases_calibration.h"

#include "fadewright/text/units.h"

#include <fmt/core.h>

#include <algorithm>

namespace fadewright::report {

std::string describe_remark(const calibration::PaintRemark& remark) {
    switch (remark.kind) {
        case calibration::PaintRemarkKind::estimated_spectrum:
            return "low accuracy: the spectrum is estimated, because three numbers do not determine it";
        case calibration::PaintRemarkKind::clipped_to_gamut:
            return "one of the colours is outside what a paint can have; a greyer one was used";
        case calibration::PaintRemarkKind::counted_coats:
            return "films counted in coats: K and S are right for coats as you spray them";
        case calibration::PaintRemarkKind::estimated_white:
            return "the white of the let-downs is itself estimated";
        case calibration::PaintRemarkKind::thick_film_only:
            return "rough estimate: only the colour of the thick film is known, and S from the coats to hiding";
        case calibration::PaintRemarkKind::darker_than_specular:
            break;
    }
    return fmt::format(
        "{} is darker than the specular reflection alone: check whether specular was really included",
        remark.reading);
}

std::string describe_remark(calibration::GunRemark remark, const calibration::GunCalibration& calibration) {
    switch (remark) {
        case calibration::GunRemark::fan_thickness_assumed:
            return fmt::format(
                "fan_thickness was not measured, a pass does not show it: assumed as {} of the width. Spray "
                "a spot to measure it",
                to_text(calibration.thickness_share));
        case calibration::GunRemark::too_dark:
            return fmt::format(
                "{:.0f} % of the spray is too dark to read and was left out: spray faster, or let the paint "
                "down",
                std::max(1.0, 100 * calibration.too_dark_share));
        case calibration::GunRemark::colours_differ:
            return fmt::format(
                "the colours do not match this paint on this card: off by {:.0f} of 255 levels on average, "
                "so the film is uncertain",
                calibration.residual_levels);
        case calibration::GunRemark::estimated_paint:
            return "K and S of the paint are estimated, so the deposited amount is only an estimate; the size "
                   "of the pattern is not affected";
        case calibration::GunRemark::photo_and_scale_disagree:
            return fmt::format(
                "photo and scale disagree: the photo gives {:.2f} times as much deposited paint. Check K and "
                "S of the paint, the weighing, and speed or dwell",
                calibration.photo_over_scale);
        case calibration::GunRemark::flow_unknown:
            return "the flow was not measured: only flow × transfer efficiency is known";
        case calibration::GunRemark::taper_at_limit:
            break;
    }
    return "a taper is at its limit: check whether the pattern is right";
}

std::vector<std::string> describe_remarks(const calibration::PaintCalibration& calibration) {
    std::vector<std::string> out;
    for (const calibration::PaintRemark& remark : calibration.remarks) out.push_back(describe_remark(remark));
    return out;
}

std::vector<std::string> describe_remarks(const calibration::GunCalibration& calibration) {
    std::vector<std::string> out;
    for (const calibration::GunRemark remark : calibration.remarks)
        out.push_back(describe_remark(remark, calibration));
    return out;
}

}  // namespace fadewright::report
