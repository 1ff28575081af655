#include "fadewright/report/booth_sheet.h"

namespace fadewright::report {

BoothSheet booth_sheet(const plan::Plan& plan, plan::Job job, plan::Shelf& shelf) {
    BoothSheet sheet;
    sheet.title = plan.title;
    sheet.amounts = plan::amounts_of(plan, job, shelf);
    for (std::size_t i = 0; i < job.coats.size(); ++i)
        sheet.waits.push_back(
            plan::waits_after(job.coats[i], sheet.amounts.coats[i].film, job.booth, plan.mixing));
    sheet.faults = render::faults(job);
    sheet.job = std::move(job);
    return sheet;
}

}  // namespace fadewright::report
