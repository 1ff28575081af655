#include "fadewright/report/section_report.h"

#include "fadewright/base/strings.h"
#include "fadewright/colour/delta_e.h"
#include "fadewright/report/colour_naming.h"

#include <fmt/core.h>

#include <algorithm>
#include <nlohmann/json.hpp>

namespace fadewright::report {

std::string section_csv(const assess::Section& section) {
    std::string out = "along_mm,x_mm,y_mm";
    for (const std::string& coat : section.coats) out += "," + csv_cell("film_um " + coat);
    out += ",L,a,b";
    for (std::size_t band = 0; band < colour::kBandCount; ++band)
        out += fmt::format(",R_{:.0f}", colour::band_nm(band));
    out += "\n";
    for (const assess::SectionSample& point : section.samples) {
        out += fmt::format("{:.3f},{:.3f},{:.3f}", point.along.value, point.x.value, point.y.value);
        for (const Micrometres film : point.films) out += fmt::format(",{:.4f}", film.value);
        out += fmt::format(",{:.4f},{:.4f},{:.4f}", point.lab.L, point.lab.a, point.lab.b);
        for (const double r : point.reflectance.values) out += fmt::format(",{:.6f}", r);
        out += "\n";
    }
    return out;
}

std::string section_json(const assess::Section& section) {
    nlohmann::ordered_json json;
    json["light"] = section.light;
    json["coats"] = section.coats;
    json["bands_nm"] = {
        {"first", colour::kFirstBand_nm}, {"step", colour::kBandStep_nm}, {"count", colour::kBandCount}};
    auto& points = json["points"] = nlohmann::ordered_json::array();
    for (const assess::SectionSample& point : section.samples) {
        std::vector<double> films;
        for (const Micrometres film : point.films) films.push_back(film.value);
        points.push_back({{"along_mm", point.along.value},
                          {"x_mm", point.x.value},
                          {"y_mm", point.y.value},
                          {"film_um", films},
                          {"lab", {point.lab.L, point.lab.a, point.lab.b}},
                          {"reflectance", point.reflectance.values}});
    }
    return json.dump(1) + "\n";
}

std::string section_text(const assess::Section& section, DisplayUnits units) {
    const assess::SectionSample& first = section.samples.front();
    const assess::SectionSample& last = section.samples.back();
    double steepest = 0;
    const assess::SectionSample* at = &first;
    for (std::size_t i = 1; i < section.samples.size(); ++i) {
        const assess::SectionSample& a = section.samples[i - 1];
        const assess::SectionSample& b = section.samples[i];
        const double slope = colour::delta_e_2000(a.lab, b.lab) / (b.along - a.along).value;
        if (slope > steepest) {
            steepest = slope;
            at = &a;
        }
    }
    const auto colour_of = [](const assess::SectionSample& p) {
        return fmt::format("{} (L* {:.1f}, a* {:.1f}, b* {:.1f})", colour_name(p.lab), p.lab.L, p.lab.a,
                           p.lab.b);
    };
    std::string out = fmt::format("from {}\nto   {}\n", colour_of(first), colour_of(last));
    out += fmt::format("steepest at {} along: {} ΔE00 per {}\n", units.text(at->along), units.slope(steepest),
                       units.length_unit_name());
    for (std::size_t c = 0; c < section.coats.size(); ++c) {
        const auto [lowest, highest] =
            std::minmax_element(section.samples.begin(), section.samples.end(),
                                [c](const assess::SectionSample& a, const assess::SectionSample& b) {
                                    return a.films[c] < b.films[c];
                                });
        out += fmt::format("{:<28} {:>6} to {} dry\n", section.coats[c], units.number(lowest->films[c], 1),
                           units.text(highest->films[c], 1));
    }
    return out;
}

}  // namespace fadewright::report
