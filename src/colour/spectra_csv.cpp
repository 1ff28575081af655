// CSV: a row for each sample under a row of wavelengths, or a row for each wavelength with a column for each
// sample.

#include "spectra_cells.h"
#include "spectra_fields.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>

namespace fadewright::colour {
namespace {

enum class Told { name, backing, geometry, thickness_um };

// Columns beside the wavelengths that are understood.
constexpr std::array<std::pair<std::string_view, Told>, 8> kTold{{{"name", Told::name},
                                                                  {"sample", Told::name},
                                                                  {"sample_name", Told::name},
                                                                  {"sample_id", Told::name},
                                                                  {"id", Told::name},
                                                                  {"backing", Told::backing},
                                                                  {"geometry", Told::geometry},
                                                                  {"thickness_um", Told::thickness_um}}};
constexpr std::string_view kToldWords = "name, backing, geometry or thickness_um";

std::string decision_of(ValueUnit unit) {
    return unit == ValueUnit::percent ? "values are per cent: the header says so"
                                      : "values are fractions of one: the header says so";
}

// What a header cell says of the values below it.
ValueUnit unit_said(std::string_view text) {
    const std::string low = lower(text);
    if (low.find('%') != std::string::npos || low.find("percent") != std::string::npos ||
        low.find("pct") != std::string::npos)
        return ValueUnit::percent;
    return low.find("fraction") != std::string::npos ? ValueUnit::fraction : ValueUnit::unsaid;
}

bool heads_wavelengths(const Cell& cell) {
    const std::string low = lower(cell.text);
    return low == "nm" || low == "wl" || low.starts_with("wavelength") || low.starts_with("lambda");
}

bool not_closed(const Reader& reader, const Place& cell) {
    reader.error("R002", cell, "this quotation mark is not closed before the next cell",
                 "write \"name\" with a quotation mark on either side");
    return false;
}

class CsvReader {
public:
    CsvReader(const Reader& reader, const Cells& cells, MeasuredFile& file)
        : reader_(reader), cells_(cells), numbers_(reader, cells.separator), file_(file) {}

    bool read() {
        const Row& first = cells_.rows.front();
        const auto wavelengths = std::count_if(
            first.begin(), first.end(), [&](const Cell& c) { return wavelength_named(c).has_value(); });
        const bool bare = first.size() == 2 && numbers_.number(first[0]) && numbers_.number(first[1]);
        const bool along = wavelengths >= 2;
        if (!along && !heads_wavelengths(first.front()) && !bare) return unknown(first);
        if (cells_.open) return not_closed(reader_, *cells_.open);
        if (!(along ? read_rows(first) : read_columns(first, bare))) return false;
        file_.decisions.push_back(fmt::format("cells are separated by {}{}; wavelengths stand {}",
                                              cells_.separator == '\t'  ? "tabs"
                                              : cells_.separator == ';' ? "semicolons"
                                                                        : "commas",
                                              numbers_.has_comma() ? ", decimals by commas" : "",
                                              along ? "along the first row" : "down the first column"));
        const std::optional<Scale> scale =
            unit_ == ValueUnit::unsaid ? scale_by_largest(spectra_, reader_)
                                       : Scale{unit_ == ValueUnit::percent ? 100.0 : 1.0, decision_of(unit_)};
        if (!scale) return false;
        file_.decisions.push_back(scale->why);
        return settle_all(spectra_, scale->divisor, reader_, file_);
    }

private:
    bool unknown(const Row& first) const {
        reader_.error("R001", first.front().place, "this file is none of the known files of spectra",
                      "CGATS text has BEGIN_DATA, CxF3 begins with <, and the first row of a CSV has the "
                      "wavelengths, or \"nm\" and the samples' names");
        return false;
    }

    // A wavelength in a header: 400, "400 nm", or a name as CGATS has them.
    std::optional<double> wavelength_named(const Cell& cell) const {
        const FieldMeaning meaning = meaning_of(cell.text);
        if (meaning.kind == FieldMeaning::Kind::band) return meaning.nm;
        std::string text = lower(cell.text);
        if (text.ends_with("nm"))
            text = std::string(trimmed(std::string_view(text).substr(0, text.size() - 2)));
        constexpr double kLeast_nm = 100;  // what looks like a wavelength; bounds are checked later
        const auto nm = numbers_.number({text, cell.place});
        return nm && *nm >= kLeast_nm ? nm : std::nullopt;
    }

    bool take_unit(ValueUnit unit, const Cell& cell) {
        if (unit == ValueUnit::unsaid) return true;
        if (unit_ != ValueUnit::unsaid && unit != unit_) {
            reader_.error("R013", cell.place, "per cent and fractions are mixed",
                          "use one of them in a file");
            return false;
        }
        unit_ = unit;
        return true;
    }

    // ---- wavelengths along the first row

    bool read_rows(const Row& header) {
        std::vector<Told> told;
        std::vector<Point> named;
        for (const Cell& cell : header) {
            if (!take_unit(unit_said(cell.text), cell)) return false;
            if (const auto nm = wavelength_named(cell)) {
                named.push_back({*nm, 0, cell.place});
                continue;
            }
            const auto known = std::find_if(kTold.begin(), kTold.end(),
                                            [&](const auto& pair) { return pair.first == lower(cell.text); });
            const bool nameless = cell.text.empty() && &cell == &header.front();
            if (!named.empty() || (known == kTold.end() && !nameless)) {
                reader_.error(
                    "R021", cell.place,
                    named.empty()
                        ? fmt::format("'{}' is neither a wavelength nor a column known here", cell.text)
                        : fmt::format("'{}' stands among the wavelengths", cell.text),
                    fmt::format("the first row has {}, then the wavelengths in nm", kToldWords));
                return false;
            }
            told.push_back(nameless ? Told::name : known->second);
        }
        if (!wavelengths_in_order(named, reader_)) return false;
        for (std::size_t i = 1; i < cells_.rows.size(); ++i)
            if (!read_row(cells_.rows[i], told, named, i)) return false;
        return true;
    }

    bool width_is(const Row& row, std::size_t width) const {
        if (row.size() == width) return true;
        reader_.error("R006", row.front().place,
                      fmt::format("{} cells where {} are wanted", row.size(), width),
                      cells_.separator == ',' ? "one value for each column; with decimal commas, separate "
                                                "the cells by semicolons"
                                              : "one value for each column");
        return false;
    }

    bool read_row(const Row& row, const std::vector<Told>& told, const std::vector<Point>& named,
                  std::size_t number) {
        if (!width_is(row, told.size() + named.size())) return false;
        Spectrum spectrum;
        spectrum.sample.name = fmt::format("sample {}", number);
        spectrum.sample.place = row.front().place;
        for (std::size_t i = 0; i < told.size(); ++i)
            if (!take_told(told[i], row[i], spectrum.sample)) return false;
        for (std::size_t i = 0; i < named.size(); ++i) {
            const Cell& cell = row[told.size() + i];
            const auto value = numbers_.wanted(cell);
            if (!value) return false;
            spectrum.points.push_back({named[i].nm, *value, cell.place});
        }
        spectra_.push_back(std::move(spectrum));
        return true;
    }

    bool take_told(Told what, const Cell& cell, MeasuredSample& sample) {
        if (cell.text.empty()) return true;
        if (what == Told::name) sample.name = as_utf8(cell.text);
        if (what == Told::backing) sample.backing = backing_of(cell.text);
        if (what == Told::geometry) sample.geometry = as_utf8(cell.text);
        if (what != Told::thickness_um) return true;
        const auto um = numbers_.wanted(cell);
        if (um) sample.thickness = Micrometres{*um};
        return um.has_value();
    }

    // ---- wavelengths down the first column

    bool read_columns(const Row& first, bool bare) {
        for (std::size_t i = 1; i < first.size(); ++i) {
            Spectrum spectrum;
            spectrum.sample.name =
                bare || first[i].text.empty() ? fmt::format("sample {}", i) : as_utf8(first[i].text);
            spectrum.sample.place = first[i].place;
            if (!bare && !take_unit(unit_said(first[i].text), first[i])) return false;
            spectra_.push_back(std::move(spectrum));
        }
        std::vector<Point> wavelengths;
        for (std::size_t r = bare ? 0 : 1; r < cells_.rows.size(); ++r) {
            const Row& row = cells_.rows[r];
            if (!width_is(row, first.size())) return false;
            const auto nm = numbers_.wanted(row.front());
            if (!nm) return false;
            wavelengths.push_back({*nm, 0, row.front().place});
            for (std::size_t i = 1; i < row.size(); ++i) {
                const auto value = numbers_.wanted(row[i]);
                if (!value) return false;
                spectra_[i - 1].points.push_back({*nm, *value, row[i].place});
            }
        }
        return wavelengths_in_order(wavelengths, reader_);
    }

    const Reader& reader_;
    const Cells& cells_;
    CellNumbers numbers_;
    MeasuredFile& file_;
    ValueUnit unit_ = ValueUnit::unsaid;
    std::vector<Spectrum> spectra_;
};

}  // namespace

bool read_csv(const Reader& reader, MeasuredFile& file) {
    const Cells cells = cells_of(reader);
    if (cells.rows.empty() && cells.open) return not_closed(reader, *cells.open);
    if (cells.rows.empty()) {
        reader.error("R020", reader.at(0, 0), "this file is empty", "export the measurements again");
        return false;
    }
    // Without counts, a missing line end is the only sign that the last value may have lost digits.
    const std::string& text = reader.text();
    if (text.back() != '\n' && text.back() != '\r')
        reader.warn("R027", cells.rows.back().back().place, "the last line does not end",
                    "is the file cut off? if not, end its last line");
    return CsvReader(reader, cells, file).read();
}

}  // namespace fadewright::colour
