#include "fadewright/text/source.h"

#include <algorithm>

namespace fadewright {
namespace {

bool starts_character(char c) noexcept { return (static_cast<unsigned char>(c) & 0xC0u) != 0x80u; }

}  // namespace

std::size_t character_count(std::string_view text) noexcept {
    return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), starts_character));
}

Source::Source(std::string name, std::string text) : name_(std::move(name)), text_(std::move(text)) {
    line_starts_.push_back(0);
    for (std::size_t i = 0; i < text_.size(); ++i)
        if (text_[i] == '\n') line_starts_.push_back(i + 1);
}

Source::Position Source::position(std::size_t offset) const {
    offset = std::min(offset, text_.size());
    const auto after = std::upper_bound(line_starts_.begin(), line_starts_.end(), offset);
    const auto line = static_cast<std::size_t>(after - line_starts_.begin());
    const std::size_t start = line_starts_[line - 1];
    return {line, character_count(std::string_view(text_).substr(start, offset - start)) + 1};
}

std::size_t Source::offset(Position position) const {
    if (position.line == 0 || position.line > line_starts_.size()) return text_.size();
    std::size_t at = line_starts_[position.line - 1];
    for (std::size_t column = 1; column < position.column && at < text_.size() && text_[at] != '\n';
         ++column) {
        ++at;
        while (at < text_.size() && !starts_character(text_[at])) ++at;
    }
    return at;
}

std::string_view Source::line(std::size_t number) const {
    if (number == 0 || number > line_starts_.size()) return {};
    const std::size_t start = line_starts_[number - 1];
    std::size_t end = number < line_starts_.size() ? line_starts_[number] - 1 : text_.size();
    if (end > start && text_[end - 1] == '\r') --end;
    return std::string_view(text_).substr(start, end - start);
}

}  // namespace fadewright
