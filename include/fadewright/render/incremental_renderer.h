// A picture that is worked on: shown again after every edit of its plan, it paints only what the edit changed.
//
// Of the places that were worked out (render/refine.h) the films of all coats are kept, and the reflectance below
// the lowest coat that the last edit changed. After an edit
//
//     - coats whose passes, gun, masks and film stayed keep their films, wherever in the order they now stand;
//     - coats below the lowest changed one are not laid again;
//     - blocks in which no place looks different stay as they are;
//     - another light, angle, exposure or number of coats keeps all films;
//     - another panel, size or margin begins anew.
//
// Accuracy   the picture is preview()'s, byte for byte
// Memory     about 0.4 kB and 8 bytes a coat for every place worked out; blocks with an edge in them keep none
// Checks     tests/render/redraw_test.cpp
#pragma once

#include "fadewright/render/preview.h"
#include "fadewright/render/progress.h"

#include <functional>
#include <memory>

namespace fadewright::render {

class IncrementalRenderer {
public:
    explicit IncrementalRenderer(colour::OutputProfile profile);
    ~IncrementalRenderer();
    IncrementalRenderer(IncrementalRenderer&&) noexcept;
    IncrementalRenderer& operator=(IncrementalRenderer&&) noexcept;

    struct Stats {
        std::size_t blocks = 0;    // of the picture
        std::size_t rendered = 0;  // of them, now
    };

    // Asked now and then by any thread; once it says true the picture is left unfinished.
    using CancelCheck = std::function<bool()>;

    // The picture of the job; nothing if it was stopped. What was kept stays good either way. It is this
    // object's and changes with the next call.
    const Preview* update(plan::Job job, const colour::Illuminant& light, const PreviewSettings& settings,
                          const CancelCheck& cancel_requested = {});
    // The same for work that somebody waits for.
    const Preview* update(plan::Job job, const colour::Illuminant& light, const PreviewSettings& settings,
                          const Progress& progress);

    [[nodiscard]] Stats stats() const;  // of the last call

private:
    struct Cache;
    std::unique_ptr<Cache> cache_;
};

}  // namespace fadewright::render
