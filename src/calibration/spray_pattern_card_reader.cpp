#include "spray_pattern_card_reader.h"

#include "fadewright/calibration/spray_pattern_card_schema.h"
#include "fadewright/colour/reflectance_recovery.h"
#include "fadewright/plan/mix_resolver.h"
#include "fadewright/plan/names.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace fadewright::calibration {
namespace {

constexpr double kSecondsPerMinute = 60, kCubicMillimetresPerMillilitre = 1000;
constexpr double kMinBar_px = 20;
constexpr int kMinRegion_px = 30;
constexpr double kMaxPixelsRead = 1e6;  // of a region; a larger one is subsampled
constexpr double kMaxSlant_deg = 20;
constexpr double kMaxOverexposed = 0.01;
constexpr double kDarkestCard = 0.08, kDarkestPatch = 0.002;  // linear
constexpr double kMaxPictureReflectance =
    0.97;  // of a card; no white card is lighter (common practice, no source)

Rectangle rectangle(const std::vector<int>& numbers) {
    return {numbers[0], numbers[1], numbers[2], numbers[3]};
}

class PatternCardPreparer {
public:
    PatternCardPreparer(const SprayPatternCard& card, plan::Library& library, const CardFiles& files,
                        Diagnostics& diagnostics)
        : card_(card), library_(library), files_(files), diagnostics_(diagnostics) {}

    std::optional<PreparedPatternCard> prepare() {
        const std::size_t before = diagnostics_.error_count();
        resolve_mix();
        resolve_trigger_time();
        resolve_flow();
        resolve_weighing();
        if (load_picture()) {
            resolve_frame();
            resolve_lightness();
        }
        if (diagnostics_.error_count() != before) return std::nullopt;
        return std::move(prepared_);
    }

private:
    void resolve_mix() {
        if (card_.paint.has_value() == card_.mix.has_value()) {
            diagnostics_.error("G001", card_.span,
                               card_.paint ? "the paint is given twice" : "the paint is missing",
                               "give either  paint = \"carbon-black\"  or [mix] with parts and reduce");
            return;
        }
        plan::Plan plan;
        Located<std::string> name;
        if (card_.paint) {
            name = *card_.paint;
        } else {
            plan.mixes.push_back({"the mix of this card", *card_.mix, card_.mix->span});
            name = {"the mix of this card", card_.mix->span};
        }
        const auto parts = plan::parts_of(plan, name, library_, diagnostics_);
        if (!parts) return;
        prepared_.mix = paint::mix_paints(*parts);
        if (!(prepared_.mix.solids.value > 0))
            diagnostics_.error("G002", name.span, "the sprayed paint contains no solids",
                               "use a paint that shows on white card");
    }

    void resolve_trigger_time() {
        const bool pass = card_.kind == calibration::ShotKind::pass;
        if (pass != card_.speed.has_value() || pass == card_.dwell.has_value()) {
            diagnostics_.error(
                "G003", card_.span,
                pass ? "a pass needs a speed and no dwell" : "a spot needs a dwell and no speed",
                pass ? "write  speed = \"200 mm/s\"  and remove dwell"
                     : "write  dwell = \"0.5 s\"  and remove speed");
            return;
        }
        const double per_second = pass ? card_.speed->value / card_.repeats : 1 / card_.dwell->value;
        prepared_.deposit_per_minute = per_second * kSecondsPerMinute / kCubicMillimetresPerMillilitre;
    }

    void resolve_flow() {
        const int given_count = int{card_.flow.has_value()} + int{card_.weighed_flow.has_value()} +
                                int{card_.transfer_efficiency.has_value()};
        if (given_count > 1) {
            diagnostics_.error(
                "G013", card_.flow ? card_.flow->span : card_.weighed_flow->span,
                "flow, weighed_flow and transfer_efficiency: only one can be given",
                "keep flow or [weighed_flow] if the flow is known; otherwise transfer_efficiency, or none");
            return;
        }
        if (card_.flow) {
            prepared_.flow = card_.flow->value.value;
            prepared_.flow_source = FlowSource::given;
        }
        if (!card_.weighed_flow) return;
        const double sprayed = card_.weighed_flow->before.value - card_.weighed_flow->after.value;
        if (!(sprayed > 0)) {
            diagnostics_.error("G014", card_.weighed_flow->span, "the cup has not lost weight",
                               "give the heavier weight as before and the lighter as after");
            return;
        }
        if (!(prepared_.mix.wet_density.value > 0)) return;  // the mix has errors, already reported
        prepared_.flow =
            sprayed / prepared_.mix.wet_density.value / card_.weighed_flow->time.value * kSecondsPerMinute;
        prepared_.flow_source = FlowSource::weighed;
    }

    void resolve_weighing() {
        if (!card_.weighed_card) return;
        const bool pass = card_.kind == calibration::ShotKind::pass;
        if (pass != card_.weighed_card->length.has_value()) {
            diagnostics_.error(
                "G015", card_.weighed_card->span,
                pass ? "a pass over a weighed card has no length" : "a spot on a weighed card has a length",
                pass ? "give its length on the card:  length = \"200 mm\"" : "remove length");
            return;
        }
        if (!(prepared_.mix.dry_density.value > 0) || !(prepared_.deposit_per_minute > 0))
            return;  // already reported
        const double dry_mL = card_.weighed_card->dry_weight.value / prepared_.mix.dry_density.value;
        const double wet_mL = dry_mL / paint::dry_per_wet(prepared_.mix);
        const double seconds = pass ? card_.weighed_card->length->value * card_.repeats / card_.speed->value
                                    : card_.dwell->value;
        prepared_.deposit_from_scale = wet_mL / seconds * kSecondsPerMinute;
    }

    bool load_picture() {
        Result<Picture> picture = files_.read_picture(card_.picture.value);
        if (!picture) {
            diagnostics_.error("G004", card_.picture.span, picture.error().message,
                               "use a PNG or JPEG in the card file's folder");
            return false;
        }
        prepared_.picture = std::move(picture).value();
        return true;
    }

    void resolve_frame() {
        CardFrame& frame = prepared_.frame;
        const auto [w, h] = std::pair{prepared_.picture.width, prepared_.picture.height};
        frame.region = rectangle(card_.region.value);
        frame.kind = card_.kind;
        if (!frame.region.inside(prepared_.picture) ||
            std::min(frame.region.width, frame.region.height) < kMinRegion_px) {
            diagnostics_.error(
                "G006", card_.region.span,
                fmt::format(
                    "the region is not inside the picture of {} × {} pixels, or is less than {} pixels wide "
                    "or high",
                    w, h, kMinRegion_px),
                "region = [left, top, width, height], counted from the top left corner");
            region_valid_ = false;
        }
        frame.step_px = static_cast<int>(
            std::ceil(std::sqrt(1.0 * frame.region.width * frame.region.height / kMaxPixelsRead)));
        const auto &from = card_.scale.from, &to = card_.scale.to;
        const double px = std::hypot(to[0] - from[0], to[1] - from[1]);
        if (std::max(from[0], to[0]) > w || std::max(from[1], to[1]) > h || px < kMinBar_px) {
            diagnostics_.error(
                "G005", card_.scale.span,
                fmt::format(
                    "the ends of the scale are not inside the picture of {} × {} pixels, or less than {} "
                    "pixels apart",
                    w, h, kMinBar_px),
                "from = [x, y], to = [x, y], counted from the top left corner");
        } else {
            frame.mm_per_px = card_.scale.length.value / px;
        }
        const double angle = radians(card_.direction.value);
        frame.dx = std::cos(angle);
        frame.dy = std::sin(angle);
        const double slant = std::sin(kMaxSlant_deg * std::numbers::pi / 180);
        if (std::min(std::abs(frame.dx), std::abs(frame.dy)) > slant)
            diagnostics_.error(
                "G016", card_.direction.span,
                fmt::format("the pass is not straight in the picture: it is at {}",
                            to_text(card_.direction.value)),
                fmt::format("rotate the picture until the pass is horizontal or vertical within {}°",
                            kMaxSlant_deg));
    }

    void resolve_lightness() {
        const int given_count = int{card_.ground.has_value()} + int{card_.card_reflectance.has_value()} +
                                int{card_.reference.has_value()};
        if (given_count > 1) {
            diagnostics_.error("G008", card_.span, "the lightness of the card is given more than once",
                               "keep only one of ground, card_reflectance and [reference]");
            return;
        }
        const bool gloss = card_.card_surface == plan::Surface::gloss;
        prepared_.saunderson = gloss ? film::surface_at_normal({}) : film::kNoSurface;
        const std::optional<colour::Rgb> card = read_bare_card();
        if (card_.reference) {
            lightness_from_reference(card);
        } else if (card_.card_reflectance) {
            const auto patch_colour = colour::Reflectance::constant(*card_.card_reflectance);
            prepared_.ground =
                film::below_surface(patch_colour, prepared_.saunderson, film::Specular::excluded);
        } else {
            const Located<std::string> name = card_.ground.value_or(Located<std::string>{"white-primer", {}});
            const plan::Ground* ground = plan::find_ground("G008", name, library_, diagnostics_);
            if (ground) prepared_.ground = ground->inside;
        }
    }

    // The card where it must be bare.
    std::optional<colour::Rgb> read_bare_card() {
        if (!region_valid_) return std::nullopt;
        const PatchMean edge = mean_of_edge(prepared_.picture, prepared_.frame);
        const auto [darkest, lightest] = std::minmax({edge.linear.r, edge.linear.g, edge.linear.b});
        const SourceSpan& span = card_.region.span;
        if (edge.overexposed > kMaxOverexposed)
            diagnostics_.error("G007", span, "the bare card is overexposed at the edges of the region",
                               "scan or photograph it darker, so that the card stays just below full white");
        else if (lightest < kDarkestCard)
            diagnostics_.error(
                "G007", span, "there is no white card at the edges of the region",
                "use a region with white card around the spray, in a picture that is bright enough");
        else if (darkest < kDarkestCard)
            diagnostics_.error("G010", span, "the spray covers the edges of the region",
                               "use a larger region: there must be bare card along its edges");
        else
            return edge.linear;
        return std::nullopt;
    }

    void lightness_from_reference(const std::optional<colour::Rgb>& card) {
        const KnownPatch& known = *card_.reference;
        const Rectangle patch = rectangle(known.patch);
        const auto wrong = [&](std::string_view message) {
            diagnostics_.error("G009", known.span, std::string(message),
                               "patch = [left, top, width, height] of a grey or white, and L or reflectance");
        };
        if (known.L.has_value() == known.reflectance.has_value())
            return wrong("the lightness of the reference is missing or given twice");
        if (!patch.inside(prepared_.picture)) return wrong("the reference is not inside the picture");
        const PatchMean mean = mean_of(prepared_.picture, patch);
        const colour::Rgb& patch_colour = mean.linear;
        if (mean.overexposed > kMaxOverexposed) return wrong("the reference is overexposed in the picture");
        if (std::min({patch_colour.r, patch_colour.g, patch_colour.b}) < kDarkestPatch)
            return wrong("the reference is nearly black in the picture");
        if (!card) return;
        const double R =
            known.reflectance
                ? *known.reflectance
                : colour::to_xyz(colour::Lab{*known.L, 0, 0}, colour::XYZ{100, 100, 100}).Y / 100;
        const auto bounded = [&](double v) { return std::min(kMaxPictureReflectance, R * v); };
        const colour::Rgb light{bounded(card->r / patch_colour.r), bounded(card->g / patch_colour.g),
                                bounded(card->b / patch_colour.b)};
        prepared_.ground = film::below_surface(colour::recover_reflectance(light).reflectance,
                                               prepared_.saunderson, film::Specular::excluded);
    }

    const SprayPatternCard& card_;
    plan::Library& library_;
    const CardFiles& files_;
    Diagnostics& diagnostics_;
    PreparedPatternCard prepared_;
    bool region_valid_ = true;
};

}  // namespace

std::optional<PreparedPatternCard> prepare_pattern_card(const SprayPatternCard& card, plan::Library& library,
                                                        const CardFiles& files, Diagnostics& diagnostics) {
    return PatternCardPreparer(card, library, files, diagnostics).prepare();
}

}  // namespace fadewright::calibration
