#include "fadewright/render/spectra.h"

#include "fadewright/base/contract.h"
#include "fadewright/film/angled.h"
#include "fadewright/film/sparkle.h"
#include "fadewright/kernels/layer_stack.h"
#include "fadewright/render/dot_grain.h"

#include <algorithm>
#include <cmath>

namespace fadewright::render {

void lay(const plan::ReadyCoat& coat, std::size_t band, std::span<const double> film_um,
         std::span<double> reflectance) {
    const double K = coat.mix.K[band], S = coat.mix.S[band];
    if (coat.laydown == plan::Laydown::fog) {
        kernels::lay_fog(film_um, coat.splat.value, K, S, reflectance);
    } else if (coat.laydown == plan::Laydown::as_it_lands) {
        kernels::lay_as_it_lands(film_um, coat.splat.value, K, S, reflectance);
    } else {
        kernels::lay_coat(film_um, K, S, reflectance);
    }
}

namespace {

constexpr std::size_t kBands = colour::kBandCount;

template <class Real>
std::span<Real> of_place(std::span<Real> reflectance, std::size_t place) {
    return reflectance.subspan(place * kBands, kBands);
}

template <class Real>
kernels::quick::Coat<Real> quick_coat(const plan::ReadyCoat& coat) {
    using kernels::quick::Drying;
    const Drying drying = coat.laydown == plan::Laydown::fog           ? Drying::fog
                          : coat.laydown == plan::Laydown::as_it_lands ? Drying::as_it_lands
                                                                       : Drying::film;
    return {drying, coat.splat.value, coat.mix.K.at, coat.mix.S.at};
}

kernels::quick::GlintCoat quick_glint(const film::GlintCoat& coat) {
    return {
        coat.has_flakes,
        {coat.diffuse, coat.lost_diffuse, coat.lamp, coat.lost_lamp, coat.turned, coat.seen, coat.lost_seen}};
}

// A flatted clear on top spreads the shine, and the light that flakes throw.
double flatting_of(const plan::Job& job, std::size_t coats) {
    if (job.surface == plan::Surface::matt) return 1;
    return coats > 0 ? job.coats[coats - 1].mix.flatting.value : 0;
}

double haze_of(const plan::Job& job, std::size_t coats) {
    return coats > 0 ? job.coats[coats - 1].mix.haze.value : 0;
}

// Dead matt surfaces turn beams by so much (our choice: 60 degree gloss near zero).
constexpr double kMattSpread_deg = 12;

// Half angle of what lights a room, a window or a tube from some metres (our choice): the smaller, the harsher.
constexpr double kRoomLight_deg = 5;

// Straight between its rows the table is within 1e-4 of what glint_lamp() says.
constexpr std::size_t kLampTable = 129;

film::GlintLamp between(const std::vector<film::GlintLamp>& table, double cosine) {
    const double at = std::clamp(cosine, 0.0, 1.0) * static_cast<double>(table.size() - 1);
    const auto i = std::min(static_cast<std::size_t>(at), table.size() - 2);
    const double t = at - static_cast<double>(i);
    const auto mixed = [t](const film::Bands& a, const film::Bands& b) {
        film::Bands out;
        for (std::size_t band = 0; band < out.size(); ++band) out[band] = a[band] + t * (b[band] - a[band]);
        return out;
    };
    const film::GlintLamp &a = table[i], &b = table[i + 1];
    return {mixed(a.mirrored, b.mirrored), mixed(a.lost, b.lost), mixed(a.turned, b.turned)};
}

}  // namespace

SeenJob::SeenJob(const plan::Job& job, const colour::Light& light, std::size_t coats)
    : SeenJob(job, light, coats, instrument(job.view_angle)) {}

SeenJob::SeenJob(const plan::Job& job, const colour::Light& light, std::size_t coats, const Viewing& viewing,
                 Loops loops)
    : job_(job),
      coats_(std::min(coats, job.coats.size())),
      loops_(loops),
      viewing_(viewing),
      weights_(colour::weights(light, job.observer)),
      picture_weights_(weights_.w),
      skin_(film::skin_at_normal({})),
      spread_shine_(flatting_of(job, coats_)),
      hazy_shine_((1 - spread_shine_) * haze_of(job, coats_)) {
    for (std::size_t c = 0; c < coats_; ++c) {
        if (loops == Loops::quick) quick_.push_back(quick_coat<double>(job.coats[c]));
        if (loops == Loops::for_pictures) for_pictures_.push_back(quick_coat<float>(job.coats[c]));
    }
    while (lowest_flakes_ < coats_ && !film::has_flakes(job.coats[lowest_flakes_].mix)) ++lowest_flakes_;
    for (std::size_t c = lowest_flakes_; c < coats_; ++c) {
        const paint::MixedPaint& mix = job.coats[c].mix;
        glint_paints_.push_back(film::glint_paint(mix.K, mix.S, mix.flakes));
    }
    if (viewing_.by_form)
        tabulate_lamps();
    else
        for_all_ = facing(lighting(viewing_, {}));
}

film::GlintScene SeenJob::scene_of(const Lighting& place) const {
    const Degrees soft{std::hypot(viewing_.lamp.value, spread_shine_ * kMattSpread_deg)};
    return film::glint_scene(place.light, place.eye, {}, soft);
}

void SeenJob::tabulate_lamps() {
    for (const film::GlintPaint& paint : glint_paints_) {
        std::vector<film::GlintLamp> row;
        for (std::size_t i = 0; i < kLampTable; ++i) {
            const double cosine = std::max(1e-3, static_cast<double>(i) / (kLampTable - 1));
            Lighting place;
            place.light = {std::sqrt(std::max(0.0, 1 - cosine * cosine)), 0, cosine};
            row.push_back(film::glint_lamp(paint, scene_of(place)));
        }
        lamps_.push_back(std::move(row));
    }
}

void SeenJob::unlay(std::span<const double> x_mm, std::span<const double> y_mm, Laid& out) const {
    FW_EXPECTS(x_mm.size() == y_mm.size());
    const std::size_t count = x_mm.size();
    out.films.assign(coats_ * count, 0.0);
    out.grounds.assign(count, &job_.ground);
    for (const plan::ReadyRegion& region : job_.regions)
        for (std::size_t i = 0; i < count; ++i)
            if (region.outline.inside(x_mm[i], y_mm[i])) out.grounds[i] = &region.ground;
    out.lights.clear();
    if (!viewing_.by_form) {
        out.lights.push_back(lighting(viewing_, {}));
        return;
    }
    for (std::size_t i = 0; i < count; ++i)
        out.lights.push_back(lighting(viewing_, job_.panel.surface(x_mm[i], y_mm[i])));
}

SeenJob::Laid SeenJob::unlaid(std::span<const double> x_mm, std::span<const double> y_mm) const {
    Laid out;
    unlay(x_mm, y_mm, out);
    return out;
}

SeenJob::Laid SeenJob::laid(std::span<const double> x_mm, std::span<const double> y_mm) const {
    Laid out = unlaid(x_mm, y_mm);
    for (std::size_t c = 0; c < coats_; ++c) add_film(c, x_mm, y_mm, out.film(c));
    return out;
}

void SeenJob::add_film(std::size_t coat, std::span<const double> x_mm, std::span<const double> y_mm,
                       std::span<double> film_um) const {
    job_.coats[coat].add_film_um(x_mm, y_mm, film_um);
}

void SeenJob::bare(const Laid& laid, std::span<double> reflectance) const {
    for (std::size_t i = 0; i < laid.count(); ++i)
        std::copy_n(laid.grounds[i]->at.begin(), kBands, of_place(reflectance, i).begin());
}

void SeenJob::bare(const Laid& laid, std::span<float> reflectance) const {
    for (std::size_t i = 0; i < laid.count(); ++i)
        std::transform(laid.grounds[i]->at.begin(), laid.grounds[i]->at.end(),
                       of_place(reflectance, i).begin(), [](double R) { return static_cast<float>(R); });
}

void SeenJob::lay_plainly(std::size_t coat, std::span<const double> film_um,
                          std::span<double> reflectance) const {
    std::vector<double> of_band(film_um.size());
    for (std::size_t band = 0; band < kBands; ++band) {
        for (std::size_t i = 0; i < of_band.size(); ++i) of_band[i] = reflectance[i * kBands + band];
        lay(job_.coats[coat], band, film_um, of_band);
        for (std::size_t i = 0; i < of_band.size(); ++i) reflectance[i * kBands + band] = of_band[i];
    }
}

void SeenJob::lay_coats(std::size_t first, std::size_t last, const Laid& laid,
                        std::span<double> reflectance) const {
    const std::size_t count = laid.count();
    for (std::size_t c = first; c < last; ++c) {
        const std::span<const double> film = std::span(laid.films).subspan(c * count, count);
        if (loops_ == Loops::quick)
            quick_[c].lay(film, reflectance);
        else
            lay_plainly(c, film, reflectance);
    }
}

void SeenJob::lay_coats(std::size_t first, std::size_t last, const Laid& laid,
                        std::span<float> reflectance) const {
    FW_EXPECTS(loops_ == Loops::for_pictures);
    const std::size_t count = laid.count();
    for (std::size_t c = first; c < last; ++c)
        for_pictures_[c].lay(std::span(laid.films).subspan(c * count, count), reflectance);
}

double SeenJob::through_skin(double inside) const noexcept {
    const double looked_past = film::measured(skin_, inside, film::Specular::excluded);
    return spread_shine_ > 0 ? looked_past + spread_shine_ * skin_.k1 : looked_past;
}

double SeenJob::shine_of(const Lighting& place) const noexcept {
    const double sharp = 1 - spread_shine_ - hazy_shine_;
    return sharp * place.shine + hazy_shine_ * (place.haze + place.ambient * skin_.k1);
}

SeenJob::Facing SeenJob::facing(const Lighting& place) const {
    Facing out{scene_of(place), {}, {}};
    out.coats.reserve(glint_paints_.size());
    for (std::size_t c = 0; c < glint_paints_.size(); ++c)
        out.coats.push_back(lamps_.empty() ? film::glint_coat(glint_paints_[c], out.scene)
                                           : film::glint_coat(glint_paints_[c], out.scene,
                                                              between(lamps_[c], out.scene.light.z)));
    if (loops_ == Loops::for_pictures)
        for (const film::GlintCoat& coat : out.coats) out.quick.push_back(quick_glint(coat));
    return out;
}

const SeenJob::Facing& SeenJob::facing_at(const Lighting& place, Facing& own) const {
    if (!viewing_.by_form) return for_all_;
    own = facing(place);
    return own;
}

void SeenJob::light_up(const Laid& laid, std::span<double> reflectance) const {
    for (std::size_t i = 0; i < laid.count(); ++i) {
        const Lighting& place = laid.light(i);
        const double lit = place.ambient + place.beam, shine = shine_of(place);
        for (double& R : of_place(reflectance, i)) R = lit * through_skin(R) + shine;
    }
}

void SeenJob::light_flakes(const Laid& laid, std::span<double> values) const {
    const std::size_t count = laid.count();
    Facing own;
    for (std::size_t i = 0; i < count; ++i) {
        const Lighting& place = laid.light(i);
        const Facing& facing = facing_at(place, own);
        film::GlintSum sum;
        for (std::size_t c = coats_; c-- > lowest_flakes_;)
            sum.add(facing.coats[c - lowest_flakes_], Micrometres{laid.films[c * count + i]});
        const std::span<double> seen = of_place(values, i);
        for (std::size_t band = 0; band < kBands; ++band) {
            double& R = seen[band];
            const double lamp = film::seen_with_glint(skin_, sum, band, R) + spread_shine_ * skin_.k1;
            const double even = place.ambient > 0 ? place.ambient * through_skin(R) : 0;
            R = even + place.beam * lamp + shine_of(place);
        }
    }
}

colour::XYZ SeenJob::weighed(std::span<const double> seen) const noexcept {
    colour::XYZ sum{};
    for (std::size_t band = 0; band < kBands; ++band) {
        const auto& w = weights_.w[band];
        sum.X += w[0] * seen[band];
        sum.Y += w[1] * seen[band];
        sum.Z += w[2] * seen[band];
    }
    return sum;
}

void SeenJob::light_flakes_quickly(const Laid& laid, std::span<float> values) const {
    const std::size_t count = laid.count();
    const double let_through = (1 - skin_.k1) * (1 - skin_.k2);
    kernels::quick::GlintSum sum(kBands);
    Facing own;
    for (std::size_t i = 0; i < count; ++i) {
        const Lighting& place = laid.light(i);
        const Facing& facing = facing_at(place, own);
        sum.clear();
        for (std::size_t c = coats_; c-- > lowest_flakes_;)
            sum.add(facing.quick[c - lowest_flakes_], laid.films[c * count + i]);
        const double spread = (place.ambient + place.beam) * spread_shine_ * skin_.k1;
        sum.see({place.ambient, place.beam, spread + shine_of(place), let_through, skin_.k2},
                of_place(values, i));
    }
}

void SeenJob::see(const Laid& laid, std::span<double> reflectance, std::span<colour::XYZ> out) const {
    FW_EXPECTS(out.size() == laid.count() && reflectance.size() == kBands * out.size());
    if (sparkles())
        light_flakes(laid, reflectance);
    else
        light_up(laid, reflectance);
    for (std::size_t i = 0; i < out.size(); ++i) out[i] = weighed(of_place(reflectance, i));
}

// Without flakes what the skin does is the same for all bands but for its R / (1 - k2 R): that is summed in vectors.
void SeenJob::see(const Laid& laid, std::span<float> reflectance, std::span<colour::XYZ> out) const {
    FW_EXPECTS(out.size() == laid.count() && reflectance.size() == kBands * out.size());
    std::vector<std::array<double, 3>> sums(out.size());
    if (sparkles()) {
        light_flakes_quickly(laid, reflectance);
        picture_weights_.sum(0, reflectance, sums);
        for (std::size_t i = 0; i < out.size(); ++i) out[i] = {sums[i][0], sums[i][1], sums[i][2]};
        return;
    }
    picture_weights_.sum(static_cast<float>(skin_.k2), reflectance, sums);
    const double let_out = (1 - skin_.k1) * (1 - skin_.k2), spread = spread_shine_ * skin_.k1;
    for (std::size_t i = 0; i < out.size(); ++i) {
        const Lighting& place = laid.light(i);
        const double lit = place.ambient + place.beam, even = lit * spread + shine_of(place);
        const auto of = [&](std::size_t j, double white) {
            return lit * let_out * sums[i][j] + even * white;
        };
        out[i] = {of(0, weights_.white.X), of(1, weights_.white.Y), of(2, weights_.white.Z)};
    }
}

void SeenJob::sparkle(const Laid& laid, std::span<double> power) const {
    std::fill(power.begin(), power.end(), 0.0);
    if (!sparkles()) return;
    const Degrees lamp{std::max(kRoomLight_deg, viewing_.lamp.value)};
    Facing own;
    std::vector<double> shares;  // of each kind of flakes, from the top down
    for (std::size_t i = 0; i < power.size(); ++i) {
        const Lighting& place = laid.light(i);
        const Facing& facing = facing_at(place, own);
        const film::FlakeGeometry& geometry = facing.scene.geometry;
        if (place.beam <= 0 || geometry.let_in <= 0 || geometry.let_out <= 0) continue;
        if (shares.empty() || viewing_.by_form) {
            shares.clear();
            for (std::size_t c = coats_; c-- > lowest_flakes_;)
                for (const paint::Flakes& flakes : job_.coats[c].mix.flakes)
                    shares.push_back(film::glinting_share(flakes, facing.scene, lamp));
        }
        double above = 1;
        const double* share = shares.data();
        for (std::size_t c = coats_; c-- > lowest_flakes_;) {
            const film::GlintCoat& coat = facing.coats[c - lowest_flakes_];
            const Micrometres film{laid.films[c * power.size() + i]};
            const double lost = coat.lost_seen[kGrainBand];
            const double left = std::exp(-lost * film.value);
            double flashing = 0;  // 1 / power of each kind adds up: more flakes, less noise
            for (const paint::Flakes& flakes : job_.coats[c].mix.flakes) {
                const film::Sparkle found = film::sparkle(flakes, film, *share++, lost);
                if (found.relative_power_mm2 > 0) flashing += 1 / found.relative_power_mm2;
            }
            const double depth = lost > 0 ? (1 - left) / lost : film.value;
            const double glint = place.beam * above * coat.seen[kGrainBand] * depth;
            if (flashing > 0) power[i] += glint * glint / flashing;
            above *= left;
        }
    }
}

void SeenJob::xyz(const Laid& laid, std::span<colour::XYZ> out) const {
    const auto see_in = [&](auto zero) {
        std::vector<decltype(zero)> reflectance(kBands * laid.count(), zero);
        bare(laid, reflectance);
        lay_coats(0, coats_, laid, reflectance);
        see(laid, reflectance, out);
    };
    if (loops_ == Loops::for_pictures)
        see_in(0.0f);
    else
        see_in(0.0);
}

void SeenJob::xyz(std::span<const double> x_mm, std::span<const double> y_mm,
                  std::span<colour::XYZ> out) const {
    xyz(laid(x_mm, y_mm), out);
}

void SeenJob::sparkle_power_mm2(std::span<const double> x_mm, std::span<const double> y_mm,
                                std::span<double> power) const {
    sparkle(laid(x_mm, y_mm), power);
}

colour::Reflectance SeenJob::reflectance(double x_mm, double y_mm) const {
    const Laid place = laid({&x_mm, 1}, {&y_mm, 1});
    colour::Reflectance seen;
    bare(place, seen.at);
    lay_coats(0, coats_, place, seen.at);
    if (sparkles())
        light_flakes(place, seen.at);
    else
        light_up(place, seen.at);
    return seen;
}

}  // namespace fadewright::render
