#include "fadewright/plan/library.h"

#include "convert.h"
#include "fadewright/plan/library_schema.h"

#include <filesystem>

namespace fadewright::plan {
namespace {

std::string key_of(LibraryKind kind, const std::string& name) {
    return std::string(folder_of(kind)) + "/" + name;
}

constexpr std::string_view kDrawings = "drawings/";

// "paints/titanium-white.toml" -> "paints/titanium-white", "drawings/star.svg" as it is; empty for anything
// else.
std::string key_of_file(std::string_view path) {
    constexpr std::string_view kEnd = ".toml";
    if (path.starts_with(kDrawings)) return std::string(path);
    return path.ends_with(kEnd) ? std::string(path.substr(0, path.size() - kEnd.size())) : std::string();
}

template <class File>
std::optional<File> read_file(const std::shared_ptr<const Source>& source, Diagnostics& diagnostics) {
    const std::optional<ParsedTree> tree = read_toml(source, diagnostics);
    File file;
    if (!tree || !read_struct(*tree, file, diagnostics)) return std::nullopt;
    return file;
}

}  // namespace

std::string_view folder_of(LibraryKind kind) {
    switch (kind) {
        case LibraryKind::paints:
            return "paints";
        case LibraryKind::grounds:
            return "grounds";
        case LibraryKind::guns:
            return "guns";
        case LibraryKind::panels:
            return "panels";
        case LibraryKind::lights:
            return "lights";
        case LibraryKind::plans:
            break;
    }
    return "plans";
}

Result<Library> Library::open(std::span<const EmbeddedFile> shipped, const std::string& folder) {
    Library library;
    for (const EmbeddedFile& file : shipped)
        if (const std::string key = key_of_file(file.path); !key.empty())
            library.files_[key] =
                std::make_shared<Source>("presets/" + std::string(file.path), std::string(file.text));
    if (folder.empty()) return library;
    namespace fs = std::filesystem;
    std::error_code error;
    if (!fs::is_directory(folder, error))
        return Error{"cannot read the library " + folder + ": it is not a folder"};
    std::vector<std::string> folders{"drawings"};
    for (const LibraryKind kind : kLibraryKinds) folders.emplace_back(folder_of(kind));
    for (const std::string& below : folders)
        for (fs::directory_iterator entry(fs::path(folder) / below, error), end; !error && entry != end;
             entry.increment(error)) {
            const std::string path = entry->path().string();
            const std::string key = key_of_file(below + "/" + entry->path().filename().string());
            if (key.empty()) continue;
            Result<std::string> text = read_file_bytes(path, kTextFileLimit_bytes);
            if (!text) return text.error();
            library.files_[key] = std::make_shared<Source>(path, std::move(text).value());
        }
    return library;
}

std::vector<std::string> Library::drawings() const {
    std::vector<std::string> names;
    for (auto file = files_.lower_bound(std::string(kDrawings));
         file != files_.end() && file->first.starts_with(kDrawings); ++file)
        names.push_back(file->first.substr(kDrawings.size()));
    return names;
}

std::shared_ptr<const Source> Library::drawing(const std::string& name) const {
    const auto found = files_.find(std::string(kDrawings) + name);
    return found == files_.end() ? nullptr : found->second;
}

std::vector<std::string> Library::names(LibraryKind kind) const {
    const std::string folder = std::string(folder_of(kind)) + "/";
    std::vector<std::string> names;
    for (auto file = files_.lower_bound(folder); file != files_.end() && file->first.starts_with(folder);
         ++file)
        names.push_back(file->first.substr(folder.size()));
    return names;
}

std::shared_ptr<const Source> Library::file(LibraryKind kind, const std::string& name) const {
    const auto found = files_.find(key_of(kind, name));
    return found == files_.end() ? nullptr : found->second;
}

void Library::add_file(LibraryKind kind, const std::string& name, std::shared_ptr<const Source> source) {
    files_[key_of(kind, name)] = std::move(source);
    paints_.erase(name);
    grounds_.erase(name);
    guns_.erase(name);
    panels_.erase(name);
    lights_.erase(name);
}

std::optional<paint::Paint> Library::paint_with_loading(const std::string& name, GramsPerLitre loading,
                                                        Diagnostics& diagnostics) {
    const std::shared_ptr<const Source> source = file(LibraryKind::paints, name);
    if (!source) return std::nullopt;
    auto file = read_file<PaintFile>(source, diagnostics);
    if (!file || !file->flakes_file) return std::nullopt;
    file->flakes_file->loading = loading;
    file->flakes_file->teaspoons.reset();
    return to_paint(*file, name, diagnostics);
}

// Items are read when they are first needed. Mistakes show quantities in units, so a wrong file is read again
// for other units.
template <class T, class ParseFile>
const Library::ReadItem<T>* Library::find(LibraryKind kind, const std::string& name, Read<T>& read,
                                          const ParseFile& parse_file, UnitSystem units) {
    const auto known = read.find(name);
    if (known != read.end() && (known->second.item || known->second.mistakes.units() == units))
        return &known->second;
    const std::shared_ptr<const Source> source = file(kind, name);
    if (!source) return nullptr;
    ReadItem<T> fresh;
    fresh.mistakes.set_units(units);
    fresh.item = parse_file(source, fresh.mistakes);
    return &read.insert_or_assign(name, std::move(fresh)).first->second;
}

const Library::ReadItem<paint::Paint>* Library::find_paint(const std::string& name, UnitSystem units) {
    const auto parse_file = [&](const std::shared_ptr<const Source>& source,
                                Diagnostics& mistakes) -> std::optional<paint::Paint> {
        const auto file = read_file<PaintFile>(source, mistakes);
        return file ? to_paint(*file, name, mistakes) : std::nullopt;
    };
    return find(LibraryKind::paints, name, paints_, parse_file, units);
}

const Library::ReadItem<Ground>* Library::find_ground(const std::string& name, UnitSystem units) {
    const auto parse_file = [&](const std::shared_ptr<const Source>& source,
                                Diagnostics& mistakes) -> std::optional<Ground> {
        const auto file = read_file<GroundFile>(source, mistakes);
        return file ? to_ground(*file, name, *this, mistakes) : std::nullopt;
    };
    return find(LibraryKind::grounds, name, grounds_, parse_file, units);
}

const Library::ReadItem<LibraryGun>* Library::find_gun(const std::string& name, UnitSystem units) {
    const auto parse_file = [&](const std::shared_ptr<const Source>& source,
                                Diagnostics& mistakes) -> std::optional<LibraryGun> {
        const auto file = read_file<GunFile>(source, mistakes);
        return file ? to_gun(*file, name, mistakes) : std::nullopt;
    };
    return find(LibraryKind::guns, name, guns_, parse_file, units);
}

const Library::ReadItem<Panel>* Library::find_panel(const std::string& name, UnitSystem units) {
    const auto parse_file = [](const std::shared_ptr<const Source>& source, Diagnostics& mistakes) {
        return read_file<Panel>(source, mistakes);
    };
    return find(LibraryKind::panels, name, panels_, parse_file, units);
}

const Library::ReadItem<colour::Illuminant>* Library::find_light(const std::string& name, UnitSystem units) {
    const auto parse_file = [&](const std::shared_ptr<const Source>& source,
                                Diagnostics& mistakes) -> std::optional<colour::Illuminant> {
        const auto file = read_file<LightFile>(source, mistakes);
        return file ? to_light(*file, name, mistakes) : std::nullopt;
    };
    return find(LibraryKind::lights, name, lights_, parse_file, units);
}

namespace {

template <class ReadItem>
auto item_of(const ReadItem* read) -> decltype(&*read->item) {
    return read && read->item ? &*read->item : nullptr;
}

template <class ReadItem>
auto item_or_mistakes(const ReadItem* read, Diagnostics& diagnostics) -> decltype(&*read->item) {
    if (read) diagnostics.add_all(read->mistakes);
    return item_of(read);
}

}  // namespace

const paint::Paint* Library::paint(const std::string& name) {
    return item_of(find_paint(name, UnitSystem::metric));
}

const paint::Paint* Library::paint(const std::string& name, Diagnostics& diagnostics) {
    return item_or_mistakes(find_paint(name, diagnostics.units()), diagnostics);
}

const Ground* Library::ground(const std::string& name) {
    return item_of(find_ground(name, UnitSystem::metric));
}

const Ground* Library::ground(const std::string& name, Diagnostics& diagnostics) {
    return item_or_mistakes(find_ground(name, diagnostics.units()), diagnostics);
}

const LibraryGun* Library::gun(const std::string& name) {
    return item_of(find_gun(name, UnitSystem::metric));
}

const LibraryGun* Library::gun(const std::string& name, Diagnostics& diagnostics) {
    return item_or_mistakes(find_gun(name, diagnostics.units()), diagnostics);
}

const Panel* Library::panel(const std::string& name) { return item_of(find_panel(name, UnitSystem::metric)); }

const Panel* Library::panel(const std::string& name, Diagnostics& diagnostics) {
    return item_or_mistakes(find_panel(name, diagnostics.units()), diagnostics);
}

const colour::Illuminant* Library::light(const std::string& name) {
    return item_of(find_light(name, UnitSystem::metric));
}

const colour::Illuminant* Library::light(const std::string& name, Diagnostics& diagnostics) {
    return item_or_mistakes(find_light(name, diagnostics.units()), diagnostics);
}

}  // namespace fadewright::plan
