// The plan of the speed measurements: a panel of 16 : 9 with a number of coats, ten passes each.
#pragma once

#include <fmt/format.h>

#include <string>

namespace fadewright::bench {

// Alternating horizontal and slanting passes, three guns, passes that overlap by half and more as in the
// trade, every third coat let down with clear base.
inline std::string coats_plan(int coats, int passes_each = 10) {
    constexpr const char* kPaints[] = {"pyrrole-orange", "quinacridone-violet", "hansa-yellow",
                                       "phthalo-blue-green-shade"};
    constexpr const char* kGuns[] = {"fan-gun-large", "fan-gun-small", "detail-gun-fan"};
    constexpr double kApart_mm[] = {54, 54, 36};  // of fans 240, 150 and 90 mm wide
    std::string text =
        "plan = 1\ntitle = \"bench\"\n[panel]\nwidth = \"960 mm\"\nheight = \"540 mm\"\nground = "
        "\"white-primer\"\n";
    for (int c = 0; c < coats; ++c)
        text += fmt::format("[mixes.m{}]\nparts = {{ {} = 1, titanium-white = 2 }}\nextend = {}\n", c,
                            kPaints[c % 4], 1 + c % 3);
    for (int c = 0; c < coats; ++c) {
        text += fmt::format("[[coats]]\nname = \"c{}\"\nmix = \"m{}\"\ngun = \"{}\"\nspeed = \"900 mm/s\"\n",
                            c, c, kGuns[c % 3]);
        for (int p = 0; p < passes_each; ++p) {
            const double y = 270 + kApart_mm[c % 3] * (p + 0.5 - 0.5 * passes_each);
            const double rise = p % 3 == 2 ? 60 : 0;
            text +=
                fmt::format("[[coats.passes]]\npath = [[\"-60 mm\", \"{} mm\"], [\"1020 mm\", \"{} mm\"]]\n",
                            y, y + rise);
        }
    }
    return text;
}

}  // namespace fadewright::bench
