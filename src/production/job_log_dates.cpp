#include "fadewright/production/job_log_dates.h"

#include <fmt/core.h>

#include <chrono>

namespace fadewright::production {
namespace {

constexpr std::size_t kDateLength = std::string_view("2026-03-01T14:05:00Z").size();

// The number in a part of the text; nothing unless it is all digits.
std::optional<int> number_at(std::string_view text, std::size_t at, std::size_t length) {
    int number = 0;
    for (const char c : text.substr(at, length)) {
        if (c < '0' || c > '9') return std::nullopt;
        number = 10 * number + (c - '0');
    }
    return number;
}

}  // namespace

std::string date_text(std::int64_t seconds_since_1970) {
    using namespace std::chrono;
    const sys_seconds when{seconds(seconds_since_1970)};
    const auto midnight = floor<days>(when);
    const year_month_day date(midnight);
    const hh_mm_ss time(when - midnight);
    return fmt::format("{:04}-{:02}-{:02}T{:02}:{:02}:{:02}Z", int(date.year()), unsigned(date.month()),
                       unsigned(date.day()), time.hours().count(), time.minutes().count(),
                       time.seconds().count());
}

bool is_date(std::string_view text) {
    if (text.size() != kDateLength) return false;
    constexpr std::string_view kForm = "....-..-..T..:..:..Z";
    for (std::size_t i = 0; i < kForm.size(); ++i)
        if (kForm[i] != '.' && kForm[i] != text[i]) return false;
    const auto year = number_at(text, 0, 4), month = number_at(text, 5, 2), day = number_at(text, 8, 2);
    const auto hour = number_at(text, 11, 2), minute = number_at(text, 14, 2),
               second = number_at(text, 17, 2);
    if (!year || !month || !day || !hour || !minute || !second) return false;
    const std::chrono::year_month_day date{std::chrono::year(*year),
                                           std::chrono::month(static_cast<unsigned>(*month)),
                                           std::chrono::day(static_cast<unsigned>(*day))};
    return date.ok() && *hour < 24 && *minute < 60 && *second < 60;
}

std::optional<std::string> date_text(std::string_view typed) {
    std::string text(typed);
    constexpr std::string_view kMidnight = "2026-03-01T00:00:00Z";
    if (text.ends_with('Z')) text.pop_back();
    for (const std::size_t length : {std::size_t{10}, std::size_t{16}})  // a day, or a minute
        if (text.size() == length) text += kMidnight.substr(length, kMidnight.size() - 1 - length);
    if (text.size() + 1 == kDateLength && text[10] == ' ') text[10] = 'T';
    text += 'Z';
    return is_date(text) ? std::optional(text) : std::nullopt;
}

}  // namespace fadewright::production
