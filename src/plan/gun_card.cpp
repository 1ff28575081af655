#include "fadewright/plan/gun_card.h"

#include "fadewright/plan/gun_card_schema.h"
#include "gun_card_reader.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace fadewright::plan {
namespace {

constexpr std::array kRules{
    Rule{"G001", "the paint of a gun card is named in one way"},
    Rule{"G002", "what was sprayed on a gun card shows on white"},
    Rule{"G003", "a pass on a gun card has a speed, a spot a dwell"},
    Rule{"G004", "the picture of a gun card can be read"},
    Rule{"G005", "the ends of the scale lie in the picture and apart"},
    Rule{"G006", "the region of a gun card lies in the picture and is not tiny"},
    Rule{"G007", "the bare card is white and not burnt out"},
    Rule{"G008", "how light the card is, is known in one way"},
    Rule{"G009", "the reference has one known lightness and is neither black nor burnt out"},
    Rule{"G010", "the spray lies inside the region, with bare card around it"},
    Rule{"G011", "the film on a gun card is thin enough to be read"},
    Rule{"G012", "a spray of a likely size stands out on a gun card"},
    Rule{"G013", "flow and transfer of a gun card are not said twice"},
    Rule{"G014", "a weighed cup loses weight"},
    Rule{"G015", "a pass over a weighed card has its length there, a spot has none"},
    Rule{"G016", "a pass lies across or upright in the picture"},
    Rule{"G017", "between 1 % and 100 % of the paint lands"},
};

constexpr double kLeastReach_codes = 40;  // from bare card to masstone, or the paint hardly shows
constexpr double kUneven_codes = 0.3;     // light and paint that a smooth fit does not follow
constexpr double kFollows = 0.01;         // of the highest film: no spray follows a formula more closely
constexpr double kMostDark = 0.05;        // of a cell's pixels
constexpr double kMostLeftOut = 0.4;      // of the sprayed cells
constexpr double kSprayed = 0.1;          // of the highest film: a cell that counts as sprayed
constexpr double kMostAtEdge = 0.03;      // of the highest film, where the region ends
constexpr double kStandsOut_codes = 8;    // of the highest film, from bare card
constexpr double kStrange_codes = 8;      // off the paint's colours, on average
constexpr double kDisagree = 0.15;        // between picture and scale
constexpr double kLeastLanded = 0.01;

// Places and films as the fit takes them.
struct Readings {
    std::vector<FilmCell> cells;
    std::vector<spray::FilmReading> kept;
    std::vector<double> errors_um;  // wet, of every cell
    double highest_um = 0;          // dry
    double left_out = 0;            // of the sprayed cells
    double off_codes = 0;           // of the sprayed cells
};

class Learner {
public:
    Learner(const GunCardFile& card, ReadyGunCard ready, Diagnostics& diagnostics)
        : card_(card),
          ready_(std::move(ready)),
          diagnostics_(diagnostics),
          scale_(ready_.mix, ready_.ground, ready_.skin),
          dry_per_wet_(paint::dry_per_wet(ready_.mix)) {}

    std::optional<LearnedGun> learned() {
        if (!shows() || !fit() || !fit_is_likely()) return std::nullopt;
        figures();
        if (!amounts()) return std::nullopt;
        profiles();
        remarks();
        return std::move(out_);
    }

private:
    // Reports and says no.
    bool wrong(std::string rule, const Place& place, std::string message, std::string hint) {
        diagnostics_.error(std::move(rule), place, std::move(message), std::move(hint));
        return false;
    }

    bool shows() {
        if (scale_.reach_codes() >= kLeastReach_codes) return true;
        return wrong("G002", card_.paint ? card_.paint->place : card_.mix->place,
                     "this paint hardly shows on this card",
                     "spray a colour that differs from the card, on a card that differs from the colour");
    }

    // Light, film and footprint in turn, since each needs the others.
    bool fit() {
        FilmThere there = [](double, double) { return 0.0; };
        for (int round = 0; round < kMostRounds; ++round) {
            light_ = light_of(ready_.picture, ready_.frame, scale_, there,
                              round == 0 ? LightShape::plane : LightShape::curved);
            if (!light_) {
                return wrong("G010", card_.region.place, "the spray covers the edges of the region",
                             "take a larger region: bare card has to show at its edges");
            }
            readings_ = readings(round == 0 ? nullptr : &there);
            if (readings_.left_out > kMostLeftOut) {
                return wrong(
                    "G011", card_.region.place,
                    fmt::format("{:.0f} % of the spray is too dark to read", 100 * readings_.left_out),
                    "spray faster or shorter, or let the paint down, and take a new picture");
            }
            const auto found = spray::fitted_gun(readings_.kept, card_.pattern, card_.kind);
            if (!found || readings_.highest_um < kStandsOut_codes * scale_.um_per_code(0)) {
                return wrong("G012", card_.region.place, "no spray stands out of the bare card",
                             "look whether the region lies on the spray");
            }
            const bool settled = round > 1 && stand_still(out_.fit, *found);
            out_.fit = *found;
            if (settled) return true;
            there = [this, footprint = spray::footprint_of(*found)](double across, double along) {
                return dry_per_wet_ * spray::wet_um(out_.fit, footprint, across, along);
            };
        }
        return wrong("G010", card_.region.place, "the spray reaches too near to the edges of the region",
                     "take a larger region: bare card has to show at its edges");
    }

    static bool stand_still(const spray::GunFit& before, const spray::GunFit& now) {
        const auto still = [](const spray::Fitted& a, const spray::Fitted& b) {
            return std::abs(a.value - b.value) <= kSettledRound * b.value;
        };
        return still(before.amount, now.amount) && still(before.sigma_mm, now.sigma_mm) &&
               still(before.fan_width_mm, now.fan_width_mm) && still(before.fan_depth_mm, now.fan_depth_mm);
    }

    // The films of the picture; how sure they are, by the films of the last round.
    Readings readings(const FilmThere* last) {
        Readings all;
        all.cells = film_cells(ready_.picture, ready_.frame, *light_, scale_);
        double& highest = all.highest_um;
        for (const FilmCell& cell : all.cells) highest = std::max(highest, cell.film_um);
        int sprayed = 0, dark = 0;
        for (const FilmCell& cell : all.cells) {
            const double film = last ? (*last)(cell.across_mm, cell.along_mm) : cell.film_um;
            const double codes = std::hypot(light_->noise_codes / std::sqrt(cell.pixels), kUneven_codes);
            const double by_picture = codes * scale_.um_per_code(std::min(film, scale_.darkest().value));
            const double error = std::hypot(by_picture, kFollows * highest) / dry_per_wet_;
            all.errors_um.push_back(error);
            const bool too_dark = cell.dark > kMostDark;
            if (cell.film_um > kSprayed * highest) {
                ++sprayed;
                dark += too_dark ? 1 : 0;
                all.off_codes += cell.off_codes;
            }
            if (!too_dark)
                all.kept.push_back({cell.across_mm, cell.along_mm, cell.film_um / dry_per_wet_, error});
        }
        if (sprayed > 0) {
            all.left_out = static_cast<double>(dark) / sprayed;
            all.off_codes /= sprayed;
        }
        return all;
    }

    bool fit_is_likely() {
        const auto footprint = spray::footprint_of(out_.fit);
        const double x = out_.fit.across_mm.value, y = out_.fit.along_mm.value;
        out_.highest_um = spray::wet_um(out_.fit, footprint, x, y);
        const double half_x = ready_.frame.half_across_mm(), half_y = ready_.frame.half_along_mm();
        double at_edge = std::max(spray::wet_um(out_.fit, footprint, half_x, y),
                                  spray::wet_um(out_.fit, footprint, -half_x, y));
        if (card_.kind == spray::Laid::spot)
            at_edge = std::max({at_edge, spray::wet_um(out_.fit, footprint, x, half_y),
                                spray::wet_um(out_.fit, footprint, x, -half_y)});
        if (std::abs(x) >= half_x || at_edge > kMostAtEdge * out_.highest_um) {
            return wrong("G010", card_.region.place, "the spray reaches the edge of the region",
                         "take a larger region: bare card has to show at its edges");
        }
        const auto likely = [](const spray::Fitted& v, double least, double most) {
            return v.value == 0 || (v.value >= least && v.value <= most);
        };
        if (likely(out_.fit.sigma_mm, 0.2, 500) && likely(out_.fit.fan_width_mm, 1, 1000) &&
            likely(out_.fit.fan_depth_mm, 1, 1000))
            return true;
        return wrong("G012", card_.region.place, "the spray has no likely size",
                     "look at the region, the scale and whether pattern is right");
    }

    void figures() {
        out_.gun.title = card_.title;
        out_.gun.origin = paint::Origin::fitted;
        out_.gun.pattern = card_.pattern;
        out_.gun.distance = card_.distance;
        out_.gun.droplet = card_.droplet;
        out_.gun.nozzle = card_.nozzle;
        out_.gun.air = card_.air;
        if (card_.speed) out_.gun.speed = *card_.speed;
        const spray::GunFit& fit = out_.fit;
        if (card_.pattern == spray::Pattern::round) {
            out_.gun.sigma = Millimetres{fit.sigma_mm.value};
        } else {
            out_.depth_measured = card_.kind == spray::Laid::spot;
            out_.gun.fan_width = Millimetres{fit.fan_width_mm.value};
            out_.gun.beta_across = fit.beta_across.value;
            out_.gun.fan_depth = Millimetres{
                out_.depth_measured ? fit.fan_depth_mm.value
                                    : std::max(1.0, card_.depth_share.value * fit.fan_width_mm.value)};
            if (out_.depth_measured) out_.gun.beta_along = fit.beta_along.value;
        }
        out_.darkest_um = scale_.darkest().value / dry_per_wet_;
        out_.left_out = readings_.left_out;
        out_.off_codes = readings_.off_codes;
        out_.noise_codes = light_->noise_codes;
        out_.mm_per_px = ready_.frame.mm_per_px;
    }

    bool amounts() {
        out_.landed_by_picture = {out_.fit.amount.value * ready_.per_minute,
                                  out_.fit.amount.error * ready_.per_minute};
        out_.landed_by_scale = ready_.weighed;
        out_.landed_by = ready_.weighed ? LandedBy::scale : LandedBy::picture;
        out_.flow_by = ready_.flow_by;
        const double landed = ready_.weighed.value_or(out_.landed_by_picture.value);
        if (ready_.flow) {
            const double transfer = landed / *ready_.flow;
            if (transfer > 1 || transfer < kLeastLanded) {
                const ShownUnits units = diagnostics_.units();
                return wrong(
                    "G017", card_.flow ? card_.flow->place : card_.cup->place,
                    fmt::format("{} would land of the {} that leave the gun",
                                units.rounded(MillilitresPerMinute{landed}, 3),
                                units.rounded(MillilitresPerMinute{*ready_.flow}, 3)),
                    "look at flow, at speed or dwell, and whether the paint is the one that was sprayed");
            }
            out_.gun.flow = MillilitresPerMinute{*ready_.flow};
            out_.gun.transfer = Share{transfer};
        } else {
            out_.gun.transfer = card_.transfer.value_or(kUsualTransfer);
            out_.gun.flow = MillilitresPerMinute{landed / out_.gun.transfer.value};
        }
        out_.gun.source = fmt::format(
            "fitted to a {} on white card by its picture; {}", name_of(card_.kind),
            out_.landed_by == LandedBy::scale ? "landed paint weighed" : "landed paint by its colour");
        return true;
    }

    void profiles() {
        const auto footprint = spray::footprint_of(out_.fit);
        const double x = out_.fit.across_mm.value, y = out_.fit.along_mm.value;
        const bool spot = card_.kind == spray::Laid::spot;
        const double near = cell_mm();
        for (std::size_t i = 0; i < readings_.cells.size(); ++i) {
            const FilmCell& cell = readings_.cells[i];
            ProfilePlace place{cell.across_mm, cell.film_um / dry_per_wet_, readings_.errors_um[i], 0,
                               cell.dark > kMostDark};
            place.fitted_um = spray::wet_um(out_.fit, footprint, cell.across_mm, cell.along_mm);
            if (!spot || std::abs(cell.along_mm - y) <= near) out_.across.push_back(place);
            place.at_mm = cell.along_mm;
            if (spot && std::abs(cell.across_mm - x) <= near) out_.along.push_back(place);
        }
        for (auto* profile : {&out_.across, &out_.along})
            std::stable_sort(profile->begin(), profile->end(),
                             [](const ProfilePlace& a, const ProfilePlace& b) { return a.at_mm < b.at_mm; });
    }

    // About half the side of a square of a spot.
    [[nodiscard]] double cell_mm() const {
        const Rectangle& r = ready_.frame.region;
        const double area = static_cast<double>(r.width) * r.height * out_.mm_per_px * out_.mm_per_px;
        return 0.51 * std::sqrt(area / static_cast<double>(readings_.cells.size()));
    }

    void remarks() {
        std::vector<std::string>& say = out_.remarks;
        if (card_.pattern == spray::Pattern::fan && !out_.depth_measured)
            say.push_back(
                fmt::format("fan_depth was not measured: a pass does not show it; taken as {} of the "
                            "width. A spot would tell",
                            to_text(card_.depth_share)));
        if (out_.left_out > 0)
            say.push_back(
                fmt::format("too dark to read over {:.0f} % of the spray, which was left out: spray "
                            "faster, or let the paint down",
                            std::max(1.0, 100 * out_.left_out)));
        if (out_.off_codes > kStrange_codes)
            say.push_back(
                fmt::format("the colours are not those of this paint on this card: off by {:.0f} of "
                            "255 on average, and the film is off with them",
                            out_.off_codes));
        if (out_.landed_by == LandedBy::picture && ready_.mix.origin == paint::Origin::estimated)
            say.emplace_back(
                "the paint's K and S are estimated: the landed paint is as unsure as they are, "
                "the size is not");
        const double ratio =
            out_.landed_by_picture.value / ready_.weighed.value_or(out_.landed_by_picture.value);
        if (std::abs(ratio - 1) > kDisagree)
            say.push_back(
                fmt::format("picture and scale disagree: by the picture {:.2f} times as much landed; "
                            "look at K and S of the paint, at the weighing and at speed or dwell",
                            ratio));
        if (out_.flow_by == FlowBy::unknown)
            say.emplace_back("the flow was not measured: only flow times transfer is known");
        if (out_.fit.taper_held)
            say.emplace_back("a taper lies at the end of what is allowed: look whether pattern is right");
    }

    const GunCardFile& card_;
    ReadyGunCard ready_;
    Diagnostics& diagnostics_;
    film::FilmScale scale_;
    double dry_per_wet_;
    std::optional<CardLight> light_;
    Readings readings_;
    LearnedGun out_;
};

template <class Tag>
Quantity<Tag> rounded(Quantity<Tag> v) {
    if (v.value == 0 || !std::isfinite(v.value)) return v;
    return Quantity<Tag>{std::stod(fmt::format("{:.4g}", v.value))};
}

// Sizes that are 0 and empty lists are of another pattern, or not known: they stand in no gun's file.
std::string without_unknown(const std::string& text, const GunFile& file) {
    const std::array<std::pair<std::string_view, double>, 5> sizes{{{"sigma = ", file.sigma.value},
                                                                    {"fan_width = ", file.fan_width.value},
                                                                    {"fan_depth = ", file.fan_depth.value},
                                                                    {"nozzle = ", file.nozzle.value},
                                                                    {"air = ", file.air.value}}};
    std::string kept;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = text.find('\n', at) + 1;
        const std::string_view line = std::string_view(text).substr(at, end - at);
        const bool unknown = std::any_of(sizes.begin(), sizes.end(), [&](const auto& size) {
            return size.second == 0 && line.starts_with(size.first);
        });
        if (!unknown && !line.ends_with(" = []\n")) kept += line;
        at = end;
    }
    return kept;
}

}  // namespace

std::span<const Rule> gun_card_rules() { return kRules; }

std::optional<GunCardFile> read_gun_card(std::shared_ptr<const Source> source, Diagnostics& diagnostics) {
    const std::optional<ReadTree> tree = read_toml(std::move(source), diagnostics);
    GunCardFile card;
    if (!tree || !read_thing(*tree, card, diagnostics)) return std::nullopt;
    return card;
}

std::optional<LearnedGun> learned_gun(const GunCardFile& card, Shelf& shelf, const CardFiles& files,
                                      Diagnostics& diagnostics) {
    std::optional<ReadyGunCard> ready = ready_gun_card(card, shelf, files, diagnostics);
    if (!ready) return std::nullopt;
    return Learner(card, std::move(*ready), diagnostics).learned();
}

std::string gun_text(const LearnedGun& learned) {
    GunFile file = learned.gun;
    file.sigma = rounded(file.sigma);
    file.fan_width = rounded(file.fan_width);
    file.fan_depth = rounded(file.fan_depth);
    file.flow = rounded(file.flow);
    file.transfer = rounded(file.transfer);
    const auto taper = [](double v) { return std::stod(fmt::format("{:.3g}", v)); };
    file.beta_across = taper(file.beta_across);
    file.beta_along = taper(file.beta_along);
    return without_unknown(canonical_text(file), file);
}

}  // namespace fadewright::plan
