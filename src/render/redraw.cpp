#include "fadewright/render/redraw.h"

#include "fadewright/base/parallel.h"
#include "fadewright/kernels/encode.h"
#include "kept_places.h"
#include "painter.h"

#include <algorithm>
#include <atomic>
#include <map>
#include <span>

namespace fadewright::render {
namespace {

// One job as it was shown. Its painter refers to the rest.
struct Shown {
    plan::Job job;
    colour::Light light;
    PreviewSettings settings;
    Painter painter;

    Shown(plan::Job the_job, colour::Light the_light, const colour::OutputProfile& profile,
          const PreviewSettings& the_settings)
        : job(std::move(the_job)),
          light(std::move(the_light)),
          settings(the_settings),
          painter(job, light, profile, settings) {}
    Shown(const Shown&) = delete;
    Shown& operator=(const Shown&) = delete;

    [[nodiscard]] std::span<const plan::ReadyCoat> coats() const {
        return std::span(job.coats).first(painter.seen().coats());
    }
};

bool same_masks(const std::vector<plan::ReadyMask>& a, const std::vector<plan::ReadyMask>& b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                      [](const plan::ReadyMask& p, const plan::ReadyMask& q) {
                          return p.softness == q.softness && p.mask == q.mask;
                      });
}

bool same_film(const plan::ReadyCoat& a, const plan::ReadyCoat& b) {
    return a.cover == b.cover && paint::dry_per_wet(a.mix) == paint::dry_per_wet(b.mix) && a.gun == b.gun &&
           a.passes == b.passes && same_masks(a.masks, b.masks);
}

bool same_paint(const plan::ReadyCoat& a, const plan::ReadyCoat& b) {
    return a.mix == b.mix && a.laydown == b.laydown && a.splat == b.splat;
}

// Coats are matched from below and from above by their films; what is left in the middle has changed.
CoatsBefore coats_before(std::span<const plan::ReadyCoat> old, std::span<const plan::ReadyCoat> now) {
    std::size_t low = 0, high = 0;
    const std::size_t both = std::min(old.size(), now.size());
    while (low < both && same_film(old[low], now[low])) ++low;
    while (low + high < both && same_film(old[old.size() - 1 - high], now[now.size() - 1 - high])) ++high;
    CoatsBefore before;
    for (std::size_t c = 0; c < now.size(); ++c) {
        CoatsBefore::Coat coat;
        if (c < low) coat.film = c;
        if (c >= now.size() - high) coat.film = c + old.size() - now.size();
        coat.same_paint = coat.film && same_paint(old[*coat.film], now[c]);
        before.coats.push_back(coat);
    }
    for (std::size_t c = low; c < old.size() - high; ++c) before.gone.push_back(c);
    while (before.unchanged < low && before.coats[before.unchanged].same_paint) ++before.unchanged;
    return before;
}

bool same_regions(const plan::Job& a, const plan::Job& b) {
    return std::equal(a.regions.begin(), a.regions.end(), b.regions.begin(), b.regions.end(),
                      [](const plan::ReadyRegion& p, const plan::ReadyRegion& q) {
                          return p.outline == q.outline && p.ground == q.ground;
                      });
}

bool same_frame(const Shown& a, const Shown& b) {
    return a.settings.longest_px == b.settings.longest_px && a.settings.margin == b.settings.margin &&
           a.job.panel == b.job.panel && a.job.ground == b.job.ground && same_regions(a.job, b.job);
}

bool same_direction(const Direction& a, const Direction& b) { return a.x == b.x && a.y == b.y && a.z == b.z; }

bool same_viewing(const Viewing& a, const Viewing& b) {
    return same_direction(a.light, b.light) && same_direction(a.eye, b.eye) && a.lamp == b.lamp &&
           a.soft == b.soft && a.shine == b.shine && a.by_form == b.by_form;
}

// How the last coat's skin shines.
bool same_skin(const Shown& a, const Shown& b) {
    if (a.coats().empty() || b.coats().empty()) return a.coats().empty() && b.coats().empty();
    const paint::MixedPaint &p = a.coats().back().mix, &q = b.coats().back().mix;
    return p.flatting == q.flatting && p.haze == q.haze;
}

std::vector<plan::ReadyMask> masks_of(const Shown& shown) {
    std::vector<plan::ReadyMask> masks;
    for (const plan::ReadyCoat& coat : shown.coats())
        masks.insert(masks.end(), coat.masks.begin(), coat.masks.end());
    return masks;
}

// What places look like if their films are the same, and how finely they are worked out.
bool same_look(const Shown& a, const Shown& b) {
    return a.settings.work == b.settings.work && a.settings.grain == b.settings.grain &&
           a.settings.seed == b.settings.seed && a.settings.exposure == b.settings.exposure &&
           same_viewing(viewing_of(a.job, a.settings), viewing_of(b.job, b.settings)) &&
           a.light.wavelengths_nm == b.light.wavelengths_nm && a.light.power == b.light.power &&
           a.light.lines == b.light.lines && a.job.observer == b.job.observer &&
           a.job.surface == b.job.surface && a.job.finest == b.job.finest && same_skin(a, b) &&
           a.painter.seen().sparkles() == b.painter.seen().sparkles() && same_masks(masks_of(a), masks_of(b));
}

struct Difference {
    CoatsBefore coats;
    bool everywhere = false;  // looks different even where the films are the same
};

// For blocks that keep no places: whether any pixel's film differs.
bool film_differs(const Shown& old, const Shown& now, const CoatsBefore& before, const Block& block) {
    const Frame& frame = now.painter.frame();
    const auto anywhere = [&](const plan::ReadyCoat& coat) {
        for (int y = 0; y < block.height; ++y)
            for (int x = 0; x < block.width; ++x)
                if (coat.film_um(frame.x_mm(block.x + x), frame.y_mm(block.y + y)) != 0) return true;
        return false;
    };
    for (std::size_t c = 0; c < before.coats.size(); ++c)
        if (!before.coats[c].same_paint && anywhere(now.coats()[c])) return true;
    return std::any_of(before.gone.begin(), before.gone.end(),
                       [&](std::size_t c) { return anywhere(old.coats()[c]); });
}

struct KeptBlock {
    KeptPlaces places;
    std::shared_ptr<const Shown> shown;  // what its pixels show; nothing yet
    PaintedCounts counts;
};

}  // namespace

struct Redraw::Kept {
    colour::OutputProfile profile;
    std::vector<KeptBlock> blocks;
    Preview preview;
    std::shared_ptr<const Shown> last;
    Effort effort;

    explicit Kept(colour::OutputProfile the_profile) : profile(std::move(the_profile)) {}

    void begin_anew(const Painter& painter) {
        blocks.clear();
        for (std::size_t i = 0; i < painter.blocks(); ++i)
            blocks.push_back({KeptPlaces(painter.block(i)), nullptr, {}});
        preview.picture = Picture(painter.frame().width, painter.frame().height, 3);
        preview.pixels_per_metre = 1000 / painter.frame().mm_per_px;
    }

    // Of every job that some block still shows.
    [[nodiscard]] std::map<const Shown*, Difference> differences(const Shown& now) const {
        std::map<const Shown*, Difference> found;
        for (const KeptBlock& block : blocks) {
            const Shown* old = block.shown.get();
            if (!old || found.count(old) > 0) continue;
            found[old] = {coats_before(old->coats(), now.coats()), !same_look(*old, now)};
        }
        return found;
    }

    // True if the block has to be painted.
    static bool brought_to(KeptBlock& block, const std::shared_ptr<const Shown>& now,
                           const std::map<const Shown*, Difference>& differences, const Block& where) {
        if (!block.shown) return true;
        const Difference& difference = differences.at(block.shown.get());
        if (difference.coats.all_same() && !difference.everywhere) return false;
        const bool off_panel = block.counts.panel_px == 0;
        if (off_panel && !difference.everywhere) return false;
        const bool differs =
            block.places.empty()
                ? difference.everywhere || film_differs(*block.shown, *now, difference.coats, where)
                : block.places.renew(now->painter.seen(), now->painter.frame(), difference.coats);
        return differs || difference.everywhere;
    }

    bool paint(const std::shared_ptr<const Shown>& now, const Watched& watched) {
        const std::map<const Shown*, Difference> differ = differences(*now);
        std::atomic<bool> stopped{false};
        std::atomic<std::size_t> painted{0}, done{0};
        const KeepRow keep = [&](int x, int y, const kernels::PlaneRow& row) {
            kernels::to_8_bits(row, x, y, {preview.picture.pixel(x, y), 3 * row[0].size()});
        };
        const auto bring = [&](std::size_t i, Painter::Workings& at) {
            KeptBlock& block = blocks[i];
            const Block where = now->painter.block(i);
            if (brought_to(block, now, differ, where)) {
                block.counts = now->painter.paint(where, keep, at, &block.places);
                ++painted;
            }
            block.shown = now;
            watched.tell(static_cast<double>(++done) / static_cast<double>(blocks.size()));
        };
        for_each_turn(blocks.size(), kBlocksInTurn, [&](std::size_t first, std::size_t end) {
            Painter::Workings at;
            for (std::size_t i = first; i < end && !stopped; ++i)
                if (watched.over())
                    stopped = true;
                else
                    bring(i, at);
        });
        effort = {blocks.size(), painted};
        return !stopped;
    }
};

Redraw::Redraw(colour::OutputProfile profile) : kept_(std::make_unique<Kept>(std::move(profile))) {}
Redraw::~Redraw() = default;
Redraw::Redraw(Redraw&&) noexcept = default;
Redraw& Redraw::operator=(Redraw&&) noexcept = default;

const Preview* Redraw::show(plan::Job job, const colour::Light& light, const PreviewSettings& settings,
                            const Stop& stop) {
    return show(std::move(job), light, settings, Watched{{}, stop});
}

const Preview* Redraw::show(plan::Job job, const colour::Light& light, const PreviewSettings& settings,
                            const Watched& watched) {
    const auto now = std::make_shared<const Shown>(std::move(job), light, kept_->profile, settings);
    if (!kept_->last || !same_frame(*kept_->last, *now)) kept_->begin_anew(now->painter);
    kept_->last = now;
    if (!kept_->paint(now, watched)) return nullptr;
    Preview& preview = kept_->preview;
    preview.places = preview.panel_px = preview.outside_px = 0;
    for (const KeptBlock& block : kept_->blocks) {
        preview.places += block.counts.places;
        preview.panel_px += block.counts.panel_px;
        preview.outside_px += block.counts.outside_px;
    }
    return &preview;
}

Redraw::Effort Redraw::effort() const { return kept_->effort; }

}  // namespace fadewright::render
