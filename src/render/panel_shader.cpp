#include "fadewright/render/panel_shader.h"

#include "fadewright/base/contract.h"
#include "fadewright/film/multi_angle.h"
#include "fadewright/film/sparkle.h"
#include "fadewright/kernels/layer_stack.h"
#include "fadewright/render/dot_graininess.h"

#include <algorithm>
#include <cmath>

namespace fadewright::render {

void lay_coat(const plan::ResolvedCoat& coat, std::size_t band, std::span<const double> film_um,
              std::span<double> reflectance) {
    const double K = coat.mix.K[band], S = coat.mix.S[band];
    if (coat.laydown == plan::Laydown::dots) {
        kernels::lay_dots(film_um, coat.splat.value, K, S, reflectance);
    } else if (coat.laydown == plan::Laydown::automatic) {
        kernels::lay_coalescing_dots(film_um, coat.splat.value, K, S, reflectance);
    } else {
        kernels::lay_coat(film_um, K, S, reflectance);
    }
}

namespace {

constexpr std::size_t kBands = colour::kBandCount;

template <class Real>
std::span<Real> bands_at(std::span<Real> reflectance, std::size_t point) {
    return reflectance.subspan(point * kBands, kBands);
}

template <class Real>
kernels::fast::Coat<Real> fast_coat(const plan::ResolvedCoat& coat) {
    using kernels::fast::Laydown;
    const Laydown drying = coat.laydown == plan::Laydown::dots        ? Laydown::dots
                           : coat.laydown == plan::Laydown::automatic ? Laydown::automatic
                                                                      : Laydown::wet;
    return {drying, coat.splat.value, coat.mix.K.values, coat.mix.S.values};
}

kernels::fast::FlakeReflectionCoat to_fast(const film::FlakeReflectionCoat& coat) {
    return {coat.has_flakes,
            {coat.diffuse, coat.diffuse_extinction, coat.lamp, coat.lamp_extinction, coat.trapped,
             coat.reflectance_factor, coat.view_extinction}};
}

// A flatted clear on top spreads the surface reflection and the reflection of flakes.
double flatting(const plan::Job& job, std::size_t coats) {
    if (job.surface == plan::Surface::matt) return 1;
    return coats > 0 ? job.coats[coats - 1].mix.flatting.value : 0;
}

double haze(const plan::Job& job, std::size_t coats) {
    return coats > 0 ? job.coats[coats - 1].mix.haze.value : 0;
}

// Angular spread by a dead matt surface (our choice: 60 degree gloss near zero).
constexpr double kMattSpread_deg = 12;

// Half angle of the light in a room, a window or a tube a few metres away (our choice): the smaller, the
// harsher.
constexpr double kRoomLight_deg = 5;

// Linear interpolation in this table is within 1e-4 of the lamp function.
constexpr std::size_t kLampTableSize = 129;

film::FlakeReflectionLamp interpolate(const std::vector<film::FlakeReflectionLamp>& table, double cosine) {
    const double at = std::clamp(cosine, 0.0, 1.0) * static_cast<double>(table.size() - 1);
    const auto i = std::min(static_cast<std::size_t>(at), table.size() - 2);
    const double t = at - static_cast<double>(i);
    const auto lerp = [t](const film::BandValues& a, const film::BandValues& b) {
        film::BandValues out;
        for (std::size_t band = 0; band < out.size(); ++band) out[band] = a[band] + t * (b[band] - a[band]);
        return out;
    };
    const film::FlakeReflectionLamp &a = table[i], &b = table[i + 1];
    return {lerp(a.mirrored, b.mirrored), lerp(a.extinction, b.extinction), lerp(a.trapped, b.trapped)};
}

}  // namespace

PanelShader::PanelShader(const plan::Job& job, const colour::Illuminant& light, std::size_t coats)
    : PanelShader(job, light, coats, goniometer_viewing(job.view_angle)) {}

PanelShader::PanelShader(const plan::Job& job, const colour::Illuminant& light, std::size_t coats,
                         const Viewing& viewing, Precision precision)
    : job_(job),
      coats_(std::min(coats, job.coats.size())),
      precision_(precision),
      viewing_(viewing),
      weights_(colour::tristimulus_weights(light, job.observer)),
      preview_weights_(weights_.w),
      surface_(film::surface_at_normal({})),
      matt_share_(flatting(job, coats_)),
      haze_share_((1 - matt_share_) * haze(job, coats_)) {
    for (std::size_t c = 0; c < coats_; ++c) {
        if (precision == Precision::fast) fast_coats_.push_back(fast_coat<double>(job.coats[c]));
        if (precision == Precision::preview) preview_coats_.push_back(fast_coat<float>(job.coats[c]));
    }
    while (lowest_flake_coat_ < coats_ && !film::has_flakes(job.coats[lowest_flake_coat_].mix))
        ++lowest_flake_coat_;
    for (std::size_t c = lowest_flake_coat_; c < coats_; ++c) {
        const paint::MixedPaint& mix = job.coats[c].mix;
        reflection_paints_.push_back(film::flake_reflection_paint(mix.K, mix.S, mix.flakes));
    }
    if (viewing_.uses_slope)
        tabulate_lamps();
    else
        common_scene_ = flake_scene(lighting(viewing_, {}));
}

film::FlakeReflectionScene PanelShader::reflection_scene(const Lighting& point) const {
    const Degrees soft{std::hypot(viewing_.lamp_spread.value, matt_share_ * kMattSpread_deg)};
    return film::flake_reflection_scene(point.light_direction, point.eye_direction, {}, soft);
}

void PanelShader::tabulate_lamps() {
    for (const film::FlakeReflectionPaint& paint : reflection_paints_) {
        std::vector<film::FlakeReflectionLamp> row;
        for (std::size_t i = 0; i < kLampTableSize; ++i) {
            const double cosine = std::max(1e-3, static_cast<double>(i) / (kLampTableSize - 1));
            Lighting point;
            point.light_direction = {std::sqrt(std::max(0.0, 1 - cosine * cosine)), 0, cosine};
            row.push_back(film::flake_reflection_lamp(paint, reflection_scene(point)));
        }
        lamp_tables_.push_back(std::move(row));
    }
}

void PanelShader::reset_samples(std::span<const double> x_mm, std::span<const double> y_mm,
                                Samples& out) const {
    FW_EXPECTS(x_mm.size() == y_mm.size());
    const std::size_t count = x_mm.size();
    out.films.assign(coats_ * count, 0.0);
    out.grounds.assign(count, &job_.ground);
    for (const plan::ResolvedRegion& region : job_.regions)
        for (std::size_t i = 0; i < count; ++i)
            if (region.outline.inside(x_mm[i], y_mm[i])) out.grounds[i] = &region.ground;
    out.lightings.clear();
    if (!viewing_.uses_slope) {
        out.lightings.push_back(lighting(viewing_, {}));
        return;
    }
    for (std::size_t i = 0; i < count; ++i)
        out.lightings.push_back(lighting(viewing_, job_.panel.surface(x_mm[i], y_mm[i])));
}

PanelShader::Samples PanelShader::uncoated_samples(std::span<const double> x_mm,
                                                   std::span<const double> y_mm) const {
    Samples out;
    reset_samples(x_mm, y_mm, out);
    return out;
}

PanelShader::Samples PanelShader::sample(std::span<const double> x_mm, std::span<const double> y_mm) const {
    Samples out = uncoated_samples(x_mm, y_mm);
    for (std::size_t c = 0; c < coats_; ++c) add_film(c, x_mm, y_mm, out.film(c));
    return out;
}

void PanelShader::add_film(std::size_t coat, std::span<const double> x_mm, std::span<const double> y_mm,
                           std::span<double> film_um) const {
    job_.coats[coat].add_film_um(x_mm, y_mm, film_um);
}

void PanelShader::fill_substrate(const Samples& samples, std::span<double> reflectance) const {
    for (std::size_t i = 0; i < samples.count(); ++i)
        std::copy_n(samples.grounds[i]->values.begin(), kBands, bands_at(reflectance, i).begin());
}

void PanelShader::fill_substrate(const Samples& samples, std::span<float> reflectance) const {
    for (std::size_t i = 0; i < samples.count(); ++i)
        std::transform(samples.grounds[i]->values.begin(), samples.grounds[i]->values.end(),
                       bands_at(reflectance, i).begin(), [](double R) { return static_cast<float>(R); });
}

void PanelShader::lay_coat_reference(std::size_t coat, std::span<const double> film_um,
                                     std::span<double> reflectance) const {
    std::vector<double> of_band(film_um.size());
    for (std::size_t band = 0; band < kBands; ++band) {
        for (std::size_t i = 0; i < of_band.size(); ++i) of_band[i] = reflectance[i * kBands + band];
        lay_coat(job_.coats[coat], band, film_um, of_band);
        for (std::size_t i = 0; i < of_band.size(); ++i) reflectance[i * kBands + band] = of_band[i];
    }
}

void PanelShader::lay_coats(std::size_t first, std::size_t last, const Samples& samples,
                            std::span<double> reflectance) const {
    const std::size_t count = samples.count();
    for (std::size_t c = first; c < last; ++c) {
        const std::span<const double> film = std::span(samples.films).subspan(c * count, count);
        if (precision_ == Precision::fast)
            fast_coats_[c].lay(film, reflectance);
        else
            lay_coat_reference(c, film, reflectance);
    }
}

void PanelShader::lay_coats(std::size_t first, std::size_t last, const Samples& samples,
                            std::span<float> reflectance) const {
    FW_EXPECTS(precision_ == Precision::preview);
    const std::size_t count = samples.count();
    for (std::size_t c = first; c < last; ++c)
        preview_coats_[c].lay(std::span(samples.films).subspan(c * count, count), reflectance);
}

double PanelShader::apply_surface(double internal) const noexcept {
    const double without_specular = film::external_reflectance(surface_, internal, film::Specular::excluded);
    return matt_share_ > 0 ? without_specular + matt_share_ * surface_.k1 : without_specular;
}

double PanelShader::surface_reflection(const Lighting& point) const noexcept {
    const double sharp = 1 - matt_share_ - haze_share_;
    return sharp * point.lamp_reflection + haze_share_ * (point.haze + point.ambient * surface_.k1);
}

PanelShader::FlakeScene PanelShader::flake_scene(const Lighting& point) const {
    FlakeScene out{reflection_scene(point), {}, {}};
    out.coats.reserve(reflection_paints_.size());
    for (std::size_t c = 0; c < reflection_paints_.size(); ++c)
        out.coats.push_back(
            lamp_tables_.empty()
                ? film::flake_reflection_coat(reflection_paints_[c], out.reflection_scene)
                : film::flake_reflection_coat(reflection_paints_[c], out.reflection_scene,
                                              interpolate(lamp_tables_[c], out.reflection_scene.light.z)));
    if (precision_ == Precision::preview)
        for (const film::FlakeReflectionCoat& coat : out.coats) out.fast.push_back(to_fast(coat));
    return out;
}

const PanelShader::FlakeScene& PanelShader::flake_scene_at(const Lighting& point, FlakeScene& buffer) const {
    if (!viewing_.uses_slope) return common_scene_;
    buffer = flake_scene(point);
    return buffer;
}

void PanelShader::shade(const Samples& samples, std::span<double> reflectance) const {
    for (std::size_t i = 0; i < samples.count(); ++i) {
        const Lighting& point = samples.lighting_at(i);
        const double irradiance = point.ambient + point.beam, reflection = surface_reflection(point);
        for (double& R : bands_at(reflectance, i)) R = irradiance * apply_surface(R) + reflection;
    }
}

void PanelShader::shade_flakes(const Samples& samples, std::span<double> values) const {
    const std::size_t count = samples.count();
    FlakeScene buffer;
    for (std::size_t i = 0; i < count; ++i) {
        const Lighting& point = samples.lighting_at(i);
        const FlakeScene& scene = flake_scene_at(point, buffer);
        film::FlakeReflection sum;
        for (std::size_t c = coats_; c-- > lowest_flake_coat_;)
            sum.add(scene.coats[c - lowest_flake_coat_], Micrometres{samples.films[c * count + i]});
        const std::span<double> spectrum = bands_at(values, i);
        for (std::size_t band = 0; band < kBands; ++band) {
            double& R = spectrum[band];
            const double lamp =
                film::external_reflectance_with_flakes(surface_, sum, band, R) + matt_share_ * surface_.k1;
            const double even = point.ambient > 0 ? point.ambient * apply_surface(R) : 0;
            R = even + point.beam * lamp + surface_reflection(point);
        }
    }
}

colour::XYZ PanelShader::to_xyz(std::span<const double> spectrum) const noexcept {
    colour::XYZ sum{};
    for (std::size_t band = 0; band < kBands; ++band) {
        const auto& w = weights_.w[band];
        sum.X += w[0] * spectrum[band];
        sum.Y += w[1] * spectrum[band];
        sum.Z += w[2] * spectrum[band];
    }
    return sum;
}

void PanelShader::shade_flakes_fast(const Samples& samples, std::span<float> values) const {
    const std::size_t count = samples.count();
    const double transmission = (1 - surface_.k1) * (1 - surface_.k2);
    kernels::fast::FlakeReflection sum(kBands);
    FlakeScene buffer;
    for (std::size_t i = 0; i < count; ++i) {
        const Lighting& point = samples.lighting_at(i);
        const FlakeScene& scene = flake_scene_at(point, buffer);
        sum.clear();
        for (std::size_t c = coats_; c-- > lowest_flake_coat_;)
            sum.add(scene.fast[c - lowest_flake_coat_], samples.films[c * count + i]);
        const double spread = (point.ambient + point.beam) * matt_share_ * surface_.k1;
        sum.apply({point.ambient, point.beam, spread + surface_reflection(point), transmission, surface_.k2},
                  bands_at(values, i));
    }
}

void PanelShader::integrate(const Samples& samples, std::span<double> reflectance,
                            std::span<colour::XYZ> out) const {
    FW_EXPECTS(out.size() == samples.count() && reflectance.size() == kBands * out.size());
    if (has_flakes())
        shade_flakes(samples, reflectance);
    else
        shade(samples, reflectance);
    for (std::size_t i = 0; i < out.size(); ++i) out[i] = to_xyz(bands_at(reflectance, i));
}

// Without flakes the surface is the same for all bands except R / (1 - k2 R), which is summed in vectors.
void PanelShader::integrate(const Samples& samples, std::span<float> reflectance,
                            std::span<colour::XYZ> out) const {
    FW_EXPECTS(out.size() == samples.count() && reflectance.size() == kBands * out.size());
    std::vector<std::array<double, 3>> sums(out.size());
    if (has_flakes()) {
        shade_flakes_fast(samples, reflectance);
        preview_weights_.sum(0, reflectance, sums);
        for (std::size_t i = 0; i < out.size(); ++i) out[i] = {sums[i][0], sums[i][1], sums[i][2]};
        return;
    }
    preview_weights_.sum(static_cast<float>(surface_.k2), reflectance, sums);
    const double let_out = (1 - surface_.k1) * (1 - surface_.k2), spread = matt_share_ * surface_.k1;
    for (std::size_t i = 0; i < out.size(); ++i) {
        const Lighting& point = samples.lighting_at(i);
        const double irradiance = point.ambient + point.beam,
                     even = irradiance * spread + surface_reflection(point);
        const auto of = [&](std::size_t j, double white) {
            return irradiance * let_out * sums[i][j] + even * white;
        };
        out[i] = {of(0, weights_.white.X), of(1, weights_.white.Y), of(2, weights_.white.Z)};
    }
}

void PanelShader::sparkle_power(const Samples& samples, std::span<double> power) const {
    std::fill(power.begin(), power.end(), 0.0);
    if (!has_flakes()) return;
    const Degrees lamp{std::max(kRoomLight_deg, viewing_.lamp_spread.value)};
    FlakeScene buffer;
    std::vector<double> shares;  // of each kind of flakes, from the top down
    for (std::size_t i = 0; i < power.size(); ++i) {
        const Lighting& point = samples.lighting_at(i);
        const FlakeScene& scene = flake_scene_at(point, buffer);
        const film::FlakeGeometry& geometry = scene.reflection_scene.geometry;
        if (point.beam <= 0 || geometry.transmission_in <= 0 || geometry.transmission_out <= 0) continue;
        if (shares.empty() || viewing_.uses_slope) {
            shares.clear();
            for (std::size_t c = coats_; c-- > lowest_flake_coat_;)
                for (const paint::EffectPigment& flakes : job_.coats[c].mix.flakes)
                    shares.push_back(film::sparkling_share(flakes, scene.reflection_scene, lamp));
        }
        double above = 1;
        const double* share = shares.data();
        for (std::size_t c = coats_; c-- > lowest_flake_coat_;) {
            const film::FlakeReflectionCoat& coat = scene.coats[c - lowest_flake_coat_];
            const Micrometres film{samples.films[c * power.size() + i]};
            const double extinction = coat.view_extinction[colour::kGreenBand];
            const double transmittance = std::exp(-extinction * film.value);
            double inverse_power = 0;  // 1 / power adds up over the kinds: more flakes, less noise
            for (const paint::EffectPigment& flakes : job_.coats[c].mix.flakes) {
                const film::Sparkle sparkle = film::sparkle(flakes, film, *share++, extinction);
                if (sparkle.relative_power_mm2 > 0) inverse_power += 1 / sparkle.relative_power_mm2;
            }
            const double depth = extinction > 0 ? (1 - transmittance) / extinction : film.value;
            const double reflected = point.beam * above * coat.reflectance_factor[colour::kGreenBand] * depth;
            if (inverse_power > 0) power[i] += reflected * reflected / inverse_power;
            above *= transmittance;
        }
    }
}

void PanelShader::xyz(const Samples& samples, std::span<colour::XYZ> out) const {
    const auto integrate_as = [&](auto zero) {
        std::vector<decltype(zero)> reflectance(kBands * samples.count(), zero);
        fill_substrate(samples, reflectance);
        lay_coats(0, coats_, samples, reflectance);
        integrate(samples, reflectance, out);
    };
    if (precision_ == Precision::preview)
        integrate_as(0.0f);
    else
        integrate_as(0.0);
}

void PanelShader::xyz(std::span<const double> x_mm, std::span<const double> y_mm,
                      std::span<colour::XYZ> out) const {
    xyz(sample(x_mm, y_mm), out);
}

void PanelShader::sparkle_power_mm2(std::span<const double> x_mm, std::span<const double> y_mm,
                                    std::span<double> power) const {
    sparkle_power(sample(x_mm, y_mm), power);
}

colour::Reflectance PanelShader::reflectance(double x_mm, double y_mm) const {
    const Samples point = sample({&x_mm, 1}, {&y_mm, 1});
    colour::Reflectance spectrum;
    fill_substrate(point, spectrum.values);
    lay_coats(0, coats_, point, spectrum.values);
    if (has_flakes())
        shade_flakes(point, spectrum.values);
    else
        shade(point, spectrum.values);
    return spectrum;
}

}  // namespace fadewright::render
