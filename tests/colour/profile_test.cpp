#include "fadewright/colour/profile.h"

#include "fadewright/base/parallel.h"
#include "fadewright/colour/delta_e.h"
#include "fadewright/colour/illuminant.h"
#include "fadewright/colour/srgb.h"

#include <lcms2.h>
#include <catch2/catch.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <memory>
#include <numbers>
#include <string>
#include <vector>

using namespace fadewright;
using namespace fadewright::colour;
using Catch::Matchers::Contains;
using Catch::Matchers::WithinAbs;

namespace {

constexpr double kDegrees = 180 / std::numbers::pi;

// Bytes of a profile made by Little CMS; the profile is closed.
std::string profile_bytes(cmsHPROFILE profile) {
    REQUIRE(profile != nullptr);
    cmsUInt32Number size = 0;
    REQUIRE(cmsSaveProfileToMem(profile, nullptr, &size));
    std::string bytes(size, '\0');
    REQUIRE(cmsSaveProfileToMem(profile, bytes.data(), &size));
    cmsCloseProfile(profile);
    return bytes;
}

// A screen with a wider gamut and a power curve, which is not defined for negative values.
std::string wide_screen() {
    const cmsCIExyY white{0.3127, 0.3290, 1};
    const cmsCIExyYTRIPLE primaries{{0.708, 0.292, 1}, {0.170, 0.797, 1}, {0.131, 0.046, 1}};  // [itu2020]
    cmsToneCurve* curve = cmsBuildGamma(nullptr, 2.2);
    std::array<cmsToneCurve*, 3> curves{curve, curve, curve};
    const cmsHPROFILE profile = cmsCreateRGBProfile(&white, &primaries, curves.data());
    cmsFreeToneCurve(curve);
    return profile_bytes(profile);
}

cmsInt32Number sample(const cmsUInt16Number in[], cmsUInt16Number out[], void* transform) {
    cmsDoTransform(transform, in, out, 1);
    return 1;
}

cmsPipeline* sampled_table(cmsHTRANSFORM transform, cmsUInt32Number points) {
    cmsPipeline* pipeline = cmsPipelineAlloc(nullptr, 3, 3);
    cmsStage* table = cmsStageAllocCLut16bit(nullptr, points, 3, 3, nullptr);
    REQUIRE(cmsStageSampleCLut16bit(table, sample, transform, 0));
    // The format needs linear curves before and after the table.
    REQUIRE(cmsPipelineInsertStage(pipeline, cmsAT_END, cmsStageAllocToneCurves(nullptr, 3, nullptr)));
    REQUIRE(cmsPipelineInsertStage(pipeline, cmsAT_END, table));
    REQUIRE(cmsPipelineInsertStage(pipeline, cmsAT_END, cmsStageAllocToneCurves(nullptr, 3, nullptr)));
    return pipeline;
}

enum class Tables { round_trip, only_from_values };

// A printer profile of sampled tables only, with the colours of sRGB.
std::string table_printer(Tables tables) {
    cmsHPROFILE srgb = cmsCreate_sRGBProfile();
    cmsHPROFILE lab = cmsCreateLab4Profile(nullptr);
    cmsHTRANSFORM to_lab_16 = cmsCreateTransform(srgb, TYPE_RGB_16, lab, TYPE_Lab_16,
                                                 INTENT_RELATIVE_COLORIMETRIC, cmsFLAGS_NOOPTIMIZE);
    cmsHTRANSFORM from_lab_16 = cmsCreateTransform(lab, TYPE_Lab_16, srgb, TYPE_RGB_16,
                                                   INTENT_RELATIVE_COLORIMETRIC, cmsFLAGS_NOOPTIMIZE);
    cmsPipeline* forward = sampled_table(to_lab_16, 33);
    cmsPipeline* back = sampled_table(from_lab_16, 33);
    cmsHPROFILE printer = cmsCreateProfilePlaceholder(nullptr);
    cmsSetProfileVersion(printer, 4.3);
    cmsSetDeviceClass(printer, cmsSigOutputClass);
    cmsSetColorSpace(printer, cmsSigRgbData);
    cmsSetPCS(printer, cmsSigLabData);
    REQUIRE(cmsWriteTag(printer, cmsSigMediaWhitePointTag, cmsD50_XYZ()));
    REQUIRE(cmsWriteTag(printer, cmsSigAToB0Tag, forward));
    if (tables == Tables::round_trip) REQUIRE(cmsWriteTag(printer, cmsSigBToA0Tag, back));
    cmsPipelineFree(forward);
    cmsPipelineFree(back);
    cmsDeleteTransform(to_lab_16);
    cmsDeleteTransform(from_lab_16);
    cmsCloseProfile(srgb);
    cmsCloseProfile(lab);
    return profile_bytes(printer);
}

OutputProfile open_profile(std::string bytes, const std::string& name) {
    auto result = OutputProfile::from_icc(std::move(bytes), name);
    REQUIRE(result.ok());
    return std::move(result).value();
}

std::string error_message(std::string bytes, const std::string& name) {
    const auto result = OutputProfile::from_icc(std::move(bytes), name);
    REQUIRE_FALSE(result.ok());
    return result.error().message;
}

std::vector<DeviceRgb> to_device_values(const OutputProfile& profile, const std::vector<XYZ>& colours,
                                        const XYZ& white) {
    std::vector<DeviceRgb> out(colours.size());
    profile.to_device(colours, white, out);
    return out;
}

// Colours inside sRGB, with all its corners, under the white of a light.
std::vector<XYZ> srgb_grid(const XYZ& white) {
    std::vector<XYZ> grid;
    for (int r = 0; r <= 10; ++r)
        for (int g = 0; g <= 10; ++g)
            for (int b = 0; b <= 10; ++b) {
                const XYZ day = from_linear_srgb(
                    {linear_from_srgb(r / 10.0), linear_from_srgb(g / 10.0), linear_from_srgb(b / 10.0)},
                    d65_white());
                grid.push_back(adapt_to_white(day, d65_white(), white));
            }
    return grid;
}

// Saturated colours of all hues, most of them outside any screen; D65.
std::vector<OKLab> strong_colours() {
    std::vector<OKLab> colours;
    for (double L = 0.25; L < 0.95; L += 0.1)
        for (double h = 0; h < 360; h += 15)
            colours.push_back({L, 0.4 * std::cos(h / kDegrees), 0.4 * std::sin(h / kDegrees)});
    return colours;
}

OKLab displayed_oklab(const OutputProfile& profile, const DeviceRgb& device) {
    return to_oklab(to_xyz(profile.lab_of(device), d65_white()));
}

// Distance of a colour from a line of constant hue, in OKLab (0.01 is about 1 in Lab).
double off_hue_of(const OKLab& target, const OKLab& result) {
    return std::abs(target.a * result.b - target.b * result.a) / std::hypot(target.a, target.b);
}

// Returns the number of saturated colours that were outside.
int check_hue_is_constant(const OutputProfile& profile, double off_hue, double lightness) {
    int outside = 0;
    for (const OKLab& target : strong_colours()) {
        const DeviceRgb device = to_device_values(profile, {to_xyz(target)}, d65_white())[0];
        CAPTURE(profile.name(), target.L, target.a, target.b, device.r, device.g, device.b);
        for (float v : {device.r, device.g, device.b}) {
            CHECK(v >= 0);
            CHECK(v <= 1);
        }
        const OKLab result = displayed_oklab(profile, device);
        CHECK(std::abs(result.L - target.L) < lightness);
        CHECK(off_hue_of(target, result) < off_hue);
        CHECK(target.a * result.a + target.b * result.b > 0);
        outside += device.out_of_gamut ? 1 : 0;
    }
    return outside;
}

}  // namespace

TEST_CASE("the built-in sRGB agrees with Little CMS to half an 8-bit step", "[colour][peer]") {
    const OutputProfile direct = OutputProfile::srgb();
    const OutputProfile through_lcms = open_profile(direct.icc_bytes(), "sRGB again");
    for (const StandardIlluminant light :
         {StandardIlluminant::D65, StandardIlluminant::A, StandardIlluminant::F11}) {
        const XYZ white = tristimulus_weights(standard_illuminant(light), Observer::two_degree).white;
        const auto grid = srgb_grid(white);
        const auto ours = to_device_values(direct, grid, white);
        const auto theirs = to_device_values(through_lcms, grid, white);
        for (std::size_t i = 0; i < grid.size(); ++i) {
            CAPTURE(i, standard_illuminant(light).id);
            CHECK_THAT(ours[i].r, WithinAbs(theirs[i].r, 0.5 / 255));
            CHECK_THAT(ours[i].g, WithinAbs(theirs[i].g, 0.5 / 255));
            CHECK_THAT(ours[i].b, WithinAbs(theirs[i].b, 0.5 / 255));
            CHECK_FALSE(ours[i].out_of_gamut);
            CHECK_FALSE(theirs[i].out_of_gamut);
        }
    }
}

TEST_CASE("the fast curve is the standard's curve", "[colour]") {
    const OutputProfile srgb = OutputProfile::srgb();
    for (double Y = 0; Y <= 1; Y += 1.0 / 3000) {
        const XYZ grey{Y * d65_white().X, Y * d65_white().Y, Y * d65_white().Z};
        const DeviceRgb device = to_device_values(srgb, {grey}, d65_white())[0];
        CHECK_THAT(device.g, WithinAbs(srgb_from_linear(Y), 2e-6));
        CHECK_THAT(device.r, WithinAbs(device.g, 1e-6));
        CHECK_THAT(device.b, WithinAbs(device.g, 1e-6));
    }
}

TEST_CASE("the white of each light is the screen's white, and black is black", "[colour]") {
    const OutputProfile srgb = OutputProfile::srgb();
    const OutputProfile wide = open_profile(wide_screen(), "wide");
    for (const StandardIlluminant light :
         {StandardIlluminant::D65, StandardIlluminant::A, StandardIlluminant::LED, StandardIlluminant::F2}) {
        const XYZ white = tristimulus_weights(standard_illuminant(light), Observer::ten_degree).white;
        for (const OutputProfile* profile : {&srgb, &wide}) {
            const auto ends = to_device_values(*profile, {white, XYZ{}}, white);
            CAPTURE(profile->name(), standard_illuminant(light).id);
            for (float v : {ends[0].r, ends[0].g, ends[0].b}) CHECK_THAT(v, WithinAbs(1, 1e-4));
            for (float v : {ends[1].r, ends[1].g, ends[1].b}) CHECK_THAT(v, WithinAbs(0, 1e-4));
            CHECK_FALSE(ends[0].out_of_gamut);
            CHECK_FALSE(ends[1].out_of_gamut);
        }
    }
}

TEST_CASE("adaptation converts sRGB's red to the red of its profile, and back", "[colour][published]") {
    // rXYZ of the ICC's sRGB profile, to four places (from memory).
    const XYZ red = from_linear_srgb({1, 0, 0}, d65_white());
    const XYZ d50{96.42, 100, 82.49};
    const XYZ adapted_red = adapt_to_white(red, d65_white(), d50);
    CHECK_THAT(adapted_red.X, WithinAbs(43.61, 0.02));
    CHECK_THAT(adapted_red.Y, WithinAbs(22.25, 0.02));
    CHECK_THAT(adapted_red.Z, WithinAbs(1.39, 0.02));
    const XYZ back = adapt_to_white(adapted_red, d50, d65_white());
    CHECK_THAT(back.X, WithinAbs(red.X, 1e-12));
    CHECK_THAT(back.Z, WithinAbs(red.Z, 1e-12));
}

TEST_CASE("colours outside sRGB keep hue and lightness and are reported", "[colour]") {
    CHECK(check_hue_is_constant(OutputProfile::srgb(), 1e-5, 1e-5) > 150);  // of 192
}

TEST_CASE("colours outside another screen keep hue and lightness although its curve has no negative values",
          "[colour]") {
    // The tolerance is 0.1 in Lab.
    CHECK(check_hue_is_constant(open_profile(wide_screen(), "wide"), 1e-3, 1e-3) > 120);
}

TEST_CASE("colours outside a printer of sampled tables keep hue and lightness as exactly as its tables allow",
          "[colour]") {
    const OutputProfile printer = open_profile(table_printer(Tables::round_trip), "tables");
    // The round-trip error of its own colours; the mapping must neither need more accuracy nor have less.
    double worst_dE = 0;
    const auto grid = srgb_grid(d65_white());
    const auto devices = to_device_values(printer, grid, d65_white());
    for (std::size_t i = 0; i < grid.size(); ++i)
        worst_dE = std::max(worst_dE, delta_e_76(printer.lab_of(devices[i]), to_lab(grid[i], d65_white())));
    CHECK(worst_dE < 3);
    CHECK(check_hue_is_constant(printer, worst_dE / 100, worst_dE / 100) > 120);
}

TEST_CASE("a wide-gamut screen contains colours outside sRGB", "[colour]") {
    const OutputProfile wide = open_profile(wide_screen(), "wide");
    const XYZ green = from_linear_srgb({-0.2, 0.8, -0.02}, d65_white());
    CHECK(to_device_values(OutputProfile::srgb(), {green}, d65_white())[0].out_of_gamut);
    const DeviceRgb device = to_device_values(wide, {green}, d65_white())[0];
    CHECK_FALSE(device.out_of_gamut);
    CHECK(delta_e_2000(wide.lab_of(device), to_lab(green, d65_white())) < 0.05);
}

TEST_CASE("the colour of the values is the colour they were calculated from", "[colour]") {
    const auto grid = srgb_grid(d65_white());
    const OutputProfile srgb = OutputProfile::srgb();
    const OutputProfile wide = open_profile(wide_screen(), "wide");
    for (const OutputProfile* profile : {&srgb, &wide}) {
        const auto devices = to_device_values(*profile, grid, d65_white());
        for (std::size_t i = 0; i < grid.size(); ++i) {
            CAPTURE(profile->name(), i);
            CHECK(delta_e_76(profile->lab_of(devices[i]), to_lab(grid[i], d65_white())) < 0.02);
        }
    }
}

TEST_CASE("the built-in profile is identical in every run", "[colour]") {
    const OutputProfile first_profile = OutputProfile::srgb();
    CHECK(first_profile.name() == "sRGB");
    CHECK(first_profile.icc_bytes() == OutputProfile::srgb().icc_bytes());
    // The header's date: 1 October 1999, whatever the clock says ([icc1] bytes 24 to 35).
    REQUIRE(first_profile.icc_bytes().size() > 128);
    CHECK(first_profile.icc_bytes().substr(24, 12) == std::string("\x07\xCF\0\x0A\0\x01\0\0\0\0\0\0", 12));
    CHECK(first_profile.icc_bytes().substr(36, 4) == "acsp");
    CHECK(open_profile(first_profile.icc_bytes(), "again").icc_bytes() == first_profile.icc_bytes());
}

TEST_CASE("a file that is not an RGB profile gives an error with its name and the reason", "[colour]") {
    CHECK_THAT(error_message("", "empty.icc"), Contains("empty.icc is not an ICC profile"));
    CHECK_THAT(error_message(std::string(4000, 'x'), "junk.icc"), Contains("junk.icc is not an ICC profile"));
    CHECK_THAT(error_message(profile_bytes(cmsCreateLab4Profile(nullptr)), "lab.icc"),
               Contains("lab.icc is not an RGB profile"));
    cmsToneCurve* gamma = cmsBuildGamma(nullptr, 2.2);
    const std::string grey = profile_bytes(cmsCreateGrayProfile(cmsD50_xyY(), gamma));
    const std::string link = profile_bytes(cmsCreateLinearizationDeviceLink(
        cmsSigRgbData, std::array<cmsToneCurve*, 3>{gamma, gamma, gamma}.data()));
    cmsFreeToneCurve(gamma);
    CHECK_THAT(error_message(grey, "grey.icc"), Contains("grey.icc is not an RGB profile"));
    CHECK_THAT(error_message(table_printer(Tables::only_from_values), "scan.icc"),
               Contains("scan.icc has no transform from colours to values"));
    CHECK_THAT(error_message(link, "link.icc"), Contains("link.icc is a device link"));
}

TEST_CASE("a truncated profile is refused or used, and never crashes", "[colour]") {
    const std::string whole = wide_screen();
    for (std::size_t size = 0; size < whole.size(); size += 7)
        (void)OutputProfile::from_icc(whole.substr(0, size), "cut.icc");
    SUCCEED();
}

TEST_CASE("many threads may use one profile and get the same values", "[colour]") {
    const auto grid = srgb_grid(d65_white());
    const OutputProfile wide = open_profile(wide_screen(), "wide");
    const OutputProfile srgb = OutputProfile::srgb();
    for (const OutputProfile* profile : {&srgb, &wide}) {
        const auto alone = to_device_values(*profile, grid, d65_white());
        std::vector<DeviceRgb> together(grid.size());
        parallel_for(grid.size(), [&](std::size_t i) {
            profile->to_device({&grid[i], 1}, d65_white(), {&together[i], 1});
        });
        for (std::size_t i = 0; i < grid.size(); ++i) {
            CHECK(together[i].r == alone[i].r);
            CHECK(together[i].g == alone[i].g);
            CHECK(together[i].b == alone[i].b);
            CHECK(together[i].out_of_gamut == alone[i].out_of_gamut);
        }
    }
}
