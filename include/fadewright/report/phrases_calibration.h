// Remarks on a fitted paint or gun, in words.
//
// Checks     tests/report/phrases_test.cpp
#pragma once

#include "fadewright/calibration/gun_calibration.h"
#include "fadewright/calibration/paint_calibration.h"

#include <string>
#include <vector>

namespace fadewright::report {

[[nodiscard]] std::string describe_remark(const calibration::PaintRemark& remark);
// With the figures of that calibration.
[[nodiscard]] std::string describe_remark(calibration::GunRemark remark,
                                          const calibration::GunCalibration& calibration);

[[nodiscard]] std::vector<std::string> describe_remarks(const calibration::PaintCalibration& calibration);
[[nodiscard]] std::vector<std::string> describe_remarks(const calibration::GunCalibration& calibration);

}  // namespace fadewright::report
