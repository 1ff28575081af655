// The library: every paint, ground, gun, panel and light that a plan can name.
//
// The program includes a library (compiled in); a painter can add a folder with the same structure (paints/,
// grounds/, guns/, panels/, lights/, drawings/), whose files replace built-in ones of the same name. The name
// of an item is its file name without .toml. Files are read when they are first needed.
#pragma once

#include "fadewright/base/files.h"
#include "fadewright/plan/library_files.h"
#include "fadewright/plan/plan.h"
#include "fadewright/text/diagnostic.h"

#include <map>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace fadewright::plan {

enum class LibraryKind { paints, grounds, guns, panels, lights, plans };

[[nodiscard]] std::string_view folder_of(LibraryKind kind);
inline constexpr LibraryKind kLibraryKinds[] = {LibraryKind::paints, LibraryKind::grounds,
                                                LibraryKind::guns,   LibraryKind::panels,
                                                LibraryKind::lights, LibraryKind::plans};

class Library {
public:
    // `folder` may be empty: only the built-in library. Error if the folder cannot be read.
    [[nodiscard]] static Result<Library> open(std::span<const EmbeddedFile> shipped,
                                              const std::string& folder);

    [[nodiscard]] std::vector<std::string> names(LibraryKind kind) const;  // sorted

    // The item of that name, or null: there is no such file, or it has mistakes.
    [[nodiscard]] const paint::Paint* paint(const std::string& name);
    [[nodiscard]] const Ground* ground(const std::string& name);
    [[nodiscard]] const LibraryGun* gun(const std::string& name);
    [[nodiscard]] const Panel* panel(const std::string& name);
    [[nodiscard]] const colour::Illuminant* light(const std::string& name);

    // The same, and the mistakes of its file are added to the list (at every call; nothing is added if there
    // is no such file).
    [[nodiscard]] const paint::Paint* paint(const std::string& name, Diagnostics& diagnostics);
    [[nodiscard]] const Ground* ground(const std::string& name, Diagnostics& diagnostics);
    [[nodiscard]] const LibraryGun* gun(const std::string& name, Diagnostics& diagnostics);
    [[nodiscard]] const Panel* panel(const std::string& name, Diagnostics& diagnostics);
    [[nodiscard]] const colour::Illuminant* light(const std::string& name, Diagnostics& diagnostics);

    // A paint with another flake loading; nothing if it has no flakes.
    [[nodiscard]] std::optional<paint::Paint> paint_with_loading(const std::string& name,
                                                                 GramsPerLitre loading,
                                                                 Diagnostics& diagnostics);

    // Adds a file to the library, in place of any other of its name.
    void add_file(LibraryKind kind, const std::string& name, std::shared_ptr<const Source> source);

    // The file itself; null if there is none.
    [[nodiscard]] std::shared_ptr<const Source> file(LibraryKind kind, const std::string& name) const;

    // Drawings (drawings/NAME.svg), by file name; the text of one, or null.
    [[nodiscard]] std::vector<std::string> drawings() const;
    [[nodiscard]] std::shared_ptr<const Source> drawing(const std::string& name) const;

private:
    template <class T>
    struct ReadItem {
        std::optional<T> item;
        Diagnostics mistakes;
    };
    template <class T>
    using Read = std::map<std::string, ReadItem<T>>;

    // `units`: of the mistakes. Null if there is no such file.
    template <class T, class ParseFile>
    const ReadItem<T>* find(LibraryKind kind, const std::string& name, Read<T>& read,
                            const ParseFile& parse_file, UnitSystem units);

    const ReadItem<paint::Paint>* find_paint(const std::string& name, UnitSystem units);
    const ReadItem<Ground>* find_ground(const std::string& name, UnitSystem units);
    const ReadItem<LibraryGun>* find_gun(const std::string& name, UnitSystem units);
    const ReadItem<Panel>* find_panel(const std::string& name, UnitSystem units);
    const ReadItem<colour::Illuminant>* find_light(const std::string& name, UnitSystem units);

    std::map<std::string, std::shared_ptr<const Source>> files_;  // "paints/titanium-white"
    Read<paint::Paint> paints_;
    Read<Ground> grounds_;
    Read<LibraryGun> guns_;
    Read<Panel> panels_;
    Read<colour::Illuminant> lights_;
};

}  // namespace fadewright::plan
