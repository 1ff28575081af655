// The booth sheet: mixes, weights, gun settings, passes and drying times; as text, as tables, on paper, as
// labels.
//
// On paper every page is made to be read at arm's length and ticked with a thick pen: body text of 12 points
// and more, key figures of 18 and more, one group of coats with the same mix and gun after the other.
//
// Its safety lines can be extended in the plan, not replaced. They choose no protection and claim no
// compliance. A caution stands at the foot of every page and label and at the end of the text and of the HTML
// file.
//
// Checks     tests/app/sheet_test.cpp
#pragma once

#include "fadewright/assess/defects.h"
#include "fadewright/production/amounts.h"
#include "fadewright/production/dry_times.h"
#include "fadewright/report/paper.h"

#include <string>
#include <vector>

namespace fadewright::report {

// Points into the library that the job was made from.
struct BoothSheet {
    std::string title;
    plan::Job job;
    production::Amounts amounts;
    std::vector<production::DryTimes> drying_times;  // after each coat, at its film weighted by paint
    std::vector<assess::Defect> defects;
};

// `plan` has coats and passes instead of fades, and `job` is made of it.
[[nodiscard]] BoothSheet make_booth_sheet(const plan::Plan& plan, plan::Job job, plan::Library& library);

[[nodiscard]] std::string booth_sheet_text(const BoothSheet& sheet);
[[nodiscard]] std::string booth_sheet_json(
    const BoothSheet& sheet);  // of a job shown in metric units (contract)
[[nodiscard]] std::string booth_sheet_csv(const BoothSheet& sheet);   // one row per weighing
[[nodiscard]] std::string booth_sheet_html(const BoothSheet& sheet);  // one file, no script
[[nodiscard]] std::string booth_sheet_pdf(const BoothSheet& sheet, Paper paper);
[[nodiscard]] std::string cup_labels_pdf(const BoothSheet& sheet, Paper paper);  // one for every mix

}  // namespace fadewright::report
