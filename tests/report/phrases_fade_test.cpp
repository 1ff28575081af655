#include "fadewright/report/phrases_fade.h"

#include "distinct_texts.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>
#include <set>

using namespace fadewright;
using report::FadeTopic;

namespace {

assess::FadeMetrics metrics_of(const std::function<double(double)>& share, const colour::Lab& start,
                               const colour::Lab& end) {
    std::vector<assess::FadeSample> samples;
    for (int i = 0; i < 800; ++i) {
        const double x = -100 + 200.0 * i / 799, t = share(x);
        samples.push_back({x,
                           {start.L + t * (end.L - start.L), start.a + t * (end.a - start.a),
                            start.b + t * (end.b - start.b)}});
    }
    return assess::fade_metrics(samples).value();
}

constexpr colour::Lab kDark{30, 0, 0}, kLight{70, 0, 0};

double blurred_edge(double x) { return 0.5 * std::erfc(-x / 20 / std::numbers::sqrt2); }
double ramp(double x) { return std::clamp(x / 80 + 0.5, 0.0, 1.0); }

std::string text_about(FadeTopic topic, const std::vector<report::FadeSentence>& sentences) {
    for (const report::FadeSentence& sentence : sentences)
        if (sentence.topic == topic) return sentence.text;
    return "";
}

}  // namespace

TEST_CASE("every topic but the midpoint has one sentence, and every topic its own name", "[report][fade]") {
    const auto sentences = report::describe_fade(metrics_of(blurred_edge, kDark, kLight));
    std::set<FadeTopic> topics;
    for (const report::FadeSentence& sentence : sentences) {
        CHECK(topics.insert(sentence.topic).second);
        CHECK(sentence.text.back() == '.');
    }
    for (const FadeTopic topic : report::kFadeTopics)
        CHECK(topics.contains(topic) == (topic != FadeTopic::midpoint));
    CHECK(report::texts_of(sentences).size() == topics.size());
    test::check_distinct_texts(report::kFadeTopics, report::topic_name);
}

TEST_CASE("a sentence is about its topic", "[report][fade]") {
    const auto soft = report::describe_fade(metrics_of(blurred_edge, kDark, kLight));
    CHECK(text_about(FadeTopic::width, soft) ==
          "The fade is 51 mm wide (10-90 %), 2.9° seen from 1.0 m; halfway at 0 mm.");
    CHECK(text_about(FadeTopic::banding, soft).starts_with("No visible banding"));
    CHECK(text_about(FadeTopic::abruptness, soft) == "The fade starts and ends softly (abruptness 0.15).");
    const auto hard = report::describe_fade(metrics_of(ramp, kDark, kLight));
    CHECK(text_about(FadeTopic::slope, hard).starts_with("Even fade"));
    CHECK_THAT(text_about(FadeTopic::abruptness, hard),
               Catch::Matchers::Contains("starts or stops abruptly"));
    assess::FadeMetrics figures = metrics_of(ramp, kDark, kLight);
    figures.chroma_loss = 20;
    figures.hue_shift = Degrees{40};
    figures.reversal = 3;
    figures.banding_over_threshold = 3;
    figures.banding = colour::Visibility::visible;
    const auto poor = report::describe_fade(figures);
    CHECK_THAT(text_about(FadeTopic::chroma, poor), Catch::Matchers::Contains("dull"));
    CHECK_THAT(text_about(FadeTopic::hue, poor), Catch::Matchers::Contains("shifts by 40°"));
    CHECK_THAT(text_about(FadeTopic::lightness, poor), Catch::Matchers::Contains("reverses by 3.0 L*"));
    CHECK(text_about(FadeTopic::banding, poor).starts_with("Banding is visible"));
}

TEST_CASE("an offset midpoint is described with its side and the remedy", "[report][fade]") {
    const report::FadeSentence late = report::describe_midpoint_offset({Millimetres{40}, "deep", "pale"});
    CHECK(late.topic == FadeTopic::midpoint);
    CHECK(late.text ==
          "The visual midpoint is 40 mm off the planned line, towards 'deep'. Move the fade 40 mm towards "
          "'pale'.");
}
