#include "fadewright/colour/profile.h"

#include "fadewright/base/contract.h"
#include "fadewright/colour/gamut.h"
#include "fadewright/colour/srgb.h"
#include "fadewright/kernels/srgb_dither.h"
#include "matrix3.h"

#include <lcms2.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace fadewright::colour {
namespace {

struct CloseProfile {
    void operator()(void* profile) const { cmsCloseProfile(profile); }
};
struct DeleteTransform {
    void operator()(void* transform) const { cmsDeleteTransform(transform); }
};
using Profile = std::unique_ptr<void, CloseProfile>;
using Transform = std::unique_ptr<void, DeleteTransform>;

// Sharpened cone responses. Source: [icc1] annex E.
constexpr Matrix kBradford{
    {Vector{0.8951, 0.2664, -0.1614}, Vector{-0.7502, 1.7135, 0.0367}, Vector{0.0389, -0.0685, 1.0296}}};
constexpr Matrix kFromBradford = inverse(kBradford);

Matrix adaptation_matrix(const XYZ& from, const XYZ& to) noexcept {
    const Vector a = kBradford * Vector{from.X / from.Y, 1, from.Z / from.Y};
    const Vector b = kBradford * Vector{to.X / to.Y, 1, to.Z / to.Y};
    return kFromBradford * diagonal({b[0] / a[0], b[1] / a[1], b[2] / a[2]}) * kBradford;
}

XYZ apply(const Matrix& m, const XYZ& v) noexcept {
    const Vector out = m * Vector{v.X, v.Y, v.Z};
    return {out[0], out[1], out[2]};
}

// Round-trip error up to which a colour counts as inside the gamut: far below the visible threshold.
constexpr double kGamutTolerance_dE = 0.1;

XYZ d50_white() { return {100 * cmsD50_XYZ()->X, 100 * cmsD50_XYZ()->Y, 100 * cmsD50_XYZ()->Z}; }

// Little CMS writes the time of creation; it is set to the sRGB standard's year so that the same plan gives
// the same file, and the profile's own identifier is removed for the same reason.
std::string serialise_profile(const Profile& profile) {
    cmsUInt32Number size = 0;
    cmsSaveProfileToMem(profile.get(), nullptr, &size);
    std::string bytes(size, '\0');
    cmsSaveProfileToMem(profile.get(), bytes.data(), &size);
    // Header bytes 24 to 35: date and time as six big-endian 16-bit numbers; 84 to 99: identifier.
    constexpr std::array<unsigned char, 12> kFixedDate{0x07, 0xCF, 0, 10, 0, 1, 0, 0, 0, 0, 0, 0};
    std::copy(kFixedDate.begin(), kFixedDate.end(), bytes.begin() + 24);
    std::fill(bytes.begin() + 84, bytes.begin() + 100, '\0');
    return bytes;
}

std::string srgb_icc() { return serialise_profile(Profile(cmsCreate_sRGBProfile())); }

// Primaries of SMPTE RP 431-2, white D65, the curve of sRGB (CSS Color Module Level 4, "display-p3").
std::string display_p3_icc() {
    const cmsCIExyY white{0.3127, 0.3290, 1};
    const cmsCIExyYTRIPLE primaries{{0.680, 0.320, 1}, {0.265, 0.690, 1}, {0.150, 0.060, 1}};
    const std::array<cmsFloat64Number, 5> curve{2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045};
    cmsToneCurve* encoded = cmsBuildParametricToneCurve(nullptr, 4, curve.data());
    std::array<cmsToneCurve*, 3> curves{encoded, encoded, encoded};
    std::string bytes = serialise_profile(Profile(cmsCreateRGBProfile(&white, &primaries, curves.data())));
    cmsFreeToneCurve(encoded);
    return bytes;
}

// Linear sRGB to XYZ relative to its white.
kernels::RgbToXyz linear_srgb_to_xyz() {
    const XYZ& white = d65_white();
    kernels::RgbToXyz out{};
    const Rgb units[] = {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}};
    for (std::size_t k = 0; k < 3; ++k) {
        const XYZ v = from_linear_srgb(units[k], white);
        out[0][k] = static_cast<float>(v.X / white.X);
        out[1][k] = static_cast<float>(v.Y / white.Y);
        out[2][k] = static_cast<float>(v.Z / white.Z);
    }
    return out;
}

void encode(DeviceRgb& device) {
    std::array<float, 3> values{device.r, device.g, device.b};
    kernels::encode_srgb(values);
    device = {values[0], values[1], values[2], device.out_of_gamut};
}

void decode(DeviceRgb& device) {
    const auto to_linear_value = [](float v) { return static_cast<float>(linear_from_srgb(v)); };
    device = {to_linear_value(device.r), to_linear_value(device.g), to_linear_value(device.b),
              device.out_of_gamut};
}

}  // namespace

struct OutputProfile::Impl {
    std::string name;
    std::string bytes;
    Transform from_pcs;  // null for the built-in sRGB
    Transform to_pcs;
    double max_round_trip_dE = kGamutTolerance_dE;  // a colour with a larger round-trip error did not fit

    // Nearest values for a colour of the connection space (D50, Y = 100).
    [[nodiscard]] Rgb values_of(const XYZ& pcs) const {
        const cmsCIEXYZ in{pcs.X / 100, pcs.Y / 100, pcs.Z / 100};
        std::array<double, 3> out{};
        cmsDoTransform(from_pcs.get(), &in, out.data(), 1);
        for (double& v : out) v = std::clamp(v, 0.0, 1.0);
        return {out[0], out[1], out[2]};
    }
    [[nodiscard]] XYZ pcs_of(const Rgb& values) const {
        const std::array<double, 3> in{values.r, values.g, values.b};
        cmsCIEXYZ out;
        cmsDoTransform(to_pcs.get(), in.data(), &out, 1);
        return {100 * out.X, 100 * out.Y, 100 * out.Z};
    }
    [[nodiscard]] double round_trip_error_dE(const XYZ& pcs, const Rgb& values) const {
        return delta_e_76(to_lab(pcs, d50_white()), to_lab(pcs_of(values), d50_white()));
    }
    // The largest round-trip error of the profile's own colours is the accuracy of its tables.
    [[nodiscard]] double measure_round_trip_dE() const {
        constexpr int kSteps = 8;
        double max_error = 0;
        for (int r = 0; r <= kSteps; ++r)
            for (int g = 0; g <= kSteps; ++g)
                for (int b = 0; b <= kSteps; ++b) {
                    const XYZ pcs = pcs_of({r / double{kSteps}, g / double{kSteps}, b / double{kSteps}});
                    max_error = std::max(max_error, round_trip_error_dE(pcs, values_of(pcs)));
                }
        return max_error;
    }
};

OutputProfile::OutputProfile(std::unique_ptr<Impl> impl) : impl_(std::move(impl)) {}
OutputProfile::OutputProfile(OutputProfile&&) noexcept = default;
OutputProfile& OutputProfile::operator=(OutputProfile&&) noexcept = default;
OutputProfile::~OutputProfile() = default;

const std::string& OutputProfile::name() const noexcept { return impl_->name; }
const std::string& OutputProfile::icc_bytes() const noexcept { return impl_->bytes; }

OutputProfile OutputProfile::srgb() {
    auto impl = std::make_unique<Impl>();
    impl->name = "sRGB";
    impl->bytes = srgb_icc();
    return OutputProfile(std::move(impl));
}

OutputProfile OutputProfile::display_p3() { return from_icc(display_p3_icc(), "display P3").value(); }

Result<OutputProfile> OutputProfile::from_icc(std::string bytes, const std::string& name) {
    const Profile profile(cmsOpenProfileFromMem(bytes.data(), static_cast<cmsUInt32Number>(bytes.size())));
    if (!profile) return Error{name + " is not an ICC profile"};
    if (cmsGetColorSpace(profile.get()) != cmsSigRgbData)
        return Error{name + " is not an RGB profile; pictures are written in RGB"};
    if (cmsGetDeviceClass(profile.get()) == cmsSigLinkClass)
        return Error{name + " is a device link; give the profile of one screen or printer"};
    const Profile xyz(cmsCreateXYZProfile());
    auto impl = std::make_unique<Impl>();
    impl->name = name;
    impl->bytes = std::move(bytes);
    constexpr cmsUInt32Number kFlags = cmsFLAGS_NOOPTIMIZE | cmsFLAGS_NOCACHE;
    impl->from_pcs.reset(cmsCreateTransform(xyz.get(), TYPE_XYZ_DBL, profile.get(), TYPE_RGB_DBL,
                                            INTENT_RELATIVE_COLORIMETRIC, kFlags));
    impl->to_pcs.reset(cmsCreateTransform(profile.get(), TYPE_RGB_DBL, xyz.get(), TYPE_XYZ_DBL,
                                          INTENT_RELATIVE_COLORIMETRIC, kFlags));
    if (!impl->from_pcs || !impl->to_pcs)
        return Error{name +
                     " has no transform from colours to values; give the profile of a screen or printer"};
    impl->max_round_trip_dE += impl->measure_round_trip_dE();
    return OutputProfile(std::move(impl));
}

namespace {

DeviceRgb make_device_rgb(const Rgb& values, bool outside) {
    return {static_cast<float>(values.r), static_cast<float>(values.g), static_cast<float>(values.b),
            outside};
}

void to_linear_srgb_all(std::span<const XYZ> colours, const Matrix& to_d65, std::span<DeviceRgb> out) {
    // Columns of XYZ (D65) -> linear sRGB, calculated once per call.
    const auto column = [](const XYZ& unit) {
        const Rgb c = to_linear_srgb(unit, d65_white());
        return Vector{c.r, c.g, c.b};
    };
    const Vector x = column({1, 0, 0}), y = column({0, 1, 0}), z = column({0, 0, 1});
    const auto on_screen = [&](const XYZ& v) {
        const Rgb linear{x[0] * v.X + y[0] * v.Y + z[0] * v.Z, x[1] * v.X + y[1] * v.Y + z[1] * v.Z,
                         x[2] * v.X + y[2] * v.Y + z[2] * v.Z};
        return GamutQuery{linear, is_in_unit_cube(linear)};
    };
    for (std::size_t i = 0; i < colours.size(); ++i) {
        const auto [linear, outside] = map_into_gamut(apply(to_d65, colours[i]), on_screen);
        out[i] = make_device_rgb(linear, outside);
    }
}

}  // namespace

void OutputProfile::to_device(std::span<const XYZ> colours, const XYZ& white,
                              std::span<DeviceRgb> out) const {
    FW_EXPECTS(colours.size() == out.size());
    if (!impl_->from_pcs) {
        to_linear(colours, white, out);
        for (DeviceRgb& device : out) encode(device);
        return;
    }
    const Matrix to_d65 = adaptation_matrix(white, d65_white());
    const Matrix to_d50 = adaptation_matrix(d65_white(), d50_white());
    const auto on_device = [&](const XYZ& v) {
        const XYZ pcs = apply(to_d50, v);
        const Rgb values = impl_->values_of(pcs);
        return GamutQuery{values, impl_->round_trip_error_dE(pcs, values) <= impl_->max_round_trip_dE};
    };
    for (std::size_t i = 0; i < colours.size(); ++i) {
        const auto [values, outside] = map_into_gamut(apply(to_d65, colours[i]), on_device);
        out[i] = make_device_rgb(values, outside);
    }
}

void OutputProfile::to_linear(std::span<const XYZ> colours, const XYZ& white,
                              std::span<DeviceRgb> out) const {
    FW_EXPECTS(colours.size() == out.size());
    if (!impl_->from_pcs) return to_linear_srgb_all(colours, adaptation_matrix(white, d65_white()), out);
    to_device(colours, white, out);
    for (DeviceRgb& device : out) decode(device);
}

Lab OutputProfile::lab_of(const DeviceRgb& device) const {
    const XYZ& white = d65_white();
    if (impl_->to_pcs) {
        const XYZ pcs = impl_->pcs_of({device.r, device.g, device.b});
        return to_lab(adapt_to_white(pcs, d50_white(), white), white);
    }
    DeviceRgb to_linear_value = device;
    decode(to_linear_value);
    return to_lab(from_linear_srgb({to_linear_value.r, to_linear_value.g, to_linear_value.b}, white), white);
}

kernels::LabPlanes OutputProfile::linear_to_lab(std::span<const float> r, std::span<const float> g,
                                                std::span<const float> b) const {
    FW_EXPECTS(r.size() == g.size() && g.size() == b.size());
    if (!impl_->to_pcs) {
        static const kernels::RgbToXyz of_srgb = linear_srgb_to_xyz();
        return kernels::lab_fast(of_srgb, r, g, b);
    }
    kernels::LabPlanes out;
    for (std::size_t i = 0; i < r.size(); ++i) {
        DeviceRgb device{r[i], g[i], b[i], false};
        encode(device);
        const Lab lab = lab_of(device);
        out.L.push_back(static_cast<float>(lab.L));
        out.a.push_back(static_cast<float>(lab.a));
        out.b.push_back(static_cast<float>(lab.b));
    }
    return out;
}

XYZ adapt_to_white(const XYZ& xyz, const XYZ& from_white, const XYZ& to_white) noexcept {
    return apply(adaptation_matrix(from_white, to_white), xyz);
}

}  // namespace fadewright::colour
