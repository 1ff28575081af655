#include "fadewright/plan/job.h"

namespace fadewright::plan {

double ResolvedCoat::mask_transmission(double x_mm, double y_mm) const {
    double share = 1;
    for (const ResolvedMask& m : masks) share *= m.mask.transmission(x_mm, y_mm, m.softness);
    return share;
}

double ResolvedCoat::wet_um(double x_mm, double y_mm) const {
    return deposit ? deposit->wet_um(x_mm, y_mm) * mask_transmission(x_mm, y_mm) : 0;
}

void ResolvedCoat::add_film_um(std::span<const double> x_mm, std::span<const double> y_mm,
                               std::span<double> film_um) const {
    const double dry_share = paint::dry_per_wet(mix);
    for (std::size_t i = 0; i < film_um.size(); ++i) {
        double film = even_film.value;
        if (deposit) film += dry_share * deposit->wet_um(x_mm[i], y_mm[i]);
        film_um[i] += film * mask_transmission(x_mm[i], y_mm[i]);
    }
}

double ResolvedCoat::film_um(double x_mm, double y_mm) const {
    double film = 0;
    add_film_um({&x_mm, 1}, {&y_mm, 1}, {&film, 1});
    return film;
}

}  // namespace fadewright::plan
