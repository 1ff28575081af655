#include "gun_card_reader.h"

#include "fadewright/colour/reconstruct.h"
#include "fadewright/plan/gun_card_schema.h"
#include "fadewright/plan/job.h"
#include "names.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace fadewright::plan {
namespace {

constexpr double kSecondsPerMinute = 60, kCubicMillimetresPerMillilitre = 1000;
constexpr double kShortestBar_px = 20;
constexpr int kSmallestRegion_px = 30;
constexpr double kEnoughPixels = 1e6;  // of a region; a larger one is thinned out
constexpr double kMostSlant_deg = 20;
constexpr double kMostBurntOut = 0.01;
constexpr double kDarkestCard = 0.08, kDarkestPatch = 0.002;  // linear
constexpr double kMostSeen = 0.97;  // of a card; no white is lighter (common practice, no source)

Rectangle rectangle(const std::vector<int>& numbers) {
    return {numbers[0], numbers[1], numbers[2], numbers[3]};
}

class Readier {
public:
    Readier(const GunCardFile& card, Shelf& shelf, const CardFiles& files, Diagnostics& diagnostics)
        : card_(card), shelf_(shelf), files_(files), diagnostics_(diagnostics) {}

    std::optional<ReadyGunCard> ready() {
        const std::size_t before = diagnostics_.error_count();
        mix();
        trigger();
        flow();
        weighed();
        if (picture()) {
            frame();
            lightness();
        }
        if (diagnostics_.error_count() != before) return std::nullopt;
        return std::move(ready_);
    }

private:
    void mix() {
        if (card_.paint.has_value() == card_.mix.has_value()) {
            diagnostics_.error("G001", card_.place,
                               card_.paint ? "the paint is named twice" : "the paint is not named",
                               "write  paint = \"carbon-black\", or [mix] with its parts and reduce");
            return;
        }
        Plan plan;
        Placed<std::string> name;
        if (card_.paint) {
            name = *card_.paint;
        } else {
            plan.mixes.push_back({"the mix of this card", *card_.mix, card_.mix->place});
            name = {"the mix of this card", card_.mix->place};
        }
        const std::size_t before = diagnostics_.error_count();
        const auto parts = parts_of(plan, name, shelf_, diagnostics_);
        if (!parts || diagnostics_.error_count() != before) return;
        ready_.mix = paint::mixed(*parts);
        if (!(ready_.mix.solids.value > 0))
            diagnostics_.error("G002", name.place, "what was sprayed leaves no film",
                               "spray a paint that shows on white card");
    }

    void trigger() {
        const bool pass = card_.kind == spray::Laid::pass;
        if (pass != card_.speed.has_value() || pass == card_.dwell.has_value()) {
            diagnostics_.error(
                "G003", card_.place,
                pass ? "a pass goes by its speed alone" : "a spot goes by its dwell alone",
                pass ? "write speed = \"200 mm/s\" and no dwell" : "write dwell = \"0.5 s\" and no speed");
            return;
        }
        const double per_second = pass ? card_.speed->value / card_.repeats : 1 / card_.dwell->value;
        ready_.per_minute = per_second * kSecondsPerMinute / kCubicMillimetresPerMillilitre;
    }

    void flow() {
        const int ways =
            int{card_.flow.has_value()} + int{card_.cup.has_value()} + int{card_.transfer.has_value()};
        if (ways > 1) {
            diagnostics_.error("G013", card_.flow ? card_.flow->place : card_.cup->place,
                               "flow, cup and transfer say the same thing twice",
                               "keep flow or [cup] if the flow is known, else transfer or none of them");
            return;
        }
        if (card_.flow) {
            ready_.flow = card_.flow->value.value;
            ready_.flow_by = FlowBy::stated;
        }
        if (!card_.cup) return;
        const double sprayed = card_.cup->before.value - card_.cup->after.value;
        if (!(sprayed > 0)) {
            diagnostics_.error("G014", card_.cup->place, "the cup has not lost any weight",
                               "write the heavier weight as before and the lighter as after");
            return;
        }
        if (!(ready_.mix.wet_density.value > 0)) return;  // the mix is wrong, and that has been said
        ready_.flow = sprayed / ready_.mix.wet_density.value / card_.cup->time.value * kSecondsPerMinute;
        ready_.flow_by = FlowBy::cup;
    }

    void weighed() {
        if (!card_.weighed) return;
        const bool pass = card_.kind == spray::Laid::pass;
        if (pass != card_.weighed->length.has_value()) {
            diagnostics_.error(
                "G015", card_.weighed->place,
                pass ? "a pass over a weighed card has no length" : "a spot on a weighed card has a length",
                pass ? "write how far it went over the card:  length = \"200 mm\"" : "leave length out");
            return;
        }
        if (!(ready_.mix.dry_density.value > 0) || !(ready_.per_minute > 0)) return;  // said above
        const double dry_mL = card_.weighed->dried.value / ready_.mix.dry_density.value;
        const double wet_mL = dry_mL / paint::dry_per_wet(ready_.mix);
        const double seconds =
            pass ? card_.weighed->length->value * card_.repeats / card_.speed->value : card_.dwell->value;
        ready_.weighed = wet_mL / seconds * kSecondsPerMinute;
    }

    bool picture() {
        Result<Picture> picture = files_.picture(card_.picture.value);
        if (!picture) {
            diagnostics_.error("G004", card_.picture.place, picture.refusal().message,
                               "name a PNG or JPEG beside the gun card file");
            return false;
        }
        ready_.picture = std::move(picture).value();
        return true;
    }

    void frame() {
        CardFrame& frame = ready_.frame;
        const auto [w, h] = std::pair{ready_.picture.width, ready_.picture.height};
        frame.region = rectangle(card_.region.value);
        frame.laid = card_.kind;
        if (!frame.region.inside(ready_.picture) ||
            std::min(frame.region.width, frame.region.height) < kSmallestRegion_px) {
            diagnostics_.error("G006", card_.region.place,
                               fmt::format("the region does not lie in the picture of {} x {} pixels, or is "
                                           "less than {} pixels wide or high",
                                           w, h, kSmallestRegion_px),
                               "region = [left, top, width, height], counted from the upper left corner");
            region_good_ = false;
        }
        frame.step_px = static_cast<int>(
            std::ceil(std::sqrt(1.0 * frame.region.width * frame.region.height / kEnoughPixels)));
        const auto &from = card_.scale.from, &to = card_.scale.to;
        const double px = std::hypot(to[0] - from[0], to[1] - from[1]);
        if (std::max(from[0], to[0]) > w || std::max(from[1], to[1]) > h || px < kShortestBar_px) {
            diagnostics_.error(
                "G005", card_.scale.place,
                fmt::format("the ends of the scale do not lie in the picture of {} x {} pixels "
                            "or are less than {} pixels apart",
                            w, h, kShortestBar_px),
                "from = [x, y], to = [x, y], counted from the upper left corner");
        } else {
            frame.mm_per_px = card_.scale.length.value / px;
        }
        const double angle = card_.direction.value.value * std::numbers::pi / 180;
        frame.dx = std::cos(angle);
        frame.dy = std::sin(angle);
        const double slant = std::sin(kMostSlant_deg * std::numbers::pi / 180);
        if (std::min(std::abs(frame.dx), std::abs(frame.dy)) > slant)
            diagnostics_.error(
                "G016", card_.direction.place,
                fmt::format("the pass lies slanting in the picture, at {}", to_text(card_.direction.value)),
                fmt::format("turn the picture so that it lies across or upright to {} degrees",
                            kMostSlant_deg));
    }

    void lightness() {
        const int ways = int{card_.ground.has_value()} + int{card_.card_reflectance.has_value()} +
                         int{card_.reference.has_value()};
        if (ways > 1) {
            diagnostics_.error("G008", card_.place, "how light the card is, is said more than once",
                               "keep one of ground, card_reflectance and [reference]");
            return;
        }
        const bool gloss = card_.card_surface == Surface::gloss;
        ready_.skin = gloss ? film::skin_at_normal({}) : film::kNoSkin;
        const std::optional<colour::Rgb> card = bare();
        if (card_.reference) {
            by_reference(card);
        } else if (card_.card_reflectance) {
            const auto seen = colour::Reflectance::constant(*card_.card_reflectance);
            ready_.ground = film::inside(seen, ready_.skin, film::Specular::excluded);
        } else {
            const Placed<std::string> name = card_.ground.value_or(Placed<std::string>{"white-primer", {}});
            const std::size_t before = diagnostics_.error_count();
            const Ground* ground = shelf_.ground(name.value, diagnostics_);
            if (ground)
                ready_.ground = ground->inside;
            else if (diagnostics_.error_count() == before)
                report_unknown("G008", "ground", name, shelf_.names(ShelfKind::grounds), diagnostics_);
        }
    }

    // The card where it has to be bare.
    std::optional<colour::Rgb> bare() {
        if (!region_good_) return std::nullopt;
        const PatchMean edge = mean_of_edge(ready_.picture, ready_.frame);
        const auto [darkest, lightest] = std::minmax({edge.linear.r, edge.linear.g, edge.linear.b});
        const Place& place = card_.region.place;
        if (edge.burnt_out > kMostBurntOut)
            diagnostics_.error("G007", place, "the bare card is burnt out at the edges of the region",
                               "scan or photograph it darker, so that the card stays just below full white");
        else if (lightest < kDarkestCard)
            diagnostics_.error("G007", place, "there is no white card at the edges of the region",
                               "take a region of white card, in a picture that is bright enough");
        else if (darkest < kDarkestCard)
            diagnostics_.error("G010", place, "the spray covers the edges of the region",
                               "take a larger region: bare card has to show at its edges");
        else
            return edge.linear;
        return std::nullopt;
    }

    void by_reference(const std::optional<colour::Rgb>& card) {
        const KnownPatch& known = *card_.reference;
        const Rectangle patch = rectangle(known.patch);
        const auto wrong = [&](std::string_view what) {
            diagnostics_.error("G009", known.place, std::string(what),
                               "patch = [left, top, width, height] of a grey or white, and L or reflectance");
        };
        if (known.L.has_value() == known.reflectance.has_value())
            return wrong("the lightness of the reference is not given in one way");
        if (!patch.inside(ready_.picture)) return wrong("the reference does not lie in the picture");
        const PatchMean mean = mean_of(ready_.picture, patch);
        const colour::Rgb& seen = mean.linear;
        if (mean.burnt_out > kMostBurntOut) return wrong("the reference is burnt out in the picture");
        if (std::min({seen.r, seen.g, seen.b}) < kDarkestPatch)
            return wrong("the reference is nearly black in the picture");
        if (!card) return;
        const double R =
            known.reflectance
                ? *known.reflectance
                : colour::to_xyz(colour::Lab{*known.L, 0, 0}, colour::XYZ{100, 100, 100}).Y / 100;
        const auto held = [&](double v) { return std::min(kMostSeen, R * v); };
        const colour::Rgb light{held(card->r / seen.r), held(card->g / seen.g), held(card->b / seen.b)};
        ready_.ground =
            film::inside(colour::smoothest(light).reflectance, ready_.skin, film::Specular::excluded);
    }

    const GunCardFile& card_;
    Shelf& shelf_;
    const CardFiles& files_;
    Diagnostics& diagnostics_;
    ReadyGunCard ready_;
    bool region_good_ = true;
};

}  // namespace

std::optional<ReadyGunCard> ready_gun_card(const GunCardFile& card, Shelf& shelf, const CardFiles& files,
                                           Diagnostics& diagnostics) {
    return Readier(card, shelf, files, diagnostics).ready();
}

}  // namespace fadewright::plan
