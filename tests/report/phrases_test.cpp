#include "fadewright/report/phrases.h"

#include "distinct_texts.h"
#include "fadewright/report/format.h"
#include "fadewright/report/phrases_amounts.h"
#include "fadewright/report/phrases_calibration.h"
#include "fadewright/report/phrases_flakes.h"

#include <catch2/catch.hpp>

#include <array>

using namespace fadewright;
using Catch::Matchers::Contains;

TEST_CASE("every rating has a label of its own", "[report]") {
    using colour::Visibility;
    test::check_distinct_texts(
        std::array{Visibility::invisible, Visibility::just_visible, Visibility::visible},
        report::visibility_label);
    using film::GraininessGrade;
    test::check_distinct_texts(std::array{GraininessGrade::invisible, GraininessGrade::just_visible,
                                          GraininessGrade::grainy, GraininessGrade::coarse},
                               report::graininess_label);
    using production::ClearFilm;
    test::check_distinct_texts(
        std::array{ClearFilm::thin, ClearFilm::normal, ClearFilm::thick, ClearFilm::too_thick},
        report::clear_film_label);
}

TEST_CASE("a mix with a paint that is gone says which paint and which mix", "[report][record]") {
    CHECK(report::describe_unknown_part({"moonlight", "plum"}) ==
          "'moonlight' was mixed into 'plum' but is not in the library: the planned mix is used");
}

TEST_CASE("times are rounded up to whole seconds everywhere", "[report]") {
    CHECK(report::clock_text(Seconds{78.2}) == "1:19");
    CHECK(report::clock_text(Seconds{78.0}) == "1:18");
    CHECK(report::clock_text(Seconds{59.5}) == "1:00");
    CHECK(report::duration_text(Seconds{78.2}) == "1 min 19 s");
    CHECK(report::duration_text(Seconds{59.5}) == "1 min 00 s");
    CHECK(report::duration_text(Seconds{28}) == "28 s");
}

TEST_CASE("every remark on a fitted gun and paint has a text of its own", "[report]") {
    calibration::GunCalibration gun;
    gun.photo_over_scale = 1.4;
    gun.too_dark_share = 0.2;
    test::check_distinct_texts(calibration::kGunRemarks, [&](calibration::GunRemark remark) {
        return report::describe_remark(remark, gun);
    });
    using Kind = calibration::PaintRemarkKind;
    test::check_distinct_texts(
        std::array{Kind::estimated_spectrum, Kind::clipped_to_gamut, Kind::counted_coats,
                   Kind::estimated_white, Kind::thick_film_only, Kind::darker_than_specular},
        [](Kind kind) {
            return report::describe_remark({kind, "film 1 over black"});
        });
    CHECK_THAT(report::describe_remark({Kind::darker_than_specular, "film 1 over black"}),
               Catch::Matchers::StartsWith("film 1 over black is darker"));
    gun.remarks = {calibration::GunRemark::too_dark, calibration::GunRemark::photo_and_scale_disagree};
    const std::vector<std::string> texts = report::describe_remarks(gun);
    REQUIRE(texts.size() == 2);
    CHECK_THAT(texts[0], Catch::Matchers::StartsWith("20 % of the spray"));
    CHECK_THAT(texts[1], Contains("1.40 times as much"));
}

TEST_CASE("the passes of a job are one sentence, in minutes", "[report]") {
    CHECK(report::describe_passes(1, Seconds{40}) == "1 pass, under 1 min trigger time.");
    CHECK(report::describe_passes(12, Seconds{200}) == "12 passes, 3 min trigger time.");
}

TEST_CASE("a film that hardly varies is one figure, any other a range", "[report]") {
    CHECK(report::film_range_text(Micrometres{19}, Micrometres{20}, {}) == "20 µm all over");
    CHECK(report::film_range_text(Micrometres{12}, Micrometres{20}, {}) == "12 to 20 µm");
}

TEST_CASE("the amount of a mix is one sentence, with a warning if the scale is too coarse", "[report]") {
    production::MixAmounts mix;
    mix.name = "plum";
    CHECK_THAT(report::describe_mix_amount(mix, {}), Contains("of plum; 0 mL ends up on the panel."));
    CHECK_FALSE(report::describe_coarse_weighing(mix, {}));
    mix.weighable_batch = Millilitres{120};
    REQUIRE(report::describe_coarse_weighing(mix, {}));
    CHECK_THAT(*report::describe_coarse_weighing(mix, {}), Contains("mix 120 mL"));
}

TEST_CASE("evenness of flakes has five labels, by number and mottle", "[report]") {
    const auto label = [](double per_cm2, double mottle) {
        formulation::FlakeAppearance appearance;
        appearance.per_cm2 = per_cm2;
        appearance.mottle_index = mottle;
        return report::evenness_label(appearance);
    };
    CHECK(label(0, 0) == "no flakes");
    CHECK(label(1000, 0.4) == "even");
    CHECK(label(1000, 0.9) == "barely even");
    CHECK(label(1000, 1.2) == "patchy");
    CHECK(label(1000, 2) == "single flakes");
}

TEST_CASE("flakes are stirred in whole minutes, sooner than they settle", "[report]") {
    CHECK(report::describe_stirring(Seconds{30}) == "flakes settle fast: keep stirring");
    CHECK(report::describe_stirring(Seconds{199}) == "flakes settle: stir every 3 min");
    CHECK(report::describe_stirring(Seconds{38 * 60}) == "flakes settle: stir every 35 min");
    CHECK(report::describe_stirring(Seconds{1e9}) == "flakes hardly settle: stir at each fill");
}
