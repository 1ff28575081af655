// Remarks on a fitted paint or gun, in words.
//
// Checks     tests/report/phrases_test.cpp
#pragma once

#include "fadewright/plan/gun_calibration.h"
#include "fadewright/plan/paint_calibration.h"

#include <string>
#include <vector>

namespace fadewright::report {

[[nodiscard]] std::string describe_remark(const plan::PaintRemark& remark);
// With the figures of that calibration.
[[nodiscard]] std::string describe_remark(plan::GunRemark remark, const plan::GunCalibration& calibration);

[[nodiscard]] std::vector<std::string> describe_remarks(const plan::PaintCalibration& calibration);
[[nodiscard]] std::vector<std::string> describe_remarks(const plan::GunCalibration& calibration);

}  // namespace fadewright::report
