#include "fadewright/report/booth_sheet.h"

namespace fadewright::report {

BoothSheet make_booth_sheet(const plan::Plan& plan, plan::Job job, plan::Library& library) {
    BoothSheet sheet;
    sheet.title = plan.title;
    sheet.amounts = plan::amounts_of(plan, job, library);
    for (std::size_t i = 0; i < job.coats.size(); ++i)
        sheet.drying_times.push_back(
            plan::dry_times(job.coats[i], sheet.amounts.coats[i].film, job.booth, plan.mixing));
    sheet.defects = render::list_defects(job);
    sheet.job = std::move(job);
    return sheet;
}

}  // namespace fadewright::report
