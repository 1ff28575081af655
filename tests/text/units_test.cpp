#include "fadewright/text/units.h"

#include <catch2/catch.hpp>

namespace {

using namespace fadewright;

template <class Q>
double read(const std::string& written) {
    Diagnostics none;
    const auto internal = read_quantity(written, {}, units_of<Q>(), none);
    return internal ? *internal : -1.0;
}

template <class Q>
std::string told(const std::string& written) {
    Diagnostics diagnostics;
    (void)read_quantity(written, {}, units_of<Q>(), diagnostics);
    return to_text(diagnostics);
}

}  // namespace

TEST_CASE("a whole per cent is the same double as the fraction it stands for", "[text]") {
    for (int i = 0; i <= 300; ++i) {
        CAPTURE(i);
        CHECK(read<Share>(std::to_string(i) + " %") == i / 100.0);
        CHECK(to_text(Share{i / 100.0}) == std::to_string(i) + " %");
    }
}

TEST_CASE("inches become millimetres without a rounding tail", "[text]") {
    CHECK(read<Millimetres>("48 in") == 1219.2);
    CHECK(read<Millimetres>("9.5 in") == 241.3);
    CHECK(read<MillimetresPerSecond>("14 in/s") == 355.6);
    CHECK(read<Micrometres>("2 mil") == 50.8);
    CHECK(to_text(Millimetres{read<Millimetres>("8.5 in")}) == "215.9 mm");
}

TEST_CASE("a decimal comma and a fraction are told as what they are", "[text]") {
    CHECK(told<Millimetres>("1,5 mm").find("write decimals with a point") != std::string::npos);
    CHECK(told<Millimetres>("1/2 in").find("\"0.5 in\"") != std::string::npos);
    CHECK(told<Millimetres>("3 yd").find("write one of: mm, cm, m, in, ft") != std::string::npos);
    CHECK(told<Millimetres>("150mm").empty());
}
