#include "random_plan.h"

#include "fadewright/base/random.h"

#include <fmt/core.h>

#include <array>
#include <cmath>
#include <string_view>

namespace fadewright::test {
namespace {

constexpr std::array<std::string_view, 12> kColours{"titanium-white",           "carbon-black",
                                                    "phthalo-blue-green-shade", "hansa-yellow",
                                                    "quinacridone-red",         "pyrrole-orange",
                                                    "dioxazine-violet",         "iron-oxide-red",
                                                    "iron-oxide-yellow",        "phthalo-green-blue-shade",
                                                    "ultramarine-blue",         "diarylide-yellow"};
constexpr std::array<std::string_view, 5> kGrounds{"grey-sealer", "white-primer", "black-sealer",
                                                   "red-oxide-primer", "sealed-maple"};

struct GunChoice {
    std::string_view name;
    double speed_mm_s;  // gives films of the right order
    double overlap_pct;
};
constexpr std::array<GunChoice, 5> kGuns{
    GunChoice{"fan-gun-large", 600, 66.7}, GunChoice{"fan-gun-small", 500, 60},
    GunChoice{"detail-gun-fan", 350, 50}, GunChoice{"detail-gun-round", 250, 50},
    GunChoice{"airbrush-medium", 120, 40}};

// Every random number is drawn in a statement of its own, so that the order does not depend on the compiler.
class Writer {
public:
    Writer(std::uint64_t seed, bool mirrored) : seed_(seed), mirrored_(mirrored) {}

    std::string plan() {
        width_ = number(180, 620);
        height_ = number(140, 420);
        const double radius = number(0, 50);
        const std::string_view ground = pick(kGrounds);
        std::string text = fmt::format(
            "plan = 1\ntitle = \"seed {}\"\n[panel]\nwidth = \"{} mm\"\nheight = \"{} mm\"\n"
            "corner_radius = \"{} mm\"\nground = \"{}\"\n",
            seed_, width_, height_, radius, ground);
        const int mixes = integer(2, 4);
        for (int i = 0; i < mixes; ++i) text += mix(i);
        const int coats = integer(2, 5);
        for (int i = 0; i < coats; ++i) text += coat(i, i % mixes, i + 1 < coats);
        return text +
               "[mixes.last]\nparts = { gloss-clear = 1 }\n[[coats]]\nname = \"clear\"\nmix = \"last\"\n"
               "even_coat.film = \"45 um\"\n";
    }

private:
    double unit() { return uniform01(seed_, 1, next_++); }
    double number(double low, double high) { return low + (high - low) * unit(); }
    int integer(int low, int high) { return low + static_cast<int>((high - low + 1) * unit()); }
    template <class List>
    typename List::value_type pick(const List& list) {
        return list[static_cast<std::size_t>(unit() * static_cast<double>(list.size()))];
    }

    [[nodiscard]] std::string point(double x, double y) const {
        return fmt::format("[\"{} mm\", \"{} mm\"]", mirrored_ ? width_ - x : x, y);
    }

    std::string mix(int i) {
        std::string parts;
        const auto first = static_cast<std::size_t>(unit() * kColours.size());
        const int count = integer(1, 3);
        for (int p = 0; p < count; ++p)
            parts += fmt::format("{}{} = {}", p > 0 ? ", " : "",
                                 kColours[(first + 5 * static_cast<std::size_t>(p)) % kColours.size()],
                                 number(0.2, 4));
        std::string text = fmt::format("[mixes.m{}]\nparts = {{ {} }}\n", i, parts);
        if (unit() < 0.5) text += fmt::format("extend = {}\n", number(0.2, 3));
        if (unit() < 0.5) text += fmt::format("reduce = \"{} %\"\n", number(5, 30));
        return text;
    }

    // The last coats must not hide the others everywhere.
    std::string coat(int i, int mix, bool may_sweep) {
        const GunChoice gun = pick(kGuns);
        std::string text =
            fmt::format("[[coats]]\nname = \"coat {}\"\nmix = \"m{}\"\ngun = \"{}\"\nspeed = \"{} mm/s\"\n",
                        i, mix, gun.name, gun.speed_mm_s * number(0.6, 1.6));
        if (unit() < 0.3) text += "laydown = \"dots\"\n";
        if (may_sweep && unit() < 0.5) text += sweep(gun);
        const int passes = integer(1, 5);
        for (int p = 0; p < passes; ++p) text += pass();
        return text;
    }

    // In the mirror image both corners change sides and the direction of travel reverses, so the first pass
    // stays first.
    std::string sweep(const GunChoice& gun) {
        const double direction = number(-60, 60);
        const double low = number(-60, 0.5 * height_);
        const double high = low + number(60, height_);
        return fmt::format(
            "[[coats.sweeps]]\nfrom = {}\nto = {}\noverlap = \"{} %\"\ndirection = \"{} deg\"\n",
            point(-60, low), point(width_ + 60, high), gun.overlap_pct,
            mirrored_ ? std::remainder(180 - direction, 360) : direction);
    }

    std::string pass() {
        std::string path;
        const int points = integer(2, 4);
        for (int k = 0; k < points; ++k) {
            const double x = number(-40, width_ + 40);
            const double y = number(-40, height_ + 40);
            path += (k > 0 ? ", " : "") + point(x, y);
        }
        std::string text = fmt::format("[[coats.passes]]\npath = [{}]\nrepeats = {}\n", path, integer(1, 3));
        if (unit() < 0.5) {
            const double on = number(0, 60), off = number(0, 60);
            text += fmt::format("feather_on = \"{} mm\"\nfeather_off = \"{} mm\"\n", on, off);
        }
        return text;
    }

    std::uint64_t seed_;
    bool mirrored_;
    std::uint64_t next_ = 0;
    double width_ = 0, height_ = 0;
};

}  // namespace

std::string random_plan(std::uint64_t seed, bool mirrored) { return Writer(seed, mirrored).plan(); }

}  // namespace fadewright::test
