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
std::string errors_of(const std::string& written) {
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

TEST_CASE("a decimal comma and a fraction are named in the hint", "[text]") {
    CHECK(errors_of<Millimetres>("1,5 mm").find("write decimals with a point") != std::string::npos);
    CHECK(errors_of<Millimetres>("1/2 in").find("\"0.5 in\"") != std::string::npos);
    CHECK(errors_of<Millimetres>("3 yd").find("write one of: mm, cm, m, in, ft") != std::string::npos);
    CHECK(errors_of<Millimetres>("150mm").empty());
    CHECK(errors_of<Micrometres>("1,5 um").find("\"1.5 µm\"") != std::string::npos);
    CHECK(errors_of<Micrometres>("3 yd").find("write one of: µm (or um), mils, mm") != std::string::npos);
}

TEST_CASE("the spellings for people and the ASCII spellings are accepted", "[text]") {
    for (const char* written : {"12 um", "12 µm", "12 μm", "12um", "12µm"})
        CHECK(read<Micrometres>(written) == 12);
    for (const char* written : {"2 mil", "2 mils", "2 thou"}) CHECK(read<Micrometres>(written) == 50.8);
    for (const char* written : {"45 deg", "45 °", "45°"}) CHECK(read<Degrees>(written) == 45);
    for (const char* written : {"0.5 /um", "0.5 /µm"}) CHECK(read<PerMicrometre>(written) == 0.5);
    for (const char* written : {"12.5 g/L", "12.5 g/l"}) CHECK(read<GramsPerLitre>(written) == 12.5);
}

TEST_CASE("plans and JSON keep the ASCII spelling", "[text]") {
    CHECK(to_text(Micrometres{12}) == "12 um");
    CHECK(to_text(Degrees{45}) == "45 deg");
    CHECK(to_text(PerMicrometre{0.5}) == "0.5 /um");
}

TEST_CASE("a list of units gives the ASCII spelling of units that are not ASCII", "[text]") {
    CHECK(units_label(units_of<Millimetres>()) == "mm, cm, m, in, ft");
    CHECK(units_label(units_of<Micrometres>()) == "µm (or um), mils, mm");
    CHECK(units_label(units_of<Degrees>()) == "° (or deg)");
    CHECK(units_label(units_of<Celsius>()) == "°C (or C), °F (or F)");
    CHECK(units_label(units_of<PerMicrometre>()) == "/µm (or /um), /mm, /mil");
}
