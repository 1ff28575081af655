#include "fadewright/text/source.h"

#include "fadewright/base/files.h"

#include <algorithm>
#include <filesystem>

namespace fadewright {
namespace {

constexpr std::size_t kMarkStep = 256;
constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";

bool starts_character(char c) noexcept { return (static_cast<unsigned char>(c) & 0xC0u) != 0x80u; }

}  // namespace

std::size_t character_count(std::string_view text) noexcept {
    return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), starts_character));
}

Source::Source(std::string name, std::string text) : Source(std::move(name), std::move(text), "") {
    folder_ = std::filesystem::path(name_).parent_path().string();
}

Source::Source(std::string name, std::string text, std::string folder)
    : name_(std::move(name)), text_(std::move(text)), folder_(std::move(folder)) {
    if (text_.starts_with(kByteOrderMark)) text_.erase(0, kByteOrderMark.size());
    line_starts_.push_back(0);
    std::size_t characters = 0;
    for (std::size_t i = 0; i < text_.size(); ++i) {
        if (i % kMarkStep == 0) character_marks_.push_back(characters);
        if (text_[i] == '\n') line_starts_.push_back(i + 1);
        if (starts_character(text_[i])) ++characters;
    }
}

std::string Source::sha256() const { return sha256_hex(text_); }

std::size_t Source::characters_before(std::size_t offset) const {
    if (character_marks_.empty()) return 0;
    const std::size_t mark = std::min(offset / kMarkStep, character_marks_.size() - 1);
    const std::size_t from = mark * kMarkStep;
    return character_marks_[mark] + character_count(std::string_view(text_).substr(from, offset - from));
}

Source::Position Source::position(std::size_t offset) const {
    offset = std::min(offset, text_.size());
    const auto after = std::upper_bound(line_starts_.begin(), line_starts_.end(), offset);
    const auto line = static_cast<std::size_t>(after - line_starts_.begin());
    const std::size_t start = line_starts_[line - 1];
    return {line, characters_before(offset) - characters_before(start) + 1};
}

std::size_t Source::offset(Position position) const {
    if (position.line == 0 || position.line > line_starts_.size()) return text_.size();
    const std::size_t start = line_starts_[position.line - 1];
    const std::size_t end =
        position.line < line_starts_.size() ? line_starts_[position.line] - 1 : text_.size();
    const std::size_t target = characters_before(start) + std::max<std::size_t>(position.column, 1) - 1;
    if (target >= characters_before(end)) return end;
    // From the last mark with at most `target` characters before it, one byte at a time.
    const auto above = std::upper_bound(character_marks_.begin(), character_marks_.end(), target);
    auto mark = static_cast<std::size_t>(above - character_marks_.begin());
    mark = mark > 0 ? mark - 1 : 0;
    std::size_t at = mark * kMarkStep, before = character_marks_[mark];
    while (at < end && !(before == target && starts_character(text_[at])))
        if (starts_character(text_[at++])) ++before;
    return std::max(at, start);
}

std::string_view Source::line(std::size_t number) const {
    if (number == 0 || number > line_starts_.size()) return {};
    const std::size_t start = line_starts_[number - 1];
    std::size_t end = number < line_starts_.size() ? line_starts_[number] - 1 : text_.size();
    if (end > start && text_[end - 1] == '\r') --end;
    return std::string_view(text_).substr(start, end - start);
}

}  // namespace fadewright
