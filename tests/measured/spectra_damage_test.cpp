// Damaged files of spectra: never a crash, and never a wrong spectrum without a warning.
//
// Every file of tests/published/formats is damaged in kCopies ways, one damage each: a byte changed, inserted
// or deleted; a line deleted or duplicated; a range deleted; the end cut off. A copy that is read without
// messages other than those of the whole file must have the spectra of the whole file. Only damage that no
// reader can detect is allowed:
//
//     - a damaged digit may change the one value, or the one wavelength, that it belongs to;
//     - a damaged digit of a CxF file's StartWL or Increment may move all wavelengths, but change no value;
//       one of a CGATS header may move them by kHeaderShift_nm, more than that contradicts the fields;
//     - whole samples and points may be missing, as CSV has no counts; but the others must be right.
//
// In a CSV a deleted range ends with its line: two rows joined to a valid one look like one row.
// Samples are compared in their order if there are as many as before, otherwise by their names.

#include "published_table.h"
#include "read_spectra.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <random>
#include <sstream>

namespace {

using namespace fadewright;
using measured::MeasuredSample;
using test::read_spectra;

constexpr unsigned kSeed = 20240101;
constexpr int kCopies = 200;
constexpr double kHeaderShift_nm = 0.501;

struct Damage {
    std::string text;
    std::string description;  // for messages
    std::string before;       // what stood there, and a byte on either side
};

std::size_t below(std::mt19937& random, std::size_t count) { return count == 0 ? 0 : random() % count; }

std::pair<std::size_t, std::size_t> line_at(const std::string& text, std::size_t at) {
    const std::size_t before = at == 0 ? std::string::npos : text.rfind('\n', at - 1);
    const std::size_t begin = before == std::string::npos ? 0 : before + 1;
    return {begin, std::min(text.find('\n', at), text.size() - 1) + 1};
}

// Half of the new bytes are typical of such files.
char random_byte(std::mt19937& random) {
    constexpr std::string_view kTypicalBytes = "0123456789.,;\t \n\"#<>/=_-eESPNMCTD";
    if (random() % 2 == 0) return kTypicalBytes[below(random, kTypicalBytes.size())];
    return static_cast<char>(random() % 256);
}

Damage damage_text(const std::string& whole, bool csv, std::mt19937& random) {
    std::string text = whole;
    const std::size_t at = below(random, text.size());
    std::size_t begin = at, length = 1;
    std::string description;
    const std::size_t kind = below(random, 10);
    if (kind < 4) {
        description = "byte changed";
        text[at] = random_byte(random);
    } else if (kind < 6) {
        description = "byte put in";
        length = 0;
        text.insert(at, 1, random_byte(random));
    } else if (kind == 6) {
        description = "byte taken out";
        text.erase(at, 1);
    } else if (kind == 7) {
        const auto [first, end] = line_at(text, at);
        const std::string line = text.substr(first, end - first);
        begin = first;
        length = random() % 2 == 0 ? line.size() : 0;
        description = length > 0 ? "line taken out" : "line twice";
        if (length > 0)
            text.erase(first, length);
        else
            text.insert(first, line);
    } else if (kind == 8) {
        description = "stretch taken out";
        length = 1 + below(random, 40);
        if (csv) length = std::min(length, line_at(text, at).second - 1 - at);
        text.erase(at, length);
    } else {
        description = "cut off";
        length = text.size() - at;
        text.erase(at);
    }
    const std::size_t from = begin == 0 ? 0 : begin - 1;
    return {text, description + " at " + std::to_string(begin),
            whole.substr(from, length + begin - from + 1)};
}

bool touches_digit(const Damage& damage) {
    return damage.before.find_first_of("0123456789") != std::string::npos;
}

std::size_t count_differing(const std::vector<double>& a, const std::vector<double>& b) {
    std::size_t count = 0;
    for (std::size_t i = 0; i < a.size(); ++i) count += std::abs(a[i] - b[i]) > 1e-12 ? 1u : 0u;
    return count;
}

// Every point of the copy is a point of the whole.
bool is_part_of(const MeasuredSample& copy, const MeasuredSample& whole) {
    for (std::size_t i = 0; i < copy.values.size(); ++i) {
        bool found = false;
        for (std::size_t k = 0; k < whole.values.size(); ++k)
            found = found || (std::abs(copy.wavelengths_nm[i] - whole.wavelengths_nm[k]) < 1e-9 &&
                              std::abs(copy.values[i] - whole.values[k]) < 1e-12);
        if (!found) return false;
    }
    return true;
}

std::size_t count_unexplained(const MeasuredSample& copy, const MeasuredSample& whole) {
    std::size_t count = 0;
    for (std::size_t i = 0; i < copy.values.size(); ++i) {
        MeasuredSample point;
        point.wavelengths_nm = {copy.wavelengths_nm[i]};
        point.values = {copy.values[i]};
        count += is_part_of(point, whole) ? 0u : 1u;
    }
    return count;
}

// Whether a damaged digit explains the difference: one point has another value or another wavelength, or, if
// start and increment are in the file, all wavelengths are shifted and no value is changed.
bool explained_by_a_digit(const MeasuredSample& copy, const MeasuredSample& whole, bool cxf) {
    if (copy.values.size() != whole.values.size()) return false;
    if (count_unexplained(copy, whole) == 1 && count_unexplained(whole, copy) == 1) {
        std::vector<double> a = copy.values, b = whole.values;
        std::sort(a.begin(), a.end());
        std::sort(b.begin(), b.end());
        return count_differing(a, b) == 0 || count_differing(copy.wavelengths_nm, whole.wavelengths_nm) == 0;
    }
    if (count_differing(copy.values, whole.values) > 0) return false;
    for (std::size_t i = 0; i < copy.values.size(); ++i)
        if (!cxf && std::abs(copy.wavelengths_nm[i] - whole.wavelengths_nm[i]) > kHeaderShift_nm)
            return false;
    return true;
}

const MeasuredSample* find_counterpart(const std::vector<MeasuredSample>& copies, std::size_t i,
                                       const std::vector<MeasuredSample>& wholes) {
    if (copies.size() == wholes.size()) return &wholes[i];
    const auto found = std::find_if(wholes.begin(), wholes.end(),
                                    [&](const MeasuredSample& s) { return s.name == copies[i].name; });
    return found == wholes.end() ? nullptr : &*found;
}

void check_silent_copy(const measured::MeasuredFile& copy, const measured::MeasuredFile& whole,
                       const Damage& damage) {
    std::size_t changed_values = 0;
    for (std::size_t i = 0; i < copy.samples.size(); ++i) {
        const MeasuredSample& sample = copy.samples[i];
        const MeasuredSample* original = find_counterpart(copy.samples, i, whole.samples);
        if (!original || is_part_of(sample, *original)) continue;
        CAPTURE(sample.name, sample.wavelengths_nm, sample.values);
        CHECK(touches_digit(damage));
        CHECK(explained_by_a_digit(sample, *original, whole.format == "CxF3"));
        changed_values += sample.wavelengths_nm == original->wavelengths_nm ? 1u : 0u;
    }
    CHECK(changed_values <= 1);  // a value belongs to one sample, a wavelength may be that of all
}

struct Tally {
    int refused = 0, warned = 0, silent = 0;
};

void check_copy(const Damage& damage, const test::ReadSpectra& whole, Tally& tally) {
    const test::ReadSpectra copy = read_spectra(damage.text);
    INFO(to_text(copy.diagnostics));
    REQUIRE(copy.file.has_value() != copy.diagnostics.has_errors());
    for (const Diagnostic& d : copy.diagnostics.sorted_list()) {
        CHECK(d.span.begin <= damage.text.size());
        CHECK_FALSE(d.hint.empty());
    }
    if (!copy.file) {
        ++tally.refused;
        return;
    }
    for (const MeasuredSample& sample : copy.file->samples) {
        CHECK(sample.values.size() == sample.wavelengths_nm.size());
        CHECK(
            std::is_sorted(sample.wavelengths_nm.begin(), sample.wavelengths_nm.end(), std::less_equal<>()));
    }
    const auto before = whole.messages(), now = copy.messages();
    if (!std::includes(before.begin(), before.end(), now.begin(), now.end())) {
        ++tally.warned;
        return;
    }
    ++tally.silent;
    check_silent_copy(*copy.file, *whole.file, damage);
}

std::vector<std::string> format_files() {
    std::vector<std::string> paths;
    for (const auto& entry :
         std::filesystem::directory_iterator(test::source_path("tests/published/formats")))
        paths.push_back(entry.path().string());
    std::sort(paths.begin(), paths.end());
    return paths;
}

std::string text_of(const std::string& path) {
    std::ifstream in(path, std::ios::binary);
    std::ostringstream out;
    out << in.rdbuf();
    return out.str();
}

}  // namespace

TEST_CASE("a damaged file is refused, or read with a warning, or has the right spectra",
          "[colour][spectra][property]") {
    REQUIRE(format_files().size() >= 20);
    Tally all;
    for (std::size_t f = 0; f < format_files().size(); ++f) {
        const std::string path = format_files()[f];
        const std::string text = text_of(path);
        const test::ReadSpectra whole = read_spectra(text);
        REQUIRE(whole.file);
        std::mt19937 random(kSeed + static_cast<unsigned>(f));
        Tally tally;
        for (int copy = 0; copy < kCopies; ++copy) {
            const Damage damage = damage_text(text, format_files()[f].ends_with(".csv"), random);
            INFO(path << " seed " << kSeed + f << " copy " << copy << ": " << damage.description << ", '"
                      << damage.before.substr(0, 60) << "'");
            check_copy(damage, whole, tally);
        }
        INFO(path);
        CHECK(tally.refused > 0);
        CHECK(tally.silent > 0);
        all.refused += tally.refused;
        all.warned += tally.warned;
        all.silent += tally.silent;
    }
    CAPTURE(all.refused, all.warned, all.silent);
    CHECK(all.refused > 3 * all.warned);  // a warning is the exception
}

TEST_CASE("files with much damage never crash the reader", "[colour][spectra][property]") {
    for (std::size_t f = 0; f < format_files().size(); ++f) {
        std::mt19937 random(kSeed + 1000 + static_cast<unsigned>(f));
        std::string text = text_of(format_files()[f]);
        for (int copy = 0; copy < 60; ++copy) {
            if (copy % 20 == 0) text = text_of(format_files()[f]);
            if (text.size() < 2) break;
            text = damage_text(text, format_files()[f].ends_with(".csv"), random).text;
            const test::ReadSpectra read = read_spectra(text);
            CHECK(read.file.has_value() != read.diagnostics.has_errors());
        }
    }
}
