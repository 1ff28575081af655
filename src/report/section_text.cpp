#include "fadewright/report/section_report.h"

#include "fadewright/colour/delta_e.h"
#include "fadewright/colour/words.h"

#include <fmt/core.h>

#include <algorithm>
#include <nlohmann/json.hpp>

namespace fadewright::report {
namespace {

// A name as one CSV cell (RFC 4180).
std::string cell(const std::string& text) {
    if (text.find_first_of(",\"\n") == std::string::npos) return text;
    std::string out = "\"";
    for (const char c : text) out += c == '"' ? std::string("\"\"") : std::string(1, c);
    return out + "\"";
}

}  // namespace

std::string section_csv(const render::Section& section) {
    std::string out = "along_mm,x_mm,y_mm";
    for (const std::string& coat : section.coats) out += "," + cell("film_um " + coat);
    out += ",L,a,b";
    for (std::size_t band = 0; band < colour::kBandCount; ++band)
        out += fmt::format(",R_{:.0f}", colour::band_nm(band));
    out += "\n";
    for (const render::SectionPlace& place : section.places) {
        out += fmt::format("{:.3f},{:.3f},{:.3f}", place.along.value, place.x.value, place.y.value);
        for (const Micrometres film : place.films) out += fmt::format(",{:.4f}", film.value);
        out += fmt::format(",{:.4f},{:.4f},{:.4f}", place.lab.L, place.lab.a, place.lab.b);
        for (const double r : place.seen.at) out += fmt::format(",{:.6f}", r);
        out += "\n";
    }
    return out;
}

std::string section_json(const render::Section& section) {
    nlohmann::ordered_json json;
    json["light"] = section.light;
    json["coats"] = section.coats;
    json["bands_nm"] = {
        {"first", colour::kFirstBand_nm}, {"step", colour::kBandStep_nm}, {"count", colour::kBandCount}};
    auto& places = json["places"] = nlohmann::ordered_json::array();
    for (const render::SectionPlace& place : section.places) {
        std::vector<double> films;
        for (const Micrometres film : place.films) films.push_back(film.value);
        places.push_back({{"along_mm", place.along.value},
                          {"x_mm", place.x.value},
                          {"y_mm", place.y.value},
                          {"film_um", films},
                          {"lab", {place.lab.L, place.lab.a, place.lab.b}},
                          {"reflectance", place.seen.at}});
    }
    return json.dump(1) + "\n";
}

std::string section_words(const render::Section& section, ShownUnits units) {
    const render::SectionPlace& first = section.places.front();
    const render::SectionPlace& last = section.places.back();
    double steepest = 0;
    const render::SectionPlace* at = &first;
    for (std::size_t i = 1; i < section.places.size(); ++i) {
        const render::SectionPlace& a = section.places[i - 1];
        const render::SectionPlace& b = section.places[i];
        const double slope = colour::delta_e_2000(a.lab, b.lab) / (b.along - a.along).value;
        if (slope > steepest) {
            steepest = slope;
            at = &a;
        }
    }
    const auto colour_of = [](const render::SectionPlace& p) {
        return fmt::format("{} (L* {:.1f}, a* {:.1f}, b* {:.1f})", colour::colour_words(p.lab), p.lab.L,
                           p.lab.a, p.lab.b);
    };
    std::string out = fmt::format("from {}\nto   {}\n", colour_of(first), colour_of(last));
    out += fmt::format("steepest at {} along: {} dE00 per {}\n", units.text(at->along), units.slope(steepest),
                       units.length());
    for (std::size_t c = 0; c < section.coats.size(); ++c) {
        const auto [lowest, highest] =
            std::minmax_element(section.places.begin(), section.places.end(),
                                [c](const render::SectionPlace& a, const render::SectionPlace& b) {
                                    return a.films[c] < b.films[c];
                                });
        out += fmt::format("{:<28} {:>6} to {} dry\n", section.coats[c], units.figure(lowest->films[c], 1),
                           units.text(highest->films[c], 1));
    }
    return out;
}

}  // namespace fadewright::report
