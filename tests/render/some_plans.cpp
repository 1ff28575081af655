#include "some_plans.h"

#include "fadewright/base/random.h"

#include <fmt/format.h>

#include <array>
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
    double speed_mm_s;  // lays films of the right order
    double overlap_pct;
};
constexpr std::array<GunChoice, 5> kGuns{
    GunChoice{"fan-gun-large", 600, 66.7}, GunChoice{"fan-gun-small", 500, 60},
    GunChoice{"detail-gun-fan", 350, 50}, GunChoice{"detail-gun-round", 250, 50},
    GunChoice{"airbrush-medium", 120, 40}};

class Writer {
public:
    Writer(std::uint64_t seed, bool mirrored) : seed_(seed), mirrored_(mirrored) {}

    std::string plan() {
        width_ = number(180, 620);
        height_ = number(140, 420);
        std::string text = fmt::format(
            "plan = 1\ntitle = \"seed {}\"\n[panel]\nwidth = \"{} mm\"\nheight = \"{} mm\"\n"
            "corner_radius = \"{} mm\"\nground = \"{}\"\n",
            seed_, width_, height_, number(0, 50), pick(kGrounds));
        const int mixes = whole(2, 4);
        for (int i = 0; i < mixes; ++i) text += mix(i);
        const int coats = whole(2, 5);
        for (int i = 0; i < coats; ++i) text += coat(i, whole(0, mixes - 1));
        return text +
               "[mixes.last]\nparts = { gloss-clear = 1 }\n[[coats]]\nname = \"clear\"\nmix = \"last\"\n"
               "cover.film = \"45 um\"\n";
    }

private:
    double unit() { return random_unit(seed_, 1, next_++); }
    double number(double low, double high) { return low + (high - low) * unit(); }
    int whole(int low, int high) { return low + static_cast<int>((high - low + 1) * unit()); }
    template <class List>
    auto pick(const List& list) {
        return list[static_cast<std::size_t>(unit() * static_cast<double>(list.size()))];
    }

    std::string place(double x, double y) const {
        return fmt::format("[\"{} mm\", \"{} mm\"]", mirrored_ ? width_ - x : x, y);
    }

    std::string mix(int i) {
        std::string parts;
        const auto first = static_cast<std::size_t>(unit() * kColours.size());
        const int count = whole(1, 3);
        for (int p = 0; p < count; ++p)
            parts += fmt::format("{}{} = {}", p > 0 ? ", " : "",
                                 kColours[(first + 5 * static_cast<std::size_t>(p)) % kColours.size()],
                                 number(0.2, 4));
        std::string text = fmt::format("[mixes.m{}]\nparts = {{ {} }}\n", i, parts);
        if (unit() < 0.5) text += fmt::format("extend = {}\n", number(0.2, 3));
        if (unit() < 0.5) text += fmt::format("reduce = \"{} %\"\n", number(5, 30));
        return text;
    }

    std::string coat(int i, int mix) {
        const GunChoice gun = pick(kGuns);
        std::string text =
            fmt::format("[[coats]]\nname = \"coat {}\"\nmix = \"m{}\"\ngun = \"{}\"\nspeed = \"{} mm/s\"\n",
                        i, mix, gun.name, gun.speed_mm_s * number(0.6, 1.6));
        if (unit() < 0.3) text += "laydown = \"fog\"\n";
        // A mirror turns a sweep's direction round, and its first pass would start on the other edge unless
        // `from` is mirrored with it; both are.
        if (unit() < 0.5) {
            const double direction = number(-60, 60);
            const double y0 = number(-60, 0.5 * height_);
            text += fmt::format(
                "[[coats.sweeps]]\nfrom = {}\nto = {}\noverlap = \"{} %\"\ndirection = \"{} deg\"\n",
                place(-60, y0), place(width_ + 60, y0 + number(60, height_)), gun.overlap_pct,
                mirrored_ ? 180 - direction : direction);
        }
        const int passes = whole(1, 5);
        for (int p = 0; p < passes; ++p) text += pass();
        return text;
    }

    std::string pass() {
        std::string path;
        const int points = whole(2, 4);
        for (int k = 0; k < points; ++k)
            path += (k > 0 ? ", " : "") + place(number(-40, width_ + 40), number(-40, height_ + 40));
        std::string text = fmt::format("[[coats.passes]]\npath = [{}]\nrepeats = {}\n", path, whole(1, 3));
        if (unit() < 0.5)
            text += fmt::format("feather_on = \"{} mm\"\nfeather_off = \"{} mm\"\n", number(0, 60),
                                number(0, 60));
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
