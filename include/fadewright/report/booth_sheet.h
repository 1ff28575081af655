// The booth sheet: what to mix, weigh, set, spray and wait for; as words, as tables, on paper, and as labels.
//
// On paper every page is made to be read at arm's length and ticked with a thick pen: body text of 12 points
// and more, key figures of 18 and more, one group of coats with the same mix and gun after the other.
//
// Its cautions are short and can be replaced in the plan. They choose no protection and claim no compliance.
//
// Checks     tests/app/sheet_test.cpp
#pragma once

#include "fadewright/plan/amounts.h"
#include "fadewright/plan/dry_times.h"
#include "fadewright/render/defects.h"
#include "fadewright/report/paper.h"

#include <string>
#include <vector>

namespace fadewright::report {

// Points into the shelf that the job was made from.
struct BoothSheet {
    std::string title;
    plan::Job job;
    plan::Amounts amounts;
    std::vector<plan::DryTimes> drying_times;  // after each coat, at the film in which its paint lies
    std::vector<render::Defect> defects;
};

// `plan` has coats and passes instead of fades, and `job` is made of it.
[[nodiscard]] BoothSheet make_booth_sheet(const plan::Plan& plan, plan::Job job, plan::Library& library);

[[nodiscard]] std::string booth_sheet_text(const BoothSheet& sheet);
[[nodiscard]] std::string booth_sheet_json(
    const BoothSheet& sheet);  // of a job to be shown in metric (contract)
[[nodiscard]] std::string booth_sheet_csv(const BoothSheet& sheet);   // one line for every weighing
[[nodiscard]] std::string booth_sheet_html(const BoothSheet& sheet);  // one file, no script
[[nodiscard]] std::string booth_sheet_pdf(const BoothSheet& sheet, Paper paper);
[[nodiscard]] std::string cup_labels_pdf(const BoothSheet& sheet, Paper paper);  // one for every mix

}  // namespace fadewright::report
